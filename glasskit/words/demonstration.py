# SPDX-License-Identifier: MIT
"""Say what a plan advises, how sure that is, what it depends on, and what the log tells."""

from collections.abc import Sequence

from glasskit.demonstration import (
    CAUTIONS,
    REACH,
    DroppedBall,
    Entry,
    FallingPane,
    GuidedDrop,
    Log,
    Plan,
    Rig,
    Specimen,
    SwungHammer,
    approvals,
    hindsight,
    moved,
)
from glasskit.demonstration.planning import PROOF, most_sensible
from glasskit.quantities import System, precise, show
from glasskit.words.tables import markdown

_LAST = 5  # blows of the log that are listed in words
_DEMOS = {
    DroppedBall: "ball drop",
    GuidedDrop: "device drop",
    FallingPane: "flat fall",
    SwungHammer: "hammer",
}
_DESCRIBED = {
    "stamped": "by heat, as stamped",
    "passed": "by heat, make passed a drop test",
    "half": "heat-strengthened",
    "classed": "salt, by class",
    "cover": "salt, cover glass",
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
_SETTLED = 0.9  # share of the worlds from which a question counts as settled
_SOME = 6  # panes of the log before which nothing counts as settled, a judgement
_NOTHING_NEW = 0.03  # share of the variance below which no blow is worth a pane
_TOPICS = {
    "flaws": ("how bad the flaws of these very panes are", "by dropping on some of them"),
    "squeeze": ("how hard and how deep the skin is squeezed", "from a measurement"),
    "thickness": ("the thickness of the panes", "with a caliper"),
    "mass": ("the mass that strikes", "on a scale"),
    "edges": ("how soft the edges lie", "by keeping one support"),
    "blow": ("how true aim and theory of the blow are", "with a guide tube"),
}


def grade(specimen: Specimen, system: System = "metric") -> str:
    """Say how a pane is toughened, as its supplier describes it or as measured."""
    if specimen.kind == "annealed":
        return "none"
    low, high = (show(end, "stress", system, 2) for end in specimen.squeezes)
    squeeze = low if low == high else f"{low} to {high}"
    said = _DESCRIBED.get(specimen.way, "by heat" if specimen.kind == "toughened" else "salt")
    return f"{said}, {squeeze}"


def demo_name(rig: Rig) -> str:
    """Return what the tables of sheets call a demonstration with this rig."""
    return next(name for kind, name in _DEMOS.items() if isinstance(rig, kind))


def change_sentence(plan: Plan, system: System = "metric") -> str:
    """Say which one change would make a height that meets the targets."""
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
        said = f"No height meets your targets, because {_WHY[plan.reason]}. Nearest is {best}."
        return f"{said} {change_sentence(plan, system)}"
    low, high = (show(end, "height", system, 2) for end in plan.window)
    if not plan.fits:
        return f"{height} misses your targets. Any height from {low} to {high} meets them."
    if plan.hardly_known:
        return (
            f"Rehearse before you rely on it: {low} to {high} meet your targets on average, "
            "but hardly anything is known of such panes."
        )
    if plan.height == plan.best:
        return (
            f"Use {height}, the lowest that meets your targets. Any height up to {high} does."
        )
    return f"{height} meets your targets, as does any height from {low} to {high}."


def release_sentence(plan: Plan, system: System = "metric") -> str:
    """Say where above the floor it is let go, and whether a heavier ball would do."""
    at = show(plan.release, "height", system, 2)
    said = f"Let go {at} above the floor"
    if "high" in plan.cautions:
        said += ", above what a standing person reaches"
    if plan.heavier is None:
        return f"{said}."
    mass = show(float(plan.heavier.value), "small_mass", system, 3)
    low = show(plan.heavier.height, "height", system, 2)
    up = plan.place.release(plan.rig, plan.heavier.height)
    return (
        f"{said}. A ball of {mass} does as well from {low}, let go "
        f"{show(up, 'height', system, 2)} above the floor: nobody reaches up."
    )


def show_sentence(plan: Plan, system: System = "metric") -> str:
    """Say how often a show goes right at the first try, and what the target means."""
    right = _often(plan.joint)
    low, high = (_often(end) for end in (plan.joint_low, plan.joint_high))
    target = {item.specimen.name: plan.target.share(item.specimen) for item in plan.prospects}
    shares = " and ".join(sorted({percent(share) for share in target.values()}))
    every = "every pane" if len(target) > 1 else "the pane"
    return (
        f"Of 100 shows {right} go right at the first try, {every} on target ({low} to {high} "
        f"in nine of ten worlds that may be true). {shares} is meant as an average over all "
        f"that is not known: your own panes do at least that in {_often(plan.kept)} of 100 "
        f"such worlds.{_surest(plan, system)}"
    )


def _surest(plan: Plan, system: System) -> str:
    """Say where a show goes right most often, if that is worth the way up."""
    there = moved(plan, plan.surest)
    if there.joint < plan.joint + 0.03:
        return ""
    at = show(there.height, "height", system, 2)
    bring = [item.bring for item in there.prospects]
    panes = "" if None in bring else f", {_listed([str(number) for number in bring])} panes"
    return f" Surest is {at}: there {_often(there.joint)} of 100 go right{panes}."


def next_sentence(plan: Plan, system: System = "metric") -> str:
    """Say from where a fresh ordinary pane is dropped if the first survived."""
    ordinary = [item for item in plan.prospects if item.shall_break]
    if not ordinary:
        return "There is no pane that shall break."
    odds = ordinary[0].odds
    sure = odds.height(0.95)
    if sure > plan.heights[-1]:
        return "No height looked at breaks 19 in 20: show the film of the rehearsal."
    higher = max(sure, plan.height)
    again = percent(odds.after(plan.height, higher))
    up = plan.place.release(plan.rig, higher)
    reach = ""
    if up > REACH:
        high = show(up, "height", system, 2)
        reach = f" That is let go {high} above the floor: by pin or magnet, nobody climbs."
    at = show(higher, "height", system, 2)
    return (
        f"Fresh ordinary pane from {at}: there 19 in 20 break. The one that survived would "
        f"break there with {again}, from the same height hardly ever: its worst flaw has not "
        f"changed.{reach}"
    )


def input_sentence(plan: Plan) -> str:
    """Say what is most worth learning, and how far that would narrow the odds."""
    first = plan.lessons[0]
    if first.narrows < 0.02:
        return "At this height nothing is worth a measurement: the odds hardly depend on it."
    what, how = _TOPICS.get(first.topic, (first.topic.replace("_", " "), "from trials"))
    if first.topic == "blow" and "glued" in plan.cautions:
        what, how = "how hard a blow is on glued glass", "by dropping on some of them"
    return (
        f"Most worth learning, {how}: {what}. Known exactly, it would narrow the chance that "
        f"a show goes right by {percent(first.narrows)} on average."
    )


def blow_sentence(plan: Plan, system: System = "metric") -> str:
    """Say which rehearsal comes next, or that and why rehearsing is at its end."""
    there, blow = moved(plan, plan.surest), plan.next_blow
    if there.kept >= _SETTLED and plan.told.panes >= _SOME:
        at = show(there.height, "height", system, 2)
        return (
            f"Stop rehearsing: from {at} these panes do as asked in {_often(there.kept)} of "
            "100 worlds that may still be true. Keep the others for the shows."
        )
    if plan.knowable <= 1.0 - _SETTLED:
        return (
            "Stop rehearsing: these panes have a height as wished in "
            f"{_often(plan.knowable)} of 100 worlds only. {change_sentence(plan, system)}"
        )
    if blow.narrows < _NOTHING_NEW:
        return "Stop rehearsing: no single blow tells much more. Choose by the odds above."
    at = show(blow.height, "height", system, 2)
    return (
        f"Next rehearsal: a fresh “{blow.kind}” from {at}, which breaks with "
        f"{percent(blow.breaks)}. Of all single blows it tells most: {percent(blow.narrows)} "
        "of what is not known of a show. Log it; this line then names the next one, and says "
        "when to stop."
    )


def budget_sentence(plan: Plan, system: System = "metric") -> str:
    """Say what the panes at hand are good for, and what one more would buy."""
    budget = plan.budget
    assert budget is not None
    names = [item.specimen.name for item in plan.prospects]
    have = _listed([f"{n} “{name}”" for n, name in zip(budget.panes, names, strict=True)])
    shows = f"{plan.shows} shows" if plan.shows > 1 else "one show"
    if min(budget.panes) < plan.shows:
        few = _listed(
            [
                f"“{name}”"
                for name, n in zip(names, budget.panes, strict=True)
                if n < plan.shows
            ]
        )
        return f"With {have} there are too few of {few} for {shows}: one a show at the least."
    at = show(plan.heights[budget.at].item(), "height", system, 2)
    bought = _listed(
        [
            f"“{name}” {percent(share)}"
            for name, share in zip(names, budget.one_more, strict=True)
        ]
    )
    return (
        f"With {have} for {shows}, best from {at}: the whole evening works with "
        f"{percent(budget.works)}. With one more {bought}."
    )


def spares_sentence(plan: Plan) -> str:
    """Say how many panes of every kind to bring, now and once rehearsals have told."""
    sure = percent(plan.target.confidence)
    shows = f"all {plan.shows} shows" if plan.shows > 1 else "one show"
    bring = [item.bring for item in plan.prospects]
    if None in bring:
        most, served = most_sensible(plan.shows), plan.served
        do = {0: "not one show", 1: "one show"}.get(served, f"{served} shows")
        said = (
            f"More panes do not mend this: with {sure}, {most} of each kind serve {do}. "
            "Rehearse first, give fewer shows, or change panes or ball"
        )
    else:
        listed = _listed([f"{item.bring} “{item.specimen.name}”" for item in plan.prospects])
        said = f"Bring {listed}: with {percent(plan.suffices)} they suffice for {shows}"
    known = [item.bring_if_known for item in plan.prospects]
    if None in known:
        return f"{said}."
    later = _listed([str(number) for number in known])
    return f"{said}; once rehearsals have shown these odds right, {later} do."


def shopping_sentence(plan: Plan) -> str:
    """Say how many panes to buy, those for rehearsals among them."""
    bring = [item.bring for item in plan.prospects]
    if None in bring:
        return "Buy nothing for the shows before rehearsals have told more."
    first = plan.rehearsals[0]
    buy = _listed(
        [f"{item.bring} + {first} “{item.specimen.name}”" for item in plan.prospects]
    )
    return (
        f"To buy, for shows + rehearsals that prove the target: {buy}. Fewer rehearsals "
        "narrow the odds too, and prove less."
    )


def rehearsal_sentence(plan: Plan) -> str:
    """Say how many rehearsals prove the target share, and what to do after a failure."""
    share = max(plan.target.break_share, plan.target.survive_share)
    none, one, _ = plan.rehearsals
    return (
        f"{none} rehearsals of each kind on fresh panes, all on target, prove "
        f"{percent(share)} with {percent(PROOF)} confidence, if that number "
        "was fixed beforehand. If one goes wrong, do not start again. Count them all: "
        f"{one} with one failure prove as much."
    )


def approval_sentences(plan: Plan, system: System = "metric") -> list[str]:
    """Say what approval tests ask of toughened panes of this thickness."""
    said = []
    for one in approvals([item.specimen for item in plan.prospects], plan.rig, plan.heights):
        rule, ball = one.case.rule, one.case.hits[0].rig
        assert rule is not None
        assert isinstance(ball, DroppedBall)
        from_there = show(rule.height, "height", system, 3)
        mass = show(ball.mass, "small_mass", system, 3)
        told = f"{one.case.source}: {rule.least} of {rule.panes} hold {mass} from {from_there}"
        alike = show(one.height, "height", system, 2)
        said.append(told + ("." if one.same else f", as hard a pull as here from {alike}."))
    return said


def told_sentences(plan: Plan) -> list[str]:
    """Say what the log did, and whether its outcomes look like one lot."""
    told = plan.told
    if not told.panes:
        return []
    said = [
        f"The log counts for all kinds together: {_panes(told.panes)}. Of "
        f"{len(told.worlds.white)} worlds that were possible before, about as many as "
        f"{told.effective:.0f} fit it."
    ]
    said += [
        f"The outcomes of “{name}” look like two kinds of pane and not like one: name them "
        "apart in the log, and do not trust the odds before."
        for name in told.mixed
    ]
    return said


def plan_sentences(plan: Plan, system: System = "metric") -> list[str]:
    """List all that a plan has to say, the height first, the cautions last.

    That hardly anything is known of glued glass stands beside its height.
    """
    doubted = [key for key in plan.cautions if key == "glued"]
    return [
        verdict(plan, system),
        *(CAUTIONS[key] for key in doubted),
        release_sentence(plan, system),
        show_sentence(plan, system),
        spares_sentence(plan),
        shopping_sentence(plan),
        *([budget_sentence(plan, system)] if plan.budget else []),
        *told_sentences(plan),
        blow_sentence(plan, system),
        input_sentence(plan),
        rehearsal_sentence(plan),
        f"If an ordinary pane survives: {next_sentence(plan, system)}",
        *approval_sentences(plan, system),
        *(CAUTIONS[key] for key in plan.cautions if key not in doubted),
    ]


def odds_sentence(plan: Plan, system: System = "metric") -> str:
    """Say what the panes do at the plan's height, and whether that is on target."""
    parts = []
    for item in plan.prospects:
        parts.append(
            f"of 100 panes “{item.specimen.name}” about {_often(item.chance)} break "
            f"({_often(item.low)} to {_often(item.high)})"
        )
    height = show(plan.height, "height", system, 2)
    return (
        f"From {height}, {'; '.join(parts)}. Of 100 shows about {_often(plan.joint)} go "
        f"right. {verdict(plan, system)}"
    )


def odds_numbers(plan: Plan, system: System = "metric") -> list[tuple[str, str]]:
    """List the numbers behind the picture."""
    rows = [("let go above the floor", show(plan.release, "height", system, 2))]
    for item in plan.prospects:
        name = item.specimen.name
        band = f"{percent(item.low)} to {percent(item.high)}"
        used = f"{item.expected:.0f}" if item.expected < 100 else "very many"
        bring = "rehearse first" if item.bring is None else f"bring {item.bring}"
        rows += [
            (f"{name}: chance of breaking", f"{percent(item.chance)} ({band})"),
            (f"{name}: panes", f"{used} used up on average, {bring}"),
        ]
    joint = f"{percent(plan.joint_low)} to {percent(plan.joint_high)}"
    return [
        *rows,
        ("chance that a show goes right", f"{percent(plan.joint)} ({joint})"),
        ("chance that the panes brought suffice", percent(plan.suffices)),
        ("chance that every kind meets its target", percent(plan.kept)),
        ("chance that these panes have such a height at all", percent(plan.knowable)),
    ]


def blow_words(entry: Entry, system: System = "metric") -> str:
    """Say what a line of the log holds.

    Examples
    --------
    >>> from datetime import date
    >>> blow_words(Entry(date=date(2030, 5, 31), pane="ordinary", height=1.0, broke=True))
    'ordinary, 1.00 m, broke'

    """
    went = "broke" if entry.broke else "held"
    return f"{entry.pane}, {_fell(entry, system)}, {went}"


def _fell(entry: Entry, system: System) -> str:
    # Evidence is not rounded as other US heights are.
    return precise(entry.height, "height", system)


def log_sentences(log: Log, names: Sequence[str], system: System = "metric") -> list[str]:
    """Say what a break log holds: blows by height, those that do not count, damaged lines."""
    counted = sum(entry.kind in names for entry in log.entries)
    said = [f"{_blows(counted)} in the log count{'s' if counted < 2 else ''} here."]
    if not log.entries:
        said = ["No blow is in the log yet."]
    for name in names:
        broken: dict[str, list[bool]] = {}
        for entry in sorted(log.entries, key=lambda one: one.height):
            if entry.kind == name:
                broken.setdefault(_fell(entry, system), []).append(entry.broke)
        if broken:
            at_each = (f"{sum(ends)} of {len(ends)} from {at}" for at, ends in broken.items())
            said.append(f"“{name}” broke: {', '.join(at_each)}.")
    if newest := [blow_words(entry, system) for entry in log.entries[: -_LAST - 1 : -1]]:
        said.append(f"The last, the newest first: {'; '.join(newest)}.")
    for done, blows in (("taken back", log.taken_back), ("corrected", log.corrected)):
        if blows:
            said.append(f"{_blows(len(blows))} {done}.")
    others = sorted({entry.kind for entry in log.entries} - set(names))
    if others:
        listed = ", ".join(f"“{name}”" for name in others)
        said.append(f"Others name panes that are not in this plan: {listed}.")
    if log.troubles:
        said.append("Lines that cannot be read stay as they are; mend them in the file:")
    said += [f"line {item.line}: “{item.text}”, {item.words}." for item in log.troubles]
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


def percent(share: float) -> str:
    """Write a share to whole percent; draws leave no more.

    Parameters
    ----------
    share : float
        Between 0 and 1 [-].

    Returns
    -------
    str
        Never 0% or 100%: what nobody saw in the draws may happen yet.

    Examples
    --------
    >>> percent(0.124), percent(0.0), percent(1.0)
    ('12%', 'under 1%', 'over 99%')

    """
    if share < 0.0095:
        return "under 1%"
    return f"{100 * share:.0f}%" if share <= 0.9905 else "over 99%"


def _often(share: float) -> str:
    """Write a share as a count in 100."""
    return f"{100 * share:.0f}"


def _panes(count: int) -> str:
    return "one pane" if count == 1 else f"{count} panes"


def _listed(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def _blows(count: int) -> str:
    return {0: "No blow", 1: "One blow"}.get(count, f"{count} blows")


def odds_verdict(plan: Plan, system: System) -> str:
    """Say in six to ten words whether this height is on target."""
    if plan.window is None:
        return "No height is on target for these panes"
    if plan.fits:
        at = show(plan.height, "height", system, 2)
        if plan.hardly_known:
            return f"From {at} on target, but that is hardly known"
        return f"From {at} every kind is on target"
    low, high = (show(end, "height", system, 2) for end in plan.window)
    return f"Off target: choose from {low} to {high}"
