# SPDX-License-Identifier: MIT
"""Invent a raw file of a newcomer's first week: 30 bars, 20 rings, and what goes wrong.

Every number is drawn by a random generator; nothing was measured. ``python -m
glasskit.training.invented`` writes it to ``assets``.
"""

from collections.abc import Mapping
from pathlib import Path

import numpy as np

from glasskit.bending import bar_section, four_point_stress, ring_on_ring
from glasskit.quantities import GRAVITY, FloatArray

BARS = {"edge": (9.0, 68e6), "surface": (6.0, 72e6)}
"""True Weibull modulus [-] and scale [Pa] of the bars, by origin; the weaker flaw wins."""

RINGS = (7.0, 140e6)
"""True modulus [-] and scale [Pa] of the discs; all break from the surface."""

LOTS = {"as cut": (8.0, 60e6), "seamed": (10.0, 72e6)}
"""True modulus [-] and scale [Pa] of the edges of two lots of bars."""

_FACES = (6.0, 105e6)  # of their faces, the same in both

SEED = 1900

_HEADER = (
    "specimen,method,origin,force [N],outer_span [mm],inner_span [mm],width [mm],"
    "thickness [mm],load_diameter [mm],support_diameter [mm],plate_diameter [mm],note"
)
_POISSON = 0.22
_MARK = "# invented with a random generator, nothing was measured"


def bars_and_rings(rng: np.random.Generator) -> str:
    """Return the text of a CSV file with planted problems.

    Parameters
    ----------
    rng : numpy.random.Generator
        Source of all numbers; ``default_rng(SEED)`` gives the file in ``assets``.

    Returns
    -------
    str
        30 bars in four-point bend and 20 discs ring on ring, with a thickness in metres, a
        force in kilonewtons, a missing force, a remark in place of a number, a name used
        twice, a lost cell, an unclosed quotation mark, swapped rings, rollers set wrongly,
        too little overhang, and two origins left blank.

    Examples
    --------
    >>> bars_and_rings(np.random.default_rng(1)).splitlines()[0][:8]
    '# invent'

    """
    lines = bars(rng) + _rings(rng)
    _spoil(lines)
    head = f"{_MARK}; problems are planted"
    return "\n".join([head, _HEADER, *(",".join(cells) for cells in lines), ""])


def two_lots(rng: np.random.Generator) -> dict[str, str]:
    """Return a CSV file for each of `LOTS`: 20 bars, their edges as cut or seamed.

    Parameters
    ----------
    rng : numpy.random.Generator
        Source of all numbers.

    Returns
    -------
    dict of str to str
        Text by lot; in the second one force is lost.

    Examples
    --------
    >>> list(two_lots(np.random.default_rng(1)))
    ['as cut', 'seamed']

    """
    files = {}
    for name, edge in LOTS.items():
        lines = bars(rng, {"edge": edge, "surface": _FACES}, 20)
        if name == "seamed":
            lines[6][3] = ""
        rows = (",".join(cells[:8]) for cells in lines)
        columns = ",".join(_HEADER.split(",")[:8])
        files[name] = "\n".join([f"{_MARK}: {name}", columns, *rows, ""])
    return files


def reference_lot(rng: np.random.Generator) -> str:
    """Return a CSV file of a reference lot: the mean of ten bars in each of 36 months.

    Parameters
    ----------
    rng : numpy.random.Generator
        Source of all numbers.

    Returns
    -------
    str
        In the third year the rollers stick and add an eighth to the force.

    Examples
    --------
    >>> reference_lot(np.random.default_rng(1)).splitlines()[1]
    'month; mean of ten bars [MPa]; tester'

    """
    true = 62.0 * rng.weibull(8.0, (36, 10)).mean(-1)
    true[24:] *= 1.12
    lines = [
        f"{2027 + at // 12}-{at % 12 + 1:02d}; {mean:.1f}; {'AB'[at % 2]}"
        for at, mean in enumerate(true)
    ]
    return "\n".join([_MARK, "month; mean of ten bars [MPa]; tester", *lines, ""])


def several_rates(rng: np.random.Generator) -> str:
    """Return a CSV file of forty bars at four stress rates, of true exponent 16.

    Parameters
    ----------
    rng : numpy.random.Generator
        Source of all numbers.

    Returns
    -------
    str
        Ten bars a rate; the median at 2 MPa each second is some 60 MPa.

    Examples
    --------
    >>> several_rates(np.random.default_rng(1)).splitlines()[1]
    'bar; rate [MPa/s]; strength [MPa]'

    """
    rates = np.repeat([0.02, 0.2, 2.0, 20.0], 10)
    strengths = 62.0 * (rates / 2.0) ** (1 / 17) * rng.weibull(10.0, rates.size)
    lines = [
        f"R{number}; {rate:g}; {strength:.1f}"
        for number, (rate, strength) in enumerate(zip(rates, strengths, strict=True), start=1)
    ]
    return "\n".join([_MARK, "bar; rate [MPa/s]; strength [MPa]", *lines, ""])


