"""Every sheet on paper: pages counted, nothing overflows, on A4 and US Letter."""

from functools import cache

import numpy as np
import pypdfium2
import pytest

from browser.aloud import findings
from browser.lab import chromium_path, elsewhere, why_no_browser
from glasskit import sheets
from glasskit.classroom import Lesson, balance_task, topics
from glasskit.demonstration import DroppedBall, annealed, chemically, plan, toughened
from glasskit.draw import printables
from glasskit.impact import Pane
from glasskit.live import to_go
from glasskit.materials import glass, solid
from glasskit.sheets import cards, risk
from glasskit.sheets.bound import bound, printed
from glasskit.sheets.page import picture

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(bool(why_no_browser()), reason=why_no_browser() or "-"),
]

PAPERS = {"A4": (210 / 25.4, 297 / 25.4), "Letter": (8.5, 11.0)}
LONG = "Wwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwww"


@cache
def planned(*kinds):
    pane = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))
    return plan(
        [kind(kind.__name__, pane) for kind in kinds],
        DroppedBall(mass=0.227, solid=solid("steel")),
        6,
    )


def plan_of(*kinds, **more):
    return sheets.plan_sheet(planned(*kinds), **more)


SHEETS = {
    "plan": (lambda: plan_of(annealed, chemically), 1),
    "plan that fails": (lambda: plan_of(annealed, toughened, system="us"), 1),
    "plan, long words": (lambda: plan_of(annealed, chemically, fields={"place": LONG}), 2),
    "risk of one": (lambda: sheets.risk_assessment("scratch"), 4),
    "risk of three": (
        lambda: sheets.risk_assessment(["ball drop", "hammer", "polariscope"]),
        6,
    ),
    "risk of all": (
        lambda: sheets.risk_assessment(
            risk.demo_names(), fields={"place": LONG}, panes=[{"kind": LONG}]
        ),
        7,
    ),
    "lesson plan, short": (lambda: sheets.lesson_plan(Lesson(age="8-11", minutes=30)), 3),
    "series": (lambda: sheets.lesson_plan(Lesson(age="14-16", lessons=3, pupils=200)), 4),
    "lesson hazards": (lambda: sheets.lesson_hazards(Lesson()), 2),
    **{
        f"worksheets for all, {topic}": (
            lambda topic=topic: sheets.worksheets_for_all(Lesson(topic=topic, minutes=90)),
            2,
        )
        for topic in topics()
    },
    **{
        f"worksheets {topic}, {age}": (
            lambda topic=topic, age=age: sheets.worksheets(
                Lesson(topic=topic, age=age, minutes=90, pupils=[LONG[:40]])
            ),
            most,
        )
        for topic, age, most in (
            ("breaks", "8-11", 1),
            ("breaks", "16-18", 2),
            ("shut", "14-16", 1),
            ("ions", "14-16", 1),
            ("bath", "16-18", 1),
            ("energy", "8-11", 1),
            ("energy", "14-16", 1),
            ("crumbs", "16-18", 1),
        )
    },
    "balance, two on a page": (
        lambda: sheets.worksheets(Lesson(topic="shut", age="14-16", pupils=28)),
        14,
    ),
    "answer key": (
        lambda: sheets.answer_key(Lesson(age="16-18", minutes=90)),
        5,
    ),
    "exit tickets": (lambda: sheets.exit_tickets(Lesson(age="14-16", pupils=8)), 2),
    "exit tickets, long name": (
        lambda: sheets.exit_tickets(Lesson(pupils=[LONG[:40]] * 4)),
        2,
    ),
    **{level: (lambda level=level: sheets.question_cards(level), 4) for level in cards.LEVELS},
}


@pytest.mark.parametrize("name", SHEETS)
def test_a_sheet_on_paper(printing, tmp_path, name):
    make, most = SHEETS[name]
    page, asked = printing, []

    def hear(request):
        asked.append(request.url)

    page.on("request", hear)
    page.set_content(make())
    for paper, size in PAPERS.items():
        width = round(96 * (size[0] - 2 * 14 / 25.4))
        page.set_viewport_size({"width": width, "height": 900})
        wide = page.evaluate(
            """() => [...document.querySelectorAll('*')].filter(item =>
                 item.scrollWidth > item.clientWidth + 1 && item.clientWidth > 0
                 && getComputedStyle(item).display !== 'inline').map(item => item.outerHTML)"""
        )
        assert wide == [], paper
        page.pdf(path=tmp_path / f"{paper}.pdf", format=paper)
    assert findings(page) == []  # what is heard is the same on all papers
    page.remove_listener("request", hear)
    assert [url for url in asked if not url.startswith("data:")] == []
    for paper, size in PAPERS.items():
        with pypdfium2.PdfDocument(tmp_path / f"{paper}.pdf") as made:
            sizes = [sheet.get_size() for sheet in made]
            last = ink_of(made[len(made) - 1])
        assert len(sizes) <= most, paper
        assert last > 0.15, f"last page nearly empty on {paper}"
        points = 72 * np.array(size)
        assert np.allclose(sizes, points, atol=1)  # printers round to whole points


