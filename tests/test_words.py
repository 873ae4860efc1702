# SPDX-License-Identifier: MIT
"""Plain words: one word for one thing, short sentences, one sign for percent, five marks."""

import csv
import json
import re
from html import unescape
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from glasskit import sheets
from glasskit.classroom import AGES, Lesson, questions
from glasskit.quantities import from_display, show
from glasskit.tables import STATUSES, read
from glasskit.words.glossary import hover, in_course_words, terms, terms_in
from glasskit.words.tables import JUDGED, SURE, sure

ROOT = Path(__file__).resolve().parents[1]
NOTEBOOKS = sorted((ROOT / "notebooks").glob("*.ipynb"))
TEXTS = (  # tables that a reader sees as text
    *(
        "briefing",
        "competences",
        "curriculum",
        "demos",
        "glossary",
        "handson",
        "hazards",
        "ideas",
    ),
    *("lab_hazards", "lesson_cautions", "lesson_hazards", "lesson_materials"),
    *("lesson_notes", "lesson_phases", "lesson_topics"),
    *("numberquestions", "predictions", "protection", "questionbank"),
    *("audience_questions", "audit_file", "audit_report", "incidents", "week"),
    *("sheet_rules", "standing"),
)
MOST_WORDS = 25


def cells(path, kind="markdown"):
    for cell in json.loads(path.read_text(encoding="utf-8"))["cells"]:
        if cell["cell_type"] == kind:
            yield "".join(cell["source"])


def prose(path):
    """Return the words of a page without captions, links and the line of words."""
    text = "\n\n".join(cells(path))
    text = re.sub(r"(?s)!\[.*?\]\(.*?\)|\[[^\]]*\]\([^)]*\)", "", text)
    return re.sub(r"\*\*Words\.\*\*[^\n]*", "", text)


def table_texts():
    for name in TEXTS:
        for row in read(name):
            for column, text in row.items():
                if column not in ("source", "where"):
                    yield f"{name}.csv", text


def sentences(text):
    """Yield the sentences of a text; lists of pages, sources and tables are none."""
    text = re.sub(r"(?s)!\[.*?\]\(.*?\)", "", text)
    text = re.sub(r"\[([^\]]*)\]\([^)]*\)", r"\1", re.sub(r"<[^>]*>", " ", text))
    for part in re.split(r"\n\s*\n|\n(?=[-|>#]|\d\. )", text):
        if part.strip().startswith("|") or re.search(
            r"\*\*(?:Sources|Words|Where each)", part
        ):
            continue
        ends = r"(?<=[.!?])[\"”*)]*\s+|: |; "
        yield from (piece.strip() for piece in re.split(ends, part.replace("\n", " ")))


# --- the glossary ---------------------------------------------------------------------------


def test_each_thing_has_one_lay_word_and_one_of_the_trade():
    assert 25 <= len(terms()) <= 35
    for names in ([term.lay for term in terms()], [term.trade for term in terms()]):
        assert len(set(names)) == len(names)
    for term in terms():
        assert 3 <= len(term.line.split()) <= 16, term
        assert term.ages == tuple(age for age in AGES if age in term.ages)


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_a_page_gives_both_words_together_once(path):
    if path.stem[:2] in ("00", "39", "40", "41", "42"):
        return  # the list of pages; pages of the trade speak the trade
    line = re.findall(r"\*\*Words\.\*\*([^\n]*)", "\n\n".join(cells(path)))
    wanted = [term.both for term in terms_in(prose(path))]
    assert len(line) == bool(wanted)
    if wanted:
        assert line[0].strip(" .").split(", ") == wanted


TRADE = re.compile(
    r"\b(DOL|lehr|cullet|arris|spall\w*|fictive|frangib\w*|dicing|callet|selvage|swarf|"
    r"devitrif\w*|annealer|batzing|frit)\b"
)


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_no_page_uses_a_word_of_the_trade_that_is_not_explained(path):
    known = {term.trade for term in terms()} | {term.lay for term in terms()}
    assert {word for word in TRADE.findall(prose(path)) if word not in known} == set()


def test_hovering_tells_the_meaning_once_and_changes_no_word():
    text = "A squeezed skin & a <core>: the skin holds."
    made = hover(text)
    assert unescape(re.sub(r"<[^>]*>", "", made)) == text
    assert made.count("<abbr") == 3
    assert made.count('title="compressed layer') == 1


@given(st.text(max_size=60))
def test_hovering_keeps_any_text_and_lets_no_markup_through(text):
    made = hover(text)
    assert unescape(re.sub(r"</?abbr[^>]*>", "", made)) == text
    assert "<script" not in made


def test_the_printed_page_holds_every_word():
    html = sheets.glossary_page()
    for term in terms():
        assert f"<b>{term.lay}</b>" in html


# --- words of the course --------------------------------------------------------------------


def test_from_14_on_questions_use_the_words_that_are_examined():
    for asked in questions.bank().questions:
        for text in (asked.text, *(option.text for option in asked.options)):
            made = in_course_words(text)
            assert not re.search(r"\bpull(?:ed)?\b|squeez", made), made
            assert re.findall(r"\d[\d.]*", made) == re.findall(r"\d[\d.]*", text)


@pytest.mark.parametrize(
    ("lay", "course"),
    [
        (
            "The face is squeezed by a stress of 500 MPa",
            "under a compressive stress of 500 MPa",
        ),
        ("bending pulls it by a stress of 600 MPa", "adds a tensile stress of 600 MPa"),
        ("a pull of 100 MPa", "a tensile stress of 100 MPa"),
        ("lies in the pulled core", "lies in the core in tension"),
        ("at a far smaller pull", "at a far smaller tension"),
    ],
)
def test_phrases_become_those_of_the_course(lay, course):
    assert course in in_course_words(lay)


