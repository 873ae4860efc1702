# SPDX-License-Identifier: MIT
"""One page for pupils without Python: questions, pictures and films in a single file."""

import datetime
import tempfile
from collections.abc import Callable
from pathlib import Path

from glasskit.classroom import question
from glasskit.crack import load_crack
from glasskit.draw.crack import PressedCrackScene
from glasskit.draw.ions import SwapScene
from glasskit.draw.picture import SCREEN, still
from glasskit.draw.stopping import StopScene
from glasskit.impact import stop_on
from glasskit.materials import glass, solid
from glasskit.materials.ions import swap
from glasskit.plates import plate
from glasskit.sheets.film import closing_crack_film, fall_film
from glasskit.sheets.page import picture, render
from glasskit.steps import Steps, in_steps, part
from glasskit.words.crack import crack_sentence
from glasskit.words.glossary import spoken
from glasskit.words.ions import sentence
from glasskit.words.stopping import stop_sentence

_FRAMES = 24  # of the film: enough to glide, and no larger file than a mail takes


def _parts(age: str) -> list[dict[str, object]]:
    cover = plate("cover glass, salt bath")
    shut = load_crack(cover.squeezed(600e6), 100e6, 20e-6, cover.glass)
    sodium = swap("Na", "K")
    stone = stop_on(0.2, 1.0, solid("steel"), glass("soda-lime"))
    return [
        {
            "title": "Ions in hot salt",
            "shown": "a bigger ion in a smaller one’s place",
            "question": spoken(question("holes"), age),
            "picture": picture(still(SwapScene(), sodium, size=SCREEN)),
            "words": sentence(sodium, "metric"),
        },
        {
            "title": "A scratch",
            "shown": "a crack pressed shut",
            "question": spoken(question("shut"), age),
            "picture": picture(still(PressedCrackScene(), shut, size=SCREEN)),
            "words": crack_sentence(shut, "metric"),
        },
        {
            "title": "A fall",
            "shown": "how a fall ends",
            "question": spoken(question("floor"), age),
            "picture": picture(still(StopScene(), stone, size=SCREEN)),
            "words": stop_sentence(stone, "metric"),
        },
    ]


_FILMS: dict[str, Callable[[Path], Steps[Path]]] = {
    "a squeeze presses a crack shut": lambda path: closing_crack_film.steps(
        path, frames=_FRAMES
    ),
    "a fall turns height into motion": lambda path: fall_film.steps(path, slower=4.0),
}
_made: dict[str, str] = {}  # films, once for all pages


def _films() -> Steps[list[tuple[str, str]]]:
    for number, (title, make) in enumerate(_FILMS.items(), 1):
        if title not in _made:
            with tempfile.TemporaryDirectory() as folder:
                path = Path(folder) / "film.html"
                yield from part(make(path), (number, len(_FILMS)), f"film {number}")
                _made[title] = path.read_text(encoding="utf-8")
    return list(_made.items())


@in_steps
def pupils_page(on: datetime.date | None = None, age: str = "11-14") -> Steps[str]:
    """Return one page that needs nothing but a browser, and no network.

    Parameters
    ----------
    on : date, optional
        Date in the footer; today by default.
    age : {"8-11", "11-14", "14-16", "16-18"}
        From 14 on they get questions in the words that are examined.

    Returns
    -------
    str
        HTML with questions to open, pictures with their words, and films with a player.

    Raises
    ------
    ValueError
        If `age` is not among those named.

    """
    return render(
        "pupils_page.html",
        on,
        title="Why toughened glass survives",
        parts=_parts(age),
        films=(yield from _films()),
    )
