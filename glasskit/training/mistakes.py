# SPDX-License-Identifier: MIT
"""Plant mistakes in invented readings: each kind returns the result as told and the right one.

Readings are rounded before anything is computed, so that a reader with the printed numbers
comes to the same truth.
"""

from collections.abc import Callable, Mapping
from types import MappingProxyType

import numpy as np

from glasskit import light
from glasskit.bending import bars, discs
from glasskit.breakage import fragments
from glasskit.crack import duration_factor, griffith_depth
from glasskit.lab import formulas, from_readings, from_tolerance, reduce
from glasskit.materials import glass
from glasskit.quantities import GRAVITY, FloatArray, from_display, show, to_display, unit
from glasskit.strength import WeibullFit, fit_weibull, sizes
from glasskit.stress import PARABOLA_CASE, core_tension, shortcut_tension


class Draws:
    """Readings drawn at random, and how they are printed.

    Parameters
    ----------
    rng : numpy.random.Generator
        Source of all numbers.

    Attributes
    ----------
    shown : dict
        Printed text of each reading by name.

    """

    def __init__(self, rng: np.random.Generator) -> None:
        self.rng = rng
        self.shown: dict[str, str] = {}

    def __call__(
        self, name: str, kind: str, low: float, high: float, decimals: int = 0
    ) -> float:
        """Draw a reading between two ends in its display unit; return it [SI]."""
        number = round(float(self.rng.uniform(low, high)), decimals)
        self.shown[name] = f"{number:.{decimals}f} {unit(kind).symbol}".rstrip()
        return from_display(number, kind).item()

    def tell(self, name: str, kind: str, value: float) -> None:
        """Print a number that follows from the readings [SI]."""
        self.shown[name] = show(value, kind)

    def strengths(self, name: str, count: int, modulus: float, scale: float) -> FloatArray:
        """Draw Weibull strengths, print them to 0.1 MPa, return them as printed [Pa]."""
        drawn = np.round(to_display(scale * self.rng.weibull(modulus, count), "stress"), 1)
        self.shown[name] = ", ".join(f"{number:.1f}" for number in drawn)
        return from_display(drawn, "stress")


_HALVINGS = 60

Pair = tuple[float, float]  # planted, truth


# --- slips of unit and of formula -----------------------------------------------------------


def _bar(d: Draws) -> tuple[float, float, float, float, float]:
    return (
        d("force", "force", 180, 420),
        d("outer", "length", 90, 120),
        d("inner", "length", 40, 50),
        d("width", "length", 19, 26, 1),
        d("thickness", "thickness", 3.7, 4.3, 2),
    )


def _four(force: float, outer: float, inner: float, width: float, thickness: float) -> float:
    section = bars.bar_section(width, thickness)
    return bars.four_point_stress(force, outer, inner, section).item()


def _millimetres(d: Draws) -> Pair:
    force, outer, inner, width, thickness = _bar(d)
    d.shown["arm_m"] = f"{outer - inner:.3f}"
    truth = _four(force, outer, inner, width, thickness)
    # Spans in metres, width and thickness (squared) in millimetres, the number called MPa.
    number = truth / _in_mm(1.0) ** 3
    return from_display(number, "stress").item(), truth


def _in_mm(length: float) -> float:
    """Return the number of millimetres in a length [m]."""
    return to_display(length, "length").item()


def _kilogram_force(d: Draws) -> Pair:
    mass = d("load", "number", 20, 45, 1)
    force = mass * GRAVITY
    _, *rest = _bar(d)
    return _four(mass, *rest), _four(force, *rest)


def _psi(d: Draws) -> Pair:
    ksi = d("printed", "number", 10, 20, 1)
    d.shown["printed"] = f"{1000 * ksi:,.0f}".replace(",", " ")
    return from_display(ksi, "stress").item(), from_display(ksi, "stress", "us").item()


def _gross_span(d: Draws) -> Pair:
    force, outer, inner, width, thickness = _bar(d)
    section = bars.bar_section(width, thickness)
    planted = bars.three_point_stress(force, outer, section).item()
    return planted, _four(force, outer, inner, width, thickness)


def _length(d: Draws) -> Pair:
    force, length = d("force", "force", 120, 260), d("length", "length", 110, 130)
    span = d("span", "length", 60, 80)
    section = bars.bar_section(
        d("width", "length", 19, 26, 1), d("thickness", "thickness", 3.7, 4.3, 2)
    )
    return (
        bars.three_point_stress(force, length, section).item(),
        bars.three_point_stress(force, span, section).item(),
    )


