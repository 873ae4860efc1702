# SPDX-License-Identifier: MIT
"""List the tests that weigh, and read dents, mirrors and polarised light, with limits.

The numbers in the limits are from the standards named, from memory, or common practice: look
at the standard in force before a result leaves the house.
"""

from collections.abc import Mapping
from types import MappingProxyType

import numpy as np

from glasskit import light
from glasskit.breakage import fragments
from glasskit.lab import formulas
from glasskit.lab.budgets import Input
from glasskit.lab.methods import Method, between, limit, read
from glasskit.quantities import FloatArray


def _mirror(
    *, radius: FloatArray, constant: FloatArray, surface_compression: FloatArray
) -> FloatArray:
    return fragments.breaking_stress(radius, constant, surface_compression)


def _edge(
    *, retardation: FloatArray, path: FloatArray, stress_optic: FloatArray
) -> FloatArray:
    return light.stress_difference(retardation, path, stress_optic)


_LOAD = read("force", "force on the pyramid")
_E = read("stiffness", "Young's modulus", between(69e9, 73e9))
_H = read("stiffness", "hardness as mean pressure, 2 P/d²")
_XI = read(
    "number",
    "constant of the dent",
    Input(value=np.array(0.016), uncertainty=np.array(0.004)),
)
_PLAIN = Input(value=np.array(0.0), uncertainty=np.array(0.0))


_DENT_SCOPE = (
    "Read the dent and cracks at once and dry: cracks creep in humid air within minutes.",
    "The answer is good to about a quarter; compare glasses, do not certify them.",
)
_LIGHT_SCOPE = (
    "C1279 covers annealed, heat-strengthened and fully tempered flat glass, never chemically"
    " strengthened glass (its scope, looked up).",
)
_DENT_LIMITS = (
    limit(
        "crack shorter than twice the half diagonal: not the half-penny of the formula",
        lambda **r: r["crack"] >= 2 * np.sqrt(r["load"] / (2 * r["hardness"])),
    ),
)

_LONG_ENOUGH = limit(
    "diagonal below 20 µm: reading it to half a micrometre spoils the result",
    lambda **r: r["diagonal"] >= 20e-6,
)

