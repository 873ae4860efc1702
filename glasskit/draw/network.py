# SPDX-License-Identifier: MIT
"""Draw a swap of ions: the flat glass before and after, and the squeeze layer by layer."""

from collections.abc import Hashable, Iterable

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.collections import EllipseCollection, PolyCollection
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from glasskit.draw.look import (
    GLASS,
    GREY,
    INK,
    PALE,
    PURPLE,
    WHITE,
    YELLOW,
    Look,
    Sign,
    StressArrows,
)
from glasskit.draw.scene import Scene
from glasskit.network import Network, Swap
from glasskit.network.sheet import IntArray
from glasskit.network.swapping import OUTGOING
from glasskit.quantities import FloatArray, System
from glasskit.words.network import NAMES, swap_verdict

_WIDER = 15.0  # how much too long arrows of displacement are drawn
_EDGE = 0.35e-9  # [m], what lies so near a side is drawn at the other side as well
_TOP, _BOTTOM = -0.75e-9, 5.0e-9  # [m], depths between which the glass is shown
_FOOT = 0.6e-9  # [m], room for words below
_NARROW = 2.2  # [inch], least width of the curve
_STEP = 0.1  # [percent of a bond's stiffness], ends of the stress axis are whole steps


class _Sheet:
    """One network on axes: triangles and ions, repeated at the sides."""

    def __init__(self, ax: Axes, look: Look, network: Network) -> None:
        self.network, self.look = network, look
        self.corners = network.bonds[:, 1].reshape(-1, 3)
        centres = network.positions[: network.formers]
        self.formers, self.former_shift = _tiled(centres, network)
        self.ions, self.ion_shift = _tiled(network.ions, network)
        self.triangles = PolyCollection(
            [], facecolor=PALE if look.mono else GLASS, edgecolor=GREY, linewidth=0.9
        )
        diameters = np.ones(len(self.ions))
        self.discs = EllipseCollection(
            diameters,
            diameters,
            np.zeros(len(self.ions)),
            units="y",
            offsets=np.zeros((len(self.ions), 2)),
            offset_transform=ax.transData,
            edgecolor=INK,
            linewidth=1.0,
        )
        self.artists: list[Artist] = [self.triangles, self.discs]
        for artist in (self.triangles, self.discs):
            ax.add_collection(artist, autolim=False)

    def places(self, network: Network) -> FloatArray:
        """Return sideways place and depth of every point, in the unit shown."""
        depth = self.network.surface - network.positions[:, 1]
        return self.look.shown(np.column_stack([network.positions[:, 0], depth]), "nanometre")

    def set(self, network: Network, old: str) -> None:
        """Show this state of the same network; ions other than the old one stand out."""
        places, period = self.places(network), self.look.shown(network.width, "nanometre")
        former, corner = places[self.formers], places[self.corners[self.formers]]
        arm = corner - former[:, None]
        arm[..., 0] -= period * np.round(arm[..., 0] / period)
        shift = np.column_stack([self.former_shift * period, 0 * self.former_shift])
        self.triangles.set_verts(list(former[:, None] + arm + shift[:, None]))
        ions = places[len(places) - len(network.elements) :][self.ions]
        ions[:, 0] += self.ion_shift * period
        self.discs.set_offsets(ions)
        diameters = 2 * self.look.shown(network.radii[self.ions], "nanometre")
        self.discs.set(widths=diameters, heights=diameters)
        new = np.array([element != old for element in network.elements])[self.ions]
        fills = (GREY, WHITE) if self.look.mono else (PURPLE, YELLOW)
        self.discs.set_facecolor([fills[0] if fresh else fills[1] for fresh in new])


def _tiled(places: FloatArray, network: Network) -> tuple[IntArray, FloatArray]:
    """Return the numbers of the points to draw, and by how many periods to shift each."""
    shown = np.flatnonzero(network.surface - places[:, 1] < _BOTTOM + _EDGE)
    home = -np.floor(places[shown, 0] / network.width)
    across = places[shown, 0] + home * network.width
    left, right = across < _EDGE, across > network.width - _EDGE
    numbers = np.concatenate([shown, shown[left], shown[right]])
    return numbers, np.concatenate([home, home[left] + 1, home[right] - 1])


def _end(result: Swap, look: Look) -> float:
    steps = np.ceil(look.shown(result.most, "percent") / _STEP).item()
    return float(_STEP * max(steps, 1))


def _three(figure: Figure, look: Look, shape: float) -> tuple[Axes, Axes, Axes]:
    """Place two sheets of true shape (width over height) and the curve at their right.

    By hand, for constrained layout needs several passes when axes keep their shape.
    """
    figure.set_layout_engine("none")
    wide, high = figure.get_size_inches()
    em = 12 * look.scale / 72
    left, right, gap, low, top = 3.6 * em, 0.8 * em, 1.2 * em, 4.4 * em, 1.8 * em
    room = wide - left - right - 2 * gap
    sheet = min((high - low - top) * shape, (room - _NARROW) / 2)
    tall = sheet / shape
    foot = low + (high - low - top - tall) / 2
    starts = (left, left + sheet + gap, left + 2 * (sheet + gap))
    widths = (sheet, sheet, room - 2 * sheet)
    before, after, curve = (
        figure.add_axes((x / wide, foot / high, w / wide, tall / high))
        for x, w in zip(starts, widths, strict=True)
    )
    return before, after, curve


def _titles(result: Swap, look: Look) -> tuple[str, str]:
    old, new = ("white", "grey") if look.mono else ("yellow", "purple")
    newcomer = NAMES[result.incoming]
    after = f"{newcomer} ({new})" if result.incoming != OUTGOING else newcomer
    return f"before: {NAMES[OUTGOING]} ({old})", f"after: {after}"