def _diameter(d: Draws) -> Pair:
    force, span = d("force", "force", 60, 140), d("span", "length", 60, 80)
    diameter = d("diameter", "thickness", 4.6, 5.6, 2)
    d.shown["radius"] = f"{to_display(diameter / 2, 'thickness').item():.3f}"
    planted, truth = (
        bars.three_point_stress(force, span, bars.rod_section(size)).item()
        for size in (diameter / 2, diameter)
    )
    return planted, truth


def _not_squared(d: Draws) -> Pair:
    force, outer, inner, width, thickness = _bar(d)
    truth = _four(force, outer, inner, width, thickness)
    return truth * _in_mm(thickness), truth


def _one_roller(d: Draws) -> Pair:
    force, *rest = _bar(d)
    d.tell("half", "force", force / 2)
    return _four(force / 2, *rest), _four(force, *rest)


def _vickers_number(d: Draws) -> Pair:
    load, hardness = d("load", "force", 4.9, 19.6, 2), d.rng.uniform(5.3e9, 6.0e9)
    size = to_display(np.sqrt(2 * load / hardness), "depth").item()
    diagonal = d("diagonal", "depth", size, size, 1)
    number = formulas.vickers_number(load, diagonal).item()
    d.tell("number", "number", number)
    return (
        from_display(number, "stress").item(),
        formulas.vickers_hardness(load, diagonal).item(),
    )


def _tip_to_tip(d: Draws) -> Pair:
    load, whole = d("load", "force", 18, 22, 1), d("whole", "depth", 230, 290)
    modulus = d("modulus", "stiffness", 69, 73)
    hardness = d("hardness", "stiffness", 5.3, 5.9, 1)
    planted, truth = (
        formulas.dent_toughness(load, crack_length, modulus, hardness).item()
        for crack_length in (whole, whole / 2)
    )
    return planted, truth


# --- slips of stress ------------------------------------------------------------------------


def _mirror_stress(d: Draws) -> Pair:
    radius = d("radius", "thickness", 0.4, 1.2, 2)
    constant = d("constant", "toughness", 1.85, 2.05, 2)
    squeeze = d("squeeze", "stress", 75, 120)
    planted, truth = (
        fragments.breaking_stress(radius, constant, left).item() for left in (0.0, squeeze)
    )
    return planted, truth


def _other_feature(d: Draws) -> Pair:
    radius = d("radius", "thickness", 0.4, 1.2, 2)
    wrong = d("branching", "toughness", *_ends("branching"), 2)
    right = d("constant", "toughness", *_ends("mist"), 2)
    planted, truth = (
        fragments.breaking_stress(radius, constant).item() for constant in (wrong, right)
    )
    return planted, truth


def _ends(feature: str) -> tuple[float, float]:
    low, high = to_display(fragments.MIRROR_CONSTANTS[feature], "toughness").tolist()
    return low, high


def _applied_for_net(d: Draws) -> Pair:
    applied, squeeze = d("applied", "stress", 150, 190), d("squeeze", "stress", 80, 110)
    toughness = d("toughness", "toughness", 0.72, 0.80, 2)
    planted, truth = (
        griffith_depth(stress, toughness).item() for stress in (applied, applied - squeeze)
    )
    return planted, truth


def _stress_optic(d: Draws) -> Pair:
    lag, path = d("lag", "nanometre", 180, 420), d("path", "thickness", 4, 10, 1)
    right = d("right", "stress_optic", 2.6, 2.77, 2)
    wrong = d("wrong", "stress_optic", 3.4, 4.0, 2)
    planted, truth = (
        light.stress_difference(lag, path, value).item() for value in (wrong, right)
    )
    return planted, truth


def _shortcut(d: Draws) -> Pair:
    squeeze = d("squeeze", "stress", 600, 850)
    case, size = d("case", "depth", 60, 90), d("size", "thickness", 0.7, 1.1, 2)
    return (
        shortcut_tension(squeeze, case, size).item(),
        core_tension(squeeze, case, size, "diffused").exact.item(),
    )


def _core_for_surface(d: Draws) -> Pair:
    core, size = d("core", "stress", 35, 60), d("size", "thickness", 4, 10)
    per_squeeze = core_tension(1.0, PARABOLA_CASE * size, size, "quenched").exact.item()
    return core, core / per_squeeze