def load_over_time(rng: np.random.Generator) -> str:
    """Return a load-time curve as a rig writes it: units in a row of their own, a break.

    Parameters
    ----------
    rng : numpy.random.Generator
        Source of the noise.

    Returns
    -------
    str
        A bar in four-point bend, 4.7 N each second, read each 0.4 s, broken at 262 N.

    Examples
    --------
    >>> load_over_time(np.random.default_rng(1)).splitlines()[1:3]
    ['Time;Standard force;Travel', 's;N;mm']

    """
    time = np.arange(0.0, 57.0, 0.4)
    force = 4.7 * time + rng.normal(0.0, 0.3, time.size)
    force[time > 55.7] = 1.0
    lines = [
        f"{at:.1f};{load:.1f};{load / 1500:.4f}".replace(".", ",")
        for at, load in zip(time, force, strict=True)
    ]
    return "\n".join([_MARK, "Time;Standard force;Travel", "s;N;mm", *lines, ""])


def two_hands(rng: np.random.Generator) -> str:
    """Return a CSV file of ten bars measured twice by a trainee and twice by a mentor.

    Parameters
    ----------
    rng : numpy.random.Generator
        Source of all numbers.

    Returns
    -------
    str
        Either hand repeats to 0.01 mm; the trainee presses harder and reads 0.015 mm less.

    Examples
    --------
    >>> two_hands(np.random.default_rng(1)).splitlines()[1]
    'hand; piece; thickness [mm]'

    """
    true = rng.normal(4.0, 0.05, 10)
    lines = [
        f"{hand}; {piece}; {size + off + rng.normal(0.0, 0.01):.2f}"
        for hand, off in (("trainee", -0.015), ("mentor", 0.0))
        for piece, size in enumerate(true, start=1)
        for _ in range(2)
    ]
    return "\n".join([_MARK, "hand; piece; thickness [mm]", *lines, ""])


def dents_at_loads(rng: np.random.Generator) -> str:
    """Return a CSV file of thirty dents at three loads, two of them to be set aside.

    Parameters
    ----------
    rng : numpy.random.Generator
        Source of all numbers.

    Returns
    -------
    str
        Hardness falls to 5.5 GPa at large loads; diagonals scatter by 0.2 µm.

    Examples
    --------
    >>> dents_at_loads(np.random.default_rng(1)).splitlines()[1]
    'load [gf]; first diagonal [µm]; second diagonal [µm]; aside'

    """
    small, half = 1.2e4, 5.5e9 / 2
    lines = []
    for load in (100, 300, 1000):
        force = load * GRAVITY / 1e3
        size = 1e6 * (-small + np.sqrt(small**2 + 4 * half * force)) / (2 * half)
        for first, second in rng.normal(size, 0.2, (10, 2)):
            lines.append(f"{load}; {first:.1f}; {second:.1f}; ")
    lines[4] = lines[4].rstrip() + " crushed at a corner"
    lines[17] = f"300; {1e6 * 33.4e-6:.1f}; {1e6 * 29.9e-6:.1f}; "
    heads = "load [gf]; first diagonal [µm]; second diagonal [µm]; aside"
    return "\n".join([_MARK, heads, *lines, ""])


def heated_rod(rng: np.random.Generator) -> str:
    """Return a CSV file of a glass rod, 50 mm long, heated in a dilatometer of fused silica.

    Parameters
    ----------
    rng : numpy.random.Generator
        Source of the noise.

    Returns
    -------
    str
        Mean expansion 9.0 millionths for each kelvin, tangents that meet at 550 °C, shrinking
        under its load from 615 °C.

    Examples
    --------
    >>> heated_rod(np.random.default_rng(1)).splitlines()[1]
    'temperature [°C]; elongation [µm]'

    """
    warm = np.arange(20.0, 631.0, 5.0)
    grown = (9.0 - 0.55) * 0.05 * (warm - 20.0)
    grown += 1.1 * 5.0 * np.logaddexp(0.0, (warm - 550.0) / 5.0)
    grown -= 0.04 * np.maximum(warm - 605.0, 0.0) ** 2
    grown += rng.normal(0.0, 0.2, warm.size)
    lines = [f"{at:.0f}; {size:.1f}" for at, size in zip(warm, grown, strict=True)]
    return "\n".join([_MARK, "temperature [°C]; elongation [µm]", *lines, ""])


