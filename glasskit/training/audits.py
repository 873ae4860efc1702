# SPDX-License-Identifier: MIT
"""Set a whole file and a whole report to audit: which lines must not pass as they stand.

Both are invented. Some lines look odd and are sound, such as the weakest bar of all; some
audits hold no fault. What is wrong stands in ``glasskit/data/audit_file.csv`` and
``audit_report.csv``.
"""

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

import numpy as np

from glasskit.quantities import one_of, whole
from glasskit.tables import read
from glasskit.training import invented

AuditKind = Literal["file", "report"]

_BARS = 16
_HEADER = "specimen;origin;force [N];outer [mm];inner [mm];width [mm];thickness [mm];note"
_CELLS = ("name", "origin", "force", "outer", "inner", "width", "thickness", "note")


@dataclass(frozen=True, slots=True, kw_only=True)
class Marked:
    """What somebody made of an audit.

    Attributes
    ----------
    found, missed, blamed : tuple of int
        Places of faults that were marked, of faults that were not, and of sound lines that
        were marked, from 0.

    """

    found: tuple[int, ...]
    missed: tuple[int, ...]
    blamed: tuple[int, ...]

    @property
    def right(self) -> bool:
        """Whether all faults were found and nothing else was blamed."""
        return not self.missed and not self.blamed


@dataclass(frozen=True, slots=True, kw_only=True)
class Audit:
    """Lines of which some must not pass.

    Attributes
    ----------
    kind : {"file", "report"}
        What is audited.
    seed : int
        Gives the same audit again.
    head : str
        What stands above the lines.
    lines : tuple of str
        What is to be passed or not, in order.
    faults : mapping of int to str
        What is wrong, by the place of the line from 0; may be empty.

    """

    kind: AuditKind
    seed: int
    head: str
    lines: tuple[str, ...]
    faults: Mapping[int, str]

    def mark(self, ticked: Collection[int]) -> Marked:
        """Return what was found, missed and blamed.

        Parameters
        ----------
        ticked : collection of int
            Places of the lines that somebody would not pass, from 0.

        Returns
        -------
        Marked
            Every place in one list at most.

        Raises
        ------
        ValueError
            If there is no line in one of these places.

        """
        for place in ticked:
            one_of("ticked", place, range(len(self.lines)))
        return Marked(
            found=tuple(place for place in self.faults if place in ticked),
            missed=tuple(place for place in self.faults if place not in ticked),
            blamed=tuple(sorted(set(ticked) - set(self.faults))),
        )


def audit(kind: AuditKind, seed: int) -> Audit:
    """Return a file or a report to audit.

    Parameters
    ----------
    kind : {"file", "report"}
        Sixteen bars as a rig and a hand wrote them; or a report line by line.
    seed : int
        Zero or more; the same seed gives the same audit.

    Returns
    -------
    Audit
        With none to six lines that must not pass.

    Raises
    ------
    ValueError
        If the kind is unknown or the seed negative.

    Examples
    --------
    >>> one = audit("report", 1)
    >>> one.mark(one.faults).right
    True

    """
    one_of("kind", kind, ("file", "report"))
    rng = np.random.default_rng([whole("seed", seed), 7])
    return _file(seed, rng) if kind == "file" else _report(seed, rng)


def _report(seed: int, rng: np.random.Generator) -> Audit:
    rows = read("audit_report")
    wrong = sorted(rng.choice(len(rows), rng.integers(0, 7), replace=False).tolist())
    lines = tuple(row["faulty" if at in wrong else "sound"] for at, row in enumerate(rows))
    return Audit(
        kind="report",
        seed=seed,
        head="Strength of window glass bars as cut. Invented.",
        lines=lines,
        faults=MappingProxyType({at: rows[at]["reason"] for at in wrong}),
    )


Bar = dict[str, str]


def _file(seed: int, rng: np.random.Generator) -> Audit:
    bars = [_bar(*cells) for cells in invented.bars(rng, count=_BARS)]
    order = rng.permutation(_BARS).tolist()
    bars[order[0]]["force"] = f"{0.45 * float(bars[order[0]]['force']):.0f}"  # weak, yet sound
    bars[order[1]].update(origin="unknown", note="a chip is lost")
    bars[order[2]]["note"] = "measured by a colleague"
    reasons = {row["fault"]: row["reason"] for row in read("audit_file")}
    kinds = rng.permutation(list(_SPOIL))[: rng.integers(0, 5)]
    faults = {}
    for kind, at in zip(kinds.tolist(), order[3:], strict=False):
        faults[at] = reasons[kind]
        _SPOIL[kind](bars[at])
        if kind == "twice":  # neither of the two is trusted
            bars[order[-1]]["name"] = bars[at]["name"]
            faults[order[-1]] = reasons[kind]
    return Audit(
        kind="file",
        seed=seed,
        head=_HEADER,
        lines=tuple(";".join(bar[cell] for cell in _CELLS) for bar in bars),
        faults=MappingProxyType(dict(sorted(faults.items()))),
    )


def _bar(name: str, _method: str, origin: str, *sizes: str) -> Bar:
    told = dict(zip(_CELLS[2:-1], sizes, strict=False))
    return {"name": name, "origin": origin, **told, "note": ""}


def _exchange(bar: Bar) -> None:
    bar["width"], bar["thickness"] = bar["thickness"], bar["width"]


def _rename(bar: Bar) -> None:
    """Leave the line itself: another one takes its name."""


_SPOIL: Mapping[str, Callable[[Bar], None]] = MappingProxyType(
    {
        "metres": lambda bar: bar.update(thickness=f"{float(bar['thickness']) / 1e3:.5f}"),
        "kilonewtons": lambda bar: bar.update(force=f"{float(bar['force']) / 1e3:.3f}"),
        "exchanged": _exchange,
        "twice": _rename,
        "rollers": lambda bar: bar.update(inner="20"),
        "outside": lambda bar: bar.update(origin="outside the loads"),
        "dropped": lambda bar: bar.update(note="fell on the floor before the test"),
        "no force": lambda bar: bar.update(force=""),
    }
)
