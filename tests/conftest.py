# SPDX-License-Identifier: MIT
"""Fixtures that all tests share: checks against the outside, listed by one command.

``python -m pytest --outside`` runs only the tests that hold such checks and prints every one
with its source, its status, the error found and the error allowed.
"""

from collections import Counter
from dataclasses import dataclass

import numpy as np
import pytest
from hypothesis import settings

# A busy machine must not fail a property that holds, and the whole suite stays under ten
# minutes on two cores.
settings.register_profile("glasskit", deadline=None, max_examples=60)
settings.load_profile("glasskit")

collect_ignore = ["invent_class.py", "mutants.py", "speed", "tidy_notebooks.py"]  # run by hand

STATUSES = {
    "found": "seen in a public source",
    "memory": "from memory, not looked up",
    "common practice": "trade knowledge or textbook formula, no single source",
    "exact": "follows from a definition or an exact solution",
    "hand calculation": "worked by hand beside the check",
    "independent method": "another method that shares no code with the package",
}


@dataclass(frozen=True, slots=True)
class OutsideCheck:
    """One number of ours beside one number from outside."""

    quantity: str
    got: float
    expected: float
    allowed: float
    relative: bool
    source: str
    status: str

    @property
    def error(self):
        difference = abs(self.got - self.expected)
        return difference / abs(self.expected) if self.relative else difference


CHECKS = pytest.StashKey()


def pytest_addoption(parser):
    parser.addoption(
        "--outside", action="store_true", help="run and list only the outside checks"
    )


def pytest_configure(config):
    config.stash[CHECKS] = []


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(config, items):
    if config.getoption("--outside"):
        keep = [item for item in items if "outside" in getattr(item, "fixturenames", ())]
        config.hook.pytest_deselected(items=[item for item in items if item not in keep])
        items[:] = keep


@pytest.fixture
def outside(request):
    """Compare with a value from outside: quantity, ours, theirs, tolerance, source, status."""

    def check(quantity, got, expected, *, source, status, rel=None, abs_=None):
        assert status in STATUSES, f"status must be one of {sorted(STATUSES)}; got {status!r}"
        assert (rel is None) != (abs_ is None), "give rel or abs_, not both"
        row = OutsideCheck(
            quantity=quantity,
            got=float(np.asarray(got).item()),
            expected=float(expected),
            allowed=abs_ if rel is None else rel,
            relative=rel is not None,
            source=source,
            status=status,
        )
        request.config.stash[CHECKS].append(row)
        assert row.error <= row.allowed, (
            f"{quantity}: got {row.got:.6g}, expected {row.expected:.6g} ({source}); "
            f"error {row.error:.2g} over {row.allowed:.2g}"
        )

    return check


def pytest_terminal_summary(terminalreporter, config):
    rows = config.stash[CHECKS]
    if not config.getoption("--outside") or not rows:
        return
    write = terminalreporter.write_line
    terminalreporter.section("checks against the outside")
    for row in rows:
        mark = "%" if row.relative else ""
        scale = 100 if row.relative else 1
        write(
            f"{row.quantity}: ours {row.got:.6g}, theirs {row.expected:.6g}, error "
            f"{row.error * scale:.2g}{mark} (allowed {row.allowed * scale:.2g}{mark}); "
            f"{row.status}: {row.source}"
        )
    write("")
    for status, count in sorted(Counter(row.status for row in rows).items()):
        write(f"{count:4d} {status}: {STATUSES[status]}")
    write(f"{len(rows):4d} checks")
