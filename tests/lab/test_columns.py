# SPDX-License-Identifier: MIT
from datetime import date

import numpy as np
import pytest

from glasskit.lab import parse_columns
from glasskit.measured import Reading, keep_reading

SQUEEZE = "squeeze at the faces, by colours"


@pytest.mark.parametrize(
    "text",
    [
        "Zeit [s];Kraft [kN];Weg [mm]\n0;0,0;0\n0,5;0,1;0,02",
        "Time (s),Standard force (N),Extension (mm)\n0,0,0\n0.5,100,0.02",
        "t\tload\tx\ns\tN\tmm\n0\t0\t0\n0.5\t100\t0.02",
        "# rig 2\n t / s ; F / N\n0; 0\n500e-3; 1e2",
    ],
)
def test_what_rigs_write_comes_to_the_same(text):
    found = parse_columns(text, ("time", "force"))
    assert np.array_equal(found.values["time"], [0.0, 0.5])
    assert found.values["force"] == pytest.approx([0.0, 100.0])
    assert found.troubles == ()


def test_lines_that_cannot_be_read_are_set_aside_with_their_text():
    found = parse_columns("t [s];F [N]\n0;1\n1;--\n2\n3;4", ("time", "force"))
    assert found.lines == (2, 5)
    assert [str(one) for one in found.troubles] == [
        "line 3: F must be a number; got '--'",
        "line 4: line must have 2 cells; got 1",
    ]
    assert found.labels == ("2", "5")


def test_a_line_is_called_by_its_first_cell():
    found = parse_columns("Monat;Mittel [N/mm²];Prüfer\nMai;61,5;Ünal\n", ("stress",))
    assert found.values["stress"] == pytest.approx([61.5e6])
    assert found.labels == ("Mai",)
    assert found.notes == ("Prüfer",)
    assert found.file == ""
    assert len(found.checksum) == 64


def test_the_titles_of_a_rig_stand_above_names_and_units():
    text = "Test;bar 15;;\nStart;10:12;;\nZeit;Kraft;Weg;T\ns;N;mm;°C\n0,1;12,5;0,01;21\n"
    found = parse_columns(text, ("time", "force"))
    assert found.values["force"] == pytest.approx([12.5])
    assert [line.number for line in found.remarks] == [1, 2]
    assert found.lines == (5,)
    assert found.notes == ("Weg", "T")


def test_refusals():
    with pytest.raises(
        ValueError, match="header must have a column of force with a unit among N"
    ):
        parse_columns("t [s]; F\n0; 1", ("time", "force"))
    with pytest.raises(ValueError, match="one column of force; got F1, F2: leave one"):
        parse_columns("t [s]; F1 [N]; F2 [kN]\n0; 1; 2", ("time", "force"))
    with pytest.raises(ValueError, match="kind must be one of"):
        parse_columns("t [s]\n0", ("colour",))


def kept(path, what=SQUEEZE, kind="stress", value=74.3e6, file="pane.jpg"):
    ends = {"low": 0.9 * value, "high": 1.1 * value}
    reading = Reading(what=what, kind=kind, value=value, file=file, remark="1, 2", **ends)
    return keep_reading(path, reading, date(2030, 5, 31))


def test_kept_readings_of_one_thing_are_read_and_all_others_set_aside(tmp_path):
    path = tmp_path / "readings.csv"
    kept(path, what="height of the fall", kind="height", value=0.8)
    kept(path, what="stiffness of a bar by its pitch", kind="stiffness", value=71e9)
    kept(path, file="")
    kept(path)
    kept(path, what="squeeze that the count suggests", value=105e6)
    kept(path, value=76e6, file="other pane.jpg")
    kept(path, value=75e6)
    found = parse_columns(path.read_text(), ("stress",))
    assert found.values["stress"] == pytest.approx([74.3e6, 76e6])
    assert found.lines == (5, 7)
    assert [str(one) for one in found.troubles] == [
        "line 2: unit must be MPa; got 'm'",
        "line 3: unit must be MPa; got 'GPa'",
        "line 4: file must be named; this is of the invented example",
        f"line 6: what must be {SQUEEZE!r} here; got 'squeeze that the count suggests'",
        "line 8: file must stand once; 'pane.jpg' is on line 5 too",
    ]
    assert parse_columns(path.read_text(), ("stiffness",)).values[
        "stiffness"
    ] == pytest.approx([71e9])
    counted = parse_columns(path.read_text(), ("stress",), "squeeze that the count suggests")
    assert counted.values["stress"] == pytest.approx([105e6])


def test_a_table_of_kept_readings_may_have_been_through_a_spreadsheet(tmp_path):
    path = kept(tmp_path / "readings.csv")
    told = path.read_text().replace('"1, 2"', "1 to 2").replace(",", ";").replace(".3", ",3")
    found = parse_columns(told.replace("faces;", "faces,"), ("stress",))
    assert found.values["stress"] == pytest.approx([74.3e6])
    assert found.troubles == ()


def test_kept_readings_without_any_that_fits_are_all_set_aside(tmp_path):
    path = kept(tmp_path / "readings.csv", kind="height", value=0.8)
    path.write_text(path.read_text() + "2030-06-01,half a line\n")
    found = parse_columns(path.read_text(), ("stress",))
    assert found.values["stress"].size == 0
    assert [one.line for one in found.troubles] == [2, 3]
