# SPDX-License-Identifier: MIT
"""Things to print at true size: ions to cut out, a tray for them, a paper crack, a ruler.

For a show: a pole to mark heights, and a plan of the floor to draw screen and seats in. For a
broken pane: a frame to photograph it in.

Every page carries a bar of 100 mm to lay a ruler on, for printers like to shrink. Positions
are millimetres on paper, from the lower left corner of a field that fits A4 and US Letter.
"""

import io
import os
import textwrap
from collections.abc import Callable, Iterable, Iterator
from functools import partial
from pathlib import Path
from typing import Any

import matplotlib as mpl
import numpy as np
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.backends.backend_pdf import PdfPages
from matplotlib.figure import Figure
from matplotlib.patches import Circle, Rectangle
from PIL import Image

from glasskit.classroom import MASSES
from glasskit.demonstration import FOUND_AT
from glasskit.draw.look import GREY, INK, PALE, WHITE, Look
from glasskit.files import replace_file
from glasskit.materials import ionic_radius
from glasskit.measured import FRAME, WINDOW
from glasskit.network import make
from glasskit.quantities import GRAVITY, in_range, one_of, show

PAPERS = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
"""Width and height of the paper [mm]."""

POLE_PAGES = 5
"""Pages of the pole, 0.6 m each."""

_FIELD = (186.0, 255.0)  # [mm]
_INCH = 25.4  # [mm]
_FOOT = 304.8  # [mm]
_ACROSS = 40.0  # [mm]: a longer bond runs round the back of the network
_LARGE, _SMALL = 1e8, 1e7  # paper over atoms
_SWATCH = {"facecolor": WHITE, "edgecolor": INK, "linewidth": 0.8}
_CUT: Any = {"color": INK, "linewidth": 0.8, "linestyle": (0, (5, 3))}


def _page(paper: str, title: str, words: str) -> Axes:
    """Return axes in millimetres with title, instructions and the check bar."""
    one_of("paper", paper, PAPERS)
    width, height = PAPERS[paper]
    figure = Figure((width / _INCH, height / _INCH))
    ax = figure.add_axes((0, 0, 1, 1))
    ax.set_axis_off()
    left, low = (width - _FIELD[0]) / 2, (height - _FIELD[1]) / 2
    ax.set(xlim=(-left, width - left), ylim=(-low, height - low))
    ax.text(0, _FIELD[1] - 1, title, size=15, weight="bold", va="top")
    ax.text(0, _FIELD[1] - 9, textwrap.fill(words, 110), size=8.5, va="top", linespacing=1.3)
    ax.plot([43, 143], [9, 9], color=INK, linewidth=2)
    for end in (43, 143):
        ax.plot([end, end], [7, 11], color=INK, linewidth=0.8)
    ax.text(93, 10, "100 mm", size=9, ha="center", va="bottom")
    check = "Print at 100% (no “fit to page”). Lay a ruler on the bar: it must measure 100 mm."
    ax.text(93, 5, check, size=8.5, ha="center", va="top")
    return ax


def _disc(
    ax: Axes, middle: tuple[float, float], radius: float, name: str, **style: object
) -> None:
    ax.add_patch(Circle(middle, radius, **{**_SWATCH, **style}))
    if name:
        ax.text(*middle, name, size=9, ha="center", va="center")


def _radius(ion: str, scale: float, coordination: int = 6) -> float:
    """Return the radius of an ion on paper [mm]."""
    return ionic_radius(ion, coordination) * scale * 1e3


def _symbol(ion: str) -> str:
    charges = {"Na": "⁺", "K": "⁺", "Li": "⁺", "Ca": "²⁺", "O": "²⁻", "Si": "⁴⁺"}
    return f"{ion}{charges[ion]}"