def test_cautions_read_the_same_at_every_age():
    for make in (sheets.worksheets_for_all, sheets.worksheets):
        for topic in ("breaks", "shut", "energy"):
            young, old = (
                re.findall(
                    r'class="caution[^>]*>(.*?)</p>', make(Lesson(topic=topic, age=age)), re.S
                )
                for age in ("11-14", "14-16")
            )
            assert young == old


def test_sheets_follow_the_age():
    young, old = (
        sheets.worksheets(Lesson(topic="shut", age=age, pupils=1))
        for age in ("11-14", "14-16")
    )
    assert "Squeeze and pull must balance" in young
    assert "Compression and tension must balance" in old
    assert "compressive stress of" in old
    assert "compressive" not in young
    tickets = sheets.exit_tickets(Lesson(topic="shut", age="14-16", minutes=90))
    assert "a tensile stress of 100 MPa" in tickets
    assert "a pull of" not in tickets


# --- stress, percent, certainty -------------------------------------------------------------


def test_megapascals_are_never_a_pull_without_the_word_stress():
    groups = [
        f"{asked.text} {' '.join(option.text for option in asked.options)}"
        for asked in questions.bank().questions
    ]
    groups += [row["question"] for row in read("numberquestions")]
    groups += [row["number"] for row in sheets.cards.questions()]
    for path in NOTEBOOKS:
        for caption in re.findall(r"(?s)!\[(.*?)\]\(", " ".join(cells(path))):
            groups += list(sentences(caption))
    for text in groups:
        if re.search(r"\bpull", text) and re.search(r"\bMPa\b(?!√)|megapascal", text):
            assert re.search(r"stress|tension|squeeze", text), text


PERCENT = re.compile(r"\d [%]|\d percent\b|per cent\b")


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_percent_is_written_one_way_on_pages(path):
    for text in (*cells(path), *cells(path, "code")):
        assert not PERCENT.search(text), PERCENT.search(text)


def test_percent_is_written_one_way_in_tables_and_on_sheets():
    for place, text in table_texts():
        assert not PERCENT.search(text), (place, text)
    for path in (ROOT / "glasskit" / "sheets" / "templates").glob("*.html"):
        assert not PERCENT.search(path.read_text(encoding="utf-8")), path.name
    assert show(0.93, "percent", digits=2) == "93%"


def test_every_mark_of_certainty_stands_in_the_legend_of_the_first_page():
    first = " ".join(cells(NOTEBOOKS[0]))
    legend = re.findall(r"\| \*\*([a-z ]+)\*\* \| ", first)
    assert set(legend[-5:]) == {*SURE.values(), JUDGED}
    assert set(SURE) == set(STATUSES)
    assert sure("no source", "common practice") == JUDGED


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_pages_use_no_other_mark(path):
    text = " ".join(cells(path))
    assert not re.search(r"trade knowledge|seen in a public source|\(seen\)|\(found\)", text)
    for line in text.splitlines():
        last = line.strip().strip("|").split("|")[-1] if line.startswith("|") else ""
        assert not re.search(r"\bfound\b|(?<!from )\bmemory\b", last), line


# --- sentences ------------------------------------------------------------------------------


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_sentences_of_pages_are_short(path):
    long = [said for text in cells(path) for said in sentences(text) if len(said.split()) > 25]
    captions = re.compile(r"(?s)!\[.*?\]\(.*?\)")
    assert not captions.search(" ".join(long))
    assert long == []


def test_sentences_of_tables_are_short():
    for place, text in table_texts():
        for said in sentences(text):
            assert len(said.split()) <= MOST_WORDS, (place, said)


def test_the_counter_of_words_finds_a_long_one():
    assert max(len(said.split()) for said in sentences("word " * 30 + ". Short one.")) == 31
    assert [len(said.split()) for said in sentences("One two. Three four five: six.")] == [
        *(2, 3, 1),
    ]


# --- US numbers -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("value", "kind", "said"),
    [
        (0.3, "height", "12 in"),
        (2.4, "height", "7.9 ft"),
        (0.227, "small_mass", "8 oz"),
        (0.2, "mass", "7.1 oz"),
        (20e-6, "depth", "0.79 mil"),
        (5e6, "stress", "730 psi"),
        (100e6, "stress", "14.5 ksi"),
        (0.3175, "height", "12.5 in"),
    ],
)
def test_us_numbers_are_round(value, kind, said):
    assert show(value, kind, "us") == said


@given(st.floats(1e-3, 1e3), st.sampled_from(["height", "mass", "depth", "stress"]))
def test_no_us_number_of_these_kinds_has_three_digits_where_two_say_it(number, kind):
    said = show(from_display(number, kind, "us"), kind, "us").split()[0]
    digits = re.sub(r"[.\-−]", "", said).lstrip("0")
    shown = float(said.split(" ×")[0].replace("−", "-"))
    off = abs(float(f"{shown:.1e}") - shown) / shown
    assert len(digits) <= 2 or off > 0.015 or shown >= 100 or "×" in said


def test_tables_are_read_whole():
    for name in TEXTS:
        path = ROOT / "glasskit" / "data" / f"{name}.csv"
        rows = list(csv.reader(path.read_text(encoding="utf-8").splitlines()))
        assert {len(row) for row in rows} == {len(rows[0])}, name
