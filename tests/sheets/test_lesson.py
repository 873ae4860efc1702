# SPDX-License-Identifier: MIT
import datetime
import math
import re
from itertools import pairwise

import numpy as np
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from test_sheets import EVIL, NETWORK

from glasskit import sheets
from glasskit.classroom import balance_task, drop_task, stick_task
from glasskit.draw import papers
from glasskit.draw.picture import layout_faults
from glasskit.sheets import lesson
from glasskit.sheets.lesson import AGES, MINUTES
from glasskit.tables import STATUSES, read

DAY = datetime.date(2030, 1, 2)
GRAVITY = 9.80665


def rows_of(html, columns):
    """Return the cells of all table rows with so many columns, tags taken off."""
    rows = re.findall(r"<tr>(.*?)</tr>", html, re.S)
    cells = [re.findall(r"<td[^>]*>(.*?)</td>", row, re.S) for row in rows]
    plain = [[re.sub(r"<[^>]*>", "", cell).strip() for cell in row] for row in cells]
    return [row for row in plain if len(row) == columns]


# --- exercises, worked again by hand --------------------------------------------------------


@pytest.mark.parametrize("pupil", range(1, 29))
def test_answers_follow_from_the_numbers_on_the_sheet(pupil):
    sticks, plate, drop = (make(1, pupil) for make in (stick_task, balance_task, drop_task))
    # Source: rod under three points, s = 8 F L/(pi d^3), textbook; worked here again.
    newton = sorted(sticks.masses)[0] * GRAVITY
    again = 8 * newton * 0.1 / (math.pi * 1.8e-3**3)
    assert sticks.strengths[0] == pytest.approx(again, rel=1e-12)
    # Source: median ranks after Benard, (i - 0.3)/(n + 0.4), and a straight line by numpy.
    shares = (np.arange(1, 9) - 0.3) / 8.4
    assert sticks.shares == pytest.approx(shares, rel=1e-12)
    slope, level = np.polyfit(np.log(sticks.strengths), np.log(-np.log(1 - shares)), 1)
    assert sticks.line == pytest.approx((slope, math.exp(-level / slope)), rel=1e-9)
    # Source: force balance by summing strips of a nanometre.
    depth = (np.arange(round(plate.thickness * 1e9)) + 0.5) * 1e-9
    inside = np.minimum(depth, plate.thickness - depth) > plate.skin
    stress = np.where(inside, plate.core, -plate.squeeze)
    assert abs(stress.sum() * 1e-9) < 1e-6 * plate.area
    assert plate.net == plate.bend - plate.squeeze
    assert plate.core > 0
    # Source: m g h, sqrt(2 g h), energy over stopping distance, with g as printed.
    assert drop.energy == pytest.approx(drop.mass * 9.8 * drop.height, rel=1e-12)
    assert drop.speed == pytest.approx(math.sqrt(2 * 9.8 * drop.height), rel=1e-12)
    assert drop.force(1e-3) == pytest.approx(drop.energy * 1000, rel=1e-12)
    assert drop.times == pytest.approx(round(drop.times), abs=1e-9)
    # The weight left out is what the key says it is.
    assert drop.mass * 9.8 / drop.force(10e-3) < 1 / 50


def test_numbers_differ_by_pupil_and_by_seed_and_stay_for_the_same():
    for make in (stick_task, balance_task, drop_task):
        made = [repr(make(1, pupil)) for pupil in range(28)]
        assert len(set(made)) > 14
        assert repr(make(1, 3)) == made[3]
        assert repr(make(2, 3)) != made[3] or repr(make(2, 4)) != made[4]
    with pytest.raises(
        ValueError, match=r"^seed must be a whole number, 0 <= seed <= 4294967295; got -1"
    ):
        stick_task(-1, 1)
    with pytest.raises(ValueError, match=r"^pupil must be a whole number, 0 <= .* got -1"):
        drop_task(1, -1)


def test_a_stick_of_the_usual_strength_breaks_at_a_load_to_hang(outside):
    outside(
        "load that breaks a 1.8 mm rod of 30 MPa on 100 mm [g]",
        30e6 / stick_task(1, 1).stress_of_a_gram,
        1e3 * 30e6 * math.pi * 1.8e-3**3 / (8 * 0.1 * GRAVITY),
        source="s = 8 F L/(pi d^3): 70 g",
        status="hand calculation",
        rel=1e-9,
    )


# --- the key against the sheets -------------------------------------------------------------


