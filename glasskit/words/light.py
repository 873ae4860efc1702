# SPDX-License-Identifier: MIT
"""Say what a piece of glass shows between crossed polarisers, also to those who see no hue."""

import numpy as np

from glasskit.light import Sight
from glasskit.light.polariscope import DEEP, SPAN, WAVE
from glasskit.quantities import System, show, show_number

# Upper end of the retardation [nm] at which each colour is seen: the order of the usual charts
# from memory, the limits set at the changes of the computed colours.
_NAMES = (
    (30, "black"),
    (220, "grey"),
    (310, "white"),
    (440, "yellow"),
    (480, "orange"),
    (520, "red"),
    (580, "purple"),
    (730, "blue"),
    (820, "green"),
    (960, "yellow"),
    (1060, "pink"),
    (1130, "purple"),
    (1230, "blue"),
    (1390, "green"),
    (1440, "yellow"),
    (1665, "pink"),
    (1750, "grey"),
    (1975, "green"),
    (2240, "pink"),
    (2600, "pale green"),
    (2850, "pale pink"),
)


_TELLING = 4.0  # fringe order up to which colours can be told apart (common practice)


def colour_name(retardation: float) -> str:
    """Name the colour that a retardation [m] shows in daylight.

    Examples
    --------
    >>> colour_name(0.0), colour_name(-400e-9), colour_name(551e-9), colour_name(8e-6)
    ('black', 'yellow', 'purple', 'nearly white')

    """
    lag = abs(retardation) * 1e9
    return next((name for end, name in _NAMES if lag <= end), "nearly white")


def sight_sentence(result: Sight, system: System) -> str:
    """Say what is seen, how large the lag is, and why it may stay dark."""
    if result.view == "face":
        return (
            "All dark: an ideal pane shows nothing, however strong the stress. Seen face-on "
            "it is squeezed and stretched alike in all directions across the light, so no "
            "wave lags. Real panes are uneven, and show it."
        )
    if result.stress == 0:
        return "All dark: there is no stress, so no wave lags behind the other."
    if result.dark and _on_axis(result):
        angle = show(result.angle, "angle", system)
        return (
            f"All dark at {angle}: the stress lies along a polariser and cannot show. Turn "
            "the polarisers to 45° before you say that there is no stress."
        )
    if result.dark:
        return "Nearly dark: the stress is too small, or the light path too short."
    return f"{_where(result, system)} {_faint(result)}".strip()


def _on_axis(result: Sight) -> bool:
    return bool(np.sin(2 * result.angle) ** 2 < 0.05)


def _spot(result: Sight, index: int, system: System) -> str:
    """Say lag, order and colour at one place."""
    lag = abs(result.retardation[index].item())
    order = show_number(lag / WAVE, 2)
    return f"{colour_name(lag)}, order {order} ({show(lag, 'nanometre', system)})"


def _where(result: Sight, system: System) -> str:
    path = show(result.path, "length", system)
    face, middle = (_spot(result, index, system) for index in (0, len(result.places) // 2))
    if result.view == "uneven":
        return (
            f"Face-on, an uneven quench shows. The edges are {face}. Rows of jets leave "
            f"spots, {middle}. Edges and spots tell that a pane is toughened; how uneven it "
            "is was invented here."
        )
    if result.view == "bar":
        return (
            f"Through {path} of the bent bar: both faces {face}, one stretched and one "
            "squeezed, which colour cannot tell apart. The middle is dark: no stress there."
        )
    skin = show(_dark_depth(result), "length", system)
    return (
        f"Through {path} of the edge: the squeezed faces {face}; the stretched core {middle}. "
        f"A dark line {skin} below each face marks where the squeeze ends."
    )


def _dark_depth(result: Sight) -> float:
    half = result.places[: len(result.places) // 2]
    return float(np.interp(0.0, result.retardation[: len(half)], half))


def _faint(result: Sight) -> str:
    """Say what spoils the view: too many fringes, or polarisers that stand badly."""
    share = np.sin(2 * result.angle) ** 2
    if share < 0.5:
        part = show(share, "percent", digits=2)
        return f"The polarisers stand badly: only {part} of the light that 45° would give."
    if np.abs(result.orders).max() > _TELLING:
        return "Beyond the fourth order colour says little: count the lines from the dark one."
    return ""


def sight_numbers(result: Sight, system: System) -> list[tuple[str, str]]:
    """List the numbers behind the picture."""
    middle = len(result.places) // 2
    optic = result.glass.values["stress_optic"]
    rows = [
        (
            "at the edges" if result.view == "uneven" else "at the upper face",
            _spot(result, 0, system),
        ),
        ("in the middle", _spot(result, middle, system)),
    ]
    if result.view == "edge" and result.stress:
        rows.append(("dark line below each face", show(_dark_depth(result), "length", system)))
    if result.view in ("edge", "bar"):
        one = show(result.for_one_order, "stress", system)
        rows.append(("stress for one fringe order along this path", one))
    share = np.sin(2 * result.angle) ** 2
    rows.append(("light at this angle, of that at 45°", show(share, "percent", digits=2)))
    if result.view == "bar":
        span, deep = show(SPAN, "length", system), show(DEEP, "thickness", system)
        rows.append(
            (
                f"load in the middle of a bar {deep} deep on supports {span} apart",
                show(result.load, "force", system),
            )
        )
    ends = f"from {optic.low * 1e12:g} to {optic.high * 1e12:g}"
    rows.append(
        (
            "stress-optic coefficient, published",
            f"{optic.value * 1e12:g} ({ends}) per TPa",
        )
    )
    return rows


def sight_verdict(result: Sight, system: System) -> str:
    """Say in six to ten words what is seen."""
    if result.view == "face":
        return "An ideal pane, face-on: dark, however strong the stress"
    if result.stress == 0:
        return "All dark: there is no stress to show"
    if result.dark and _on_axis(result):
        return "Dark, yet there is stress: turn to 45°"
    if result.dark:
        return "Nearly dark: stress too small or path too short"
    lags = result.retardation
    face, middle = (colour_name(lags[index].item()) for index in (0, len(lags) // 2))
    if result.view == "uneven":
        return f"Face-on, uneven quench: edges {face}, spots {middle}"
    if result.view == "bar":
        return f"Both faces show {face}, the middle stays dark"
    return f"Squeezed faces show {face}, the stretched core {middle}"
