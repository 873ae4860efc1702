# SPDX-License-Identifier: MIT
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from glasskit.lab import METHODS, parse_records, read_records
from glasskit.training import invented

HEAD = "specimen,method,origin,force [N],span [mm],width [mm],thickness [mm]"
GOOD = "A{},three_point_bar,edge,100,100,20,4.0"
ASSETS = Path(__file__).resolve().parents[2] / "assets"


def troubles(*lines):
    text = "\n".join([HEAD, *(GOOD.format(i) for i in range(5)), *lines])
    series = parse_records(text)
    assert len(series.records) + len(series.troubles) == 5 + len(lines)
    return {item.line: item.words for item in series.troubles}


def test_units_become_si(outside):
    text = (
        "specimen,method,force [lbf],span [in],width [in],thickness [mil]\n"
        "1,three_point_bar,10,4,1,100"
    )
    readings = parse_records(text).records[0].readings
    source, status = "international yard and pound agreement, 1959; g = 9.80665", "exact"
    for name, expected in (("force", 44.482216), ("span", 0.1016), ("thickness", 2.54e-3)):
        outside(name, readings[name], expected, rel=1e-7, source=source, status=status)


def test_semicolons_decimal_commas_and_the_mark_of_spreadsheets(tmp_path):
    text = HEAD.replace(",", ";").replace("mm", "cm") + "\nä;three_point_bar;;100;10;2;0,4\n"
    path = tmp_path / "a.csv"
    path.write_bytes(b"\xef\xbb\xbf" + text.encode())
    record = read_records(path).records[0]
    assert record.specimen == "ä"
    assert record.readings["thickness"] == pytest.approx(4e-3)


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("B,three_point_bar,edge,100,100,20", "line must have 7 cells; got 6"),
        ("B,three_point_bar,edge,100,100,20,4,5", "line must have 7 cells; got 8"),
        ("B,three_point_bar,edge,1OO,100,20,4", "force must be a number; got '1OO'"),
        ("B,three_point_bar,edge,nan,100,20,4", "force must be a number"),
        ("B,three_point_bar,edge,1e999,100,20,4", "force must be finite and positive"),
        ("B,three_point_bar,edge,-100,100,20,4", "force must be finite and positive"),
        ("B,three_point_bar,edge,,100,20,4", "force must be given"),
        ("B,three_point_rod,edge,100,100,20,4", "diameter must be given"),
        ("B,bend,edge,100,100,20,4", "method must be one of"),
        (",three_point_bar,edge,100,100,20,4", "specimen must have a name"),
        ('B,three_point_bar,"edge,100,100,20,4', "quotation marks must be closed"),
        ("B,three_point_bar,edge,100,100,20,0.004", "thickness is 0.001 times the median"),
        ("B,three_point_bar,edge,100,1000,20,4", "span is 10 times the median"),
        ("B,three_point_bar,edge,0.1,100,20,4", "force is 0.001 times the median"),
    ],
)
def test_a_bad_line_is_set_aside_with_its_reason(line, words):
    found = troubles(line)
    assert list(found) == [7]
    assert words in found[7]


def test_of_a_name_used_twice_neither_is_trusted():
    found = troubles("A1,three_point_bar,edge,100,100,20,4")
    assert set(found) == {3, 7}
    assert set(found.values()) == {"specimen A1 stands on lines 3 and 7, one must be wrong"}


def test_metres_that_look_like_millimetres_are_set_aside():
    text = HEAD.replace("thickness [mm]", "thickness [m]") + "\n" + GOOD.format(1)
    assert parse_records(text).troubles[0].words == "thickness is 4 m: was 4 mm meant?"


def test_what_a_formula_refuses_is_set_aside():
    text = (
        "specimen,method,force [N],load_diameter [mm],support_diameter [mm],"
        "plate_diameter [mm],thickness [mm]\n1,ring_on_ring,500,45,18,55,3"
    )
    assert "must be larger than load_diameter" in parse_records(text).troubles[0].words


@pytest.mark.parametrize(
    ("head", "words"),
    [
        ("specimen,method,force", "column force must have a unit among N, kN"),
        ("specimen,method,force [mm]", "column force must have a unit"),
        ("specimen,method,weight [N]", "column must be one of"),
        ("specimen,force [N]", "header must have a column method"),
        ("specimen,method,force [N],force [kN]", "column force must stand once"),
        ("", "first row must name the columns"),
    ],
)
def test_a_bad_header_is_refused(head, words):
    with pytest.raises(ValueError, match=words.replace("[", r"\[")):
        parse_records(head)


@given(st.lists(st.text(alphabet='A1,;"[]-. \té\x00', max_size=40), max_size=12))
def test_no_damage_loses_a_line(lines):
    text = "\n".join([HEAD, *lines])
    series = parse_records(text)
    kept = [line for line in lines if line.strip(" ,;\t")]
    assert len(series.records) + len(series.troubles) == len(kept)
    assert [item.text for item in series.troubles] == kept  # none of these can be a record


def test_the_stored_file_is_the_invented_one_with_its_problems():
    text = invented.bars_and_rings(np.random.default_rng(invented.SEED))
    path = ASSETS / "lab_bars_and_rings_invented.csv"
    assert path.read_text(encoding="utf-8") == text
    assert "invented" in text.splitlines()[0]
    series = read_records(path)
    assert len(series.troubles) == 9
    assert len(series.of("four_point_bar")) == 22
    assert len(series.of("ring_on_ring")) == 19
    assert {record.method for record in series.records} <= set(METHODS)
