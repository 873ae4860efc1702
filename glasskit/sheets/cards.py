# SPDX-License-Identifier: MIT
"""Cards with the questions an audience asks, answered for a child, the curious and the expert.

The questions stand in ``glasskit/data/audience_questions.csv``. A number in braces there is
computed here, so that the cards say what the package says.
"""

import datetime
from collections.abc import Iterable
from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from glasskit.breakage import TERMINAL_SPEED
from glasskit.crack import breaking_stress, duration_factor, griffith_strength
from glasskit.damage import Scratcher, scratcher
from glasskit.impact import (
    Device,
    Pane,
    ball_of_mass,
    ball_on_pane,
    drop_energy,
    drop_on,
    drop_speed,
)
from glasskit.light import retardation
from glasskit.materials import (
    fixed_point,
    flow_estimates,
    glass,
    ionic_radius,
    solid,
    thickening,
)
from glasskit.plates import plate, striker
from glasskit.quantities import GRAVITY, System, from_display, one_of, show, show_number
from glasskit.sheets.page import render
from glasskit.tables import read

LEVELS = ("child", "curious", "expert")

_PANE, _SIDE = plate("thin pane, quenched"), 0.3  # the pane of the examples, square [m]
_COVER = plate("cover glass, salt bath")
_DEEP = plate("cover glass, long salt bath")


def _say(value: ArrayLike, kind: str, system: System, digits: int = 2) -> str:
    """Write a number without a nought after the point: these are round sizes."""
    return show(value, kind, system, digits).replace(".0 ", " ")


def _weight(force: ArrayLike, system: System) -> str:
    """Write a force as the mass whose weight it is."""
    mass = np.asarray(force) / GRAVITY
    return _say(mass, "mass" if mass >= 1.0 else "small_mass", system)


def _hardness(thing: Scratcher, system: System) -> str:
    ends = (thing.hardness_low, thing.hardness_high)
    return " to ".join(_say(end, "stiffness", system) for end in ends)


def _strengths(system: System) -> dict[str, str]:
    soda = glass("soda-lime")
    quenched = _PANE.profile
    scuff, nick = 30e-6, 1e-3
    scuffed, nicked = griffith_strength([scuff, nick], soda.toughness)
    guarded = breaking_stress(quenched, scuff, soda.toughness)
    shallow, deep = _COVER.profile, _DEEP.profile
    stresses = {
        "quench": _PANE["squeeze"],
        "core": quenched.centre,
        "scuffed": scuffed,
        "nicked": nicked,
        "guarded": guarded,
        "bath": _COVER["squeeze"],
        "pull": shallow.centre,
        "more": deep.centre,
        "plain": soda.values["characteristic_strength"].value,
        "tough": soda.values["toughened_strength"].value,
        "fifty": 50e6,
    }
    depths = {
        "scuff": scuff,
        "skin": _COVER["skin"],
        "deeper": _DEEP["skin"],
        "stone": soda.values["fatal_inclusion"].value,
    }
    drop = soda.values["drop_squeeze"]
    return {
        **{name: _say(value, "stress", system) for name, value in stresses.items()},
        **{name: _say(value, "depth", system) for name, value in depths.items()},
        "rupert": " to ".join(_say(end, "stress", system) for end in (drop.low, drop.high)),
    }


def _bodies(system: System) -> dict[str, str]:
    soda = glass("soda-lime")
    area = soda.density * 1.0  # kg/m^2 for each metre of thickness
    masses = {
        "light": 3e-3 * area,
        "heavy": 6e-3 * area,
        "weight": _SIDE**2 * _PANE["thickness"] * area,
    }
    lengths = {
        "nick": 1e-3,
        "thin": 3e-3,
        "double": 6e-3,
        "pane": _PANE["thickness"],
        "cover": _COVER["thickness"],
        "square": 50e-3,
        "path": 10e-3,
        "half": _SIDE / 2,
    }
    side, thick = (_say(value, "thickness", system) for value in (_SIDE, _PANE["thickness"]))
    return {
        **{name: _say(value, "mass", system) for name, value in masses.items()},
        **{name: _say(value, "thickness", system) for name, value in lengths.items()},
        "size": f"{side} by {side} by {thick}",
        "glass": _say(soda.hardness, "stiffness", system),
        "key": _hardness(scratcher("key"), system),
        "sand": _hardness(scratcher("quartz sand"), system),
        "sodium": _say(ionic_radius("Na"), "atom", system, 3),
        "potassium": _say(ionic_radius("K"), "atom", system, 3),
    }


