# SPDX-License-Identifier: MIT
"""Invent a class of 28 pupils who bend four rods each, and who make mistakes.

    python tests/invent_class.py

writes ``assets/class_of_28.csv``, marked as invented. What is true of the rods is known, so
tests can ask whether the way to the plot finds it.
"""

from pathlib import Path

import numpy as np

SEED, PUPILS, EACH = 2, 28, 4
MODULUS, SCALE = 6.0, 33e6  # of the rods [-], [Pa]
ASSET = Path(__file__).resolve().parents[1] / "assets" / "class_of_28.csv"

REMARK = "# INVENTED data: 28 simulated pupils bend four rods each, with mistakes on purpose"
HEADER = "pupil; mass / g; span / mm; diameter / mm"
# Pupil and stick counted from 1: entries instead of the right ones, None to leave them.
MISTAKES = {
    (3, 2): ("6o.5", None, None),  # a letter for a zero
    (6, 1): (None, "0.1", None),  # metres
    (9, 4): (None, None, "0.18"),  # centimetres
    (12, 3): ("0.061", None, None),  # kilograms
    (15, 1): ("0.0555 kg", None, None),  # another unit than the column, written down
    (18, 2): (None, None, ""),  # forgotten
    (21, 4): ("58.0.5", None, None),  # a point too many
    (24, 3): (None, None, "18"),  # the point forgotten
}
WITH_COMMAS = (2, 7, 11, 20, 26)  # pupils who write decimal commas
BLANK_AFTER = (4, 10, 16, 17, 25)  # pupils after whom rows are empty


def rods():
    """Return mass hung [g] and diameter as read [mm] of every rod, shape (28, 4)."""
    rng = np.random.default_rng(SEED)
    strength = SCALE * rng.weibull(MODULUS, (PUPILS, EACH))
    diameter = 1.8 + 0.03 * rng.standard_normal((PUPILS, EACH))
    mass = strength * np.pi * (diameter * 1e-3) ** 3 / (8 * 0.1 * 9.80665) * 1e3
    return np.round(2 * mass) / 2, np.round(20 * diameter) / 20


def invented():
    """Return the text of the file."""
    lines = [REMARK, HEADER]
    for pupil, (masses, diameters) in enumerate(zip(*rods(), strict=True), start=1):
        for stick, (mass, diameter) in enumerate(zip(masses, diameters, strict=True), start=1):
            right = (f"{mass:.1f}", "100", f"{diameter:.2f}")
            wrong = MISTAKES.get((pupil, stick), (None, None, None))
            entries = [r if w is None else w for r, w in zip(right, wrong, strict=True)]
            row = "; ".join([f"pupil {pupil:02d}", *entries])
            lines.append(row.replace(".", ",") if pupil in WITH_COMMAS else row)
        if pupil in BLANK_AFTER:
            lines += ["", ";;;"]
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    ASSET.write_text(invented(), encoding="utf-8")
    print(ASSET)
