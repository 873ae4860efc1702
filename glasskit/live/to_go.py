# SPDX-License-Identifier: MIT
"""An explorer to go: one file with sliders that needs no Python and no network.

``python -m glasskit.live.to_go 02p_a_crack_pressed_shut`` writes
``02p_a_crack_pressed_shut.html`` into the folder where you are. The question comes first; the
pictures that the kit computed for places along one or two controls wait inside the file until
they are asked for.
"""

import argparse
import base64
import io
import itertools
import math
import sys
import warnings
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import ipywidgets as widgets
from PIL import Image

from glasskit.classroom import AGES, COURSE, Lesson
from glasskit.draw.look import Look
from glasskit.draw.picture import LivePicture
from glasskit.files import replace_file
from glasskit.live import gallery
from glasskit.live.controls import Choice, Slider
from glasskit.live.explorer import Explorer
from glasskit.live.panel import button
from glasskit.live.saving import SavingPanel
from glasskit.quantities import OutsideValidityWarning, System, one_of
from glasskit.sheets.page import render
from glasskit.steps import Steps, in_steps, part
from glasskit.words.glossary import in_course_words

MOST = 8e6
"""Size of a file [byte], so that a mail and a telephone take it."""

_SYSTEMS: tuple[System, ...] = ("metric", "us")
_ALONE, _FIRST, _SECOND = 41, 17, 5  # places along one slider, or along each of two
_FEW = 15  # along one slider among others
_FEWEST = 3
_BASE64 = 4 / 3
_WORDS = 2000  # of one state [byte]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Input:
    """A control that can be moved: its values, what each is called, where it starts."""

    control: Slider | Choice
    values: list[Any]
    start: int

    def texts(self) -> list[str]:
        """Say every value in the units that the control shows."""
        if isinstance(self.control, Slider):
            return [self.control.said(value) for value in self.values]
        return list(self.control.menu.options)


def _input(control: Slider | Choice, count: int) -> _Input:
    if isinstance(control, Choice):
        values, start = list(control.choices.values()), control.menu.index
    else:
        values = control.along(count)
        start = min(range(len(values)), key=lambda place: abs(values[place] - control.start))
    return _Input(control=control, values=values, start=start)


@in_steps
def to_go(
    notebook: str, target: str | Path, inputs: Sequence[str] = (), age: str = "11-14"
) -> Steps[Path]:
    """Write the explorer of a notebook, and the question before it, as one HTML file.

    Parameters
    ----------
    notebook : str
        Such as "02p_a_crack_pressed_shut".
    target : path
        The file to write; an old one is replaced.
    inputs : sequence of str
        Names of one or two controls that can be moved; the first slider by default. All
        others stay where they stand at the start, and the page says where that is.
    age : {"8-11", "11-14", "14-16", "16-18"}
        From 14 on they get question, replies and sentences in the words that are examined.

    Returns
    -------
    Path
        The file written, of at most `MOST`: the larger the pictures, the fewer places.

    Raises
    ------
    ValueError
        If there is no such notebook, age or control, if no slider or more than two controls
        are named, or if even few pictures do not fit.
    OSError
        If the file cannot be written.

    """
    part_of = yield from _part(notebook, inputs, age, MOST)
    written = render("to_go.html", title=part_of["title"], part=part_of)
    return replace_file(Path(target), written.encode())


@in_steps
def sliders_of(lesson: Lesson) -> Steps[list[dict[str, Any]]]:
    """Return the explorers of a lesson's pages, for `glasskit.sheets.pupils_page`.

    Parameters
    ----------
    lesson : Lesson
        What was chosen.

    Returns
    -------
    list of dict
        One or two; together they fill at most half of what a mail takes.

    """
    pages = [page for page in lesson.pages if page in gallery.EXPLORERS and page < "20"]
    made = []
    for number, page in enumerate(pages, 1):
        steps = _part(page, (), lesson.spoken_as, MOST / 2 / len(pages), _FEW)
        made.append((yield from part(steps, (number, len(pages)), page.replace("_", " "))))
    return made


def _part(
    notebook: str, inputs: Sequence[str], age: str, most: float, alone: int = 0
) -> Steps[dict[str, Any]]:
    """Return an explorer with the question before it: all that its template needs."""
    one_of("notebook", notebook, gallery.EXPLORERS)
    one_of("age", age, AGES)
    explorer = gallery.explorer(notebook)
    explorer.speak(age)
    moved = _grid(explorer, _moved(explorer, inputs), most, alone or _ALONE)
    question, options, correct = gallery.asked_before(notebook, age)
    said = in_course_words if age in COURSE else str
    systems = {}
    for number, system in enumerate(_SYSTEMS, 1):
        states = _states(explorer, moved, system)
        systems[system] = yield from part(states, (number, len(_SYSTEMS)), f"{system} units")
    return {
        "title": explorer.title,
        "question": question,
        "options": options,
        "labels": [said(one.control.label) for one in moved],
        "data": {
            "start": [one.start for one in moved],
            "correct": correct,
            "systems": systems,
        },
    }


def _movable(explorer: Explorer[Any]) -> dict[str, Slider | Choice]:
    found = explorer.controls.items()
    return {name: one for name, one in found if isinstance(one, Slider | Choice)}