def ion_discs(paper: str = "A4") -> Figure:
    """Return a page of ions to cut out, 100,000,000 : 1, with a strip at 10,000,000 : 1.

    Parameters
    ----------
    paper : {"A4", "Letter"}
        Size of the page.

    Returns
    -------
    Figure
        To print at 100%.

    Raises
    ------
    ValueError
        If `paper` is unknown.

    Notes
    -----
    Radii of [Shannon1976], with six neighbours (silicon four).

    """
    words = (
        "Ions 100,000,000 times as large as they are: 10 mm on paper is 0.1 nm. Cut "
        "the discs out; mind the scissors. Put a potassium where a sodium was, "
        "between the same oxygens: by how much are they pushed apart? Radii after "
        "Shannon 1976, six neighbours (silicon four). Real ions are no hard discs; "
        "these are the distances they keep."
    )
    ax = _page(paper, "Sodium, potassium and their neighbours, to scale", words)
    _rows(ax)
    _clusters(ax)
    ax.text(0, 23, "The same ions 10,000,000 : 1, a tenth as wide:", size=8.5, va="center")
    for place, ion in enumerate(("Na", "K", "O")):
        x = 95 + 22 * place
        _disc(ax, (x, 23), _radius(ion, _SMALL), "", linewidth=0.5)
        ax.text(x + 3, 23, _symbol(ion), size=9, va="center")
    return ax.figure  # type: ignore[return-value]


def _rows(ax: Axes) -> None:
    for ion, y, pitch, style in (
        ("Na", 216.0, 23.0, {}),
        ("K", 189.0, 30.0, {"hatch": "..", "edgecolor": GREY}),
        ("O", 159.0, 30.0, {"facecolor": PALE}),
    ):
        radius = _radius(ion, _LARGE)
        for x in np.arange(radius + 1, _FIELD[0] - radius, pitch):
            _disc(ax, (x, y), radius, "", **style)
            label: Any = {"facecolor": WHITE, "edgecolor": "none", "pad": 1.0}
            ax.text(x, y, _symbol(ion), size=10, ha="center", va="center", bbox=label)
    others = (("Si", 4), ("Si", 4), ("Li", 6), ("Li", 6), ("Ca", 6), ("Ca", 6), ("Ca", 6))
    for place, (ion, neighbours) in enumerate(others):
        x = 14 + 25 * place
        _disc(ax, (x, 131), _radius(ion, _LARGE, neighbours), "")
        ax.text(x, 119, _symbol(ion), size=9, ha="center", va="top")


def _clusters(ax: Axes) -> None:
    """Draw both ions among four of their six oxygens, touching."""
    oxygen = _radius("O", _LARGE)
    for ion, x in (("Na", 44.0), ("K", 136.0)):
        own = _radius(ion, _LARGE)
        reach = own + oxygen
        for way in ((1, 0), (0, 1), (-1, 0), (0, -1)):
            middle = (x + reach * way[0], 70 + reach * way[1])
            _disc(ax, middle, oxygen, _symbol("O"), facecolor=PALE)
        _disc(ax, (x, 70), own, _symbol(ion))
        if ion == "K":
            _disc(ax, (x, 70), _radius("Na", _LARGE), "", facecolor="none", linestyle="--")
    ax.text(20, 41, "at ease", size=9, ha="right", va="top")
    ax.text(112, 41, "pushed apart", size=9, ha="right", va="top")


