# SPDX-License-Identifier: MIT
"""Printables measured in the file itself: every path in millimetres on paper."""

from functools import cache
from pathlib import Path

import numpy as np
import pypdf
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from PIL import Image

from glasskit.breakage import SQUARE
from glasskit.draw import printables
from glasskit.draw.picture import layout_faults
from glasskit.draw.printables import PAPERS, save_printables
from glasskit.measured import FRAME, VIEW, WINDOW
from glasskit.tables import read

ASSETS = Path(__file__).parents[2] / "assets"
POINT = 25.4 / 72  # [mm]: PDF counts in points of 1/72 inch
PAGES = ["discs", "tray", "crack", "ruler"]


def boxes(page):
    """Return width, height, left and low end of every path drawn on a page [mm]."""
    found, points = [], []
    state, stack = np.eye(3), []
    content = pypdf.generic.ContentStream(page.get_contents(), page.pdf)
    for operands, operator in content.operations:
        numbers = [float(item) for item in operands if isinstance(item, (int, float))]
        if operator == b"q":
            stack.append(state)
        elif operator == b"Q":
            state = stack.pop()
        elif operator == b"cm":
            a, b, c, d, e, f = numbers
            state = np.array([[a, b, 0], [c, d, 0], [e, f, 1]]) @ state
        elif operator in (b"m", b"l", b"c"):
            points.append(np.array([*numbers[-2:], 1]) @ state)
        elif operator == b"re":
            x, y, width, height = numbers
            points += [
                np.array([x + u, y + v, 1]) @ state for u in (0, width) for v in (0, height)
            ]
        elif operator in (b"S", b"s", b"f", b"B", b"b", b"n", b"B*", b"f*", b"b*"):
            if points and operator != b"n":
                low, high = np.min(points, 0)[:2], np.max(points, 0)[:2]
                found.append([*((high - low) * POINT), *(low * POINT)])
            points = []
    return np.array(found)


@cache
def measured(paper):
    reader = pypdf.PdfReader(ASSETS / f"true_size_{paper}.pdf")
    pages = dict(zip(PAGES, reader.pages, strict=True))
    return {name: boxes(page) for name, page in pages.items()}


def count(found, width, height, within=0.02):
    return int((np.abs(found[:, :2] - [width, height]) <= within).all(axis=1).sum())


@pytest.mark.parametrize("paper", PAPERS)
def test_pages_have_the_size_of_the_paper_and_no_pixels(paper):
    reader = pypdf.PdfReader(ASSETS / f"true_size_{paper}.pdf")
    # Source: ISO 216 for A4, ANSI/ASME Y14.1 for Letter (8.5 x 11 inch), from memory.
    size = {"A4": (210, 297), "Letter": (8.5 * 25.4, 11 * 25.4)}[paper]
    for page in reader.pages:
        box = [float(side) * POINT for side in (page.mediabox.width, page.mediabox.height)]
        assert box == pytest.approx(size, abs=0.01)
        assert len(page.images) == 0
        assert "100 mm" in page.extract_text()
        assert "Print at 100%" in page.extract_text()


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", PAGES)
def test_the_bar_measures_100_mm_and_all_lies_within_the_margins(paper, name):
    found = measured(paper)[name]
    assert count(found, 100.0, 0.0) == 1
    width, height = PAPERS[paper]
    page = (np.abs(found[:, :2] - [width, height]) < 0.1).all(axis=1)
    drawn = found[~page]
    # Tolerance: 10 mm, what printers leave blank at most (common practice).
    assert drawn[:, 2].min() >= 10
    assert drawn[:, 3].min() >= 10
    assert (drawn[:, 2] + drawn[:, 0]).max() <= width - 10
    assert (drawn[:, 3] + drawn[:, 1]).max() <= height - 10


@pytest.mark.parametrize("paper", PAPERS)
def test_ions_have_their_published_size(outside, paper):
    found = measured(paper)["discs"]
    # At 100,000,000 : 1 a picometre is a tenth of a millimetre.
    for ion, radius, least in (("Na+", 102, 8), ("K+", 138, 7), ("O2-", 140, 6)):
        side = found[np.abs(found[:, 0] - radius / 5) < 0.15][:, :2]
        assert len(side) >= least
        outside(
            f"disc of {ion} on {paper} [mm]",
            side.mean(),
            2 * radius * 0.1,
            source="Shannon, Acta Cryst. A32 (1976) 751, sixfold, times 1e8",
            status="found",
            abs_=0.01,
        )
        assert count(found, radius * 0.02, radius * 0.02, 0.005) == 1  # at 10,000,000 : 1


@pytest.mark.parametrize("paper", PAPERS)
def test_the_tray_takes_the_discs(paper):
    assert count(measured(paper)["tray"], 20.4, 20.4) >= 3


@pytest.mark.parametrize("paper", PAPERS)
def test_strips_and_slits(paper):
    found = measured(paper)["crack"]
    # No wider than what is said where it can hurt.
    [hazard] = [row for row in read("lesson_hazards") if row["activity"] == "Paper strips"]
    assert "strips 15 mm wide at most" in hazard["control"]
    assert count(found, 180.0, 15.0) == 10
    # The ends of the bar of 100 mm are 4 mm high too.
    for slit, strips in ((2.0, 2), (4.0, 2 + 2), (8.0, 4)):
        assert count(found, 0.0, slit) == strips


