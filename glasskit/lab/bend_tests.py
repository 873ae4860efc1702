# SPDX-License-Identifier: MIT
"""List the tests that break bars, rods and discs, with their readings and limits.

The numbers in the limits are from the standards named, from memory, or common practice: look
at the standard in force before a result leaves the house.
"""

from collections.abc import Mapping
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from glasskit.bending import bars, discs
from glasskit.lab import formulas
from glasskit.lab.budgets import from_tolerance
from glasskit.lab.methods import Limit, Method, between, limit, read
from glasskit.materials import glass
from glasskit.quantities import FloatArray

_PANE = glass("soda-lime")
_ABOUT = (
    5e-3  # [m] of the standard's spans and width; its own tolerances, from memory, are finer
)


def _four_bar(
    *,
    force: FloatArray,
    outer_span: FloatArray,
    inner_span: FloatArray,
    width: FloatArray,
    thickness: FloatArray,
) -> FloatArray:
    section = bars.bar_section(width, thickness)
    return bars.four_point_stress(force, outer_span, inner_span, section)


def _four_pane(
    *,
    force: FloatArray,
    outer_span: FloatArray,
    inner_span: FloatArray,
    width: FloatArray,
    thickness: FloatArray,
    density: FloatArray,
    factor: FloatArray,
) -> FloatArray:
    bent = bars.four_point_stress(
        force, outer_span, inner_span, bars.bar_section(width, thickness)
    )
    return np.asarray(
        factor * (bent + bars.self_weight_stress(density, thickness, outer_span))
    )


def _three_bar(
    *, force: FloatArray, span: FloatArray, width: FloatArray, thickness: FloatArray
) -> FloatArray:
    return bars.three_point_stress(force, span, bars.bar_section(width, thickness))


def _four_rod(
    *,
    force: FloatArray,
    outer_span: FloatArray,
    inner_span: FloatArray,
    diameter: FloatArray,
) -> FloatArray:
    section = bars.rod_section(diameter)
    return bars.four_point_stress(force, outer_span, inner_span, section)


def _three_rod(*, force: FloatArray, span: FloatArray, diameter: FloatArray) -> FloatArray:
    return bars.three_point_stress(force, span, bars.rod_section(diameter))


_MEAN_RADIUS = (
    1 + np.sqrt(2)
) / 4  # of a square, in sides: mean of half side and half diagonal


def _double_ring(
    *,
    force: FloatArray,
    load_diameter: FloatArray,
    support_diameter: FloatArray,
    square_side: FloatArray,
    thickness: FloatArray,
    poisson: FloatArray,
) -> FloatArray:
    return discs.ring_on_ring(
        force,
        load_diameter=load_diameter,
        support_diameter=support_diameter,
        plate_diameter=2 * _MEAN_RADIUS * square_side,
        thickness=thickness,
        poisson=poisson,
    )


_FORCE = read("force", "breaking force")
_WIDTH = read("length", "width across the load")
_THICK = read("thickness", "thickness at the break")
_ROUND = read("thickness", "diameter at the break")
_OUTER = read("length", "distance between the supports")
_INNER = read("length", "distance between the loads")
_SPAN = read("length", "distance between the supports")
_POISSON = read("number", "Poisson's ratio", between(0.20, 0.24))
_SLENDER = "span below ten depths: shear and the rollers' own stress make the formula wrong"
_SAG = (
    "the bar sagged by more than a twentieth of its span: the spans on the drawing do not hold"
)
_BAR_SCOPE = (
    "Edges count: say whether they were cut, ground or fire-polished, and which face was up.",
    "The stress is that between or under the loads; a break elsewhere bore less.",
    "Humid air and slow loading lower the strength: record humidity and stress rate.",
)


_UNITS = limit(
    "thicker than 0.1 m, or a strength outside 1 MPa to 10 GPa: no glass is; see the units",
    lambda **r: (
        (r["thickness" if "thickness" in r else "diameter"] <= 0.1)
        & (r["value"] >= 1e6)
        & (r["value"] <= 10e9)
    ),
)


def _bent(span: str, depth: str) -> tuple[Limit, ...]:
    """Return the limits of a bar or rod by the names of its span and depth."""
    return (
        _UNITS,
        limit(_SLENDER, lambda **r: r[span] >= 10 * r[depth]),
        # The sag of an evenly bent bar, sigma L^2/(4 E h), bounds that of both tests.
        limit(_SAG, lambda **r: r["value"] * r[span] / (4 * _PANE.modulus * r[depth]) <= 0.05),
    )


_BAR_ASIDE = {"outside the loads": "there it bore less than the stress of the formula"}
_QUARTER = limit(
    "the loads should stand between a third and a half of the span apart",
    lambda **r: (
        (r["inner_span"] >= 0.3 * r["outer_span"])
        & (r["inner_span"] <= 0.55 * r["outer_span"])
    ),
)


