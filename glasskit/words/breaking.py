# SPDX-License-Identifier: MIT
"""Say what two breaking panes look like at one moment, and how sure that is."""

from functools import lru_cache

import numpy as np

from glasskit.breakage import SQUARE, TERMINAL_SPEED, Breakage
from glasskit.breaking import BrokenPane, SlowMotion
from glasskit.quantities import System, show, show_number
from glasskit.words.crumbs import HONEST, count_sentence
from glasskit.words.quenching import grade
from glasskit.words.tables import SURE

CHANCE = "Where a crack strays and where it splits is chance, drawn anew for each pane."


def crumbles(pane: BrokenPane) -> bool:
    """Return whether a pane ends as crumbs, as `Breakage` judges it."""
    return _quenched(pane).crumbles


def pane_state(pane: BrokenPane, time: float, struck: bool) -> str:
    """Say in a word what has become of a pane by a time.

    One of whole, breaking, broken; else held under a ball, short where a touch left a crack.
    """
    if not len(pane.cracks):
        return "held" if struck else "short"
    if time < pane.times[0, 0]:
        return "whole"
    return "breaking" if time < pane.over else "broken"


def moment_verdict(result: SlowMotion) -> str:
    """Say in six to ten words what is seen at this moment."""
    plain, tough = (
        pane_state(pane, result.time, result.struck)
        for pane in (result.ordinary, result.toughened)
    )
    if not result.struck:
        return _touched_verdict(result, tough)
    if plain == "held":
        return "The blow is too weak: both panes hold it"
    if plain == "whole":
        return "The ball has touched: both panes are still whole"
    if tough == "held":
        return "The ordinary pane breaks, the toughened one holds the blow"
    if tough == "whole":
        return "The ordinary pane cracks, the toughened one still holds"
    crumbs = crumbles(result.toughened)
    if tough == "breaking":
        tips = len(result.moments[1].tips)
        if crumbs:
            few = len(result.moments[0].tips)
            runs = "crack runs" if few == 1 else "cracks run"
            return f"{few or 'No'} {runs} on the left, {tips} on the right"
        return "Cracks run through both panes, and few of them split"
    if not crumbs:
        return "Both panes end in large and sharp pieces"
    return "Blades on the left, crumbs on the right"


def _touched_verdict(result: SlowMotion, tough: str) -> str:
    """Say what is seen where no ball bends the panes."""
    pane = result.toughened
    if tough == "short":
        return "Both panes keep a short crack: nothing drives it on"
    if tough == "whole":
        return "The crack has just come through the squeezed skin"
    crumbs, tips = crumbles(pane), len(result.moments[1].tips)
    if tough == "breaking" and crumbs:
        return f"One short crack on the left, {tips} on the right"
    if tough == "breaking" or len(pane.pieces) == 1:
        return "One short crack on the left, a long one right"
    if crumbs:
        return "A short crack on the left, crumbs on the right"
    return "A short crack on the left, large pieces right"


def moment_sentence(result: SlowMotion, system: System) -> str:
    """Say what ball or touch, cracks and sound have done by now."""
    time = in_microseconds(result.time)
    contact = "is still in contact" if result.touching else "has let go"
    said = [
        {
            "ball": f"{time} after the touch the ball {contact}.",
            "punch": f"{time} ago a centre punch brought a crack through the face.",
            "chip": f"{time} ago a chip brought a crack in from the edge.",
        }[result.start]
    ]
    names = ("ordinary", "toughened")
    panes = (result.ordinary, result.toughened)
    for name, pane, moment in zip(names, panes, result.moments, strict=True):
        state = pane_state(pane, result.time, result.struck)
        reached = show(moment.reached, "length", system, 2)
        if state == "held":
            said.append(f"The {name} pane holds this blow.")
        elif state == "short":
            core = "its core gives less than a crack costs"
            why = core if pane.drive.given else "nothing drives it on"
            said.append(f"In the {name} pane the crack stays short: {why}.")
        elif state == "whole":
            said.append(f"The {name} pane is still whole.")
        elif state == "breaking":
            said.append(f"In the {name} pane the farthest crack has passed {reached}.")
        else:
            said.append(f"In the {name} pane the last crack has come to rest.")
    sound = min(result.moments[0].sound, float(np.hypot(result.ordinary.length, 1.0)))
    if 0 < sound < result.ordinary.length:
        gone = show(sound, "length", system, 2)
        said.append(f"From its first crack sound has gone {gone} in the ordinary pane.")
    said.append(CHANCE)
    crumbs = crumbles(result.toughened)
    if not crumbs:
        pressed = -result.toughened.profile.surface
        squeeze = show(pressed, "stress", system, 2)
        said.append(f"A squeeze of {squeeze} is {grade(pressed)}: no crumbs.")
    state = pane_state(result.toughened, result.time, result.struck)
    if state == "broken" and crumbs:
        said.append(count_sentence(_quenched(result.toughened), system))
    if state in ("breaking", "broken"):
        said.append(HONEST if crumbs else "Large pieces are sharp.")
    return " ".join(said)