# --- methods beyond their limits ------------------------------------------------------------


def _last_kept(method: str, name: str, kept: float, broken: float, **rest: float) -> float:
    """Return the reading at which a method's limits begin to break, between two [SI]."""
    for _ in range(_HALVINGS):
        middle = (kept + broken) / 2
        if reduce(method, {name: middle, **rest}).broken:
            broken = middle
        else:
            kept = middle
    return kept


def _large_deflection(d: Draws) -> Pair:
    rest = {
        "load_diameter": d("load_ring", "length", 16, 20),
        "support_diameter": d("support", "length", 44, 48),
        "plate_diameter": d("plate", "length", 52, 54),
        "thickness": d("thickness", "thickness", 0.9, 1.2, 2),
        "poisson": d("poisson", "number", 0.22, 0.22, 2),
    }
    d.tell("modulus", "stiffness", glass("soda-lime").modulus)
    force = d("force", "force", 350, 550)
    last = _last_kept("ring_on_ring", "force", 1.0, force, **rest)
    planted, truth = (discs.ring_on_ring(load, **rest).item() for load in (force, last))
    return planted, truth


def _short_span(d: Draws) -> Pair:
    rest = {
        "force": d("force", "force", 500, 800),
        "width": d("width", "length", 19, 26, 1),
        "thickness": d("thickness", "thickness", 5.6, 6.4, 1),
    }
    span = d("span", "length", 30, 42)
    d.tell("stress", "stress", reduce("three_point_bar", {"span": span, **rest}).value.item())
    return span, _last_kept("three_point_bar", "span", 0.1, span, **rest)


def _wide_ring(d: Draws) -> Pair:
    rest = {
        "support_diameter": d("support", "length", 42, 48),
        "plate_diameter": d("plate", "length", 58, 64),
        "thickness": d("thickness", "thickness", 3.0, 3.4, 2),
        "force": d("force", "force", 700, 1100),
    }
    wide = d("load_ring", "length", 29, 34)
    d.tell(
        "stress",
        "stress",
        reduce("ring_on_ring", {"load_diameter": wide, **rest}).value.item(),
    )
    narrow = 0.3 * rest["support_diameter"]
    return wide, _last_kept("ring_on_ring", "load_diameter", narrow, wide, **rest)


def _ring_for_ball(d: Draws) -> Pair:
    force, ball = d("force", "force", 300, 600), d("ball", "length", 8, 10)
    support, plate = d("support", "length", 28, 32), d("plate", "length", 36, 40)
    thickness, poisson = d("thickness", "thickness", 1.9, 2.4, 2), 0.22
    return (
        discs.ring_on_ring(force, ball, support, plate, thickness, poisson).item(),
        formulas.ball_on_ring(force, support, plate, thickness, poisson).item(),
    )


# --- slips of statistics and of judgement ---------------------------------------------------


def _pooled(d: Draws) -> Pair:
    edge = d.strengths("edge", 12, 9.0, 45e6)
    face = d.strengths("face", 12, 7.0, 110e6)
    pooled = fit_weibull(np.concatenate([edge, face]))
    return pooled.modulus.item(), fit_weibull(edge).modulus.item()


def _discarded(d: Draws) -> Pair:
    every = d.strengths("every", 15, 6.0, 80e6)
    kept = np.sort(every)[3:]
    d.shown["left_out"] = ", ".join(
        f"{to_display(x, 'stress'):.1f}" for x in np.sort(every)[:3]
    )
    return fit_weibull(kept).modulus.item(), fit_weibull(every).modulus.item()


def _fitted(d: Draws, count: int) -> tuple[FloatArray, WeibullFit]:
    """Draw a sample and print its modulus, scale and mean."""
    sample = d.strengths("sample", count, d.rng.uniform(5, 9), d.rng.uniform(60e6, 110e6))
    fit = fit_weibull(sample)
    d.tell("modulus", "number", fit.modulus.item())
    d.tell("scale", "stress", fit.scale.item())
    d.tell("mean", "stress", sample.mean())
    return sample, fit


def _mean_for_design(d: Draws) -> Pair:
    sample, fit = _fitted(d, 20)
    return sample.mean(), fit.quantile(1e-3).item()


def _scale_for_median(d: Draws) -> Pair:
    _, fit = _fitted(d, 20)
    return fit.scale.item(), fit.quantile(0.5).item()


