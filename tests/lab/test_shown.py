# SPDX-License-Identifier: MIT
"""What a notebook shows of results: well-formed, escaped, with the numbers that they hold."""

from xml.etree import ElementTree

import numpy as np
import pytest

from glasskit.lab import compare, parse_records, reduce, reduce_series
from glasskit.training import invented


@pytest.fixture(scope="module")
def lots():
    texts = invented.two_lots(np.random.default_rng(invented.SEED))
    texts["seamed"] = texts["seamed"].replace("B03,", "B03 <b>&,")
    series = [parse_records(text) for text in texts.values()]
    return series, [reduce_series(one, "four_point_bar") for one in series]


def texts(result):
    """Return the cells of what is shown; it parses only if all is closed and escaped."""
    root = ElementTree.fromstring(result._repr_html_())
    return [cell.text or "" for cell in root.iter() if cell.tag in ("td", "th", "strong", "p")]


def test_a_series_shows_counts_and_lines_set_aside(lots):
    shown = texts(lots[0][1])
    assert shown[0] == "19 lines used, 1 set aside"
    assert "force must be given for four_point_bar; got an empty cell" in shown


def test_an_outcome_shows_fits_and_the_first_specimens(lots):
    outcome = lots[1][1]
    shown = texts(outcome)
    assert "16 of 19" in shown
    low, high = outcome.fits["edge"].scale_interval() / 1e6
    assert any(f"({low:.1f} MPa to {high:.1f} MPa)" in cell for cell in shown)
    assert "B03 <b>&" in shown
    assert shown[-1] == "and 9 more"


def test_a_comparison_shows_its_ratios(lots):
    found = compare(*lots[1], names=("as <cut>", "seamed"))
    shown = texts(found)
    low, high = found.ratios["edge"].scale_interval
    assert shown[0] == "seamed over as <cut>"
    assert f"{found.ratios['edge'].scale:.2f} ({low:.2f} to {high:.2f})" in shown
    assert "yes" in shown


def test_a_reduction_shows_result_budget_and_broken_limits():
    sizes = {"outer_span": 0.1, "inner_span": 0.02, "width": 0.02, "thickness": 0.004}
    shown = texts(reduce("four_point_bar", {**sizes, "force": 250.0}))
    # Source: textbook bending, 3 * 250 * 0.08/(2 * 0.02 * 0.004^2) = 93.75 MPa.
    assert "93.8 MPa" in shown
    assert any("between a third and a half" in cell for cell in shown)
    many = reduce("four_point_bar", {**sizes, "force": np.full((2, 9), 250.0)})
    assert "and 8 more" in texts(many)
