# SPDX-License-Identifier: MIT
"""The story in seven pictures: what to show, what to say, what to ask."""

from dataclasses import dataclass


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
        A question to the audience before the slider moves.
    say : str
        What to say when it has moved.

    """

    key: str
    title: str
    ask: str
    say: str


STORY = (
    Act(
        key="flaw",
        title="The worst scratch decides",
        ask="How deep must a scratch be to cost a pane most of its strength?",
        say="The bonds of glass would bear about a hundred times more than this pane does. A "
        "scratch half as deep as a hair is thick is enough to undo them.",
    ),
    Act(
        key="balance",
        title="A squeezed skin, a stretched core",
        ask="If nobody pushes from outside, where does the squeeze come from?",
        say="The skin set first, the core shrank later and pulls the skin together. Squeeze "
        "and pull cancel to the last newton.",
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
        title="Or: stuff the skin with larger atoms",
        ask="What happens to a full bus when every child is swapped for a grown-up?",
        say="In a bath of molten salt potassium takes the places of the smaller sodium. The "
        "skin would like to grow, the rest does not let it.",
    ),
    Act(
        key="ways",
        title="Deep and mild, or thin and fierce",
        ask="Which would you choose for a shower door, and which for a screen?",
        say="The blast of air makes a deep, mild squeeze and needs thick glass. The bath "
        "makes a fierce one, thinner than a sheet of paper, and works on thin glass.",
    ),
    Act(
        key="drop",
        title="The ball asks, the far face answers",
        ask="From what height will the plain pane break? Show it with your hand.",
        say="A blow bends the pane, and the face away from the ball is pulled. Both panes "
        "have scratches there. In the toughened one the pull must first use up the squeeze.",
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
)
"""The seven pictures, in order."""


def notes() -> str:
    """Write what to ask and to say with each picture, for a card in the hand."""
    lines = []
    for number, act in enumerate(STORY, start=1):
        lines += [f"{number} {act.title}", f"  ask: {act.ask}", f"  say: {act.say}"]
    return "\n".join(lines)
