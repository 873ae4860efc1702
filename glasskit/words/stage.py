# SPDX-License-Identifier: MIT
"""The story on stage: what to show, what to say, what to ask."""

from dataclasses import dataclass
from textwrap import fill

from glasskit.tables import standing

_CARD = 88  # signs of a line


@dataclass(frozen=True, slots=True, kw_only=True)
class Act:
    """One picture of the story.

    Attributes
    ----------
    key : str
        Which picture.
    title : str
        What it shows, in one line.
    ask : str
        A question to the audience before the answer shows.
    say : str
        What to say when it has shown.

    """

    key: str
    title: str
    ask: str
    say: str


STORY = (
    Act(
        key="alike",
        title="Two panes that look alike",
        ask="Which of the two would you sit under? Can you see a difference?",
        say="Same size, same thickness, same glass. One of them was toughened, and nobody can "
        "tell by looking.",
    ),
    Act(
        key="both",
        title="Drop both",
        ask="From this height: which one breaks? Show it with your hand.",
        say="A blow bends the pane, and the face away from the ball is pulled. The ordinary "
        "pane breaks there. The toughened one bends as far and throws the ball back.",
    ),
    Act(
        key="slow",
        title="A break in slow motion",
        ask="How long does it take until cracks are everywhere? Count with me.",
        say="Both have a flaw bad enough to break. The right one is full of cracks in less "
        "than two ten-thousandths of a second: its stretched core drives them, and every "
        "crack splits. On the left only the blow drives cracks.",
    ),
    Act(
        key="flaw",
        title="Why: the worst scratch decides",
        ask="How deep must a scratch be to cost a pane most of its strength?",
        say="The bonds of glass would bear about a hundred times more than this pane does. A "
        "scratch far thinner than a hair is enough to undo them: its tip is pulled open.",
    ),
    Act(
        key="shut",
        title="The squeeze presses the scratch shut",
        ask="The scratch is still there. Why does it not run?",
        say="A crack runs only if its tip is pulled open. The squeeze presses its faces "
        "together, and the pull from outside must use that up first.",
    ),
    Act(
        key="ions",
        title="One way: stuff the skin with larger atoms",
        ask="What happens to a full bus when every child is swapped for a grown-up?",
        say="In a bath of molten salt potassium takes the places of the smaller sodium. The "
        "skin would like to grow, the rest does not let it.",
    ),
    Act(
        key="ways",
        title="Another: let the skin set first",
        ask="Which would you choose for a shower door, and which for a screen?",
        say="Blown with cold air, the skin sets first; the core shrinks later and squeezes "
        "it. That skin is deep and mild, for thick panes. The one from the bath is fierce and "
        "thinner than a sheet of paper, for thin ones.",
    ),
    Act(
        key="floors",
        title="Wood and concrete",
        ask="A device falls on wood and on concrete. What makes the difference?",
        say=standing("floor"),
    ),
    Act(
        key="crumbs",
        title="When it breaks: crumbs",
        ask="What falls from a broken window: a long blade or a clump of crumbs? Is either "
        "safe?",
        say="Neither is safe. Once a crack gets into the stretched core, the core drives it "
        "and splits it, again and again. That is why it bursts into crumbs, and why nobody "
        "can cut toughened glass afterwards.",
    ),
    Act(
        key="questions",
        title="Your questions",
        ask="What would you like to know?",
        say="Short answers stand on the question cards, each with its number.",
    ),
)
"""The pictures, in order."""


def notes() -> str:
    """Write what to ask and to say with each picture, for a card in the hand."""
    lines = []
    for number, act in enumerate(STORY, start=1):
        told = (f"  ask: {act.ask}", f"  say: {act.say}")
        lines += [
            f"{number} {act.title}",
            *(fill(one, _CARD, subsequent_indent=" " * 7) for one in told),
        ]
    return "\n".join(lines)
