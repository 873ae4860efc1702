# SPDX-License-Identifier: MIT
"""Usual readings of every bench method, and how often its interval holds what is true."""

import numpy as np

from glasskit.lab import METHODS, exact, from_readings, from_tolerance, reduce

BAR = {"force": 300.0, "outer_span": 0.1, "inner_span": 0.05, "width": 0.02, "thickness": 4e-3}
PANE = {
    "force": 500.0,
    "outer_span": 1.0,
    "inner_span": 0.2,
    "width": 0.36,
    "thickness": 6e-3,
}
DISC = {
    "force": 500.0,
    "load_diameter": 18e-3,
    "support_diameter": 45e-3,
    "plate_diameter": 55e-3,
    "thickness": 3e-3,
}
DENT = {"load": 49.0, "crack": 220e-6, "hardness": 5.5e9}
USUAL = {
    "four_point_bar": BAR,
    "four_point_pane": PANE,
    "three_point_bar": {"force": 100.0, "span": 0.1, "width": 0.02, "thickness": 4e-3},
    "four_point_rod": {"force": 99.0, "outer_span": 0.1, "inner_span": 0.05, "diameter": 5e-3},
    "three_point_rod": {"force": 60.0, "span": 0.1, "diameter": 5e-3},
    "ring_on_ring": DISC,
    "ball_on_ring": {key: DISC[key] for key in DISC if key != "load_diameter"},
    "buoyancy": {"mass": 20e-3, "immersed": 12e-3, "temperature": 293.15},
    "vickers": {"load": 9.8, "diagonal": 58e-6},
    "knoop": {"load": 0.98, "diagonal": 50e-6},
    "dent_toughness": DENT,
    "dent_compression": DENT,
    "mirror": {"radius": 1e-3},
    "edge_retardation": {"retardation": -1000e-9, "path": 6e-3},
    "double_ring": {
        "force": 2000.0,
        "load_diameter": 18e-3,
        "support_diameter": 90e-3,
        "square_side": 0.1,
        "thickness": 6e-3,
    },
    "mean_expansion": {
        "cold_length": 50e-3,
        "elongation": 118e-6,
        "start_temperature": 293.15,
        "end_temperature": 573.15,
    },
    "analyser_turn": {"fringes": -1.0, "analyser": -0.5, "wavelength": 565e-9, "path": 6e-3},
    "guided_light": {
        "te_first": 6.6e-3,
        "te_second": 7.3e-3,
        "tm_first": 0.8e-3,
        "tm_second": 1.5e-3,
        "index_scale": 0.35,
    },
    "surface_polarimeter": {"tilt": 1.1, "constant": 47e6},
}

OFF = {  # half width of what a reading may be off by, where it is not 1 % of the reading
    "fringes": 0.0,
    "analyser": np.radians(3.0),
    "tilt": np.radians(1.0),
    "mass": 1e-6,
    "immersed": 1e-6,
    "start_temperature": 0.5,
    "end_temperature": 0.5,
    "temperature": 0.5,
    "wavelength": 5e-9,
    **dict.fromkeys(("te_first", "te_second", "tm_first", "tm_second"), 0.01e-3),
}
REPEATED = (
    "thickness",
    "diameter",
    "diagonal",
    "crack",
    "radius",
    "retardation",
    "elongation",
)


def held(name, sets, rng, trials=0, repeats=3):
    """Return the share of invented readings whose 95 % interval holds what is true.

    The true constants lie anywhere in their range; one reading scatters normally by 2 %
    and is read `repeats` times, each other one is off by some part of its tolerance. With
    `trials` the interval is that of so many draws for each set, not the one to first order.
    """
    method = METHODS[name]
    true, seen = {}, {}
    for key, reading in method.readings.items():
        if key not in USUAL[name]:
            drawn = reading.usual.draw(sets, rng)
            true[key] = drawn if reading.signed else np.abs(drawn)  # 3 of 100,000 below zero
            continue
        value = USUAL[name][key]
        true[key] = np.full(sets, value)
        if key in REPEATED:
            scatter = 0.02 * abs(value) * rng.standard_normal((sets, repeats))
            seen[key] = from_readings(value + scatter)
        else:
            off = OFF.get(key, 0.01 * abs(value))
            error = off * rng.uniform(-1, 1, sets)
            seen[key] = from_tolerance(value + error, off) if off else exact(value)
    wanted = method.model(**true)
    found = reduce(name, seen)
    ends = found.simulate(rng, trials).interval() if trials else found.budget.interval()
    return ((ends[:, 0] <= wanted) & (wanted <= ends[:, 1])).mean()