def moment_numbers(result: SlowMotion, system: System) -> list[tuple[str, str]]:
    """List the numbers behind the picture."""
    rows = [("cracks run at most at", show(TERMINAL_SPEED, "speed", system, 2))]
    if result.struck:
        net = show(result.strength, "stress", system, 2)
        rows += [
            ("both break at a net pulling stress of", net),
            ("the ball lets go of a whole pane at", in_microseconds(result.leaves)),
        ]
    else:
        drive = result.toughened.drive
        skin = show(result.toughened.profile.case_depth, "thickness", system, 2)
        rows += [
            ("toughened: the squeezed skin is deep", skin),
            (
                "toughened: the core pays for",
                f"{show_number(drive.given / drive.cost, 2)} cracks",
            ),
        ]
    for name, pane, moment in zip(
        ("ordinary", "toughened"),
        (result.ordinary, result.toughened),
        result.moments,
        strict=True,
    ):
        rows += _of_pane(name, pane, system)
        if len(pane.cracks):
            rows += [
                (f"{name}: tips that run now", f"{len(moment.tips)}"),
                (f"{name}: cracks by now, all together", _long(moment.length, system)),
            ]
    zones = (
        ("mist", "mirror ends, mist begins"),
        ("hackle", "hackle begins"),
        ("branching", "the crack splits"),
    )
    for name, said in zones if result.struck else ():
        low, high = (show(end, "thickness", system, 2) for end in result.zones[name])
        rows.append((f"{said} (from memory)", f"{low} to {high} from the origin"))
    return rows + _counts(result.toughened, system)


def in_microseconds(time: float) -> str:
    """Write a time in whole microseconds, the same in both systems of units."""
    return f"{round(1e6 * time, -1 if time >= 1e-3 else 0):.0f} µs"


def counted(number: int) -> str:
    """Write a count: three digits, and no decimals that nobody counts."""
    return show_number(number, min(len(f"{number}"), 3))


def _long(length: float, system: System) -> str:
    return show(length, "height", system, 2)


@lru_cache(maxsize=8)
def _of_pane(name: str, pane: BrokenPane, system: System) -> list[tuple[str, str]]:
    if not len(pane.cracks):
        return [(f"{name}: breaks", "not at all")]
    return [
        (f"{name}: breaks, after the touch", in_microseconds(pane.begins)),
        (f"{name}: the last crack rests at", in_microseconds(pane.over)),
        (f"{name}: pieces in the end", counted(len(pane.pieces))),
        (f"{name}: longest piece", show(pane.spans.max(), "length", system, 2)),
        (f"{name}: heaviest piece", show(pane.masses.max(), "small_mass", system, 2)),
    ]


def _quenched(pane: BrokenPane) -> Breakage:
    """Return what is published of such a pane, and what the standards ask of it."""
    return Breakage(profile=pane.profile, glass=pane.glass, way="quench")


@lru_cache(maxsize=8)
def _counts(pane: BrokenPane, system: System) -> list[tuple[str, str]]:
    """Set our count of pieces beside the published ones: they disagree."""
    counts = pane.pieces_in_square()
    if not len(pane.cracks) or not crumbles(pane) or not counts.size:
        return []
    known = _quenched(pane)
    side = f"square of {show(SQUARE, 'thickness', system, 2)}"
    low, high = (show_number(end, 2) for end in known.count_range)
    rows = [
        (f"pieces in a {side}, grown here", f"{show_number(counts.mean(), 2)}"),
        (f"pieces in a {side}, from the tension (from memory)", f"{low} to {high}"),
    ]
    return rows + [
        (f"{row.rule}: at least ({SURE[row.status]})", f"{row.count}") for row in known.minimum
    ]