def _too_few(d: Draws) -> Pair:
    count = int(d("count", "number", 5, 9))
    factor = d("factor", "number", 1.15, 1.35, 2)
    return float(count), sizes.sample_size(factor**2).item()


def _none_broke(d: Draws) -> Pair:
    count = d("count", "number", 10, 30)
    chance = d("chance", "percent", 1, 4)
    return count, sizes.zero_failure_size(chance).item()


def _duration(d: Draws) -> Pair:
    strength, test = d("strength", "stress", 35, 60), d("test", "time", 10, 60)
    service = d("service", "years", 2, 25)
    return strength, strength * duration_factor(service, test).item()


def _proved(d: Draws) -> Pair:
    scale, modulus = d("scale", "stress", 80, 110), d("modulus", "number", 5, 9, 1)
    proved = d.rng.uniform(0.55, 0.7) * to_display(scale, "stress").item()
    proof = d("proof", "stress", proved, proved)
    load = d("load", "stress", 1.15 * proved, 1.15 * proved)
    planted, truth = (
        1 - sizes.proof_survival(load, before, modulus, scale).item()
        for before in (0.0, proof)
    )
    return planted, truth


def _spread_for_mean(d: Draws) -> Pair:
    sample = d.strengths("sample", 10, 8.0, 90e6)
    return sample.std(ddof=1).item(), from_readings(sample).uncertainty.item()


def _tolerance(d: Draws) -> Pair:
    value = d("value", "thickness", 3.8, 4.2, 2)
    half = d("half", "depth", 20, 60)
    return half, from_tolerance(value, half).uncertainty.item()


# --- two at once, and none ------------------------------------------------------------------


def _two_bar(d: Draws) -> Pair:
    mass = d("load", "number", 20, 45, 1)
    _, outer, inner, width, thickness = _bar(d)
    section = bars.bar_section(width, thickness)
    planted = bars.three_point_stress(mass, outer, section).item()
    return planted, _four(mass * GRAVITY, outer, inner, width, thickness)


def _two_mirror(d: Draws) -> Pair:
    planted, bent = _other_feature(d)
    return planted, bent + d("squeeze", "stress", 75, 120)


def _two_dent(d: Draws) -> Pair:
    load, whole = d("load", "number", 1.8, 2.2, 1), d("whole", "depth", 230, 290)
    modulus = d("modulus", "stiffness", 69, 73)
    hardness = d("hardness", "stiffness", 5.3, 5.9, 1)
    planted, truth = (
        formulas.dent_toughness(force, length, modulus, hardness).item()
        for force, length in ((load, whole), (load * GRAVITY, whole / 2))
    )
    return planted, truth


def _holds_bar(d: Draws) -> Pair:
    stress = _four(*_bar(d))
    return stress, stress


def _holds_mirror(d: Draws) -> Pair:
    _, stress = _mirror_stress(d)
    return stress, stress


MISTAKES: Mapping[str, Callable[[Draws], Pair]] = MappingProxyType(
    {
        "millimetres": _millimetres,
        "kilogram_force": _kilogram_force,
        "psi": _psi,
        "gross_span": _gross_span,
        "length": _length,
        "diameter": _diameter,
        "not_squared": _not_squared,
        "one_roller": _one_roller,
        "vickers_number": _vickers_number,
        "tip_to_tip": _tip_to_tip,
        "mirror_stress": _mirror_stress,
        "other_feature": _other_feature,
        "applied_for_net": _applied_for_net,
        "stress_optic": _stress_optic,
        "shortcut": _shortcut,
        "core_for_surface": _core_for_surface,
        "large_deflection": _large_deflection,
        "short_span": _short_span,
        "wide_ring": _wide_ring,
        "ring_for_ball": _ring_for_ball,
        "pooled": _pooled,
        "discarded": _discarded,
        "mean_for_design": _mean_for_design,
        "scale_for_median": _scale_for_median,
        "too_few": _too_few,
        "none_broke": _none_broke,
        "duration": _duration,
        "proved": _proved,
        "spread_for_mean": _spread_for_mean,
        "tolerance": _tolerance,
        "two_bar": _two_bar,
        "two_mirror": _two_mirror,
        "two_dent": _two_dent,
        "holds_bar": _holds_bar,
        "holds_mirror": _holds_mirror,
    }
)
"""What plants each kind of mistake; returns the planted result and the truth [SI], which are
equal where there is none."""