_STANDARD_SPANS = limit(
    "the standard's rig: supports 1000 mm apart, loads 200 mm apart, panes 360 mm wide",
    lambda **r: (
        (np.abs(r["outer_span"] - 1.0) <= _ABOUT)
        & (np.abs(r["inner_span"] - 0.2) <= _ABOUT)
        & (np.abs(r["width"] - 0.36) <= _ABOUT)
    ),
)
_FACTOR = limit(
    "the factor for edges lies near 1: read it from the standard, or leave 1 for the whole",
    lambda **r: (r["factor"] >= 0.9) & (r["factor"] <= 1.6),
)


def _standard_rings(**r: FloatArray) -> NDArray[np.bool_]:
    """Tell where rings and square are one of the two pairs of EN 1288-5, within 3 %."""
    sizes = ("load_diameter", "support_diameter", "square_side")
    pairs = ((12e-3, 60e-3, 66e-3), (18e-3, 90e-3, 100e-3))
    fits = [
        np.logical_and.reduce(
            [
                np.abs(r[name] / wanted - 1) <= 0.03
                for name, wanted in zip(sizes, pair, strict=True)
            ]
        )
        for pair in pairs
    ]
    return np.asarray(np.logical_or.reduce(fits))


def _stiff(**r: FloatArray) -> NDArray[np.bool_]:
    """Tell where a disc stays so stiff that it does not stretch, by the rule of C1499."""
    span = r["support_diameter"]
    least = np.sqrt(2 * np.maximum(r["value"], 0.0) * span**2 / (3 * _PANE.modulus))
    return np.asarray(r["thickness"] >= least)


