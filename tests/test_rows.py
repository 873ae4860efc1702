# SPDX-License-Identifier: MIT
import csv
import io
from datetime import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from glasskit import rows


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_any_encoding_of_a_spreadsheet_is_read(encoding, tmp_path):
    place = tmp_path / "dents.csv"
    place.write_bytes("diagonal [µm]; müde".encode(encoding))
    assert rows.load(place) == "diagonal [µm]; müde"


@pytest.mark.parametrize(
    ("content", "said"),
    [
        ("kurz".encode("utf-16")[:-1], r"^the file must be whole; got a UTF-16 text that"),
        (b"PK\x03\x04\0\0\0", r"^the file must be a table as text, such as CSV; got other"),
        (b"1;2\n" * 2_000_000, r"^the file must be no larger than 5 MB; got 8.0 MB$"),
    ],
    ids=["cut short", "no text", "too large"],
)
def test_what_is_no_table_is_refused_in_words(content, said, tmp_path):
    with pytest.raises(ValueError, match=said):
        rows.decode(content)
    place = tmp_path / "file.csv"
    place.write_bytes(content)
    with pytest.raises(ValueError, match=said):
        rows.load(place)


@pytest.mark.parametrize("text", ["", "\n\n", " ; ;\n", "# only a remark"])
def test_a_table_without_a_first_row_is_refused(text):
    with pytest.raises(ValueError, match=r"^the first row must name the columns; got no row"):
        rows.rows(text)


def test_specimens_numbered_with_a_hash_are_rows_and_remarks_are_not():
    found = rows.rows("# Monday; dry\nname; load\n#1; 3\n# a pause\n#2; 4\n#\n")
    assert [line.text for line in found.lines] == ["#1; 3", "#2; 4"]
    assert [line.number for line in found.remarks] == [1, 4, 6]


@given(st.lists(st.text(st.characters(blacklist_characters="\r\n"), max_size=30), max_size=8))
def test_no_line_is_lost(lines):
    text = "\n".join(["name; load", *lines])
    found = rows.rows(text)
    kept = [*found.lines, *found.remarks, *found.blanks]
    assert sorted(line.number for line in kept) == list(
        range(2, len(text.removesuffix("\n").split("\n")) + 1)
    )
    assert all(line.text == text.split("\n")[line.number - 1] for line in kept)


@given(
    st.lists(st.text(st.characters(codec="utf-8", blacklist_categories=["C"])), min_size=2),
    st.sampled_from(",;\t"),
)
def test_cells_come_back_as_a_spreadsheet_wrote_them(written, mark):
    file = io.StringIO(newline="")
    csv.writer(file, delimiter=mark, lineterminator="").writerow(written)
    assert list(rows.cells(file.getvalue(), mark)) == [cell.strip() for cell in written]


@pytest.mark.parametrize(
    ("line", "said"),
    [('A1,"open', "^quotation marks must be closed"), (f"A1,{'x' * 200_000}", "^a cell must")],
)
def test_a_line_that_cannot_be_parted_is_refused(line, said):
    with pytest.raises(ValueError, match=said):
        rows.cells(line, ",")


@pytest.mark.parametrize(
    ("cell", "pair"),
    [
        ("force [N]", ("force", "N")),
        ("force (N)", ("force", "N")),
        ("force / N", ("force", "N")),
        ("toughness [MPa√m]", ("toughness", "MPa√m")),
        ("stress_optic [1/TPa]", ("stress_optic", "1/TPa")),
        ("origin", ("origin", "")),
        ("and/or", ("and/or", "")),
        ("  surface   [ μm ] ", ("surface", "µm")),
    ],
)
def test_headings_as_people_write_them(cell, pair):
    assert rows.heading(cell) == pair


@pytest.mark.parametrize("cell", ["=1+1", "@SUM(A1)", "+cmd", "-x", "\tx"])
def test_a_formula_is_written_as_text(cell):
    assert rows.safe_cell(cell) == f"'{cell}"


@pytest.mark.parametrize("cell", ["-3,5", "+2", "1e-3", "-1.5e-3", "edge", ""])
def test_numbers_and_words_are_written_as_they_are(cell):
    assert rows.safe_cell(cell) == cell


# --- workbooks ------------------------------------------------------------------------------


def workbook(*sheets):
    openpyxl = pytest.importorskip("openpyxl")
    book = openpyxl.Workbook()
    book.remove(book.active)
    for number, table in enumerate(sheets, start=1):
        sheet = book.create_sheet(f"sheet {number}")
        for row in table:
            sheet.append(row)
    kept = io.BytesIO()
    book.save(kept)
    return kept.getvalue()


def test_a_workbook_reads_like_its_text_and_other_sheets_are_named():
    table = [
        ["specimen", "force [N]", "date", "note"],
        ["B1", 262.5, datetime(2030, 5, 31), "face; up\nor down"],
        [],
        ["B2", 0.1 + 0.2, None, True],
    ]
    text = rows.decode(workbook([[]], table, [["later"]]))
    assert text.splitlines() == [
        "specimen;force [N];date;note",
        'B1;262.5;2030-05-31;"face; up or down"',
        "",
        "B2;0.3;;True",
        "# sheets that are not read: sheet 3",
    ]
    told = rows.rows(text)
    assert [line.number for line in told.lines] == [2, 4]
    assert len(told.remarks) == 1


def test_what_is_no_workbook_is_refused_in_words():
    for content in (b"PK\x03\x04", workbook([["a"]])[:900], b"PK\x03\x04" + b"\0" * 60):
        with pytest.raises(
            ValueError, match=r"such as CSV; got other bytes, no workbook either: "
        ):
            rows.decode(content)
    assert rows.decode(workbook([[]])) == ""


def test_a_small_workbook_that_unfolds_to_a_great_deal_is_refused():
    with pytest.raises(ValueError, match="must be no larger than"):
        rows.decode(workbook([["x" * 30_000] * 20 for _ in range(10)]))
