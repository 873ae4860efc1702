# SPDX-License-Identifier: MIT
"""Say what a plan advises, how sure that is, what it hangs on, and what the log tells."""

from collections.abc import Sequence

from glasskit.demonstration import (
    CAUTIONS,
    DroppedBall,
    FallingPane,
    GuidedDrop,
    Log,
    Plan,
    Prospect,
    Rig,
    SwungHammer,
    hindsight,
    rehearsals_needed,
)
from glasskit.quantities import System, show, show_number
from glasskit.words.tables import markdown

__all__ = [
    "change_sentence",
    "demo_name",
    "hindsight_table",
    "input_sentence",
    "log_sentences",
    "next_sentence",
    "odds_numbers",
    "odds_sentence",
    "plan_sentences",
    "rehearsal_sentence",
    "spares_sentence",
    "verdict",
]

_DEMOS = {
    DroppedBall: "ball drop",
    GuidedDrop: "device drop",
    FallingPane: "flat fall",
    SwungHammer: "hammer",
}
_WHY = {
    "scatter": "the flaws of the panes scatter so much that the two kinds overlap",
    "ignorance": "the panes are not known well enough: rehearsals must tell",
    "reach": "ordinary panes do not break often enough even from the greatest height",
}
_NEW = {
    "thickness": "panes {value} thick",
    "mass": "a mass of {value}",
    "compression": "toughened panes squeezed {value} times as hard",
    "slap": "a floor that meets the pane {value} times as hard as a batten",
    "floor": "{value} for a floor",
    "salt": "panes toughened in salt to {value}",
}
_KIND = {"thickness": "thickness", "mass": "mass", "salt": "stress"}
_INPUTS = {
    "flaw modulus": "how widely the flaws of the panes scatter",
    "flaw strength": "how bad the flaws of these very panes are",
    "flaw area": "how much of the pane the blow puts to the test",
    "short load": "how much more glass bears in a blow than under a slow push",
    "toughness": "how hard it is to drive a crack through the glass",
    "compression": "how hard the skin is squeezed",
    "compressed depth": "how deep the squeeze reaches",
    "thickness": "the thickness of the panes",
    "damping": "how soon the pane stops ringing on its edges",
    "support": "how soft the edges lie",
    "mass": "the mass that strikes",
    "face radius": "how round the face of the hammer is",
    "theory of the blow": "how true the theory of the blow is",
    "slap": "how the pane meets the floor",
}


def demo_name(rig: Rig) -> str:
    """Return what the tables of sheets call a demonstration with this rig."""
    return next(name for kind, name in _DEMOS.items() if isinstance(rig, kind))


def change_sentence(plan: Plan, system: System = "metric") -> str:
    """Say which one change would make a height that meets the wish."""
    if plan.window is not None:
        return "No change is needed."
    if plan.change is None:
        return "No single change was found that would make one: show a film as well."
    value = plan.change.value
    kind = _KIND.get(plan.change.what)
    if kind is None:
        new = value if isinstance(value, str) else f"{value:.2g}"
    else:
        new = show(value, kind, system, 2)
    better = _NEW[plan.change.what].format(value=new)
    at = show(plan.change.height, "height", system, 2)
    return f"Nearest change that would make one: {better}, then from {at}."


def verdict(plan: Plan, system: System = "metric") -> str:
    """Say which height to use, or why there is none and what would make one."""
    height, best = (show(end, "height", system, 2) for end in (plan.height, plan.best))
    if plan.window is None:
        said = f"No height meets the wish, because {_WHY[plan.reason]}. Nearest is {best}."
        return f"{said} {change_sentence(plan, system)}"
    low, high = (show(end, "height", system, 2) for end in plan.window)
    if plan.fits:
        return f"Use {height}. From {low} to {high} the wish is met."
    return f"{height} does not meet the wish: from {low} to {high} it is met, best at {best}."


def next_sentence(plan: Plan, system: System = "metric") -> str:
    """Say from where a fresh ordinary pane is dropped if the first survived."""
    ordinary = [item for item in plan.prospects if item.shall_break]
    if not ordinary:
        return "There is no pane that shall break."
    sure = ordinary[0].odds.height(0.95)
    if sure > plan.heights[-1]:
        return "No height looked at breaks 19 in 20: show the film of the rehearsal."
    higher = show(max(sure, plan.height), "height", system, 2)
    return f"Fresh ordinary pane from {higher}: there 19 in 20 break."


def input_sentence(plan: Plan) -> str:
    """Say which input the odds hang on most, and how far it moves them."""
    low, high = (_percent(end) for end in sorted(plan.swings[plan.main_input]))
    before = "Before the log, the" if plan.logged else "The"
    if low == high:
        return f"{before} odds at this height hang on no input that is worth a measurement."
    what = _INPUTS.get(plan.main_input, plan.main_input)
    some = "an ordinary pane" if any(item.shall_break for item in plan.prospects) else "a pane"
    return (
        f"{before} odds hang most on {what}: within what is known of it, the chance that "
        f"{some} breaks runs from {low} to {high}."
    )


