# SPDX-License-Identifier: MIT
"""Draw two panes that break in the same way, stopped at a moment, and where it began."""

from collections.abc import Iterable
from itertools import product

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.collections import PathCollection
from matplotlib.figure import Figure
from matplotlib.image import AxesImage
from matplotlib.patches import Circle, Polygon, Rectangle, Wedge

from glasskit.breaking import SIDE, BrokenPane, SlowMotion
from glasskit.draw.look import GLASS, GREY, INK, ORANGE, PALE, WHITE, Look, Sign
from glasskit.draw.scene import Scene
from glasskit.impact import ball_of_mass
from glasskit.materials import solid
from glasskit.plates import striker
from glasskit.quantities import FloatArray, System
from glasskit.words.breaking import moment_verdict, pane_state
from glasskit.words.quenching import CORE, SKIN

_FINER = 2  # dots of the film along one of the picture
_BOLD = 4  # width of a lone crack in dots of the film
_FINE = 2  # width of cracks among crumbs
_MANY = 200  # pieces from which on cracks are drawn fine
_FACE = 1.7  # half the width of the piece of face that is drawn, over the radius of branching
_TALL = 1.9  # its height over half its width
_WIDE = 0.8  # half the width of the pane that is drawn cut open, over its thickness
_THROUGH = 1.2  # depth of the drawn short crack over that of the skin
_MARK = 3e-3  # radius of the drawn mark of a punch or a chip [m]
_KEPT = 6  # films that are kept, one a pane and size
_INK = np.array([0x1A, 0x1A, 0x1A, 0], dtype=np.uint8)
_STARTED = {"punch": "punched", "chip": "edge chipped"}
_STATES = {
    "held": "holds the blow",
    "short": "short crack stays",
    "whole": "still whole",
    "breaking": "breaking",
    "broken": "broken",
}


def arrivals(pane: BrokenPane, dots: int) -> FloatArray:
    """Return when a crack comes to each dot of a pane, from above: a film in one picture.

    Parameters
    ----------
    pane : BrokenPane
        The pane.
    dots : int
        Dots along each side.

    Returns
    -------
    ndarray
        Time [s], infinite where no crack comes, shape (dots, dots): rows across the width.

    """
    found = np.full(dots * dots, np.inf)
    if not len(pane.cracks):
        return found.reshape(dots, dots)
    scale = dots / np.array([pane.length, pane.width])
    start, way = pane.starts * scale, (pane.ends - pane.starts) * scale
    share = np.linspace(0.0, 1.0, int(2 * np.hypot(*way.T).max()) + 2)[:, None]
    time = pane.times[:, 0] + share * (pane.times[:, 1] - pane.times[:, 0])
    latest_first = np.argsort(-time, axis=None, kind="stable")  # quick on nearly sorted rows
    time = time.ravel()[latest_first]
    x, y = ((start[:, one] + share * way[:, one]).ravel()[latest_first] for one in (0, 1))
    bold = _FINE if len(pane.pieces) > _MANY else _BOLD
    rows, columns = (
        [
            np.clip((spot + move - bold / 2).round(), 0, dots - 1).astype(int)
            for move in range(bold)
        ]
        for spot in (y, x)
    )
    for row, column in product(rows, columns):
        passed = np.full(dots * dots, np.inf)
        passed[row * dots + column] = time  # of those that meet in a dot the first stays
        np.minimum(found, passed, out=found)
    return found.reshape(dots, dots)