def network_tray(paper: str = "A4", seed: int = 4) -> Figure:
    """Return a network without a pattern, 100,000,000 : 1, to lay sodium discs on.

    Parameters
    ----------
    paper : {"A4", "Letter"}
        Size of the page.
    seed : int
        Same seed, same network.

    Returns
    -------
    Figure
        To print at 100%.

    Raises
    ------
    ValueError
        If `paper` is unknown.

    Notes
    -----
    Flat, and its mix of rings resembles a glass only loosely: see `glasskit.network`.

    """
    words = (
        "Same scale as the discs, 100,000,000 : 1. Dots: silicon; small rings: "
        "oxygen; lines: bonds. There is no pattern that repeats: that is glass. Lay a "
        "sodium on every dashed place. Then swap those near the top, one for one, for "
        "potassium: one comes out, one goes in. Count: as many as before. But they "
        "press on their neighbours. A flat picture: in real glass the oxygens reach "
        "all round, above and below."
    )
    ax = _page(paper, "A tray for the ions: glass, to scale", words)
    glass = make(sites=100, seed=seed)
    places = glass.positions * _LARGE * 1e3
    places = places - [glass.width * _LARGE * 500, places[:, 1].max()] + [93, 226]
    inside = (places >= [2, 22]).all(axis=1) & (places <= [184, 228]).all(axis=1)
    bonds = [pair for pair in glass.bonds if inside[pair].all()]
    bonds = [pair for pair in bonds if np.ptp(places[pair, 0]) < _ACROSS]
    for pair in bonds:
        ax.plot(*places[pair].T, color=GREY, linewidth=1.2, zorder=1)
    for index in np.unique(bonds):
        former = index < glass.formers
        style = {"facecolor": INK if former else WHITE, "zorder": 3}
        _disc(ax, tuple(places[index]), 1.6 if former else 2.2, "", **style)
    radius = _radius("Na", _LARGE)
    for place in places[len(places) - len(glass.elements) :]:
        if (place >= [radius, 22 + radius]).all() and place[0] <= _FIELD[0] - radius:
            _disc(ax, tuple(place), radius, _symbol("Na"), linestyle="--", zorder=2)
    return ax.figure  # type: ignore[return-value]


def paper_crack(paper: str = "A4") -> Figure:
    """Return paper strips with slits to cut, and marks where a clip presses one shut.

    Parameters
    ----------
    paper : {"A4", "Letter"}
        Size of the page.

    Returns
    -------
    Figure
        To print at 100%: strips 180 mm by 15 mm with slits of 0, 2, 4 and 8 mm, and one of
        8 mm with a clip; twice. Wider ones ask for a pull at which elbows fly.

    Raises
    ------
    ValueError
        If `paper` is unknown.

    """
    words = (
        "Cut the strips out along the dashed lines and each slit along its full line; "
        "mind the scissors. Hold both ends flat on the table and pull slowly, elbows "
        "in, nobody’s face near. Which tears first? Then push a paper clip over the "
        "mouth of the last slit, where the box is, and pull again: the clip squeezes "
        "the mouth as the skin of toughened glass does. Where it misleads: paper is a "
        "felt of fibres that bridge a slit, so short slits weaken it less than they "
        "would glass; and a clip squeezes one spot, not a whole skin."
    )
    ax = _page(paper, "A paper crack, and what presses it shut", words)
    for place, slit in enumerate((0.0, 2.0, 4.0, 8.0, 8.0) * 2):
        low, clipped = 207 - 20 * place, place % 5 == 4
        ax.add_patch(Rectangle((3, low), 180, 15, fill=False, **_CUT))
        if slit:
            ax.plot([93, 93], [low + 15, low + 15 - slit], color=INK, linewidth=1.4)
        name = f"slit {slit:.0f} mm" if slit else "no slit"
        said = f"{name}{', with a clip' if clipped else ''}"
        ax.text(8, low + 7.5, said, size=9, va="center")
        ax.text(178, low + 7.5, "hold here", size=9, ha="right", va="center")
        if clipped:
            ax.add_patch(Rectangle((87, low + 10), 12, 5, fill=False, edgecolor=GREY))
            ax.text(102, low + 12.5, "clip over this box", size=9, va="center")
    return ax.figure  # type: ignore[return-value]


