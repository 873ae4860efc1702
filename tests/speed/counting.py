"""Count crumbs in invented photographs whose pieces are known: error and coverage; time.

Run from the repository's root: ``python tests/speed/counting.py``, with a number if 260
photographs are too many. A sample of them runs with the other tests.
"""

import subprocess
import sys
from itertools import pairwise
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
from PIL import Image

from glasskit.materials import glass
from glasskit.measured import (
    VIEW,
    count_square,
    find_pieces,
    find_square,
    invented_photo,
    level,
)

GLASS = glass("soda-lime")
SEED = 5000
LARGE = """
import sys
from pathlib import Path
from time import perf_counter
from glasskit.live.counting import _seen

def used():
    told = Path("/proc/self/status").read_text().split("VmHWM:")[1]
    return int(told.split()[0]) / 1024  # KiB

before, begin, longest, steps, at = used(), perf_counter(), 0.0, 0, perf_counter()
for _ in _seen(sys.argv[1]):
    longest, at, steps = max(longest, perf_counter() - at), perf_counter(), steps + 1
print(f"{perf_counter() - begin:.1f} s in {steps} steps, the longest {longest:.2f} s")
print(f"{used() - before:.0f} MiB more than with the kit loaded")
"""
CLASSES = (7, 9, 14, 1000)  # of the strength of a usual crack, over the noise


def taken(seed, width=800):
    """Return a photograph in conditions drawn by chance."""
    rng = np.random.default_rng(seed)
    return invented_photo(
        rng,
        count=float(np.exp(rng.uniform(np.log(15), np.log(250)))),
        width=width,
        contrast=rng.uniform(0.2, 0.5),
        noise=rng.uniform(0.5, 4.0),
        blur=rng.uniform(0.5, 1.2),
        unevenness=rng.uniform(0.0, 0.5),
        tilt=rng.uniform(0.0, 0.45),
        bright=bool(seed % 2),
    )


def counted(photo):
    """Return the count, found from the pixels alone."""
    view = level(photo.pixels, find_square(photo.pixels), side=VIEW)
    return count_square(find_pieces(view), thickness=6e-3, glass=GLASS)


def table(seeds):
    """Return a row for each photograph: truth, count, interval, strength, ratio of sizes."""
    rows, refused = [], 0
    for seed in seeds:
        photo = taken(seed)
        try:
            result = counted(photo)
        except ValueError as refusal:
            assert "must be sharp" in str(refusal), refusal  # noqa: PT017
            refused += 1
            continue
        sizes = result.areas.mean() / photo.areas.mean()
        rows.append(
            (photo.count, result.count, *result.interval, result.pieces.clearness, sizes)
        )
    return np.array(rows), refused


def told(rows, what):
    """Print how far off the counts are."""
    true, count, low, high, _, sizes = rows.T
    off = count / true - 1
    held = np.mean((low <= true) & (true <= high))
    print(
        f"{what:>32} {len(rows):4d} {off.mean():+8.2%} {off.std():7.2%} {held:8.1%} "
        f"{np.mean((high - low) / 2 / true):8.1%} {sizes.mean() - 1:+8.2%}"
    )
    return off.mean(), held


def main():
    number = int(sys.argv[1]) if len(sys.argv) > 1 else 260
    rows, refused = table(range(SEED, SEED + number))
    print(f"{'usual crack over noise':>32}    n     bias  spread coverage half int.     size")
    for low, high in pairwise(CLASSES):
        some = rows[(rows[:, 4] >= low) & (rows[:, 4] < high)]
        if len(some):
            told(some, f"{low} to {high}")
    bias, held = told(rows, "all")
    print(f"refused as not sharp: {refused} of {number}")

    with TemporaryDirectory() as folder:
        path = Path(folder) / "large.jpg"
        Image.fromarray(taken(SEED, width=4000).pixels).save(path, quality=92)
        print(
            f"12 megapixels, {path.stat().st_size / 1e6:.1f} MB, from the file to the count:"
        )
        subprocess.run([sys.executable, "-c", LARGE, str(path)], check=True)
    spread = 2 * np.sqrt(0.05 * 0.95 / max(len(rows), 1))
    return 0 if abs(bias) < 0.02 and abs(held - 0.95) < 0.02 + spread else 1


if __name__ == "__main__":
    sys.exit(main())
