# SPDX-License-Identifier: MIT
"""Draw a piece of glass between crossed polarisers: its colours, the lag, a key to both."""

from collections.abc import Hashable, Iterable

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.ticker import MaxNLocator

from glasskit.draw.look import GREY, INK, WHITE, Look, Sign, round_up
from glasskit.draw.scene import Scene
from glasskit.light import Sight, interference_colour
from glasskit.quantities import System, show_number
from glasskit.words.light import colour_name, sight_verdict

_KEY_END = 2000e-9  # retardation at the upper end of the key [m]
_NAMED = np.array([0, 230, 397, 563, 728, 900, 1090, 1300, 1560, 1850]) * 1e-9
_TITLES = {
    "edge": "what you see: the edge",
    "bar": "what you see: the bent bar",
    "face": "what you see: the face",
    "uneven": "what you see: the face",
}
_SIGNS: dict[str, tuple[str, str, str]] = {
    "edge": ("squeezed", "stretched", "squeezed"),
    "bar": ("stretched", "no stress", "squeezed"),
    "face": ("", "", ""),
    "uneven": ("squeezed", "a jet", "squeezed"),
}


def _end(result: Sight) -> float:
    """Return where the axis of fringe orders ends."""
    return max(round_up(float(np.abs(result.orders).max())), 1.0)