@pytest.mark.parametrize("paper", PAPERS)
def test_joules_stand_at_their_height(outside, paper):
    found = measured(paper)["ruler"]
    assert count(found, 26.0, 200.0) == 6
    marks = found[np.abs(found[:, 0] - 6.0) < 0.01]
    first = np.sort(marks[marks[:, 2] < marks[:, 2].min() + 1][:, 3])
    outside(
        f"height between two marks of 0.05 J for 200 g on {paper} [mm]",
        np.diff(first).mean(),
        1e3 * 0.05 / (0.2 * 9.80665),
        source="h = E/(m g)",
        status="hand calculation",
        abs_=0.01,
    )
    assert len(marks) == int(1.2 * 0.2 * 9.80665 / 0.05) + 1


@pytest.mark.parametrize("mass", [0.01, 0.2, 1.0, 5.0])
def test_texts_of_every_ruler_stand_clear(mass):
    figure = printables.joule_ruler("Letter", mass)
    FigureCanvasAgg(figure).draw()
    assert layout_faults(figure) == []


@pytest.mark.parametrize(
    "page", [printables.ion_discs, printables.network_tray, printables.paper_crack]
)
@pytest.mark.parametrize("paper", PAPERS)
def test_texts_of_the_other_pages_stand_clear(page, paper):
    figure = page(paper)
    FigureCanvasAgg(figure).draw()
    assert layout_faults(figure) == []


@pytest.mark.parametrize("paper", PAPERS)
def test_texts_of_floor_plan_and_pole_stand_clear(paper):
    pole = [printables.height_pole(paper, part) for part in range(printables.POLE_PAGES)]
    for figure in (printables.floor_plan(paper), *pole):
        FigureCanvasAgg(figure).draw()
        assert layout_faults(figure) == []
    with pytest.raises(ValueError, match=r"^part must lie in 0 <= part <= 4; got 5"):
        printables.height_pole(paper, 5)


@pytest.mark.parametrize("paper", PAPERS)
def test_floor_and_pole_are_stored_and_to_scale(outside, paper):
    floor, *pole = pypdf.PdfReader(ASSETS / f"floor_and_pole_{paper}.pdf").pages
    rings = [box for box in boxes(floor) if abs(box[0] - box[1]) < 0.01 and box[0] > 30]
    # 1:50 is 20 mm for a metre of floor: rings of 1, 2, 3 and 4 m.
    assert sorted(box[0] for box in rings) == pytest.approx([40, 80, 120, 160], abs=0.02)
    feet, metres = [], []
    for page in pole:
        found = boxes(page)
        strips = found[np.abs(found[:, :2] - [56, 200]).max(axis=1) < 0.02]
        for strip, left in enumerate(sorted(strips[:, 2])):
            start = 200.0 * (3 * pole.index(page) + strip) - strips[0, 3]
            inside = (found[:, 2] >= left - 0.01) & (found[:, 2] < left + 56)
            lines = found[inside & (found[:, 1] < 0.01)]
            feet += list(start + lines[np.abs(lines[:, 0] - 12) < 0.02][:, 3])
            metres += list(start + lines[np.abs(lines[:, 0] - 56) < 0.02][:, 3])
    assert sorted(metres) == pytest.approx(np.arange(0, 3000, 100), abs=0.05)
    outside(
        f"marks of feet up the pole on {paper} [mm]",
        np.diff(sorted(feet)).mean(),
        304.8,
        source="international foot, 0.3048 m",
        status="exact",
        abs_=0.01,
    )
    assert len(feet) == 9


@pytest.mark.parametrize("paper", PAPERS)
def test_the_frame_to_count_crumbs_in_has_the_sizes_that_are_looked_for(paper):
    figure = printables.counting_frame(paper)
    FigureCanvasAgg(figure).draw()
    assert layout_faults(figure) == []
    sides = sorted(patch.get_width() for patch in figure.axes[0].patches)
    assert sides == pytest.approx([59.0, 1e3 * WINDOW, 1e3 * FRAME])
    # The square of 50 mm, with room round it to see which pieces its border cuts.
    assert WINDOW > VIEW > SQUARE
    page = pypdf.PdfReader(ASSETS / f"counting_frame_{paper}.pdf").pages[0]
    found = boxes(page)
    assert np.abs(found[:, :2] - 70).max(axis=1).min() < 0.05


def test_pages_are_written_whole_and_always_alike(tmp_path):
    for folder in ("one", "two"):
        (tmp_path / folder).mkdir()
        paths = save_printables(tmp_path / folder)
        assert [path.name for path in paths] == ["true_size_A4.pdf", "true_size_Letter.pdf"]
    one, two = ((tmp_path / folder / paths[0].name).read_bytes() for folder in ("one", "two"))
    assert one == two
    stored = ASSETS / paths[0].name
    assert abs(len(one) - stored.stat().st_size) < 3000, "python -m glasskit.draw.printables"


def test_other_papers_and_masses_are_refused(tmp_path):
    with pytest.raises(ValueError, match=r"^paper must be one of A4, Letter; got 'A3'"):
        printables.ion_discs("A3")
    with pytest.raises(ValueError, match=r"^mass must lie in 0.01 <= mass <= 5; got 9 kg"):
        save_printables(tmp_path, mass=9.0)


def test_the_overview_holds_four_pages(tmp_path):
    with Image.open(printables.save_overview(tmp_path / "all.png")) as image:
        width, height = image.size
    assert width / height == pytest.approx(4 * 210 / 297, rel=0.01)