def _moved(explorer: Explorer[Any], names: Sequence[str]) -> list[Slider | Choice]:
    """Return the controls that can be moved."""
    movable = _movable(explorer)
    sliders = [name for name, one in movable.items() if isinstance(one, Slider)]
    if not sliders:
        raise ValueError(f"notebook must have a slider; {explorer.title!r} has none")
    names = names or sliders[:1]
    if len(names) > 2:
        raise ValueError(f"inputs must be one or two controls; got {len(names)}")
    for name in names:
        one_of("input", name, movable)
    return [movable[name] for name in names]


def _grid(
    explorer: Explorer[Any], controls: list[Slider | Choice], most: float, alone: int
) -> list[_Input]:
    """Return the inputs with as many values as fit into the file."""
    picture, look = LivePicture(explorer.scene), Look(large=True)
    few = [_input(control, _FEWEST) for control in controls]
    sizes = [len(_shot(picture, result, look)) for result in _results(explorer, few) if result]
    room = most / len(_SYSTEMS) / (_BASE64 * max(sizes) + _WORDS)
    counts = [alone] if len(controls) == 1 else [_FIRST, _SECOND]
    while True:
        moved = [_input(one, count) for one, count in zip(controls, counts, strict=True)]
        if (number := math.prod(len(one.values) for one in moved)) <= room:
            return moved
        if max(counts) == _FEWEST:
            raise ValueError(
                f"inputs must give at most {room:.0f} pictures, for a file of "
                f"{most / 1e6:.0f} MB; got {number}"
            )
        counts[counts.index(max(counts))] -= 2


def _results(explorer: Explorer[Any], moved: list[_Input]) -> Iterator[Any]:
    """Yield what the explorer computes at each place, the last input's changing fastest."""
    start = {name: control.value for name, control in explorer.controls.items()}
    names = [one.control.name for one in moved]
    for place in itertools.product(*(one.values for one in moved)):
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", OutsideValidityWarning)
            try:
                result = explorer.compute(**start | dict(zip(names, place, strict=True)))
            except ValueError:  # no such state
                result = None
        yield result


def _states(
    explorer: Explorer[Any], moved: list[_Input], system: System
) -> Steps[dict[str, Any]]:
    """Return what is seen and said at every place, and what stays as it is."""
    explorer.look = Look(system=system, large=True)
    for control in explorer.controls.values():
        control.use(system)
    picture = LivePicture(explorer.scene)
    states: list[Any] = []
    count = math.prod(len(one.values) for one in moved)
    for number, result in enumerate(_results(explorer, moved), 1):
        yield number / count, f"picture {number} of {count}"
        if result is None:
            states.append(None)
            continue
        explorer.result = result
        shot = base64.b64encode(_shot(picture, result, explorer.look)).decode()
        states.append([shot, explorer.alt, explorer.said, explorer.numbers])
    free = [one.control for one in moved]
    fixed = [
        f"{one.label} {one.said(one.value) if isinstance(one, Slider) else one.menu.value}"
        for one in _movable(explorer).values()
        if one not in free
    ]
    return {
        "places": [one.texts() for one in moved],
        "states": states,
        "fixed": "; ".join(fixed),
    }


def _shot(picture: LivePicture[Any], result: Any, look: Look) -> bytes:
    """Return a lossless picture, smaller than the live one, which must be quick."""
    file = io.BytesIO()
    Image.open(io.BytesIO(picture.draw(result, look))).convert("RGB").save(
        file, "webp", lossless=True, quality=50, method=4
    )
    return file.getvalue()


class ToGo(SavingPanel):
    """Writes the explorer of a page as one file, for telephones and the school's web page.

    Attributes
    ----------
    page : Dropdown
        Which page.
    write : Button
        Writes the file; older ones stay.

    """

    def __init__(self) -> None:
        pages = {name.replace("_", " "): name for name in gallery.EXPLORERS if name < "20"}
        self.page = widgets.Dropdown(description="page", options=pages)
        self.page.add_class("glasskit-box")
        self.write = button("Write its sliders as one file", self.save)
        super().__init__("to go", [self.page], [self.write])

    def save(self) -> None:
        """Write the file under the next free name, and say where."""
        name = self.page.value
        how = "It needs no Python and no network: send it, or put it on a page of yours."
        self.keep([name], lambda made: to_go.steps(name, made / f"{name}.html"), how)


def main(words: Sequence[str] | None = None) -> int:
    """Do as the command line says; return the exit status."""
    parser = argparse.ArgumentParser(
        prog="python -m glasskit.live.to_go",
        description="Write the explorer of a page as one file with sliders, without Python.",
    )
    parser.add_argument("page", help="such as 02p_a_crack_pressed_shut")
    parser.add_argument("inputs", nargs="*", help="names of one or two controls that move")
    parser.add_argument("--age", default="11-14", help=f"one of {', '.join(AGES)}")
    asked = parser.parse_args(words)
    try:
        path = to_go(asked.page, f"{asked.page}.html", asked.inputs, asked.age)
    except (OSError, ValueError) as error:
        print(f"{asked.page} cannot be written: {error}")
        return 1
    print(f"{path} is written: open it in any browser.")
    return 0


if __name__ == "__main__":
    sys.exit(main())