class BreakingScene(Scene[SlowMotion]):
    """An ordinary and a toughened pane at one moment, and where they began to break."""

    sources = ("ConwayMecholsky1989", "Quinn2016", "Freund1990")

    def __init__(self) -> None:
        self._films: dict[tuple[int, int], tuple[BrokenPane, FloatArray]] = {}

    def verdict(self, result: SlowMotion, system: System) -> str:
        """Return what the picture says."""
        return moment_verdict(result)

    def frame(self, result: SlowMotion, look: Look) -> tuple[str, float]:
        """Return what the drawn origin depends on: the net tension of a blow, or the skin."""
        size = result.strength if result.struck else result.toughened.thickness
        return result.start, size

    def build(self, figure: Figure, look: Look, result: SlowMotion) -> Iterable[Artist]:
        """Draw panes without cracks, and the face; return what moves."""
        widths = (1.0, 1.0, 0.72)
        *panes, face = figure.subplots(1, 3, width_ratios=widths)
        (self._build_face if result.struck else self._build_skin)(face, look, result)
        self.sides = [
            _Side(ax, look, name)
            for ax, name in zip(panes, ("ordinary", "toughened"), strict=True)
        ]
        return [artist for side in self.sides for artist in side.artists]

    def _build_face(self, ax: Axes, look: Look, result: SlowMotion) -> None:
        """Draw the zones round the origin, on the face of the first crack."""
        radii = {
            name: float(look.shown(ends.mean(), "thickness"))
            for name, ends in result.zones.items()
        }
        half = _FACE * radii["branching"]
        ax.set(
            xlim=(-half, half), ylim=(0, _TALL * half), aspect="equal", xticks=[], yticks=[]
        )
        ax.spines[["left", "top", "right"]].set_visible(False)
        ax.set_title("where it began")
        wide = look.show(2 * _FACE * result.zones["branching"].mean(), "thickness", 2)
        ax.set_xlabel(f"first crack, cut open:\n{wide} wide")
        rough = Rectangle((-half, 0), 2 * half, _TALL * half, edgecolor=GREY, hatch="//", lw=0)
        rough.set_facecolor(WHITE if look.mono else GLASS)
        ax.add_patch(rough)
        for name, fill, hatch in (
            ("branching", PALE, "xx"),
            ("hackle", PALE, "..."),
            ("mist", WHITE, ""),
        ):
            zone = Wedge((0, 0), radii[name], 0, 180, facecolor=fill, hatch=hatch)
            zone.set(edgecolor=INK, linewidth=1.2)
            ax.add_patch(zone)
        ax.text(0, 0.4 * radii["mist"], "mirror", ha="center", va="center")
        box = {"facecolor": WHITE, "edgecolor": "none", "pad": 1.5}
        zones = "rough,\nrougher," if look.large else "mist, hackle,"
        said = f"outside it\n{zones}\nthen the crack\nsplits"
        middle = 0.5 * (_TALL * half + radii["branching"])
        ax.text(0, middle, said, ha="center", va="center", bbox=box)

    def _build_skin(self, ax: Axes, look: Look, result: SlowMotion) -> None:
        """Draw the toughened pane cut open, with the short crack through its skin."""
        profile = result.toughened.profile
        deep = float(look.shown(profile.thickness, "thickness"))
        skin = float(look.shown(profile.case_depth, "thickness"))
        half, room = _WIDE * deep, (_TALL * _WIDE - 1) / 2 * deep
        ax.set(xlim=(-half, half), ylim=(deep + room, -room), aspect="equal")
        ax.set(xticks=[], yticks=[], title="where it began")
        ax.spines[["left", "top", "right", "bottom"]].set_visible(False)
        size = look.show(profile.thickness, "thickness", 2)
        ax.set_xlabel(f"toughened, cut open:\n{size} thick")
        signs: tuple[Sign, ...] = ("squeeze", "pull", "squeeze")
        ends = (0.0, skin), (skin, deep - skin), (deep - skin, deep)
        for (top, bottom), sign in zip(ends, signs, strict=True):
            band = Rectangle((-half, top), 2 * half, bottom - top, **look.fill(sign))
            ax.add_patch(band)
        box = {"facecolor": WHITE, "edgecolor": "none", "pad": 1.5}
        for depth, said in ((deep / 2, CORE), (deep - skin / 2, SKIN)):
            ax.text(0, depth, said, ha="center", va="center", bbox=box)
        down = _THROUGH * skin
        corners = {
            "punch": [(-skin / 4, 0), (0, down), (skin / 4, 0)],
            "chip": [(-half, 0), (-half, down), (down - half, 0)],
        }
        ax.add_patch(Polygon(corners[result.start], facecolor=INK, edgecolor=INK))

    def update(self, result: SlowMotion, look: Look) -> None:
        """Set both panes to the moment."""
        for side, pane in zip(self.sides, (result.ordinary, result.toughened), strict=True):
            side.set(result, pane, self._film(pane, side.dots), look)

    def _film(self, pane: BrokenPane, dots: int) -> FloatArray:
        """Return the arrivals of a pane, drawn once and kept for the next moments."""
        key = id(pane), dots
        if key not in self._films:
            if len(self._films) >= _KEPT:
                self._films.pop(next(iter(self._films)))
            self._films[key] = pane, arrivals(pane, _FINER * dots)
        return self._films[key][1]