_DISC_LIMITS = (
    _UNITS,
    limit(
        "the disc sank so far that it stretched: the stress inside is less than this, and that"
        " under the ring more",
        _stiff,
    ),
    limit(
        "thicker than a tenth of the support: no longer a thin plate",
        lambda **r: r["thickness"] <= 0.1 * r["support_diameter"],
    ),
)
_DISC_SCOPE = (
    "A square plate counts as a disc of nearly its mean width; the standard has the factor.",
    "The edge is not tested: a break that starts there, or under a ring, is set aside.",
)
_DISC_ASIDE = {
    "edge": "the test does not read edges",
    "support ring": "the ring's own contact broke it",
}
_RING_ASIDE = {
    **_DISC_ASIDE,
    "load ring": "the ring's own contact broke it",
    "outside the load ring": "there it bore less than the stress of the formula",
}
BENCHES: Mapping[str, Method] = MappingProxyType(
    {
        "four_point_bar": Method(
            title="strength of a bar, four-point bend",
            formula="σ = 3 F (L − l) / (2 b h²)",
            kind="stress",
            model=_four_bar,
            readings={
                "force": _FORCE,
                "outer_span": _OUTER,
                "inner_span": _INNER,
                "width": _WIDTH,
                "thickness": _THICK,
            },
            limits=(*_bent("outer_span", "thickness"), _QUARTER),
            scope=_BAR_SCOPE,
            aside=_BAR_ASIDE,
            reference="C158",
        ),
        "four_point_pane": Method(
            title="strength of a pane, four-point bend with its weight",
            formula="σ = k [3 F (L − l) / (2 b h²) + 3 ρ g L² / (4 h)]",
            kind="stress",
            model=_four_pane,
            readings={
                "force": _FORCE,
                "outer_span": _OUTER,
                "inner_span": _INNER,
                "width": _WIDTH,
                "thickness": _THICK,
                "density": read(
                    "density",
                    "density of the glass",
                    between(0.99 * _PANE.density, 1.01 * _PANE.density),
                ),
                "factor": read(
                    "number",
                    "1 for the whole pane; for its edges k_e from the standard's graphs",
                    from_tolerance(1.0, 0.0),
                ),
            },
            limits=(*_bent("outer_span", "thickness"), _STANDARD_SPANS, _FACTOR),
            scope=(
                "The pane's own weight is counted, that of the loading rollers is not.",
                "For edges, k_e goes with thickness and sag: measure it. Peters et al. 2023"
                " find the printed graphs far off where a pane sinks deep.",
                *_BAR_SCOPE,
            ),
            aside=_BAR_ASIDE,
            reference="Peters2023",
        ),
        "three_point_bar": Method(
            title="strength of a bar, three-point bend",
            formula="σ = 3 F L / (2 b h²)",
            kind="stress",
            model=_three_bar,
            readings={"force": _FORCE, "span": _SPAN, "width": _WIDTH, "thickness": _THICK},
            limits=_bent("span", "thickness"),
            scope=_BAR_SCOPE,
            reference="C158",
        ),
        "four_point_rod": Method(
            title="strength of a rod, four-point bend",
            formula="σ = 8 F (L − l) / (π d³)",
            kind="stress",
            model=_four_rod,
            readings={
                "force": _FORCE,
                "outer_span": _OUTER,
                "inner_span": _INNER,
                "diameter": _ROUND,
            },
            limits=(*_bent("outer_span", "diameter"), _QUARTER),
            scope=_BAR_SCOPE,
            aside=_BAR_ASIDE,
            reference="C158",
        ),
        "three_point_rod": Method(
            title="strength of a rod, three-point bend",
            formula="σ = 8 F L / (π d³)",
            kind="stress",
            model=_three_rod,
            readings={"force": _FORCE, "span": _SPAN, "diameter": _ROUND},
            limits=_bent("span", "diameter"),
            scope=_BAR_SCOPE,
            reference="C158",
        ),
        "ring_on_ring": Method(
            title="strength of a disc, ring on ring",
            formula="σ = 3 F / (2 π h²) [(1 − ν)(Ds² − Dl²)/(2 D²) + (1 + ν) ln(Ds/Dl)]",
            kind="stress",
            model=discs.ring_on_ring,
            readings={
                "force": _FORCE,
                "load_diameter": read("length", "diameter of the load ring"),
                "support_diameter": read("length", "diameter of the support ring"),
                "plate_diameter": read("length", "diameter of the disc"),
                "thickness": _THICK,
                "poisson": _POISSON,
            },
            limits=(
                *_DISC_LIMITS,
                limit(
                    "load ring outside 0.2 to 0.5 of the support ring",
                    lambda **r: (
                        (r["load_diameter"] >= 0.2 * r["support_diameter"])
                        & (r["load_diameter"] <= 0.5 * r["support_diameter"])
                    ),
                ),
                limit(
                    "less than a thickness of overhang beyond the support ring: its chips can"
                    " break the disc",
                    lambda **r: (
                        r["plate_diameter"] - r["support_diameter"]
                        >= 2 * r["thickness"] * (1 - 1e-9)
                    ),
                ),
                limit(
                    "more than six thicknesses of overhang beyond the support ring: the rim"
                    " holds the disc stiffer than the formula says",
                    lambda **r: (
                        r["plate_diameter"] - r["support_diameter"]
                        <= 12 * r["thickness"] * (1 + 1e-9)
                    ),
                ),
            ),
            scope=_DISC_SCOPE,
            aside=_RING_ASIDE,
            reference="C1499",
        ),
        "double_ring": Method(
            title="strength of a square pane, coaxial double ring",
            formula="σ = 3 (1 + ν) F/(2 π h²) [ln(r2/r1)"
            " + (1 − ν)(r2² − r1²)/(2 (1 + ν) r3²)], r3 = 0.604 side",
            kind="stress",
            model=_double_ring,
            readings={
                "force": _FORCE,
                "load_diameter": read("length", "diameter of the load ring, 2 r1"),
                "support_diameter": read("length", "diameter of the support ring, 2 r2"),
                "square_side": read("length", "side of the square"),
                "thickness": _THICK,
                "poisson": read(
                    "number",
                    "Poisson's ratio, as the standard sets it",
                    from_tolerance(0.23, 0.0),
                ),
            },
            limits=(
                *_DISC_LIMITS,
                limit(
                    "not the standard's rings and squares: radii 6 and 30 mm on 66 mm, or 9"
                    " and 45 mm on 100 mm",
                    _standard_rings,
                ),
            ),
            scope=(
                "EN 1288-5, from memory: look at the standard in force for sizes and rate.",
                "A small area is tested: the strength is above that of a large pane.",
                _DISC_SCOPE[1],
            ),
            aside=_RING_ASIDE,
            reference="EN1288",
        ),
        "ball_on_ring": Method(
            title="strength of a disc, ball on ring",
            formula="σ = 3 F (1 + ν)/(4 π h²) [1 + 2 ln(a/b) + (1 − ν)/(1 + ν)"
            " (1 − b²/(2 a²)) a²/R²], b = h/3",
            kind="stress",
            model=formulas.ball_on_ring,
            readings={
                "force": _FORCE,
                "support_diameter": read("length", "diameter of the ring"),
                "plate_diameter": read("length", "diameter of the disc"),
                "thickness": _THICK,
                "poisson": _POISSON,
            },
            limits=_DISC_LIMITS,
            scope=(
                *_DISC_SCOPE,
                "A third of the thickness as loaded radius is a rule: the result is good to"
                " some 5 % beyond the budget. The tested area is tiny.",
            ),
            aside=_DISC_ASIDE,
            reference="Shetty1980",
        ),
    }
)
"""Methods by name."""