def profile_of_pane(rng: np.random.Generator) -> str:
    """Return a CSV file of the stress through a toughened pane of 6 mm, its zero 6 MPa off.

    Parameters
    ----------
    rng : numpy.random.Generator
        Source of the scatter.

    Returns
    -------
    str
        25 depths; 100 MPa of compression at the faces, scatter of 2 MPa.

    Examples
    --------
    >>> profile_of_pane(np.random.default_rng(1)).splitlines()[1]
    'depth [mm]; stress [MPa]'

    """
    depth = np.linspace(0.0, 6.0, 25)
    stress = 50.0 - 150.0 * (depth / 3.0 - 1.0) ** 2 + 6.0 + rng.normal(0.0, 2.0, depth.size)
    lines = [f"{at:.2f}; {value:.0f}" for at, value in zip(depth, stress, strict=True)]
    return "\n".join([_MARK, "depth [mm]; stress [MPa]", *lines, ""])


def two_readers(rng: np.random.Generator) -> str:
    """Return a CSV file of 24 origins as two readers found them, each by himself.

    Parameters
    ----------
    rng : numpy.random.Generator
        Source of all words.

    Returns
    -------
    str
        Either reader loses or mistakes an origin in one of eight specimens.

    Examples
    --------
    >>> two_readers(np.random.default_rng(1)).splitlines()[1]
    'specimen,first reader,second reader'

    """
    true = rng.choice(["edge", "surface"], 24, p=[0.6, 0.4])
    other = {"edge": "surface", "surface": "edge chip"}
    lines = []
    for number, word in enumerate(true, start=1):
        found = [
            rng.choice(["unknown", other[word]]) if rng.random() < 0.125 else word
            for _ in range(2)
        ]
        lines.append(f"B{number:02d},{found[0]},{found[1]}")
    head = "# invented with a random generator, nobody read a surface"
    return "\n".join([head, "specimen,first reader,second reader", *lines, ""])


def bars(
    rng: np.random.Generator, kinds: Mapping[str, tuple[float, float]] = BARS, count: int = 30
) -> list[list[str]]:
    """Return cells of bars in four-point bend, a row each, from name to four empty ones."""
    each = np.stack([scale * rng.weibull(m, count) for m, scale in kinds.values()])
    names = np.array(list(kinds))[each.argmin(0)]
    width, depth = rng.normal(20e-3, 0.05e-3, count), rng.normal(4e-3, 0.04e-3, count)
    force = each.min(0) / four_point_stress(1.0, 0.1, 0.05, bar_section(width, depth))
    return [
        [
            f"B{number:02d}",
            "four_point_bar",
            str(names[number - 1]),
            f"{force[number - 1]:.0f}",
            "100",
            "50",
            f"{1e3 * width[number - 1]:.2f}",
            f"{1e3 * depth[number - 1]:.2f}",
            *[""] * 4,
        ]
        for number in range(1, count + 1)
    ]


def _rings(rng: np.random.Generator) -> list[list[str]]:
    stress: FloatArray = RINGS[1] * rng.weibull(RINGS[0], 20)
    depth = rng.normal(3e-3, 0.03e-3, 20)
    force = stress / ring_on_ring(1.0, 18e-3, 45e-3, 55e-3, depth, _POISSON)
    return [
        [
            f"R{number:02d}",
            "ring_on_ring",
            "surface",
            f"{force[number - 1]:.0f}",
            *[""] * 3,
            f"{1e3 * depth[number - 1]:.2f}",
            *("18", "45", "55", ""),
        ]
        for number in range(1, 21)
    ]


def _spoil(lines: list[list[str]]) -> None:
    """Plant the problems."""
    name, origin, force, inner, depth, load, support, edge = 0, 2, 3, 5, 7, 8, 9, 10
    lines[3][depth] = f"{float(lines[3][depth]) / 1e3:.5f}"
    lines[7][force] = f"{float(lines[7][force]) / 1e3:.4f}"
    lines[10][force] = ""
    lines[14][depth] = "see photo"
    lines[18][name] = lines[17][name]
    del lines[21][inner]
    lines[24][-1] = '"chipped'
    lines[27][inner] = "25"
    lines[28][origin] = lines[33][origin] = ""
    lines[36][load], lines[36][support] = lines[36][support], lines[36][load]
    lines[41][edge] = "47"


def main() -> None:
    """Write the file into ``assets`` of the current folder."""
    path = Path("assets", "lab_bars_and_rings_invented.csv")
    path.write_text(bars_and_rings(np.random.default_rng(SEED)), encoding="utf-8")


if __name__ == "__main__":
    main()
