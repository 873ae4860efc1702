# SPDX-License-Identifier: MIT
"""Say what a known drop tells, and what all of them have taught."""

from glasskit.demonstration import DroppedBall, Knowledge, Reckoning, reckonings
from glasskit.demonstration.posterior import FREE, Case, Hit
from glasskit.demonstration.worlds import WORLD, Belief, inputs, learned
from glasskit.quantities import System, show
from glasskit.words.tables import SURE, markdown

_INPUTS = {
    "flaw modulus": "how alike the flaws of panes are",
    "flaw strength": "how strong flaws are under a ball",
    "flaw area": "how much of the pane the blow puts to the test",
    "short load": "how much more glass bears in a blow",
    "toughness": "how hard it is to drive a crack",
    "healing": "how much the furnace heals",
    "theory of the blow": "how hard a blow pulls, over theory",
}


def known_label(case: Case, system: System = "metric") -> str:
    """Name a record by its pane, its ball and its place."""
    pane, ball = case.specimen.pane, case.hits[-1].rig
    assert isinstance(ball, DroppedBall)
    kind = "ordinary" if case.specimen.kind == "annealed" else "toughened"
    thick = show(pane.thickness, "thickness", system, 1)
    mass = show(ball.mass, "small_mass", system, 3)
    return f"{kind}, {thick}, {mass}: {case.label}"


def _happened(case: Case, system: System) -> str:
    """Say what the record says."""
    if case.rule is not None:
        at = show(case.rule.height, "height", system, 3)
        return f"at least {case.rule.least} of {case.rule.panes} must hold from {at}"
    told = []
    for piece in case.pieces:
        held = [hit for hit in piece if not hit.broke]
        words = []
        if held:
            highest = max(held, key=lambda hit: hit.height)
            words.append(f"held {_fall(highest, piece, system)}")
        if piece[-1].broke:
            words.append(f"broke at {_fall(piece[-1], piece, system)}")
        told.append(", ".join(words))
    return "; ".join(told)


def _fall(hit: Hit, piece: tuple[Hit, ...], system: System) -> str:
    """Write a fall, with its ball where the piece met more than one."""
    at = show(hit.height, "height", system, 2)
    if len({one.rig for one in piece}) == 1 or not isinstance(hit.rig, DroppedBall):
        return at
    return f"{at} ({show(hit.rig.mass, 'small_mass', system, 3)})"


def known_sentence(known: Knowledge, system: System = "metric") -> str:
    """Say what happened, and what the kit says of it before and after."""
    one = known.reckoning
    case = one.case
    views = {"Before any drop": one.before, "with this one left out": one.left_out}
    if case.rule is not None:
        said = [
            f"{name} a lot passes with {100 * view.record:.0f}%"
            for name, view in views.items()
        ]
    else:
        said = [
            f"{name} the chance of breaking is {100 * view.held:.0f}% at the fall that was "
            f"held, {100 * view.broke:.0f}% at the one that broke it"
            for name, view in views.items()
        ]
    sure = SURE[case.status]
    return f"{case.source}: {_happened(case, system)}. {'; '.join(said)}. Source: {sure}."


def known_numbers(known: Knowledge, system: System = "metric") -> list[tuple[str, str]]:
    """List the numbers behind the picture."""
    case = known.reckoning.case
    pane = case.specimen.pane
    rows = [
        (
            "pane",
            f"{show(pane.length, 'length', system)} × {show(pane.width, 'length', system)}",
        ),
        ("what happened", _happened(case, system)),
    ]
    if case.squeeze[1]:
        low, high = (show(end, "stress", system, 2) for end in case.squeeze)
        rows.append(("squeeze, nobody measured it", f"{low.split()[0]} to {high}"))
    views = (("before", known.reckoning.before), ("after", known.reckoning.after))
    for name, view in (*views, ("this one left out", known.reckoning.left_out)):
        rows.append((f"chance of the record, {name}", f"{100 * view.record:.0f}%"))
    inside = sum(one.left_out.expected for one in known.all_of_them)
    rows.append(
        (
            "records within nine in ten of what was expected",
            f"{inside} of {len(known.all_of_them)}",
        )
    )
    return rows


def taught_table() -> str:
    """Write every input of the world before and after all known drops, for a notebook."""
    rows = []
    for name in WORLD:
        ends = [belief.range_of(name) for belief in (Belief.before(), learned())]
        told = [f"{low:.2f} … {middle:.2f} … {high:.2f}" for low, middle, high in ends]
        free = "free" if name in FREE else ""
        rows.append((_INPUTS[name], *told, free, SURE[inputs()[name].status]))
    head = ("Factor on …", "before", "after all drops", "", "range from")
    return markdown(head, rows)


def left_out_table(system: System = "metric") -> str:
    """Write every record with what is said of it from all the others, for a notebook."""
    rows = [_told(one, system) for one in reckonings()]
    head = ("Record", "what happened", "before / %", "left out / %", "expected?", "source")
    return markdown(head, rows)


def _told(one: Reckoning, system: System) -> tuple[str, ...]:
    case = one.case
    views = (one.before, one.left_out)
    if case.rule is not None:
        said = [f"passes: {100 * view.record:.0f}" for view in views]
        inside = one.left_out.record > 0.05
    else:
        said = [f"{100 * view.held:.0f} to {100 * view.broke:.0f}" for view in views]
        inside = one.left_out.expected
    return (
        known_label(case, system), _happened(case, system), *said,
        "yes" if inside else "no", SURE[case.status],
    )  # fmt: skip


def known_verdict(known: Knowledge, system: System) -> str:
    """Say in six to ten words whether the other drops had led us to expect this one."""
    one = known.reckoning
    if one.case.rule is not None:
        said = f"{100 * one.left_out.record:.0f}%"
        return f"All the others give this test a {said} chance"
    did = "expected" if one.left_out.expected else "did not expect"
    return f"All the other drops together {did} this one"