def joule_ruler(paper: str = "A4", mass: float = 0.2) -> Figure:
    """Return six strips of 200 mm that make a ruler of 1.2 m, marked in joules.

    Parameters
    ----------
    paper : {"A4", "Letter"}
        Size of the page.
    mass : float
        Mass of what falls, 0.01 to 5 [kg].

    Returns
    -------
    Figure
        To print at 100% and glue end to end.

    Raises
    ------
    ValueError
        If `paper` is unknown or `mass` out of range.

    """
    heavy = in_range("mass", mass, *MASSES, "kg").item()
    weighs = show(heavy, "small_mass", digits=3)
    words = (
        f"How much energy a fall of {weighs} brings: mass × {GRAVITY:.2f} × height. "
        "Cut the six strips out and tape them end to end, 1 at the bottom, 2 upon it. "
        "For another mass print another ruler. Drop a bean bag "
        "into a tray of sand, feet back, goggles on; never on glass. Glass is broken "
        "only by the teacher, behind a screen, with a signed risk assessment."
    )
    ax = _page(paper, f"A ruler in joules, for {weighs}", words)
    per_joule = 1e3 / (heavy * GRAVITY)  # [mm]
    step = next(size for size in _steps() if size * per_joule >= 15)
    for strip in range(6):
        left, low, start = 5.0 + 30 * strip, 19.0, 200.0 * strip
        ax.add_patch(Rectangle((left, low), 26, 200, fill=False, **_CUT))
        ax.text(left + 13, low + 203, f"{strip + 1}", size=9, ha="center", va="bottom")
        _centimetres(ax, left, low, start)
        marks = np.arange(np.ceil(start / per_joule / step), (start + 200) / per_joule / step)
        for mark in marks:
            y = low + mark * step * per_joule - start
            ax.plot([left + 20, left + 26], [y, y], color=INK, linewidth=1.0)
            if not mark:
                continue  # its words would run into the line of 0 cm
            energy = f"{mark * step:.{2 if step < 0.1 else 1}f} J"
            ax.text(left + 19.5, y, energy, size=8, ha="right", va="center")
    return ax.figure  # type: ignore[return-value]


def _steps() -> Iterator[float]:
    """Yield 0.01, 0.02, 0.05, 0.1 and so on [J]."""
    for power in range(-2, 3):
        yield from (size * 10.0**power for size in (1, 2, 5))


def _centimetres(ax: Axes, left: float, low: float, start: float) -> None:
    for mark in range(0, 201, 10):
        long = (mark + start) % 50 == 0
        ax.plot([left, left + (4 if long else 2)], [low + mark] * 2, color=INK, linewidth=0.6)
        if long and mark not in (0, 200):
            ax.text(left + 4.5, low + mark, f"{(mark + start) / 10:.0f}", size=6, va="center")


def height_pole(paper: str = "A4", part: int = 0) -> Figure:
    """Return three strips of 200 mm of a pole that shows heights to an audience.

    Parameters
    ----------
    paper : {"A4", "Letter"}
        Size of the page.
    part : int
        Page, 0 to 4; all five make 3 m.

    Returns
    -------
    Figure
        To print at 100% and glue onto a batten.

    Raises
    ------
    ValueError
        If `paper` is unknown or there is no such part.

    """
    in_range("part", part, 0, POLE_PAGES - 1)
    words = (
        f"Page {part + 1} of {POLE_PAGES}. Cut the strips out and glue them end to end onto a "
        "batten, 1 at the bottom. Stand it outside the screen with its zero level with the "
        "struck face of the pane: large figures are metres above it. A peg marks the height "
        "of the plan. Nobody climbs to it: the release is worked from the floor, from outside "
        "the screen."
    )
    ax = _page(paper, "A pole to mark heights", words)
    for strip in range(3):
        left, low, number = 3.0 + 62 * strip, 19.0, 3 * part + strip
        start = 200.0 * number
        ax.text(left + 28, low + 203, f"{number + 1}", size=9, ha="center", va="bottom")
        for half in (0, 100):
            for side in (0, 1):
                corner = (left + 9 * side, low + half + 50 * side)
                ax.add_patch(Rectangle(corner, 9, 50, facecolor=INK))
            metres = f"{(start + half) / 1e3:.1f}"
            ax.text(left + 19, low + half + 3, metres, size=34, weight="bold", va="bottom")
            ax.plot([left, left + 56], [low + half] * 2, color=INK, linewidth=2)
        _feet(ax, left, low, start)
        ax.add_patch(Rectangle((left, low), 56, 200, fill=False, **_CUT))
    return ax.figure  # type: ignore[return-value]


def _feet(ax: Axes, left: float, low: float, start: float) -> None:
    for mark in np.arange(np.ceil(start / _FOOT), (start + 200) / _FOOT):
        if mark:
            y = low + mark * _FOOT - start
            ax.plot([left + 44, left + 56], [y, y], color=INK, linewidth=1.0)
            ax.text(left + 55, y + 1, f"{mark:.0f} ft", size=9, ha="right", va="bottom")