def test_the_key_answers_what_the_sheets_ask():
    sheet = sheets.worksheets("14-16", 28, seed=4, on=DAY)
    key = sheets.answer_key("14-16", 28, seed=4, on=DAY)
    sticks, numbers = rows_of(key, 8), rows_of(key, 11)
    given = re.findall(r'class="readings">([\d· ]+)\(', sheet)
    plates = re.findall(
        r"plate ([\d.]+) mm thick is under a compressive stress of (\d+) MPa in a skin "
        r"([\d.]+) mm",
        sheet,
    )
    bends = re.findall(r"adds a tensile stress of (\d+) MPa at the face", sheet)
    drops = re.findall(r"telephone of ([\d.]+) kg falls from ([\d.]+) m", sheet)
    lows = re.findall(r"From ([\d.]+) m instead", sheet)
    assert len(sticks) == len(numbers) == len(given) == len(plates) == len(drops) == 28
    for place in range(28):
        grams = sorted(float(part) for part in given[place].split("·"))
        row = sticks[place]
        assert [float(part) for part in row[2].split(",")] == grams
        assert float(row[3]) == grams[-1] - grams[0]
        assert float(row[4]) == pytest.approx(sum(grams) / 8, abs=0.06)
        thick, squeeze, skin = map(float, plates[place])
        mass, height = map(float, drops[place])
        _, _, area, core_thick, core, net, energy, speed, hard, soft, fewer = numbers[place]
        assert float(area) == pytest.approx(squeeze * 2 * skin, abs=0.06)
        assert float(core_thick) == pytest.approx(thick - 2 * skin, abs=0.006)
        assert float(core) == pytest.approx(squeeze * 2 * skin / (thick - 2 * skin), abs=0.6)
        assert float(net.replace("−", "-")) == float(bends[place]) - squeeze
        for shown, exact in (  # two digits each
            (energy, mass * 9.8 * height),
            (speed, math.sqrt(2 * 9.8 * height)),
            (hard, mass * 9.8 * height / 0.001),
            (soft, mass * 9.8 * height / 0.01),
        ):
            assert float(shown) == float(f"{exact:.1e}")
        assert int(fewer.removeprefix("1/")) == round(height / float(lows[place]))


@pytest.mark.parametrize("age", AGES)
def test_tickets_and_their_key_agree(age):
    tickets = sheets.exit_tickets(age, 28, seed=2, on=DAY)
    key = rows_of(sheets.answer_key(age, 28, seed=2, on=DAY), 4)[-28:]
    cards = re.findall(r"<article.*?</article>", tickets, re.S)
    assert len(cards) == 28
    assert len({re.sub(r"number \d+", "", card) for card in cards}) > 14
    for card, row in zip(cards, key, strict=True):
        lists = re.findall(r"<ol.*?</ol>", card, re.S)
        texts = re.findall(r"<p><b>(.*?)</b></p>", card)
        for answer, listed, text in zip(row[2:], lists, texts, strict=True):
            letter, said = answer.split(" ", 1)
            options = re.findall(r"</span>(.*?)</li>", listed)
            assert options["ABCDEF".index(letter)] == said
            asked = next(
                lesson._asked(name, age)
                for name in lesson._TICKETS[age]
                if lesson._asked(name, age).text.replace("’", "") == text.replace("’", "")
            )
            assert said.replace("&#39;", "'") == asked.options[asked.correct].text


def test_worksheets_tell_no_answers():
    sheet = sheets.worksheets("14-16", 3, on=DAY) + sheets.exit_tickets("14-16", 3, on=DAY)
    assert "Many people think" not in sheet
    assert "Slope of the line, the Weibull modulus" in sheet
    assert 'class="grid key' not in sheet


# --- plan and tables ------------------------------------------------------------------------


@pytest.mark.parametrize("age", AGES)
@pytest.mark.parametrize("minutes", MINUTES)
def test_the_phases_fill_the_lesson(age, minutes):
    html = sheets.lesson_plan(age, minutes, 28, on=DAY)
    spans = [tuple(map(int, row[0].split("–"))) for row in rows_of(html, 5)]
    assert spans[0][0] == 0
    assert spans[-1][1] == minutes
    for (_, end), (start, after) in pairwise(spans):
        assert start == end < after
    assert [row[1] for row in rows_of(html, 5)][-1] == "Exit ticket"
    assert html.count("<li>") >= 20


def test_materials_are_counted_for_the_class():
    html = sheets.lesson_plan(pupils=28, on=DAY)
    # Source: hand calculation, 28 pupils in threes are 10 groups, 12 sticks each.
    assert "120 × brittle sticks" in html
    assert "28 × safety goggles" in html
    assert "10 groups" in html


