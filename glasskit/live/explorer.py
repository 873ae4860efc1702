# SPDX-License-Identifier: MIT
"""An explorer: controls, a live picture of what they give, one sentence, and the numbers.

Writing one takes a computation, a `Scene` that draws its result, and two functions that put it
into words; the explorer does the rest. Show it as the last line of a notebook cell.
"""

import base64
import html
import re
import threading
import warnings
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Generic

import ipywidgets as widgets

from glasskit.classroom import COURSE
from glasskit.draw.look import Look
from glasskit.draw.picture import SCREEN, LivePicture, save, still
from glasskit.draw.scene import Result, Scene
from glasskit.files import next_free
from glasskit.live.aloud import status
from glasskit.live.controls import Control, failing, message, set_message
from glasskit.live.newest import Newest
from glasskit.live.panel import Panel, button, controls, enlarge, framed, row
from glasskit.live.style import STYLE
from glasskit.quantities import OutsideValidityWarning, System
from glasskit.words.glossary import hover, in_course_words

Numbers = list[tuple[str, str]]

_WIDTH, _HEIGHT = SCREEN.pixels
_SOON = 0.15  # [s] a picture that takes longer leaves the old one dimmed until it is there
_OLD = "glasskit-old"


class Explorer(Panel, Generic[Result]):
    """Sliders, and a picture that follows them.

    Parameters
    ----------
    controls : sequence of Control
        `Slider` and `Choice`; their names are the arguments of `compute`.
    compute : callable
        Takes the controls' values [SI] by name, returns a result. A ``ValueError`` is shown to
        the reader as it stands, beside the controls, and the last good picture stays.
    scene : Scene
        Draws the result.
    sentence : callable
        Takes a result and a system of units; returns one plain sentence that says what is
        seen. After the verdict it is the picture's text for screen readers too.
    numbers : callable
        Takes a result and a system of units; returns pairs of label and text.
    title : str
        What the reader explores; names the files of saved pictures.

    Attributes
    ----------
    controls : dict
        The controls by name: ``explorer.controls["depth"].value = 60e-6`` moves a slider.
    result : Result
        What the picture shows.
    look : Look
        Units and type size of the picture.
    compute, scene : callable, Scene
        As given.
    widget : VBox
        The whole, to put into other widgets.
    frames : list of VBox
        What changes the size of its type.
    savers : list of Button
        What writes the result to a file; they wait while a refusal stands, for what is shown
        is then not what the controls say.

    """

    def __init__(
        self,
        controls: Sequence[Control],
        compute: Callable[..., Result],
        scene: Scene[Result],
        sentence: Callable[[Result, System], str],
        numbers: Callable[[Result, System], Numbers],
        *,
        title: str,
    ) -> None:
        self.controls = {control.name: control for control in controls}
        self.title = title
        self.look = Look()
        self.compute, self.scene = compute, scene
        self._sentence, self._numbers = sentence, numbers
        self._spoken: Callable[[str], str] = str
        self._picture = LivePicture(scene)
        self._newest = Newest(self._draw)
        for control in controls:
            control.on_change(self._newest.request)
        self.widget = self._laid_out()
        self.frames = [self.widget]
        self.result = self._computed()
        self._show()

    @property
    def said(self) -> str:
        """The sentence that says what is seen."""
        return self._spoken(self._sentence(self.result, self.look.system))

    @property
    def numbers(self) -> Numbers:
        """The numbers behind the picture, label and text."""
        numbers = self._numbers(self.result, self.look.system)
        return [(self._spoken(label), text) for label, text in numbers]

    def speak(self, age: str) -> None:
        """Say sentence and numbers in the words of these years, see `classroom.AGES`."""
        spoken = in_course_words if age in COURSE else str
        if spoken is not self._spoken:
            self._spoken = spoken
            self._show()

    @property
    def alt(self) -> str:
        """The picture in words: the verdict on top of it, and what is seen."""
        verdict, said = self.scene.verdict(self.result, self.look.system), self.said
        return said if said.startswith(verdict) else f"{verdict.rstrip('.')}. {said}"

    @property
    def still(self) -> str:
        """Picture, sentence and numbers as they stand."""
        title = html.escape(self.title)
        sentence = f"<p>{self.sentence.value}</p>"
        return f"<strong>{title}</strong>{self.image.value}{sentence}{self.words.value}"

    def close(self) -> None:
        """Give back widgets and figure; the result stays."""
        super().close()
        self._picture = LivePicture(self.scene)  # holds no figure before it draws

    def _laid_out(self) -> Any:
        self.units = button("Show US units", self.switch_units)
        self.type = button("Larger type", self.switch_type)
        reset = button("Reset", self.reset)
        self.savers: list[Any] = [button("Save picture", self.save)]
        self.note, self.saved = message(), message()
        self.image, self.sentence, self.words = widgets.HTML(), status(), widgets.HTML()
        self.image.add_class("glasskit-picture")
        self.sentence.add_class("glasskit-sentence")
        panel = self._arranged()
        buttons = row(self.units, self.type, reset, *self.savers)
        heading = widgets.HTML(f"{STYLE}<strong>{html.escape(self.title)}</strong>")
        return framed(
            *(heading, panel, self.note, self.image, self.sentence, self.words),
            *(buttons, self.saved),
        )

    def _arranged(self) -> Any:
        """Return the controls as they stand on the page."""
        return controls(control.widget for control in self.controls.values())

    # --- what the buttons do ----------------------------------------------------------------

    def switch_units(self) -> None:
        """Show the same state in the other units."""
        system: System = "us" if self.look.system == "metric" else "metric"
        self.look = Look(system=system, large=self.look.large)
        self.units.description = f"Show {'metric' if system == 'us' else 'US'} units"
        for control in self.controls.values():
            control.use(system)
        self._newest.request()

    def switch_type(self) -> None:
        """Show the same state in larger type, or in ordinary type again."""
        self.look = Look(system=self.look.system, large=not self.look.large)
        self.type.description = "Smaller type" if self.look.large else "Larger type"
        for frame in self.frames:
            enlarge(frame, self.look.large)
        self._newest.request()

    def reset(self) -> None:
        """Put all controls back to the start; units and type size stay."""
        for control in self.controls.values():
            control.reset()

    def save(self, folder: str | Path = "pictures") -> list[Path]:
        """Save the picture as it is now for a slide, PNG and SVG, and say where.

        Parameters
        ----------
        folder : path
            Made if it is not there; beside the notebook by default. Older pictures stay.

        Returns
        -------
        list of Path
            The two files; empty, with a message, if they could not be written.

        """
        stem = re.sub(r"\W+", "-", self.title.lower()).strip("-")
        figure, text = still(self.scene, self.result, self.look), self.alt
        paths: list[Path] = []
        with failing(self.saved, f"the picture could not be saved in {folder}"):
            with next_free(folder, stem) as [place]:
                paths = [
                    save(figure, place.with_suffix(ending), self.title, text)
                    for ending in (".png", ".svg")
                ]
            said = f"saved {paths[0]} and {paths[1].name}, beside this notebook"
            set_message(self.saved, said)
        return paths

    # --- from the controls to the picture ---------------------------------------------------

    def _computed(self) -> Result:
        """Compute from the controls' values; the model's doubts go beside the controls."""
        values = {name: control.value for name, control in self.controls.items()}
        with warnings.catch_warnings(record=True) as caught:
            warnings.simplefilter("always", OutsideValidityWarning)
            result = self.compute(**values)
        doubts = []
        for warning in caught:
            if issubclass(warning.category, OutsideValidityWarning):
                doubts.append(str(warning.message))
            else:
                warnings.warn_explicit(
                    warning.message, warning.category, warning.filename, warning.lineno
                )
        set_message(self.note, ". ".join(doubt[:1].upper() + doubt[1:] for doubt in doubts))
        return result

    def _draw(self) -> None:
        """Follow the controls; whatever goes wrong is said beside them."""
        try:
            with self._dimmed():
                try:
                    self.result = self._computed()
                    self._hold("")
                except ValueError as refusal:
                    self._hold(str(refusal))
                self._show()
        except Exception as error:
            set_message(self.note, f"something is wrong inside this explorer: {error}")
            raise

    def _hold(self, refusal: str) -> None:
        """Say what is refused, and let nothing be saved of a state that has passed."""
        if refusal:
            said = f"{refusal}; the picture still shows the last state, and is not saved"
            set_message(self.note, said)
        for saver in self.savers:
            saver.disabled = bool(refusal)

    @contextmanager
    def _dimmed(self) -> Iterator[None]:
        """Dim the picture while a slow one is being made; a quick one costs no message."""
        timer = threading.Timer(_SOON, self.image.add_class, [_OLD])
        timer.daemon = True
        timer.start()
        try:
            yield
        finally:
            timer.cancel()
            timer.join()  # it may be at work: what it puts on is taken off after it
            self.image.remove_class(_OLD)

    def _show(self) -> None:
        """Show the result: the picture first, for it is what the eye waits for."""
        look = self.look
        png = base64.b64encode(self._picture.draw(self.result, look)).decode()
        self.image.value = (
            f'<img alt="{html.escape(self.alt)}" width="{_WIDTH}" height="{_HEIGHT}"'
            f' decoding="sync" src="data:image/png;base64,{png}">'
        )
        rows = (
            f'<tr><th scope="row">{html.escape(label)}</th><td>{html.escape(text)}</td></tr>'
            for label, text in self.numbers
        )
        self.sentence.value = hover(self.said)  # in a place of its own, which stays, or no
        # screen reader would say what has changed in it
        self.words.value = f'<table class="glasskit-numbers">{"".join(rows)}</table>'
        for control in self.controls.values():
            control.settle()