class _Side:
    """One of the two panes from above."""

    image: AxesImage
    tips: PathCollection

    def __init__(self, ax: Axes, look: Look, name: str) -> None:
        side = float(look.shown(SIDE, "length"))
        ax.set(xlim=(0, side), ylim=(0, side), aspect="equal", xticks=[], yticks=[])
        ax.set_facecolor(WHITE if look.mono else GLASS)
        ax.spines[["top", "right"]].set_visible(True)
        ax.set_title(name)
        ax.set_xlabel(f"{look.show(SIDE, 'length', 2)} wide, from above\n ")
        self.ax = ax
        self.image = ax.imshow(
            np.zeros((1, 1, 4), dtype=np.uint8), origin="lower", extent=(0, side, 0, side)
        )
        ball = ball_of_mass(striker("steel ball")["mass"], solid("steel"))
        self.radii = [float(look.shown(size, "length")) for size in (_MARK, ball.radius)]
        self.sound = Circle((0, 0), 0, fill=False, edgecolor=GREY, lw=1.6, ls="--")
        self.ball = Circle((0, 0), 0, fill=False, edgecolor=INK, lw=2.2)
        for patch in (self.sound, self.ball):
            ax.add_patch(patch)
            patch.set_clip_path(ax.patch)
        self.tips = ax.scatter([], [], s=14, c=ORANGE, edgecolors=INK, linewidths=0.5)
        box = {"facecolor": WHITE, "edgecolor": "none", "pad": 2.0, "alpha": 0.85}
        self.state = ax.text(0.03 * side, 0.03 * side, "", ha="left", va="bottom", bbox=box)
        self.label = ax.text(0.97 * side, 0.97 * side, "", ha="right", va="top", bbox=box)
        self.side = side
        self.artists: list[Artist] = [
            self.image,
            self.sound,
            self.ball,
            self.tips,
            self.state,
            self.label,
        ]

    @property
    def dots(self) -> int:
        """Dots of the screen along a side, once the picture has been laid out."""
        return max(round(self.ax.bbox.width), 1)

    def set(self, result: SlowMotion, pane: BrokenPane, film: FloatArray, look: Look) -> None:
        """Show a pane at the moment of the result."""
        moment = result.moments[pane is result.toughened]
        dots = len(film) // _FINER
        cracked = (film <= result.time).view(np.uint8)
        finer = np.ndindex(_FINER, _FINER)
        ink = np.tile(_INK, (dots, dots, 1))
        ink[..., 3] = 255 // _FINER**2 * sum(cracked[a::_FINER, b::_FINER] for a, b in finer)
        self.image.set_data(ink)
        place = look.shown(pane.origin, "length")
        tips = look.shown(moment.tips, "length")
        self.tips.set_offsets(tips.reshape(-1, 2))
        self.ball.set(center=tuple(place), radius=self.radii[result.struck])
        self.ball.set_visible(result.touching or not result.struck)
        running = 0 < moment.sound < 1.5 * SIDE
        self.sound.set(center=tuple(place), visible=running)
        self.sound.set_radius(float(look.shown(moment.sound, "length")))
        state = pane_state(pane, result.time, result.struck)
        said = _STATES[state]
        if state == "breaking":
            said = f"cracks: {look.show(moment.reached, 'length', 2)}"
        self.state.set_text(said)
        words = [_STARTED.get(result.start, "ball has let go")]
        if result.touching:
            words = ["ball touches"]
        if running:
            words.append(f"sound: {look.show(moment.sound, 'length', 2)}")
        self.label.set_text("\n".join(words))
