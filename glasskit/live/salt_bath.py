# SPDX-License-Identifier: MIT
"""Set time and temperature of a salt bath, and see how deep and how hard it squeezes."""

from glasskit.draw.salt_bath import HEAT, HOURS, BathScene
from glasskit.live.controls import Choice, Slider
from glasskit.live.explorer import Explorer
from glasskit.toughening import SaltBath
from glasskit.words.salt_bath import GLASS_NAMES, numbers, sentence


def bath_explorer() -> Explorer[SaltBath]:
    """Return an explorer of salt baths.

    Returns
    -------
    Explorer
        Sliders for time, temperature, thickness and for what is wanted; a choice of glass.

    """
    glasses = {label: name for name, label in GLASS_NAMES.items()}
    return Explorer(
        [
            Slider("time", "time in the bath", "hours", *HOURS, 8 * 3600.0, log=True),
            Slider("temperature", "bath", "temperature", *HEAT, 450 + 273.15, 1.0),
            Choice("glass", "glass", glasses, "window glass"),
            Slider("thickness", "plate", "thickness", 0.8e-3, 6e-3, 2e-3, 0.1e-3),
            Slider("wanted_squeeze", "wanted: stress", "stress", 100e6, 800e6, 400e6, 10e6),
            Slider("wanted_depth", "wanted: depth", "depth", 5e-6, 80e-6, 20e-6, 1e-6),
        ],
        lambda **settings: SaltBath(**settings),
        BathScene(),
        sentence,
        numbers,
        title="Cook glass in a salt bath",
    )
