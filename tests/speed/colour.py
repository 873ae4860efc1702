# SPDX-License-Identifier: MIT
"""Time the colours of a picture, against taking its points one by one.

Run from the repository's root: ``python tests/speed/colour.py``.
"""

import sys
from time import perf_counter

import numpy as np

from glasskit.light import interference_colour


def main():
    picture = np.linspace(0, 3e-6, 200 * 300).reshape(200, 300)
    interference_colour(0.0)
    spent = []
    for _ in range(11):
        begin = perf_counter()
        whole = interference_colour(picture)
        spent.append(perf_counter() - begin)
    ours = float(np.median(spent))

    some = picture.ravel()[::60]
    begin = perf_counter()
    single = np.array([interference_colour(lag) for lag in some])
    singly = (perf_counter() - begin) * 60
    assert np.allclose(single, whole.reshape(-1, 3)[::60])

    print(f"200 x 300 colours at once:   {1e3 * ours:.0f} ms; goal 250 ms")
    print(f"one by one (a sixtieth, scaled): {singly:.1f} s, ratio {singly / ours:.0f}")
    return 0 if ours < 0.25 and singly > 5 * ours else 1


if __name__ == "__main__":
    sys.exit(main())
