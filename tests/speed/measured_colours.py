# SPDX-License-Identifier: MIT
"""Read invented photographs between polarisers: error, coverage, and the time of a large one.

Run from the repository's root: ``python tests/speed/measured_colours.py [photographs]``.
"""

import sys
from io import BytesIO
from time import perf_counter

import numpy as np
from PIL import Image

from glasskit.materials import glass
from glasskit.measured import (
    ColourStress,
    edge_line,
    invented_colours,
    lags_along,
    line_colours,
    read_photo,
)

SODA = glass("soda-lime")
OPTIC = SODA.values["stress_optic"]
SPREAD = 0.1e-3  # of the path [m]


def placed(made):
    return made.start, made.end, made.white, made.black


def edges(count):
    """Return errors over the truth, over what is said, and whether the intervals hold it."""
    rng, rows = np.random.default_rng(1), []
    for seed in range(count):
        path, lag = rng.uniform(3e-3, 8e-3), rng.uniform(400e-9, 4000e-9)
        optic = rng.uniform(OPTIC.low, OPTIC.high)
        stress = lag / optic / path
        made = invented_colours("edge", stress, path, optic, seed=10_000 + seed)
        line = line_colours(read_photo(made.file), *placed(made))
        read = ColourStress(
            found=edge_line(line),
            path=path + rng.normal(0, SPREAD),
            spread=SPREAD,
            thickness=3e-3,
            glass=SODA,
        )
        off = read.lag - made.lag
        low, high = read.interval
        rows.append((off / made.lag, off / read.lag_uncertainty, low < stress < high))
    return np.array(rows).T


def bars(count):
    """Return the same of the retardation a fifth of the way along bent bars."""
    rng, rows = np.random.default_rng(2), []
    for seed in range(count):
        lag = rng.uniform(400e-9, 2200e-9)
        made = invented_colours("bar", lag / 13.1e-15, 5e-3, 2.62e-12, seed=20_000 + seed)
        read = lags_along(line_colours(read_photo(made.file), *placed(made)))
        place = len(read.lag) // 5
        true = lag * 0.99 * abs(2 * read.places[place] - 1)
        off = read.lag[place] - true
        rows.append((off / true, off / read.uncertainty[place], read.counted))
    return np.array(rows).T


def large():
    """Return the seconds that a photograph of 12 million pixels takes: opened, read."""
    made = invented_colours("edge", 75e6, 10e-3, 2.62e-12, seed=1)
    file = BytesIO()
    with Image.open(BytesIO(made.file)) as small:
        small.resize((4000, 3000), Image.Resampling.BICUBIC).save(file, "jpeg", quality=92)
    begin = perf_counter()
    picture = read_photo(file.getvalue())
    opened = perf_counter()
    line = line_colours(picture, *placed(made))
    edge_line(line)
    return opened - begin, perf_counter() - opened


def main():
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 400
    part, off, held = edges(count)
    inside = np.mean(np.abs(off) < 1.96)
    print(
        f"edges, {count} photographs: lag of the core, bias {100 * part.mean():.2f} %, "
        f"spread {100 * part.std():.2f} %, worst {100 * np.abs(part).max():.1f} %"
    )
    print(f"95 % intervals hold: lag {100 * inside:.1f} %, stress {100 * held.mean():.1f} %")
    part, off, counted = bars(count // 2)
    along = np.mean(np.abs(off) < 1.96)
    print(
        f"bars, {count // 2} photographs: bias {100 * part.mean():.2f} %, "
        f"spread {100 * part.std():.2f} %, hold {100 * along:.1f} %, "
        f"counted from the dark line {100 * counted.mean():.0f} %"
    )
    opened, read = large()
    print(f"12 million pixels: opened in {opened:.2f} s, read in {read:.2f} s; goal 3 s")
    slack = 2 * np.sqrt(0.95 * 0.05 / count)
    good = all(0.93 - slack < share < 0.97 + slack for share in (inside, held.mean()))
    return 0 if good and opened + read < 3 else 1


if __name__ == "__main__":
    sys.exit(main())