def floor_plan(paper: str = "A4") -> Figure:
    """Return a floor at 1:50 seen from above, to draw screen, line and seats in.

    Parameters
    ----------
    paper : {"A4", "Letter"}
        Size of the page.

    Returns
    -------
    Figure
        To print at 100%: 20 mm on paper are a metre of floor.

    Raises
    ------
    ValueError
        If `paper` is unknown.

    References
    ----------
    [Pounds1978]: how far pieces of plain windows were searched for, and found.

    """
    words = (
        "1:50, so 20 mm are 1 m; a square is half a metre. Draw in, with a ruler: the screen "
        "on every side where people can be, the line nobody crosses, first row and aisle, "
        "presenter, helper, camera, the way out, first-aid kit. The throw test, your rules "
        "and the risk assessment set the line, not this page."
    )
    ax = _page(paper, "The floor from above, to draw screen, line and seats in", words)
    left, low, wide, high, metre = 3.0, 37.0, 180.0, 190.0, 20.0
    for across in np.arange(0, wide + 1, metre / 2):
        ax.plot([left + across] * 2, [low, low + high], color=PALE, linewidth=0.8)
    for up in np.arange(0, high + 1, metre / 2):
        ax.plot([left, left + wide], [low + up] * 2, color=PALE, linewidth=0.8)
    x, y = left + wide / 2, low + high - 4 * metre
    for reach in range(1, 5):
        known = reach == FOUND_AT
        style = "-" if known else (0, (2, 3))
        ring = Circle((x, y), reach * metre, fill=False, edgecolor=INK)
        ring.set(linestyle=style, linewidth=1.4 if known else 0.8)
        ax.add_patch(ring)
        _said(ax, x, y - reach * metre, f"{reach} m")
    found = "windows broken by hand:\npieces found to here,\nwhere the search ended"
    _said(ax, x, y + FOUND_AT * metre - 10, found)
    table, pane = 0.8 * metre, 0.3 * metre
    for side, colour in ((table, WHITE), (pane, INK)):
        square = Rectangle((x - side / 2, y - side / 2), side, side, edgecolor=INK)
        ax.add_patch(square)
        square.set(facecolor=colour, zorder=3)
    _said(ax, x, low + high - 5, "presenter’s side")
    _said(ax, x, low + 5, "audience’s side")
    blanks = (
        ("Release above the floor", "Top of screen", "Screen to pane", "Line", "Seats"),
        ("The ball can fly (page 23)", "Drawn by", "Date"),
    )
    for row, labels in enumerate(blanks):
        line = "   ".join(f"{label} _______" for label in labels)
        ax.text(left, low - 4 - 8 * row, line, size=8.5, va="top")
    return ax.figure  # type: ignore[return-value]


def counting_frame(paper: str = "A4") -> Figure:
    """Return a frame to lay on a broken pane, for a photograph in which crumbs are counted.

    Parameters
    ----------
    paper : {"A4", "Letter"}
        Size of the page.

    Returns
    -------
    Figure
        To print at 100% on white paper; its window is cut out.

    Raises
    ------
    ValueError
        If `paper` is unknown.

    """
    words = (
        "Cut out the window along its dashed edge, and leave white paper all round the black "
        "line. A trained person with gloves and goggles lays the frame on the pane, which "
        "film or tape holds as it broke, after the wait that your own rules lay down. "
        "Photograph it from above: the whole line sharp and in the picture, light from the "
        "side, no flash. Page 51 finds the line and counts in the middle of the window. "
        "Measure the line with a ruler: 70 mm outside."
    )
    ax = _page(paper, "A frame to count crumbs in", words)
    x, y = _FIELD[0] / 2, 0.5 * _FIELD[1]
    for side, colour in ((1e3 * FRAME, INK), (1e3 * WINDOW, WHITE)):
        corner = (x - side / 2, y - side / 2)
        ax.add_patch(Rectangle(corner, side, side, facecolor=colour, edgecolor="none"))
    cut = 1e3 * WINDOW - 1
    ax.add_patch(Rectangle((x - cut / 2, y - cut / 2), cut, cut, fill=False, **_CUT))
    ax.text(x, y, "cut out", size=9, ha="center", va="center")
    return ax.figure  # type: ignore[return-value]


