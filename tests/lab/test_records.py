# SPDX-License-Identifier: MIT
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from glasskit.lab import METHODS, Tolerance, parse_records, read_records, reduce_series
from glasskit.rows import decode
from glasskit.sheets.lab import laboratory_report
from glasskit.training import invented
from glasskit.words.lab import aside_sentence, provenance, stated_rows

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
        ("B,three_point_rod,edge,100,100,20,4", "must have columns diameter; got no other"),
        ("B,anvil,edge,100,100,20,4", "method must be one of"),
        ("B,three-point-bars,edge,100,100,20,4", "was three_point_bar or three_point_rod"),
        ("B,tpb,edge,100,100,20,4", "was three_point_bar meant? got 'tpb'"),
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
        ("specimen,force [N]", "header must have a column method"),
        ("specimen,method,force [N],force [kN]", "column force must stand once"),
        ("", "first row must name the columns"),
    ],
)
def test_a_bad_header_is_refused(head, words):
    with pytest.raises(ValueError, match=words.replace("[", r"\[")):
        parse_records(head)


RIGS = {  # five raw files as rigs and spreadsheets write them; invented, nothing was measured
    "semicolons, decimal commas, Windows letters": (
        "Specimen;Method;Origin;Load [N];Diagonal [µm];Bediener\r\n"
        "1;Vickers;;9,81;57,6;Ünal\r\n2;vickers;;9,81;58,1;Ünal\r\n"
    ).encode("cp1252"),
    "a line of units, more columns": (
        b"Specimen,Method,Origin,Force,Span,Width,Thickness,Rate,Humidity\n"
        b",,,N,mm,mm,mm,MPa/s,%\n1,three-point bar,edge,100,100,20,4,1.1,45\n"
        b"2,THREE_POINT_BAR,Edge,110,100,20,4,1.0,46\n"
    ),
    "stated once above": (
        "# method: four point bar\n# outer span [mm]: 100\n# inner span [mm] = 50\n"
        "specimen\torigin\tforce (kN)\twidth / mm\tthickness / mm\n"
        "1\tface\t0.25\t20\t4\n2\tface\t0.26\t20\t4\n"
    ).encode("utf-16"),
    "repeats": (
        b"specimen,method,origin,force [N],span [mm],width [mm],thickness_1 [mm],"
        b"thickness_2 [mm]\n1,three_point_bar,edge,100,100,20,3.98,4.02\n"
        b"2,three_point_bar,edge,110,100,20,4.01,3.99\n"
    ),
    "a spreadsheet's mark and empty columns": (
        "\ufeffsep=;\nspecimen;method;origin;force [N];span [mm];width [mm];thickness [mm];;\n"
        "1;three_point_bar;?;100;100;20;4;;\n2;three_point_bar;edge;110;100;20;4;;\n"
    ).encode(),
}


@pytest.mark.parametrize("name", list(RIGS))
def test_a_raw_file_comes_through_to_the_report(name, tmp_path):
    path = tmp_path / "raw.csv"
    path.write_bytes(RIGS[name])
    series = read_records(path)
    assert series.troubles == ()
    assert len(series.records) == 2
    outcome = reduce_series(series, series.records[0].method)
    page = laboratory_report(outcome)
    for column in series.notes:
        assert column in page
    if name == "semicolons, decimal commas, Windows letters":
        assert stated_rows(outcome)[-1] == ("Bediener", "Ünal", "a note, the same for all")
        assert page.count("Ünal") == 1
    if name == "a line of units, more columns":
        assert series.notes == ("Rate", "Humidity")
        assert series.records[0].notes["Humidity"] == "45"
        assert {record.origin for record in series.records} == {"edge"}
    if name == "stated once above":
        assert series.records[0].readings["force"] == pytest.approx(250.0)
        assert series.records[0].readings["inner_span"] == pytest.approx(0.05)


def test_repeats_give_their_mean_and_what_they_scatter(tmp_path):
    path = tmp_path / "raw.csv"
    path.write_bytes(RIGS["repeats"])
    series = read_records(path)
    found = reduce_series(series, "three_point_bar").reduction
    thickness = found.inputs["thickness"]
    assert thickness.value == pytest.approx([4e-3, 4e-3])
    # Source: hand calculation; variances 0.0008 and 0.0002 mm^2 of one degree each, pooled
    # 0.0005; of a mean of two, the root of 0.00025 mm^2.
    assert thickness.uncertainty == pytest.approx(np.sqrt(0.00025) * 1e-3)
    assert thickness.degrees == pytest.approx(2.0)
    both = reduce_series(series, "three_point_bar", {"thickness": Tolerance(absolute=0.02e-3)})
    [said] = [row[2] for row in stated_rows(both) if row[0] == "thickness"]
    # Source: hand calculation; 0.0158 and 0.02/sqrt(3) = 0.0115 mm, together 0.0196.
    assert said.startswith("± 0.02 mm; with what repeats scatter, standard uncertainty 0.0195")
    assert said.endswith("mm, 5 degrees of freedom")


