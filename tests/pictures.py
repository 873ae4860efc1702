# SPDX-License-Identifier: MIT
"""What tests ask of every picture: no fault in any look or size, and the same way back."""

import re
from contextlib import contextmanager
from functools import cache
from tempfile import TemporaryDirectory

import pytest
from matplotlib.figure import Figure

from glasskit.draw.look import Look
from glasskit.draw.picture import PAGE, SCREEN, SLIDE, LivePicture, _Built, layout_faults
from glasskit.live import gallery

PLAIN, LARGE, MONO = Look(), Look(large=True), Look(mono=True)
METRIC = re.compile(
    r"(?:\d|/) (?:mm|µm|cm|m|MPa|GPa|MPa√m|°C|kg|g|m/s|kN|N|J|J/m²|[nµ]m an? \w+)(?![\w/])"
)
LARGEST = Look(system="us", large=True, mono=True)
# Large type needs the most room; what fits there fits in plain type in the other system too.
LOOKS = [PLAIN, LARGE, LARGEST]
VIEWS = [(PLAIN, SLIDE), (LARGE, SCREEN), (LARGEST, SCREEN), (MONO, PAGE)]


_built = {}  # what `faults` looked at last, by all that may shape what stands still
_KEPT = 16


def faults(scene, result, look, size=SCREEN):
    """Return what is wrong with the words of a picture, see `layout_faults`.

    Results of one frame follow each other on one figure, as on the screen: it takes longer to
    build and lay out a figure than to look at it.
    """
    given = tuple(map(id, vars(scene).values()))
    key = (type(scene), given, look, size, scene.frame(result, look))
    with look.drawing():
        built = _built.pop(key, None) or _Built(scene, result, look, size)
        built.update(result, look)
        built.figure.draw_without_rendering()
    _built[key] = built
    if len(_built) > _KEPT:
        del _built[next(iter(_built))]
    return layout_faults(built.figure)


@contextmanager
def unpainted():
    """Let explorers paint nothing, which is what takes them longest; they speak as ever."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(LivePicture, "draw", lambda *_: b"")
        yield


@cache
def at_start(page):
    """Return an unpainted explorer by its page, for all who leave it as it is.

    It stands in an empty folder, without a log or readings.
    """
    with pytest.MonkeyPatch.context() as patch, TemporaryDirectory() as folder, unpainted():
        patch.chdir(folder)
        return gallery.explorer(page)


def drawn(scene, result, look=PLAIN):
    """Return a scene that shows a result, with its artists to be asked."""
    scene.build(Figure((12.8, 5.4), 100), look, result)
    scene.lay(result, look)
    scene.update(result, look)
    return scene


def comes_back(scene, one, other):
    """Tell whether a picture changes with its result, and is the same when that returns."""
    picture = LivePicture(scene)
    first = picture.draw(one, PLAIN)
    return picture.draw(other, PLAIN) != first and picture.draw(one, PLAIN) == first