def test_tables_of_the_lesson_are_whole():
    for row in read("lesson_hazards"):
        assert all(row.values()), row
        assert row["status"] in STATUSES
    for row in read("lesson_phases") + read("lesson_notes"):
        assert row["age"] in ("", *AGES)
    assert {row["per"] for row in read("lesson_materials")} <= {"pupil", "group", "class"}


def every_page(age="14-16"):
    yield sheets.lesson_plan(age, 60, ["a", EVIL], on=DAY)
    yield sheets.lesson_hazards(on=DAY)
    yield sheets.worksheets_for_all(age, on=DAY)
    yield sheets.worksheets(age, ["a", EVIL], on=DAY)
    yield sheets.answer_key(age, ["a", EVIL], on=DAY)
    yield sheets.exit_tickets(age, ["a", EVIL], on=DAY)


@pytest.mark.parametrize("age", AGES)
def test_pages_escape_names_need_no_network_and_warn(age):
    for html in every_page(age):
        assert "<script" not in html
        assert NETWORK.search(html) is None
        assert "it does not certify" in html
        assert 'class="caution' in html or "Exit tickets" in html
    assert "&lt;script&gt;" in sheets.worksheets(age, [EVIL], on=DAY)
    warned = sheets.worksheets(age, 1, on=DAY)
    assert "Goggles on" in warned
    assert "Allergic" in warned
    assert "Books fall" in sheets.lesson_plan(age, on=DAY)


@pytest.mark.slow
def test_one_call_writes_the_whole_pack(tmp_path, monkeypatch):
    folder = tmp_path / "pack"
    # The films themselves are played in tests/browser/test_printing.py.
    monkeypatch.setattr("glasskit.sheets.pupils._films", lambda: (("a", "<p>"), ("b", "<p>")))
    paths = sheets.lesson_pack(folder, minutes=50, age="11-14", pupils=3, seed=1, on=DAY)
    assert sorted(folder.iterdir()) == sorted(paths)
    assert [path.suffix for path in paths] == [".html"] * 8 + [".pdf"] * 2
    page = (folder / "7_page_for_pupils.html").read_text(encoding="utf-8")
    assert NETWORK.search(page) is None
    assert page.count("<details>") == 12
    assert page.count("<iframe") == 2
    # What answers a question stands after the last of them.
    assert page.index("<img") > page.rindex("</details>")
    assert page.count("That is what happens.") == 3
    assert all("<img" not in part or 'alt="' in part for part in page.split("<p>"))
    before = (folder / "4_worksheets_by_number.html").read_bytes()
    sheets.save(sheets.worksheets("11-14", 3, 1, DAY), folder / "again.html")
    assert (folder / "again.html").read_bytes() == before


@pytest.mark.parametrize(
    ("wrong", "match"),
    [
        ({"age": "5-7"}, r"^age must be one of 8-11, 11-14, 14-16; got '5-7'"),
        ({"minutes": 30}, r"^minutes must be one of 45, 50, 60; got 30"),
        ({"pupils": 0}, r"^pupils must lie in 1 <= pupils <= 200; got 0"),
        ({"pupils": []}, r"^pupils must lie in 1 <= pupils <= 200; got 0"),
        ({"mass": 9.0}, r"^mass must lie in 0.01 <= mass <= 5; got 9 kg"),
        ({"seed": -1}, r"^seed must be a whole number, 0 <= seed .* got -1"),
    ],
)
def test_a_wrong_wish_is_refused_and_nothing_written(tmp_path, wrong, match):
    with pytest.raises(ValueError, match=match):
        sheets.lesson_pack(tmp_path / "pack", **wrong)
    assert not (tmp_path / "pack").exists()


@pytest.mark.parametrize(
    "paper", [papers.weibull_paper, papers.dot_paper, papers.balance_paper]
)
def test_graph_papers_stand_clear_and_are_black_and_white(paper):
    figure = paper()
    canvas = FigureCanvasAgg(figure)
    canvas.draw()
    assert layout_faults(figure) == []
    colours = np.asarray(canvas.buffer_rgba())[..., :3]
    assert (colours.max(-1) == colours.min(-1)).all()


def test_the_paper_ends_where_its_shares_do(outside):
    ax = papers.weibull_paper().axes[0]
    high = ax.get_ylim()[1]
    outside(
        "height of 98 % on Weibull paper",
        high,
        math.log(-math.log(0.02)),
        source="ln ln(1/(1 - share))",
        status="exact",
        abs_=1e-9,
    )
