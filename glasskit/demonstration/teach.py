# SPDX-License-Identifier: MIT
"""Work out anew what the known drops teach: ``python -m glasskit.demonstration.teach``.

To be run after a row of ``data/known_drops.csv`` or the physics of the blow has changed; it
takes some minutes and writes ``data/learned.csv`` and ``data/reckoned.csv``.
"""

import csv
from importlib.resources import files
from itertools import product
from pathlib import Path

from glasskit.demonstration.posterior import PARTS, VIEWS, reckoned, study
from glasskit.demonstration.worlds import WORLD


def write(folder: Path) -> None:
    """Write what the known drops teach, and what is said of each, into two tables."""
    found = study()
    belief = found.belief()
    inputs = [
        [name, f"{mean:.3f}", *(f"{value:.3f}" for value in row)]
        for name, mean, row in zip(WORLD, belief.mean, belief.root, strict=True)
    ]
    _table(folder / "learned.csv", ["input", "mean", *WORLD], inputs)
    cells = list(product(VIEWS, PARTS))
    records = [
        [
            one.case.name,
            *(f"{getattr(getattr(one, view), part):.4f}" for view, part in cells),
        ]
        for one in reckoned(found)
    ]
    heads = [f"{view}_{part}" for view, part in cells]
    _table(folder / "reckoned.csv", ["record", *heads], records)


def _table(path: Path, head: list[str], rows: list[list[str]]) -> None:
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file, lineterminator="\n").writerows([head, *rows])


if __name__ == "__main__":
    write(Path(str(files("glasskit") / "data")))