def _events(system: System) -> dict[str, str]:
    soda = glass("soda-lime")
    stored = _PANE.profile.stored_energy(soda) * _SIDE**2
    ball, usual = striker("steel ball")["mass"], striker("device")
    device = Device(**usual, glass=_COVER.glass, screen=_COVER.profile)
    wood, concrete = (
        drop_on(device, floor, 1.0, "flat") for floor in ("hardwood", "concrete")
    )
    softest = min(item.viscosity for item in flow_estimates() if item.key == "Gulbiten2018")
    sag = thickening(from_display(1000.0, "years"), softest, 1.0, 3e-3)
    return {
        "stored": _say(stored, "energy", system),
        "drop": _say(drop_energy(ball, 2.0), "energy", system),
        "ball": _say(ball, "small_mass", system, 3),
        "fall": _say(2.0, "height", system),
        "tall": _say(1.0, "height", system),
        "from": _say(1.0, "height", system),
        "device": _say(usual["mass"], "mass", system),
        "gentle": _weight(np.median(wood.landing.force), system),
        "harsh": _weight(np.median(concrete.landing.force), system),
        "sinks": _weight(wood.loads()[1], system),
        "held": _weight(concrete.loads()[1], system),
        "sag": _say(sag, "atom", system, 1),
        "crack": _say(TERMINAL_SPEED, "speed", system),
        "blink": _say(_SIDE / 2 / TERMINAL_SPEED, "millitime", system, 1),
        "month": _say(duration_factor(30 * 86400.0, 60.0), "percent", system),
        "strain": _say(fixed_point("strain"), "temperature", system),
        "ten": _say(0.05 ** (1 / 10), "percent", system),
        "shift": _say(retardation(50e6, 10e-3, soda.stress_optic), "nanometre", system, 3),
    }


def _thicker(system: System) -> dict[str, str]:
    """Return what a ball does to a pane and to one twice as thick."""
    thick, ball = (
        _PANE["thickness"],
        ball_of_mass(striker("steel ball")["mass"], solid("steel")),
    )
    panes = [
        Pane(length=_SIDE, width=_SIDE, thickness=size, glass=_PANE.glass)
        for size in (thick, 2 * thick)
    ]
    one, two = (ball_on_pane(ball, pane, drop_speed(1.0)) for pane in panes)
    return {
        "pulled": _say(one.stress, "stress", system),
        "less": _say(two.stress, "stress", system),
        "twice": _say(2 * thick, "thickness", system),
        "harder": show_number((two.peak_force / one.peak_force).item(), 1),
    }


@cache
def _numbers(system: System) -> dict[str, str]:
    return {**_strengths(system), **_bodies(system), **_events(system), **_thicker(system)}


def question_names() -> tuple[str, ...]:
    """Return the keys of all questions."""
    return tuple(row["key"] for row in read("audience_questions"))


def questions(
    names: Iterable[str] | None = None, system: System = "metric"
) -> list[dict[str, str]]:
    """Return questions with their answers, numbers filled in.

    Parameters
    ----------
    names : iterable of str, optional
        Keys from `question_names`, in the order wanted; all by default.
    system : {"metric", "us"}
        Units.

    Returns
    -------
    list of dict
        Columns of ``audience_questions.csv``: question, short, child, curious, expert, number,
        source, status.

    Raises
    ------
    ValueError
        If a key or `system` is unknown.

    Examples
    --------
    >>> questions(["ions"])[0]["number"]
    'Radius with six neighbours: sodium 102 pm, potassium 138 pm.'

    """
    known = {row["key"]: row for row in read("audience_questions")}
    wanted = list(known) if names is None else list(names)
    for name in wanted:
        one_of("question", name, known)
    numbers = _numbers(system)
    return [
        {column: text.format_map(numbers) for column, text in known[name].items()}
        for name in wanted
    ]


def question_cards(
    level: str = "curious",
    *,
    names: Iterable[str] | None = None,
    system: System = "metric",
    on: datetime.date | None = None,
) -> str:
    """Return cards to cut out, as one HTML document.

    Parameters
    ----------
    level : {"child", "curious", "expert"}
        Who asks.
    names : iterable of str, optional
        Keys from `question_names`; all by default.
    system : {"metric", "us"}
        Units.
    on : date, optional
        Date in the footer; today by default.

    Returns
    -------
    str
        HTML; see `glasskit.sheets.save`.

    Raises
    ------
    ValueError
        If `level`, a key or `system` is unknown.

    """
    one_of("level", level, LEVELS)
    asked = {"child": "a child", "curious": "the curious", "expert": "an expert"}[level]
    return render(
        "cards.html",
        on,
        title=f"Questions from the audience: answers for {asked}",
        level=level,
        cards=questions(names, system),
    )