class SwapScene(Scene[Swap]):
    """Flat glass before the swap, after it with the way each former went, and its stress."""

    sources = ("Zachariasen1932", "Shannon1976")

    def verdict(self, result: Swap, system: System) -> str:
        """Return what the picture says."""
        return swap_verdict(result, system)

    def frame(self, result: Swap, look: Look) -> Hashable:
        """Return the end of the stress axis, who comes, and which glass it is."""
        return _end(result, look), result.incoming, id(result.result.before)

    def build(self, figure: Figure, look: Look, result: Swap) -> Iterable[Artist]:
        """Draw the glass before and all axes; return what moves."""
        network = result.result.before
        self._width, self._top, self._bottom, foot = look.shown(
            [network.width, _TOP, _BOTTOM, _BOTTOM + _FOOT], "nanometre"
        ).tolist()
        before, after, curve = _three(figure, look, self._width / (foot - self._top))
        for ax, title in zip((before, after), _titles(result, look), strict=True):
            ax.set(xlim=(0, self._width), ylim=(foot, self._top), xticks=[], title=title)
            ax.set_yticks(np.arange(0, self._bottom, 1))
            ax.spines[["left", "bottom"]].set_visible(False)
            strip = (self._width / 2, (self._bottom + foot) / 2)
            ax.text(*strip, "held by the glass beneath", ha="center", va="center")
        sheet = _Sheet(before, look, network)
        sheet.set(network, OUTGOING)
        self._clip(before, sheet.artists)
        before.set_ylabel(look.label("depth", "nanometre"))
        after.set_xlabel(f"arrows {_WIDER:g} times too long")
        curve.set(ylim=(foot, self._top), yticks=[])
        return [
            *self._build_after(after, look, network),
            *self._build_curve(curve, look, result),
        ]

    def _clip(self, ax: Axes, artists: Iterable[Artist]) -> None:
        """Let the glass end above the words below it."""
        window = Rectangle((0, self._top), self._width, self._bottom - self._top)
        window.set_transform(ax.transData)
        for artist in artists:
            artist.set_clip_path(window)

    def _build_after(self, ax: Axes, look: Look, network: Network) -> list[Artist]:
        self.sheet = _Sheet(ax, look, network)
        ax.tick_params(labelleft=False)
        (self.limit,) = ax.plot([0, self._width], [0, 0], color=INK, lw=1.6, ls="--")
        nowhere = np.zeros(len(self.sheet.formers))
        self.moves = ax.quiver(
            *(nowhere,) * 4,
            angles="xy",
            scale_units="xy",
            scale=1,
            units="dots",
            width=1.6 * look.scale,
            minlength=0,
            color=INK,
        )
        self.arrows = StressArrows(ax, look, 0.0, self._width, 0.0, 0.24 * self._width)
        self._clip(ax, [*self.sheet.artists, self.moves])
        return [*self.sheet.artists, self.moves, self.limit, *self.arrows.artists]

    def _build_curve(self, ax: Axes, look: Look, result: Swap) -> list[Artist]:
        self._most = _end(result, look)
        ax.set(xlim=(-1.1 * self._most, 1.1 * self._most))
        ax.set_xticks([-self._most, 0, self._most])
        ax.set_xlabel("% of bond stiffness")
        ax.spines["left"].set_visible(False)
        ax.plot([0, 0], [self._top, self._bottom], color=INK, lw=1)
        signs: tuple[tuple[float, Sign], ...] = ((-0.55, "squeeze"), (0.55, "pull"))
        for place, sign in signs:
            colour = look.word_colour(sign)
            ax.text(place * self._most, -0.15, sign, ha="center", va="bottom", color=colour)
        self._edges = look.shown(result.result.edges, "nanometre")
        (self.squeezed,) = ax.fill([0, 0, 0], [0, 0, 0], **look.fill("squeeze"), lw=0)
        (self.pulled,) = ax.fill([0, 0, 0], [0, 0, 0], **look.fill("pull"), lw=0)
        (self.curve,) = ax.plot([], [], color=INK)
        ends = [-1.1 * self._most, 1.1 * self._most]
        (self.mark,) = ax.plot(ends, [0, 0], color=INK, lw=1.6, ls="--")
        side, end = ("right", ends[1]) if result.misfit >= 0 else ("left", ends[0])
        self.mark_word = ax.text(end, 0, "swapped\nto here", ha=side, va="top")
        return [self.squeezed, self.pulled, self.curve, self.mark, self.mark_word]

    def update(self, result: Swap, look: Look) -> None:
        """Move ions, network, arrows and stress."""
        layer = look.shown(result.layer, "nanometre").item()
        self.sheet.set(result.result.after, OUTGOING)
        self._move_arrows(result)
        stress = look.shown(result.result.stress, "percent")
        self.arrows.set(look.shown(result.stress, "percent").item() / self._most, layer / 2)
        self.limit.set_ydata([layer, layer])
        self.mark.set_ydata([layer, layer])
        self.mark_word.set_y(layer)
        # A step for each layer that is shown.
        steps = np.concatenate([[0], np.repeat(stress, 2), [0]])
        depth = np.minimum(np.repeat(self._edges, 2), self._bottom)
        self.curve.set_data(steps, depth)
        for area, part in ((self.squeezed, np.minimum), (self.pulled, np.maximum)):
            area.set_xy(np.column_stack([part(steps, 0), depth]))

    def _move_arrows(self, result: Swap) -> None:
        sheet, before = self.sheet, result.result.before
        start = sheet.places(before)[sheet.formers]
        move = sheet.places(result.result.after)[sheet.formers] - start
        across = self.sheet.former_shift * self._width
        self.moves.set_offsets(start + np.column_stack([across, np.zeros_like(across)]))
        self.moves.set_UVC(*_WIDER * move.T)
