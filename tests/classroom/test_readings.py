# SPDX-License-Identifier: MIT
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from glasskit.classroom import load_sheet, read_sheet
from glasskit.rows import decode

HEADER = "mass / g; span / mm; diameter / mm"


def rows(*lines, header=HEADER):
    return read_sheet("\n".join([header, *lines])).rows


def peers(*lines):
    """Return the rows among ten good ones."""
    return rows(*["60; 100; 1.8"] * 10, *lines)[10:]


@pytest.mark.parametrize(
    "text",
    [
        "mass / g; span / mm; diameter / mm\n58.5; 100; 1.8",
        "mass / g; span / mm; diameter / mm\n58,5; 100; 1,8",
        "mass (g)\tspan (mm)\tdiameter (mm)\r\n58,5\t100\t1,8\r\n",
        "Mass_g,Span_mm,Diameter_mm\n58.5,100,1.8",
        'mass [g],span [mm],diameter [mm]\n"58,5",100,"1,8"',
        "load in kg; span in m; dia in cm\n0.0585; .1; 0.18",
        "\ufeffsep=;\nname;diameter mm;SPAN MM;weight G\nAda;1.8 mm;100;58.5 g",
        "# a remark\n\nmass / g   span / mm   diameter / mm\n58.5   100   1.8",
    ],
)
def test_one_rod_however_it_is_written(text):
    (row,) = read_sheet(text).with_status("used")
    # Under standard gravity, exact since 1901.
    expected = {"load": 0.0585 * 9.80665, "span": 0.1, "diameter": 1.8e-3}
    assert dict(row.values) == pytest.approx(expected, rel=1e-12)


def test_bars_and_forces_and_inches(outside):
    (row,) = rows("2; 4; 1; 0.25", header="force lbf; span in; width in; thickness in")
    source = "international pound and inch, standard gravity"
    for name, expected in (("load", 8.8964432), ("span", 0.1016), ("height", 6.35e-3)):
        outside(
            f"{name} of a bar in US units",
            row.values[name],
            expected,
            rel=1e-8,
            source=source,
            status="exact",
        )


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("6o.5; 100; 1.8", "load: “6o.5” is not a number; is the letter o meant as a zero?"),
        ("l8; 100; 1.8", "is the letter l meant as a one?"),
        ("1.058,5; 100; 1.8", "it has both a point and a comma."),
        ("58.0.5; 100; 1.8", "“58.0.5” is not a number."),
        ("broke; 100; 1.8", "“broke” is not a number."),
        ("-58; 100; 1.8", "“-58” is not above zero."),
        ("0; 100; 1.8", "“0” is not above zero."),
        ("1e999; 100; 1.8", "is not above zero."),
        ("58; 100", "diameter: nothing is written here."),
        ("58; ; 1.8", "span: nothing is written here."),
        ("58; 100; 1.8; 4", "more entries than the 3 columns of the first row."),
    ],
)
def test_an_unreadable_row_is_kept_with_a_sentence(line, said):
    (row,) = rows(line)
    assert row.status == "unreadable"
    assert row.text == line
    assert said in row.note


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("60; 0.1; 1.8", "span: 0.100 mm is 1000 times less than the middle of the class; "),
        ("60; 0.1; 1.8", "was it measured in m?"),
        ("0.06; 100; 1.8", "was it measured in kg?"),
        ("0.588; 100; 1.8", "was it measured in N?"),
        ("60; 100; 0.18", "was it measured in cm?"),
        ("60; 100; 18", "10 times more than the middle of the class; is a digit or the"),
        ("0.06 kg; 100; 1.8", "load: “0.06 kg” is not in g, the column's unit."),
    ],
)
def test_a_slip_is_set_aside_and_not_changed(line, said):
    (row,) = peers(line)
    assert row.status == "doubtful"
    assert said in row.note
    assert row.text == line
    # As typed: 60 g times standard gravity, unless the row says otherwise.
    typed = float(line.split(";")[0].split()[0]) * (1000 if "kg" in line else 1)
    assert row.values["load"] == pytest.approx(typed * 9.80665e-3, rel=1e-12)


def test_a_number_with_an_exclamation_mark_is_taken_at_its_word():
    for line in ("60; 100; 5.2!", "400 !; 100; 1.8", "0.06 kg!; 100; 1.8"):
        (row,) = peers(line)
        assert (row.status, row.note) == ("used", "")
    assert peers("60!; 100; 5.2")[0].status == "doubtful"  # another number was vouched for


def test_a_column_wrong_all_through_is_doubted_where_nothing_could_be_bent():
    for row in rows(*["60; 0.1; 1.8"] * 8):
        assert row.note == "span: 0.100 mm is hardly possible; was it measured in m?"


def test_a_decimal_comma_between_commas_is_refused_not_guessed():
    (row,) = rows("58,5,100,1,8", header="mass / g,span / mm,diameter / mm")
    assert row.status == "unreadable"
    assert "part the entries by semicolons" in row.note


@pytest.mark.parametrize(
    ("header", "message"),
    [
        ("", "^the first row must name the columns, such as mass / g"),
        ("58; 100; 1.8", "there is none for diameter and load and span$"),
        ("mass / g; diameter / mm", "there is none for span$"),
        ("mass / g; span / mm; width / mm", "there is none for height$"),
        ("mass; span / mm; diameter / mm", "“mass” must end in a unit: one of g, kg, oz"),
        ("mass / g; span / km; diameter / mm", "“span / km” must end in a unit: one of mm"),
        ("mass / g; load / N; span / mm", "^two columns give the load: “mass / g” and “load"),
    ],
)
def test_a_first_row_that_names_too_little_is_refused(header, message):
    with pytest.raises(ValueError, match=message):
        read_sheet(f"{header}\n60; 100; 1.8" if header else "\n \n")


@settings(max_examples=60)
@given(st.lists(st.text(st.characters(blacklist_categories=["Cs"]), max_size=30), max_size=8))
def test_whatever_is_pasted_no_line_is_lost(lines):
    text = "\n".join([HEADER, *lines])
    sheet = read_sheet(text)
    plain = text.replace("\r\n", "\n").replace("\r", "\n").removesuffix("\n")
    assert [row.text for row in sheet.rows] == plain.split("\n")[1:]
    for row in sheet.rows:
        assert bool(row.note) == (row.status in ("doubtful", "unreadable"))
        if row.status == "used":
            assert row.values.keys() == {"load", "span", "diameter"}


@settings(max_examples=40)
@given(
    mass=st.floats(1, 9e4),
    mark=st.sampled_from("\t;"),
    comma=st.booleans(),
    unit=st.booleans(),
)
def test_a_number_comes_back_as_typed(mass, mark, comma, unit):
    typed = f"{mass:.3f}".replace(".", "," if comma else ".") + (" g" if unit else "")
    header, line = HEADER.replace(";", mark), mark.join([typed, "100", "2"])
    (row,) = rows(line, header=header)
    assert row.status == "used"
    assert np.isclose(row.values["load"], round(mass, 3) * 9.80665e-3, rtol=1e-12)


@pytest.mark.parametrize("coding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_files_of_every_common_coding(coding, tmp_path):
    text = "Schüler; mass / g; span / mm; diameter / mm\nZoë; 60; 100; 1.8"
    assert decode(text.encode(coding)).removeprefix("\ufeff") == text
    path = tmp_path / "class.csv"
    path.write_bytes(text.encode(coding))
    assert load_sheet(path).rows[0].text.startswith("Zoë")