class PolariserScene(Scene[Sight]):
    """The polarisers, the glass in its colours, the fringe order, and the key of colours."""

    sources = ("BornWolf1999", "CIE15")

    def verdict(self, result: Sight, system: System) -> str:
        """Return what the picture says."""
        return sight_verdict(result, system)

    def frame(self, result: Sight, look: Look) -> Hashable:
        """Return what is looked at, and the end of the axis of orders."""
        return result.view, _end(result)

    def build(self, figure: Figure, look: Look, result: Sight) -> Iterable[Artist]:
        """Draw axes, words and key; return what moves."""
        widths = (0.62, 1.75, 1.25, 0.85)
        dial, glass, curve, key = figure.subplots(1, 4, width_ratios=widths)
        return [
            *self._build_dial(dial),
            *self._build_glass(glass, look, result),
            *self._build_curve(curve, look, result),
            *self._build_key(key, look),
        ]

    def _build_dial(self, ax: Axes) -> list[Artist]:
        ax.set(xlim=(-1.15, 1.15), ylim=(-1.15, 1.15), aspect="equal", title="polarisers")
        ax.set_axis_off()
        turn = np.linspace(0, 2 * np.pi, 73)
        ax.plot(np.cos(turn), np.sin(turn), color=GREY, lw=1.6)
        ax.plot([-1, 1], [0, 0], color=GREY, lw=1.2, ls=":")
        (self.first,) = ax.plot([], [], color=INK, lw=4)
        (self.second,) = ax.plot([], [], color=INK, lw=2.4, ls="--")
        self.turned = ax.text(0, -1.3, "", ha="center", va="top")
        return [self.first, self.second, self.turned]

    def _build_glass(self, ax: Axes, look: Look, result: Sight) -> list[Artist]:
        self._deep = deep = look.shown(result.extent, "length").item()
        ax.set(xlim=(0, 1.75), ylim=(deep, 0), xticks=[])
        ax.set_title(_TITLES[result.view], loc="left")
        ax.spines["bottom"].set_visible(False)
        where = "place on the pane" if result.view in ("face", "uneven") else "depth"
        ax.set_ylabel(look.label(where, "length"))
        ax.yaxis.set_major_locator(MaxNLocator(4))
        self.seen = ax.imshow(
            np.zeros((len(result.places), 1, 3)),
            extent=(0, 1, deep, 0),
            aspect="auto",
            interpolation="nearest",
        )
        (rim,) = ax.plot([0, 1, 1, 0, 0], [0, 0, deep, deep, 0], color=INK, lw=1.6)
        self.dark_word = ax.text(0.5, deep / 2, "dark", ha="center", va="center", color=WHITE)
        self.orders = [
            ax.text(1.05, share * deep, "", va=align)
            for share, align in ((0.01, "top"), (0.5, "center"), (0.99, "bottom"))
        ]
        return [self.seen, rim, self.dark_word, *self.orders]

    def _build_curve(self, ax: Axes, look: Look, result: Sight) -> list[Artist]:
        most = _end(result)
        deep = self._deep
        ax.set(xlim=(-1.08 * most, 1.08 * most), ylim=(deep, 0), yticks=[])
        ax.set_xticks([-most, 0, most])
        ax.spines["left"].set_visible(False)
        ax.axvline(0, color=INK, lw=1)
        step = 1.0 if most <= 10 else 5.0
        ax.set_xlabel(f"fringe order, a dotted\nline for {'one' if step == 1 else 'five'}")
        for level in np.arange(step, most + 1e-9, step):
            for side in (-level, level):
                ax.axvline(side, color=GREY, lw=0.8, ls=":")
        signs: tuple[tuple[float, Sign], ...] = ((-0.54, "squeeze"), (0.54, "pull"))
        for place, sign in signs:
            ax.text(
                place * most,
                -0.012 * deep,
                sign,
                ha="center",
                va="bottom",
                color=look.word_colour(sign),
            )
        (self.squeezed,) = ax.fill([0, 0, 0], [0, 0, 0], **look.fill("squeeze"), lw=0)
        (self.pulled,) = ax.fill([0, 0, 0], [0, 0, 0], **look.fill("pull"), lw=0)
        (self.curve,) = ax.plot([], [], color=INK)
        return [self.squeezed, self.pulled, self.curve]

    def _build_key(self, ax: Axes, look: Look) -> list[Artist]:
        end = look.shown(_KEY_END, "nanometre").item()
        ax.set(xlim=(0, 2.6), ylim=(-0.03 * end, 1.03 * end), xticks=[], title="key (▸ here)")
        ax.spines["bottom"].set_visible(False)
        ax.set_ylabel(look.label("lag", "nanometre"))
        ladder = interference_colour(np.linspace(0, _KEY_END, 221))[:, None]
        ax.imshow(ladder, extent=(0.35, 0.95, 0, end), aspect="auto", origin="lower")
        for lag in _NAMED:
            level = look.shown(lag, "nanometre").item()
            ax.text(1.08, level, colour_name(lag), va="center")
        (self.marks,) = ax.plot(
            [], [], ls="", marker=">", ms=13 * look.scale, color=INK, clip_on=False
        )
        return [self.marks]

    def update(self, result: Sight, look: Look) -> None:
        """Turn the polarisers, colour the glass, draw the lag and mark it in the key."""
        across, up = np.cos(result.angle), np.sin(result.angle)
        self.first.set_data([-across, across], [-up, up])
        self.second.set_data([up, -up], [-across, across])
        self.turned.set_text(look.show(result.angle, "angle", 2))
        self.seen.set_data(result.colours[:, None])
        self.dark_word.set_visible(result.dark)
        orders, depth = result.orders, look.shown(result.places, "length")
        middle = len(orders) // 2
        for text, index, sign in zip(
            self.orders, (0, middle, -1), _SIGNS[result.view], strict=True
        ):
            order = show_number(round(abs(orders[index].item()), 2), 2)  # no finer: it is seen
            text.set_text(f"{sign}\norder {order}".strip())
        self.curve.set_data(orders, depth)
        for area, part in ((self.squeezed, np.minimum), (self.pulled, np.maximum)):
            outline = np.r_[0, part(orders, 0), 0]
            area.set_xy(np.column_stack([outline, np.r_[0, depth, depth[-1]]]))
        lags = np.abs(result.retardation[[0, middle]])
        lags = np.where(lags <= _KEY_END, lags, np.nan)
        self.marks.set_data([0.12, 0.12], look.shown(lags, "nanometre"))