def test_a_rig_that_writes_titles_and_its_own_names_is_read_and_it_is_said():
    text = (
        "Biegeprüfung, Serie 3;;;;;;;;;\r\n2,0 MPa/s;;;;;;;;;\r\n"
        "Specimen No.;Method;Fracture origin;Fmax [N];Span outer [mm];Inner span [mm];"
        "Width [mm];Thickness_1 [mm];Thickness_2 [mm];Remark;\r\n"
        "P1;four-point bar;Kante;412,6;100;50;25,0;3,85;3,87;schräg;\r\n"
    )
    series = parse_records(decode(text.encode("cp1252")))
    record = series.records[0]
    assert record.line == 4
    assert record.readings["force"] == pytest.approx(412.6)
    assert record.readings["outer_span"] == pytest.approx(0.1)
    assert record.readings["thickness"] == pytest.approx(3.86e-3)
    assert [line.number for line in series.remarks] == [1, 2]
    assert dict(series.read_as) == {
        "Specimen No.": "specimen",
        "Fracture origin": "origin",
        "Fmax [N]": "force",
        "Span outer [mm]": "outer_span",
    }
    said = aside_sentence(series)
    assert "Titles above the first row, kept as remarks: 2." in said
    assert "Fmax [N] is force" in said
    two = parse_records(f"{text}{text.splitlines()[-1].replace('P1', 'P2')}")
    outcome = reduce_series(two, "four_point_bar")
    assert "Fmax [N] is force" in provenance(outcome)
    with pytest.raises(ValueError, match="of ring_on_ring; got 0, and 2 of four_point_bar"):
        reduce_series(two, "ring_on_ring")


def test_the_load_of_a_test_that_breaks_is_its_force():
    head = "id,sample,method,load [kN],span [mm],width [mm],thickness [mm]"
    series = parse_records(f"specimen{head[2:]}\nA,x,three_point_bar,0.1,100,20,4")
    assert series.records[0].readings["force"] == pytest.approx(100.0)
    assert series.notes == ("sample",)  # two names of a specimen: its own counts
    with pytest.raises(ValueError, match="column specimen must stand once"):
        parse_records(f"{head}\nA,x,three_point_bar,0.1,100,20,4")


def test_a_method_stated_in_the_titles_counts_for_every_line():
    head = "ID,F (N),span (mm),width (mm),thickness (mm)"
    with pytest.raises(ValueError, match="or above it a line # method: four_point_bar; got"):
        parse_records(f"{head}\nA,100,100,20,4")
    series = parse_records(f"method,three_point_bar\n{head}\nA,100,100,20,4")
    assert "must have columns method" not in series.troubles[0].words
    assert "must have columns force; got F (N)" in series.troubles[0].words


def test_a_column_of_a_letter_or_with_its_unit_behind_a_comma_is_read():
    text = (
        "ring on ring, lot 7\nmethod;ring on ring\nLoading ring [mm];18,0\n"
        "Support ring in mm;45,0\nNr.;Peak force, N;h, mm;t [s];Plate diameter in mm;Origin\n"
        "1;1892,5;2,99;31;55;face\n"
    )
    series = parse_records(text)
    assert ("Loading ring [mm]", "load_diameter") in series.read_as
    turned = text.replace("Support ring in mm;45,0", "Support ring;45,0;mm\nLoad;5 kN cell;;")
    [other] = parse_records(turned.replace("ring [mm];18,0", "ring: 18 mm")).records
    [record] = series.records
    assert other.readings == record.readings
    assert record.specimen == "1"
    assert record.readings["force"] == pytest.approx(1892.5)
    assert record.readings["thickness"] == pytest.approx(2.99e-3)
    assert record.readings["plate_diameter"] == pytest.approx(55e-3)
    assert series.notes == ("t [s]",)


def test_a_stated_method_counts_above_the_words_of_a_rig():
    head = (
        "Specimen ID;Test method;Fracture origin;Max. load (N);Support span (mm);"
        "Load span (mm);Width (mm);Thickness 1 (mm);Thickness 2 (mm)\n"
    )
    lines = "P1;4-point bending;outside rollers;355,0;100;50;25;3,9;4,1\n"
    asked = parse_records(head + lines).troubles[0].words
    assert "was four_point_bar or four_point_rod or four_point_pane meant?" in asked
    assert asked.endswith("for all lines at once, write above them: # method: four_point_bar")
    series = parse_records(f"# method: four_point_bar\n{head}{lines}")
    [record] = series.records
    assert (record.method, record.origin) == ("four_point_bar", "outside the loads")
    assert record.readings["outer_span"] == pytest.approx(0.1)
    assert record.readings["inner_span"] == pytest.approx(0.05)
    assert record.readings["thickness"] == pytest.approx(4e-3)
    assert record.notes["Test method"] == "4-point bending"
    three = "specimen,method,load [N],support span [mm],width [mm],thickness [mm]\n"
    [bar] = parse_records(f"{three}A,three_point_bar,100,80,20,4").records
    assert bar.readings["span"] == pytest.approx(0.08)
    assert (
        parse_records(f"{three}Mean,,,,,").troubles[0].words.startswith("method must be given")
    )


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
