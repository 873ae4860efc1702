# SPDX-License-Identifier: MIT
"""Fixtures that all tests share: checks against the outside, listed by one command.

``python -m pytest --outside`` runs only the tests that hold such checks and prints every one
with its source, its status, the error found and the error allowed. Comparisons of the package
with itself, and those too wide to show more than a gross error, are listed apart.
"""

from collections import Counter
from dataclasses import asdict, dataclass

import numpy as np
import pytest
from hypothesis import settings

# A busy machine must not fail a property that holds, so there is no deadline. The examples are
# the same each time, so that a run fails for a change and not by chance; to look for new ones:
# python -m pytest tests -m hypothesis --hypothesis-profile=explore
settings.register_profile("glasskit", deadline=None, max_examples=60, derandomize=True)
settings.register_profile("explore", deadline=None, max_examples=600, print_blob=True)
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
# Good tests, but no evidence from outside: listed apart and not counted with it.
APART = {
    "consistency": "the other side is ours too: two ways through the package agree",
    "order of magnitude": "the tolerance is so wide that only a gross error would show",
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


PROPERTY = "outside check"  # of a test's report, which tells it from worker to terminal
CHECKS = pytest.StashKey()


def pytest_addoption(parser):
    parser.addoption(
        "--outside", action="store_true", help="run and list only the outside checks"
    )


def pytest_configure(config):
    config.stash[CHECKS] = checks = []
    config.pluginmanager.register(Collector(checks))


class Collector:
    """Keeps the checks that the reports of tests carry."""

    def __init__(self, checks):
        self.checks = checks

    def pytest_runtest_logreport(self, report):
        if report.when == "call":
            rows = [row for name, row in report.user_properties if name == PROPERTY]
            self.checks.extend(OutsideCheck(**row) for row in rows)


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
        known = [*STATUSES, *APART]
        assert status in known, f"status must be one of {sorted(known)}; got {status!r}"
        assert (rel is None) != (abs_ is None), "give rel or abs_, not both"
        row = OutsideCheck(
            quantity=quantity,
            got=float(np.asarray(got).item()),
            expected=float(expected),
            allowed=float(abs_ if rel is None else rel),
            relative=rel is not None,
            source=source,
            status=status,
        )
        request.node.user_properties.append((PROPERTY, asdict(row)))
        assert row.error <= row.allowed, (
            f"{quantity}: got {row.got:.6g}, expected {row.expected:.6g} ({source}); "
            f"error {row.error:.2g} over {row.allowed:.2g}"
        )

    return check


def pytest_terminal_summary(terminalreporter, config):
    rows = config.stash[CHECKS]
    if not config.getoption("--outside") or not rows:
        return
    outside_rows = [row for row in rows if row.status in STATUSES]
    _list_checks(terminalreporter, "checks against the outside", outside_rows, STATUSES)
    for status, meaning in APART.items():
        apart = [row for row in rows if row.status == status]
        _list_checks(terminalreporter, f"{status}, no outside check", apart, {status: meaning})


def _list_checks(terminalreporter, title, rows, meanings):
    if not rows:
        return
    write = terminalreporter.write_line
    terminalreporter.section(title)
    for row in rows:
        mark = "%" if row.relative else ""
        scale = 100 if row.relative else 1
        other = "ours again" if row.status == "consistency" else "theirs"
        write(
            f"{row.quantity}: ours {row.got:.6g}, {other} {row.expected:.6g}, error "
            f"{row.error * scale:.2g}{mark} (allowed {row.allowed * scale:.2g}{mark}); "
            f"{row.status}: {row.source}"
        )
    write("")
    for status, count in sorted(Counter(row.status for row in rows).items()):
        write(f"{count:4d} {status}: {meanings[status]}")
    write(f"{len(rows):4d} checks")