def spares_sentence(prospect: Prospect, plan: Plan) -> str:
    """Say how many panes of one kind to bring, now and once rehearsals have told."""
    shall = "break" if prospect.shall_break else "survive"
    sure = _percent(plan.wish.confidence)
    known = prospect.bring_if_known
    if prospect.bring is None:
        bring = f"so little is known that no number in reason makes {sure} sure"
    else:
        bring = f"bring {prospect.bring} to be {sure} sure"
    later = "" if known is None else f"; {known} once rehearsals have shown the odds right"
    shows = f"{plan.shows} shows" if plan.shows > 1 else "one show"
    return f"{prospect.specimen.name}, to {shall} in {shows}: {bring}{later}."


def rehearsal_sentence(plan: Plan) -> str:
    """Say how many rehearsals prove the wished share, and what to do after a failure."""
    share = max(plan.wish.break_share, plan.wish.survive_share)
    one_failed = rehearsals_needed(share, 1, plan.wish.confidence)
    return (
        f"{plan.rehearsals} rehearsals of each kind on fresh panes, all as wished, prove "
        f"{_percent(share)} with {_percent(plan.wish.confidence)} confidence, if that number "
        "was fixed beforehand. If one goes wrong, do not start again. Count them all: "
        f"{one_failed} with one failure prove as much."
    )


def plan_sentences(plan: Plan, system: System = "metric") -> list[str]:
    """List all that a plan has to say, the height first, the cautions last."""
    return [
        verdict(plan, system),
        *(spares_sentence(prospect, plan) for prospect in plan.prospects),
        input_sentence(plan),
        rehearsal_sentence(plan),
        f"If an ordinary pane survives: {next_sentence(plan, system)}",
        *(CAUTIONS[key] for key in plan.cautions),
    ]


def odds_sentence(plan: Plan, system: System = "metric") -> str:
    """Say what the panes do at the plan's height, and whether that is as wished."""
    parts = []
    for item in plan.prospects:
        low, high = (100 * end for end in (item.low, item.high))
        parts.append(
            f"of 100 panes “{item.specimen.name}” about {100 * item.chance:.0f} break "
            f"({low:.0f} to {high:.0f})"
        )
    height = show(plan.height, "height", system)
    return f"From {height}, {'; '.join(parts)}. {verdict(plan, system)}"


def odds_numbers(plan: Plan, system: System = "metric") -> list[tuple[str, str]]:
    """List the numbers behind the picture."""
    rows = []
    for item in plan.prospects:
        name = item.specimen.name
        band = f"{_percent(item.low)} to {_percent(item.high)}"
        used = f"{item.expected:.0f}" if item.expected < 1e4 else "very many"
        bring = "no number suffices" if item.bring is None else f"bring {item.bring}"
        rows += [
            (f"{name}: chance of breaking", f"{_percent(item.chance)} ({band})"),
            (f"{name}: panes", f"{used} used up on average, {bring}"),
        ]
    knowable = _percent(plan.knowable)
    return [*rows, ("chance that rehearsals find a height as wished", knowable)]


def log_sentences(log: Log, names: Sequence[str]) -> list[str]:
    """Say what a break log holds: blows that count, others, and every damaged line."""
    counted = sum(entry.kind in names for entry in log.entries)
    said = [f"{_blows(counted)} in the log count{'s' if counted < 2 else ''} here."]
    others = sorted({entry.kind for entry in log.entries} - set(names))
    if others:
        listed = ", ".join(f"“{name}”" for name in others)
        said.append(f"Others name panes that are not in this plan: {listed}.")
    if log.troubles:
        said.append("Lines that cannot be read stay as they are; mend them in the file:")
    said += [f"line {item.line}: “{item.text}”, {item.why}." for item in log.troubles]
    return said


def hindsight_table() -> str:
    """Write the odds of the falls of 1876 beside their outcomes, for a notebook."""
    rows = []
    for item in hindsight():
        fall = item.fall
        what = show(fall.ball_mass, "small_mass", digits=2) if fall.ball_mass else "the pane"
        band = f"{100 * item.low:.0f} to {100 * item.high:.0f}"
        rows.append(
            (
                fall.glass,
                f"{1000 * fall.thickness:.0f} mm",
                what,
                show(fall.height, "height", digits=2),
                f"{100 * item.chance:.0f} ({band})",
                f"{100 * item.given_held:.0f}",
                "broke" if fall.broke else "held",
            )
        )
    head = ("Pane", "Thick", "Falls", "From", "Fresh / %", "This one / %", "It …")
    return markdown(head, rows)


def _percent(share: float) -> str:
    return f"{show_number(100 * share, 2)} %" if share >= 0.0095 else "under 1 %"


def _blows(count: int) -> str:
    return {0: "No blow", 1: "One blow"}.get(count, f"{count} blows")