MARKS: Mapping[str, Method] = MappingProxyType(
    {
        "buoyancy": Method(
            title="density by weighing in air and in water",
            formula="ρ = m (ρw − ρa) / (m − mw) + ρa",
            kind="density",
            model=formulas.buoyancy_density,
            readings={
                "mass": read("small_mass", "balance, piece in air"),
                "immersed": read("small_mass", "balance, piece hanging in water"),
                "temperature": read("temperature", "temperature of the water"),
                "air": read("density", "density of the air", between(1.15, 1.25)),
            },
            limits=(
                limit(
                    "outside 2000 to 8000 kg/m³: no common glass; see units and bubbles",
                    lambda **r: (r["value"] >= 2000) & (r["value"] <= 8000),
                ),
                limit(
                    "less than a gram displaced: the pull of water on the wire spoils it",
                    lambda **r: r["mass"] - r["immersed"] >= 1e-3,
                ),
            ),
            scope=(
                "Pure water, rested; no bubble on the piece; a thin wire, also weighed.",
                "A piece with bubbles or inclusions of its own gives the mean of all of it.",
            ),
            reference="C693",
        ),
        "vickers": Method(
            title="Vickers hardness as mean pressure",
            formula="H = 2 P / d²",
            kind="stiffness",
            model=formulas.vickers_hardness,
            readings={"load": _LOAD, "diagonal": read("depth", "mean diagonal, tip to tip")},
            limits=(_LONG_ENOUGH,),
            scope=("Hardness falls with load: state the load. Number = 0.927 of this.",),
            reference="C1327",
        ),
        "knoop": Method(
            title="Knoop hardness",
            formula="HK = 14.229 P / d²",
            kind="stiffness",
            model=formulas.knoop_hardness,
            readings={"load": _LOAD, "diagonal": read("depth", "long diagonal, tip to tip")},
            limits=(_LONG_ENOUGH,),
            scope=("Hardness falls with load: state the load.",),
            reference="C730",
        ),
        "dent_toughness": Method(
            title="toughness from cracks at a Vickers dent",
            formula="K = ξ √(E/H) P / c^1.5 − 1.2 σR √c",
            kind="toughness",
            model=formulas.dent_toughness,
            readings={
                "load": _LOAD,
                "crack": read("depth", "crack from the centre of the dent"),
                "modulus": _E,
                "hardness": _H,
                "constant": _XI,
                "surface_compression": read(
                    "stress", "surface compression", _PLAIN, signed=True
                ),
            },
            limits=(
                *_DENT_LIMITS,
                limit(
                    "no toughness is left: compression and crack do not belong together",
                    lambda **r: r["value"] > 0,
                ),
            ),
            scope=_DENT_SCOPE,
            reference="Anstis1981",
        ),
        "dent_compression": Method(
            title="surface compression from cracks at a Vickers dent",
            formula="σR = (ξ √(E/H) P / c^1.5 − K) / (1.2 √c)",
            kind="stress",
            model=formulas.crack_compression,
            readings={
                "load": _LOAD,
                "crack": read("depth", "crack from the centre of the dent"),
                "modulus": _E,
                "hardness": _H,
                "toughness": read("toughness", "toughness", between(0.70e6, 0.82e6)),
                "constant": _XI,
            },
            limits=_DENT_LIMITS,
            scope=(
                *_DENT_SCOPE,
                "Even stress over the crack: a layer thinner than the crack reads low.",
            ),
            signed=True,
            reference="MarshallLawn1977",
        ),
        "mirror": Method(
            title="stress at the break from the mirror",
            formula="σ = A / √r + σR",
            kind="stress",
            model=_mirror,
            readings={
                "radius": read("depth", "origin to the edge of the mirror, on the surface"),
                "constant": read(
                    "toughness",
                    "mirror constant of the glass",
                    between(*fragments.MIRROR_CONSTANTS["hackle"]),
                ),
                "surface_compression": read(
                    "stress",
                    "surface compression; zero in annealed glass",
                    _PLAIN,
                    signed=True,
                ),
            },
            limits=(
                limit(
                    "mirror above 10 mm: larger than most panes are thick, the constant fails",
                    lambda **r: r["radius"] <= 10e-3,
                ),
                limit(
                    "mirror below 20 µm: too small to read",
                    lambda **r: r["radius"] >= 20e-6,
                ),
            ),
            scope=(
                "In toughened glass add the surface compression: else this is the net stress.",
                "The constant belongs to one feature (mist, hackle, branching): say which.",
            ),
            reference="Quinn2016",
        ),
        "edge_retardation": Method(
            title="stress from retardation through the edge",
            formula="σ = Γ / (C s)",
            kind="stress",
            model=_edge,
            readings={
                "retardation": read(
                    "nanometre", "retardation, negative for compression", signed=True
                ),
                "path": read("thickness", "way of the light through the stressed glass"),
                "stress_optic": read(
                    "stress_optic", "stress-optic coefficient", between(2.6e-12, 2.77e-12)
                ),
            },
            limits=(
                limit(
                    "more than five waves: count fringes from a zero you can see",
                    lambda **r: np.abs(r["retardation"]) <= 5 * 565e-9,
                ),
            ),
            scope=(
                *_LIGHT_SCOPE,
                "The difference of two stresses is seen; at a free edge the other is zero.",
            ),
            signed=True,
            reference="C1279",
        ),
        "analyser_turn": Method(
            title="stress from fringes and a turned analyser",
            formula="σ = (N + θ/180°) λ / (C s)",
            kind="stress",
            model=formulas.analyser_stress,
            readings={
                "fringes": read(
                    "number", "whole fringes, negative for compression", signed=True
                ),
                "analyser": read(
                    "angle", "turn of the analyser, more is positive", signed=True
                ),
                "wavelength": read("nanometre", "wavelength of the light"),
                "path": read("thickness", "way of the light through the stressed glass"),
                "stress_optic": read(
                    "stress_optic", "stress-optic coefficient", between(2.6e-12, 2.77e-12)
                ),
            },
            limits=(
                limit(
                    "the order is no whole number: the fraction belongs to the turn",
                    lambda **r: r["fringes"] == np.round(r["fringes"]),
                ),
                limit(
                    "more than five fringes: is the zero truly seen?",
                    lambda **r: np.abs(r["fringes"]) <= 5,
                ),
            ),
            scope=(
                *_LIGHT_SCOPE,
                "An order one off, or the turn read the other way, is in no budget: read at a"
                " second colour, or follow the fringe to the zero.",
            ),
            signed=True,
            reference="JerrardTardy1953",
        ),
        "guided_light": Method(
            title="surface compression by light guided along the surface",
            formula="σ = k (x_TE − x_TM) / C, x = x1 − 1.336 (x2 − x1)",
            kind="stress",
            model=formulas.guided_compression,
            readings={
                "te_first": read("thickness", "first line, light along the face", signed=True),
                "te_second": read(
                    "thickness", "second line, light along the face", signed=True
                ),
                "tm_first": read(
                    "thickness", "first line, light across the face", signed=True
                ),
                "tm_second": read(
                    "thickness", "second line, light across the face", signed=True
                ),
                "index_scale": read("number", "index for each metre on the scale"),
                "stress_optic": read(
                    "stress_optic", "stress-optic coefficient", between(2.8e-12, 3.0e-12)
                ),
            },
            limits=(
                limit(
                    "below 100 MPa: the two polarisations are hardly apart",
                    lambda **r: r["value"] >= 100e6,
                ),
                limit(
                    "lines of one polarisation further apart than the two surfaces: too thin a"
                    " layer for this reading",
                    lambda **r: (
                        np.maximum(
                            r["te_second"] - r["te_first"], r["tm_second"] - r["tm_first"]
                        )
                        * r["index_scale"]
                        <= r["value"] * r["stress_optic"]
                    ),
                ),
            ),
            scope=(
                "A layer that guides light: potassium in, or the tin side. A layer with sodium"
                " for lithium guides none and is not seen.",
                "Two lines are continued to the surface as if the index fell in a straight"
                " line; for diffused layers of 8 to 60 µm that is 2% off at most.",
            ),
            reference="Guided2015",
        ),
        "mean_expansion": Method(
            title="mean expansion by dilatometer",
            formula="α = ΔL / (L0 ΔT) + α_rod",
            kind="expansion",
            model=formulas.mean_expansion,
            readings={
                "cold_length": read("length", "length of the piece, cold"),
                "elongation": read("depth", "elongation as shown", signed=True),
                "start_temperature": read("temperature", "temperature at the start"),
                "end_temperature": read("temperature", "temperature at the end"),
                "rod_expansion": read(
                    "expansion", "expansion of rod and holder", between(0.5e-6, 0.6e-6)
                ),
            },
            limits=(
                limit(
                    "outside 0 to 20 millionths for each kelvin: no glass; see the units",
                    lambda **r: (r["value"] >= 0) & (r["value"] <= 20e-6),
                ),
                limit(
                    "less than 100 K apart: a micrometre spoils it",
                    lambda **r: r["end_temperature"] - r["start_temperature"] >= 100,
                ),
                limit(
                    "shorter than 20 mm: a micrometre spoils it",
                    lambda **r: r["cold_length"] >= 20e-3,
                ),
            ),
            scope=(
                "The mean from 20 to 300 °C is the usual one: say between which it was taken.",
                "Check with a piece of known expansion on the same day.",
            ),
            reference="ISO7991",
        ),
        "surface_polarimeter": Method(
            title="surface compression by the tilt of a wedge's fringes",
            formula="σ = k tan θ",
            kind="stress",
            model=formulas.polarimeter_stress,
            readings={
                "tilt": read("angle", "tilt of the fringes", signed=True),
                "constant": read("stress", "instrument's constant at 45°"),
            },
            limits=(
                limit(
                    "tilt above 80°: a degree is a tenth of the result",
                    lambda **r: r["tilt"] <= np.radians(80),
                ),
            ),
            scope=(
                *_LIGHT_SCOPE,
                "C1279 reads float on its tin side only (looked up): its layer guides light.",
            ),
            signed=True,
            reference="C1279",
        ),
    }
)
"""Methods by name."""