def _said(ax: Axes, x: float, y: float, words: str) -> None:
    box = {"facecolor": WHITE, "edgecolor": "none", "pad": 1.0}
    ax.text(x, y, words, size=8.5, ha="center", va="center", bbox=box)


def save_printables(
    folder: str | os.PathLike[str], mass: float = 0.2, papers: Iterable[str] = PAPERS
) -> list[Path]:
    """Write all pages as one PDF for each size of paper.

    Parameters
    ----------
    folder : path
        Where to.
    mass : float
        Mass for the ruler [kg].
    papers : iterable of str
        "A4", "Letter" or both.

    Returns
    -------
    list of Path
        ``true_size_A4.pdf`` and ``true_size_Letter.pdf``: lines, no pixels.

    Raises
    ------
    ValueError
        If `mass` is out of range.
    OSError
        If the folder cannot be written to.

    """
    in_range("mass", mass, *MASSES, "kg")
    return _written(
        folder,
        "true_size",
        (ion_discs, network_tray, paper_crack, partial(joule_ruler, mass=mass)),
        papers,
    )


def save_show_pages(folder: str | os.PathLike[str]) -> list[Path]:
    """Write floor plan and pole as one PDF for each size of paper.

    Parameters
    ----------
    folder : path
        Where to.

    Returns
    -------
    list of Path
        ``floor_and_pole_A4.pdf`` and ``floor_and_pole_Letter.pdf``: lines, no pixels.

    Raises
    ------
    OSError
        If the folder cannot be written to.

    """
    parts = (partial(height_pole, part=part) for part in range(POLE_PAGES))
    return _written(folder, "floor_and_pole", (floor_plan, *parts))


def save_counting_frame(folder: str | os.PathLike[str]) -> list[Path]:
    """Write the frame to count crumbs in as one PDF for each size of paper.

    Parameters
    ----------
    folder : path
        Where to.

    Returns
    -------
    list of Path
        ``counting_frame_A4.pdf`` and ``counting_frame_Letter.pdf``: lines, no pixels.

    Raises
    ------
    OSError
        If the folder cannot be written to.

    """
    return _written(folder, "counting_frame", (counting_frame,))


def _written(
    folder: str | os.PathLike[str],
    name: str,
    pages: tuple[Callable[[str], Figure], ...],
    papers: Iterable[str] = PAPERS,
) -> list[Path]:
    paths = []
    for paper in papers:
        path = Path(folder) / f"{name}_{paper}.pdf"
        whole = io.BytesIO()
        about = {"Title": "True size, print at 100%", "CreationDate": None}
        settings: Any = {"pdf.fonttype": 42, "font.family": "DejaVu Sans"}
        with (
            Look().drawing(),
            mpl.rc_context(settings),
            PdfPages(whole, metadata=about) as file,
        ):
            for page in pages:
                file.savefig(page(paper))
        paths.append(replace_file(path, whole.getvalue()))
    return paths


def save_overview(path: str | os.PathLike[str]) -> Path:
    """Write all pages side by side and small, as a PNG to see what there is.

    Raises
    ------
    OSError
        If the folder cannot be written to.

    """
    figures = [make("A4") for make in (ion_discs, network_tray, paper_crack, joule_ruler)]
    pages = []
    for figure in figures:
        figure.set_dpi(50)
        canvas = FigureCanvasAgg(figure)
        canvas.draw()
        pages.append(Image.fromarray(np.asarray(canvas.buffer_rgba())).convert("L"))
    whole = Image.new("L", (sum(page.width for page in pages), pages[0].height))
    for place, page in enumerate(pages):
        whole.paste(page, (place * page.width, 0))
    whole.save(path)
    return Path(path)


if __name__ == "__main__":
    for written in (
        *save_printables("assets"),
        *save_show_pages("assets"),
        *save_counting_frame("assets"),
        save_overview("assets/true_size.png"),
    ):
        print(written)
