# SPDX-License-Identifier: MIT
"""Cool a glass and see how long it takes to flow."""

from glasskit.draw.flow import HEAT, SHARES, FlowScene
from glasskit.live.controls import Choice, Slider
from glasskit.live.explorer import Explorer
from glasskit.materials import FROZEN_FRACTION, FlowState, melt, melt_names
from glasskit.words.flow import numbers, sentence


def flow_explorer() -> Explorer[FlowState]:
    """Return an explorer of viscosity against temperature.

    Returns
    -------
    Explorer
        Sliders for temperature and for the share of the activation energy that frozen glass
        keeps, and a choice of glass.

    """
    glasses = {melt(name).label: name for name in melt_names()}
    return Explorer(
        [
            Slider("temperature", "temperature", "temperature", *HEAT, 722 + 273.15, 1.0),
            Choice("glass", "glass", glasses, "window glass"),
            Slider(
                "frozen_fraction",
                "kept in frozen glass",
                "percent",
                *SHARES,
                FROZEN_FRACTION,
                0.01,
            ),
        ],
        lambda **settings: FlowState(**settings),
        FlowScene(),
        sentence,
        numbers,
        title="Cool a glass until it no longer flows",
    )
