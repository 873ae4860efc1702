# SPDX-License-Identifier: MIT
import datetime
import json
import math
import re
from html import unescape
from itertools import pairwise

import numpy as np
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from test_sheets import EVIL, NETWORK

from glasskit import sheets
from glasskit.classroom import (
    AGES,
    Lesson,
    balance_task,
    drop_task,
    question,
    stick_task,
    swap_task,
    topics,
    walk_task,
    work_task,
)
from glasskit.crack import griffith_strength
from glasskit.draw import papers
from glasskit.draw.picture import layout_faults
from glasskit.sheets.lesson import numbered
from glasskit.words.glossary import spoken

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


def sheet_and_key(topic, age="16-18", seed=4):
    lesson = Lesson(topic=topic, age=age, minutes=90, seed=seed)
    return sheets.worksheets(lesson, on=DAY), sheets.answer_key(lesson, on=DAY)


def test_the_key_answers_what_the_sheets_ask():
    sheet, key = sheet_and_key("breaks")
    sticks = rows_of(key, 8)
    balance, balances = sheet_and_key("shut")
    falling, falls = sheet_and_key("energy")
    numbers = [
        [*row, *more[2:]]
        for row, more in zip(rows_of(balances, 6), rows_of(falls, 7), strict=True)
    ]
    given = re.findall(r'class="readings">([\d· ]+)\(', sheet)
    plates = re.findall(
        r"plate ([\d.]+) mm thick is under a compressive stress of (\d+) MPa in a skin "
        r"([\d.]+) mm",
        balance,
    )
    bends = re.findall(r"adds a tensile stress of (\d+) MPa at the face", balance)
    drops = re.findall(r"telephone of ([\d.]+) kg falls from ([\d.]+) m", falling)
    lows = re.findall(r"From ([\d.]+) m instead", falling)
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
    lesson = Lesson(age=age, minutes=60, seed=2)
    tickets = sheets.exit_tickets(lesson, on=DAY)
    key = rows_of(sheets.answer_key(lesson, on=DAY), 4)[-28:]
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
                one
                for one in (spoken(question(name), age) for name in lesson.taught)
                if one.text.replace("’", "") == text.replace("’", "")
            )
            assert said.replace("&#39;", "'") == asked.options[asked.correct].text


def test_worksheets_tell_no_answers():
    lesson = Lesson(age="16-18", minutes=90, pupils=3)
    sheet = sheets.worksheets(lesson, on=DAY) + sheets.exit_tickets(lesson, on=DAY)
    assert "Many people think" not in sheet
    assert "Slope of the line, the Weibull modulus" in sheet
    assert 'class="grid key' not in sheet


# --- plan and tables ------------------------------------------------------------------------


@pytest.mark.parametrize("lessons", [1, 3])
def test_the_plan_counts_its_minutes(lessons):
    lesson = Lesson(minutes=50, lessons=lessons)
    html = sheets.lesson_plan(lesson, on=DAY)
    rows = [row for row in rows_of(html, 6) if "–" in row[0]]
    spans = [tuple(map(int, row[0].split("–"))) for row in rows]
    starts = [place for place, (start, _) in enumerate(spans) if start == 0]
    assert len(starts) == lessons
    for place, ((_, end), (start, after)) in enumerate(pairwise(spans), 1):
        assert start == (0 if place in starts else end)
        assert start < after <= 50
    assert [row[1] for row in rows][-1] == "Exit ticket"
    assert "if there is time" in html
    assert html.count("<li>") >= 15


def test_materials_are_counted_for_the_class():
    html = sheets.lesson_plan(Lesson(), on=DAY)
    # Source: hand calculation, 28 pupils in threes are 10 groups, 12 sticks each.
    assert "120 × brittle sticks" in html
    assert "28 × safety goggles" in html
    assert "10 groups" in html


FROM_16 = re.compile(r"Weibull|[Ll]ogarithm|\bln\b|\blog\b|work of breaking|\b63\.2%")


def every_page(lesson):
    yield sheets.lesson_plan(lesson, on=DAY)
    yield sheets.lesson_hazards(lesson, on=DAY)
    yield sheets.worksheets_for_all(lesson, on=DAY)
    if numbered(lesson):
        yield sheets.worksheets(lesson, on=DAY)
    yield sheets.answer_key(lesson, on=DAY)
    yield sheets.exit_tickets(lesson, on=DAY)


@pytest.mark.parametrize("topic", topics())
def test_logarithms_weibull_and_the_work_of_breaking_wait_until_16(topic):
    for age in AGES:
        lesson = Lesson(topic=topic, age=age, minutes=90, pupils=1)
        text = re.sub(r"data:[^\"]*|<style>.*?</style>", "", "".join(every_page(lesson)))
        text = re.sub(r"(?s)<style>.*?</style>", "", text)
        assert bool(FROM_16.search(text)) == (age == "16-18" and topic in OLDEST), age


OLDEST = ("breaks", "bath", "quench", "flow", "crumbs")


@pytest.mark.parametrize("topic", topics())
def test_pages_escape_names_need_no_network_and_warn(topic):
    for age in ("8-11", "16-18"):
        lesson = Lesson(topic=topic, age=age, minutes=90, pupils=["a", EVIL])
        for html in every_page(lesson):
            assert "<script" not in html
            assert NETWORK.search(html) is None
            assert "it does not certify" in html
            handled = set(lesson.sheets) & {"W2", "W3", "W5"} or "Worksheets" not in html
            assert 'class="caution' in html or not handled or "Exit tickets" in html
        assert "&lt;script&gt;" in sheets.exit_tickets(lesson, on=DAY)


