# SPDX-License-Identifier: MIT
"""What tests ask of every picture: no fault in any look or size, and the same way back."""

import re

from matplotlib.figure import Figure

from glasskit.draw.look import Look
from glasskit.draw.picture import PAGE, SCREEN, SLIDE, LivePicture, layout_faults, still

PLAIN, LARGE, MONO = Look(), Look(large=True), Look(mono=True)
METRIC = re.compile(
    r"(?:\d|/) (?:mm|µm|cm|m|MPa|GPa|MPa√m|°C|kg|g|m/s|kN|N|J|J/m²|[nµ]m an? \w+)(?![\w/])"
)
LARGEST = Look(system="us", large=True, mono=True)
# Large type needs the most room; what fits there fits in plain type in the other system too.
LOOKS = [PLAIN, LARGE, LARGEST]
VIEWS = [(PLAIN, SLIDE), (LARGE, SCREEN), (LARGEST, SCREEN), (MONO, PAGE)]


def faults(scene, result, look, size=SCREEN):
    """Return what is wrong with the words of a picture, see `layout_faults`."""
    return layout_faults(still(scene, result, look, size))


def drawn(scene, result, look=PLAIN):
    """Return a scene that shows a result, with its artists to be asked."""
    scene.build(Figure((12.8, 5.4), 100), look, result)
    scene.update(result, look)
    return scene


def comes_back(scene, one, other):
    """Tell whether a picture changes with its result, and is the same when that returns."""
    picture = LivePicture(scene)
    first = picture.draw(one, PLAIN)
    return picture.draw(other, PLAIN) != first and picture.draw(one, PLAIN) == first
