# SPDX-License-Identifier: MIT
import re
from importlib.resources import files

import pytest
from hypothesis import given
from hypothesis import strategies as st

from glasskit import tables

ROW = {"value": "70", "unit": "GPa", "source": "a book", "status": "found"}
NUMBER = st.floats(-1e6, 1e6)


@given(value=NUMBER, ends=st.tuples(NUMBER, NUMBER))
def test_a_printed_range_always_brackets_the_number_in_use(value, ends):
    row = ROW | {"value": repr(value), "low": repr(min(ends)), "high": repr(max(ends))}
    got = tables.sourced_value(row)
    assert got.low <= got.value <= got.high
    assert got.low <= min(ends) * 1e9
    assert got.high >= max(ends) * 1e9


def test_one_number_is_its_own_range():
    got = tables.sourced_value(ROW)
    assert got.low == got.value == got.high


@pytest.mark.parametrize(
    ("printed", "unit", "expected", "si"),
    [
        ("20", "C", 293.15, "K"),  # ITS-90: 0 °C is 273.15 K by definition
        ("1", "MPa m^0.5", 1e6, "Pa m^0.5"),
        ("1", "1/TPa", 1e-12, "1/Pa"),  # also called one brewster
        ("1", "pm", 1e-12, "m"),
        ("9", "1e-6/K", 9e-6, "1/K"),
        ("6", "mm/s", 6e-3, "m/s"),
    ],
)
def test_printed_units_become_si(outside, printed, unit, expected, si):
    got = tables.sourced_value(ROW | {"value": printed, "unit": unit})
    # Tolerance: two roundings in floating point.
    outside(
        f"{printed} {unit}",
        got.value,
        expected,
        rel=4e-16,
        source="SI prefixes",
        status="exact",
    )
    assert got.unit == si


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"unit": "psi"}, r"^unit must be one of .*GPa.*; got 'psi'$"),
        ({"status": "guess"}, r"^status must be one of found, trade, .*; got 'guess'$"),
        ({"value": ""}, r"^row must hold a value or a range; got "),
    ],
)
def test_a_row_without_number_unit_or_status_is_refused(change, message):
    with pytest.raises(ValueError, match=message):
        tables.sourced_value(ROW | change)


def test_a_number_outside_its_own_range_is_refused():
    with pytest.raises(ValueError, match=r"^value must lie in low <= value <= high; got 3 "):
        tables.Value(value=3.0, low=1.0, high=2.0, unit="-", source="a book", status="found")


@pytest.mark.parametrize("name", ["materials", "ions"])
def test_every_row_of_every_table_says_where_it_comes_from(name):
    rows = tables.read(name)
    assert rows
    for row in rows:
        assert row["source"].strip(), row
        assert row["status"] in tables.STATUSES, row
        assert None not in row, f"too many columns: {row}"
        assert None not in row.values(), f"too few columns: {row}"


DATA = files("glasskit").joinpath("data")
TABLES = sorted(
    path.name.removesuffix(".csv") for path in DATA.iterdir() if ".csv" in path.name
)
KEYS = {row["key"] for row in tables.read("references")}
# A standard or rule with its number; a journal with volume, year and page; a DOI; a page of a
# publisher, a university or an encyclopedia.
LEADS_BACK = re.compile(
    r"(EN|ISO|ASTM|GB|JIS|NFPA|CFR|SAE|Z26|Regulation)\b.*\d"
    r"|\d \(\d{4}\) \d|10\.\d{4,}/|https?://"
)


def leads_back(row):
    told = [row.get(column) or "" for column in ("where", "key", "source", "standard")]
    return any(text in KEYS or LEADS_BACK.search(text) for text in told)


@pytest.mark.parametrize("name", [name for name in TABLES if "status" in tables.read(name)[0]])
def test_what_was_found_can_be_found_again(name):
    lost = [
        row for row in tables.read(name) if row["status"] == "found" and not leads_back(row)
    ]
    assert lost == []


@pytest.mark.parametrize("name", TABLES)
def test_a_key_of_a_reference_is_listed(name):
    rows = tables.read(name)
    told = {row.get("where") or "" for row in rows} | {
        row.get("reference") or "" for row in rows
    }
    assert {text for text in told if text.isalnum()} <= KEYS


def test_an_empty_word_leads_nowhere():
    assert not leads_back({"source": "a data sheet, 2013", "where": ""})
    assert leads_back({"source": "a data sheet", "where": "EN572"})