@pytest.mark.parametrize("paper", PAPERS)
def test_one_pdf_holds_sheets_and_pages_at_true_size(tmp_path, monkeypatch, paper):
    monkeypatch.setenv("BROWSER", chromium_path())
    ions = Lesson(topic="ions", pupils=1, paper=paper)
    figure = printables.ion_discs(paper)
    whole = bound(
        "Two",
        [sheets.worksheets(ions), sheets.exit_tickets(ions)],
        [picture(figure)],
        printables.PAPERS[paper],
    )
    (path,) = printed(sheets.save(whole, tmp_path / "two.html"))
    with pypdfium2.PdfDocument(path) as made:
        sizes = [sheet.get_size() for sheet in made]
        last = np.asarray(made[2].render(scale=300 / 72, grayscale=True).to_pil()) < 128
    assert np.allclose(sizes, [72 * np.array(PAPERS[paper])] * 3, atol=1)
    # The bar of 100 mm at the foot of the page is the longest run of ink in its row.
    bar = max(last[-round(300 * 30 / 25.4) :].sum(axis=1))
    # Tolerance: the ends of the line stand out by half its width, 0.7 mm in all.
    assert 99.7 < bar * 25.4 / 300 < 101


def ink_of(sheet):
    """Return how far down a page is printed, as a share of its height."""
    grey = np.asarray(sheet.render(scale=40 / 72, grayscale=True).to_pil())
    rows = (grey < 160).any(axis=1)
    return np.flatnonzero(rows)[-1] / rows.size if rows.any() else 0.0


def test_the_player_plays_and_pauses_without_a_network(browser, tmp_path):
    page = browser.new_page()
    page.clock.install()  # the films' time passes when the test says so
    errors, asked = [], []
    page.on("pageerror", lambda error: errors.append(str(error)))
    page.on("request", lambda request: asked.append(request.url))
    page.goto(sheets.fall_film(tmp_path / "fall.html", slower=4.0).as_uri())
    picture = page.locator("img")
    page.wait_for_function("document.querySelector('img').src.startsWith('data:')")
    start = picture.get_attribute("src")
    page.clock.run_for(500)
    assert picture.get_attribute("src") == start  # waits to be started
    assert picture.get_attribute("alt")
    page.get_by_role("button", name="Play", exact=True).click()
    page.clock.run_for(500)
    assert picture.get_attribute("src") != start
    page.get_by_role("button", name="Pause").click()
    held = picture.get_attribute("src")
    page.clock.run_for(500)
    assert picture.get_attribute("src") == held
    page.set_viewport_size({"width": 400, "height": 800})
    assert page.evaluate("document.body.scrollWidth <= innerWidth")
    assert errors == []
    assert [url for url in asked if not url.startswith(("data:", "file:"))] == []
    page.close()


@pytest.fixture(scope="module")
def for_pupils(tmp_path_factory):
    lesson = Lesson(topic="shut", age="11-14", minutes=50, pupils=3)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(to_go, "_FEW", 3)
        page = sheets.pupils_page(lesson, elsewhere(to_go.sliders_of, lesson))
    return sheets.save(page, tmp_path_factory.mktemp("pupils") / "page.html")


def test_the_page_for_pupils_has_sliders_and_checks_numbers_without_a_network(
    for_pupils, browser
):
    page = browser.new_page()
    errors, asked = [], []
    page.on("pageerror", lambda error: errors.append(str(error)))
    page.on("request", lambda request: asked.append(request.url))
    page.goto(for_pupils.as_uri())
    explorer = page.locator(".explorer").first
    picture = explorer.locator("img")
    assert not picture.is_visible()
    explorer.locator(".options button").first.focus()
    page.keyboard.press("Enter")
    assert picture.is_visible()
    before = picture.get_attribute("src")
    slider = explorer.get_by_role("slider")
    slider.focus()
    page.keyboard.press("ArrowRight")
    assert picture.get_attribute("src") != before
    assert slider.get_attribute("aria-valuetext")
    page.get_by_label("number of my sheet").fill("2")
    thick = balance_task(1, 2)
    core = 2 * thick.squeeze * thick.skin / (thick.thickness - 2 * thick.skin) / 1e6
    box = page.get_by_label("stress in the core / MPa")
    for typed, told in (
        (f"{core:.0f}", "✓ right"),
        (f"{core:.1f}".replace(".", ","), "✓ right"),
        (f"{1000 * core:.0f}", "look at the unit"),
        (f"{1.3 * core:.0f}", "not yet"),
        ("much", "a number, please"),
        ("", ""),
    ):
        box.fill(typed)
        page.keyboard.press("Tab")
        assert page.locator(f"#{box.get_attribute('aria-describedby')}").inner_text() == told
    for width in (400, 1280):
        page.set_viewport_size({"width": width, "height": 800})
        assert page.evaluate("document.body.scrollWidth <= innerWidth")
    assert findings(page) == []
    assert errors == []
    assert [url for url in asked if not url.startswith(("data:", "file:", "about:"))] == []
    page.close()
