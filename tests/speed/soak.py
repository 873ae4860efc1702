# SPDX-License-Identifier: MIT
"""Leave every explorer open in one kernel and move all of them at random for long.

    python tests/speed/soak.py [minutes [seed]]

Prints memory, processor time a picture in the first and last tenth, and what went wrong.
"""

import random
import sys
import time
import warnings
from collections import Counter

import numpy as np
import psutil

from glasskit.live import gallery
from glasskit.live.controls import Choice, Slider


def move(shown, rng):
    """Do what a reader does next: mostly a slider, now and then something else."""
    control = rng.choice([*shown.controls.values()])
    act = rng.random()
    if act < 0.02:
        rng.choice([shown.switch_units, shown.switch_type, shown.reset])()
    elif isinstance(control, Choice):
        control.menu.index = rng.randrange(len(control.menu.options))
    elif isinstance(control, Slider) and not control.box.disabled:
        if act < 0.1:
            control.box.value = rng.choice(["", "-1", "1e9", "word", str(rng.random() * 99)])
        slider = control.slider
        slider.value = slider.min + rng.random() * (slider.max - slider.min)


def mebibytes():
    return psutil.Process().memory_info().rss / 2**20


def main(minutes="15", seed="1"):
    rng = random.Random(int(seed))
    shown = [gallery.explorer(name) for name in gallery.EXPLORERS]
    started, end = mebibytes(), time.monotonic() + 60 * float(minutes)
    spent, memory, wrong = [], [], Counter()
    while time.monotonic() < end:
        one = rng.choice(shown)
        before, image = time.process_time(), one.image.value
        try:
            with warnings.catch_warnings():
                warnings.simplefilter("error")
                move(one, rng)
        except Exception as error:
            wrong[f"{one.title}: {type(error).__name__}: {error}"] += 1
        if one.image.value != image:
            spent.append(1e3 * (time.process_time() - before))
            memory.append(mebibytes())
    tenth = len(spent) // 10
    print(f"{len(spent)} pictures of {len(shown)} explorers in {minutes} minutes, seed {seed}")
    for name, part in (("first", slice(tenth)), ("last", slice(-tenth, None))):
        usual, slow = np.percentile(spent[part], [50, 95])
        print(
            f"{name} tenth: p50 {usual:.0f} ms, p95 {slow:.0f} ms a picture, "
            f"memory {max(memory[part]):.0f} MiB"
        )
    print(f"memory with all explorers open, not yet moved: {started:.0f} MiB")
    print("nothing went wrong" if not wrong else "wrong:")
    for what, count in wrong.most_common():
        print(f"{count:6} {what}")


if __name__ == "__main__":
    main(*sys.argv[1:])