def test_cautions_stand_where_work_can_hurt():
    warned = sheets.worksheets(Lesson(pupils=1), on=DAY)
    assert "Goggles on" in warned
    assert "Allergic" in warned
    shut = Lesson(topic="shut")
    for html in (sheets.lesson_plan(shut), sheets.worksheets_for_all(shut)):
        assert "Books fall: pillow beneath, feet back." in html
        assert "Pull slowly, elbows in, faces away." in html
    assert "bands snap back" in sheets.worksheets_for_all(Lesson(topic="quench"))


def test_a_lesson_without_numbers_of_their_own_says_so():
    with pytest.raises(ValueError, match=r"^lesson must have worksheets by number; 'Does gl"):
        sheets.worksheets(Lesson(topic="flow"))


# --- exercises of the swap, the bath and the work -------------------------------------------


@pytest.mark.parametrize("pupil", range(1, 29))
def test_swap_bath_and_work_follow_from_the_numbers_on_the_sheet(pupil):
    swap, walk, work = (make(1, pupil) for make in (swap_task, walk_task, work_task))
    # Source: radii of Na and K with six neighbours, 102 and 138 pm (Shannon 1976), 1e8 : 1.
    assert (swap.small, swap.large) == pytest.approx((20.4e-3, 27.6e-3), rel=1e-9)
    assert 0 < swap.swapped < swap.count <= 8  # discs on the true-size page
    assert swap.longer == pytest.approx(swap.swapped * 7.2e-3, rel=1e-9)
    # Source: depth goes with the square root of time: 4 and 25 times as long.
    assert walk.depth_after(4) == pytest.approx(2 * walk.depth, rel=1e-12)
    assert walk.hours_for(5) == pytest.approx(25 * walk.hours, rel=1e-12)
    # Source: the package's own law, with the factor 1.1215 instead of the printed 1.12.
    assert work.strength(4) == pytest.approx(
        griffith_strength(4 * work.depth, 0.75e6).item(), rel=3e-3
    )
    # Source: hand calculation, (0.75e6)^2/70e9 = 8.036 J/m^2.
    assert work.work == pytest.approx(8.0357, rel=1e-4)
    assert work.paid == pytest.approx(work.stored / 8.0357, rel=1e-4)


# --- the pack -------------------------------------------------------------------------------


@pytest.mark.slow
def test_one_call_writes_the_whole_pack(tmp_path, monkeypatch):
    folder = tmp_path / "pack"
    monkeypatch.setattr("glasskit.sheets.bound.browser", lambda: "")
    chosen = Lesson(pupils=3, paper="Letter")
    paths = sheets.lesson_pack(folder, chosen, on=DAY)
    assert sorted(folder.iterdir()) == sorted(paths)
    assert [path.suffix for path in paths] == [".html"] * 9 + [".pdf"]
    whole = paths[0].read_text(encoding="utf-8")
    assert whole.count("<h1>") == 6
    assert whole.count('class="true-size"') == 1  # the strips
    assert "size: 215.9mm 279.4mm" in whole
    page = (folder / "7_page_for_pupils.html").read_text(encoding="utf-8")
    assert NETWORK.search(page) is None
    assert page.count('<input id="typed') == 2
    before = (folder / "5_worksheets_by_number.html").read_bytes()
    sheets.save(sheets.worksheets(chosen, DAY), folder / "again.html")
    assert (folder / "again.html").read_bytes() == before


@pytest.mark.parametrize(
    ("age", "topic", "labels"),
    [
        ("8-11", "energy", ["times as high"]),
        ("11-14", "breaks", ["largest minus smallest / g", "mean / g"]),
        ("14-16", "shut", ["compression × depth", "the core is thick", "stress in the core"]),
        ("14-16", "energy", ["energy / J", "speed / m/s", "force, short", "force, long"]),
        ("16-18", "breaks", ["63.2% are broken at / MPa"]),
        ("11-14", "ions", []),
    ],
)
def test_pupils_check_what_their_own_sheet_asks(age, topic, labels):
    lesson = Lesson(topic=topic, age=age, minutes=90, pupils=3)
    page = sheets.pupils_page(lesson)
    assert NETWORK.search(page) is None
    found = re.findall(r'<label for="typed\d+">(.*?)</label>', page)
    assert len(found) == page.count("data-near=")
    for label in labels:
        assert any(unescape(one).startswith(label) for one in found), found
    if not labels:
        assert "Check your numbers" not in page
        return
    answers = json.loads(re.search(r'id="answers">(.*?)</script>', page)[1])
    assert len(answers) == 3
    assert all(len(row) == len(found) for row in answers)
    task = drop_task(lesson.seed, 2)
    if topic == "energy" and age == "14-16":
        place = found.index("energy / J")
        assert answers[1][place] == pytest.approx(task.mass * 9.81 * task.height, rel=0.06)


@pytest.mark.parametrize(
    "paper",
    [papers.weibull_paper, papers.dot_paper, papers.balance_paper, papers.slope_paper],
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
