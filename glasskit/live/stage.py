# SPDX-License-Identifier: MIT
"""The show in one file: full screen for the audience, notes on the presenter's other screen.

The file needs no Python and no network. Its pictures are vectors, sharp on any projector.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from importlib.util import find_spec
from pathlib import Path
from typing import Any

import numpy as np
from matplotlib.figure import Figure

from glasskit.demonstration import BothPanes, drop_both
from glasskit.draw.both import RATE, BothScene, moments
from glasskit.draw.breaking import BreakingScene
from glasskit.draw.crumbs import PiecesScene
from glasskit.draw.look import Look
from glasskit.draw.picture import SLIDE, moving, still
from glasskit.draw.scene import Scene
from glasskit.files import replace_file
from glasskit.impact import ball_of_mass
from glasskit.live.ball import struck_explorer
from glasskit.live.breaking import breaking_explorer
from glasskit.live.crack import pressed_crack_explorer
from glasskit.live.crumbs import crumb_explorer
from glasskit.live.explorer import Explorer
from glasskit.live.floors import floor_explorer
from glasskit.live.ions import swap_explorer
from glasskit.live.panel import button
from glasskit.live.quenching import kinds_explorer
from glasskit.live.saving import SavingPanel
from glasskit.materials import solid
from glasskit.quantities import System, one_of
from glasskit.sheets.cards import questions
from glasskit.sheets.film import SteadyCrack, both_film
from glasskit.sheets.page import picture, render
from glasskit.steps import Steps, in_steps, part
from glasskit.words.both import both_sentence
from glasskit.words.breaking import crumbles, moment_sentence
from glasskit.words.crack import crack_caption
from glasskit.words.stage import STORY

_HEIGHT, _MASS = 1.4, 0.227  # of the fall, where no plan says others [m], [kg]
_SCRATCH = {"depth": 20e-6, "tension": 100e6}
_HEIGHTS = 0.8, 1.6, 3.0  # from which the ball of a slow break falls [m]
_BREAKS = 11  # pictures of a break, until the toughened pane is full of cracks
_SQUEEZES = 20  # pictures while the squeeze grows
_ASKED = ("liquid", "everything", "crumbs", "safe")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Shown:
    """What an act shows: a picture, or several one after the other, and the words for it."""

    figures: Iterator[Figure]
    alt: str
    count: int = 1
    rate: float = 0.0  # pictures a second


def _still(scene: Scene[Any], result: Any, look: Look, alt: str) -> _Shown:
    return _Shown(figures=iter([still(scene, result, look, SLIDE)]), alt=alt)


def _start(explorer: Explorer[Any]) -> dict[str, Any]:
    return {name: control.value for name, control in explorer.controls.items()}


def _set(explorer: Explorer[Any], system: System, **values: float) -> Explorer[Any]:
    explorer.look = Look(system=system, large=True)
    # At once: on a page it follows its controls only after the show has been written.
    explorer.result = explorer.compute(**_start(explorer) | values)
    return explorer


def _standing(explorer: Explorer[Any]) -> _Shown:
    return _still(explorer.scene, explorer.result, explorer.look, explorer.alt)


def _closing(explorer: Explorer[Any], look: Look) -> _Shown:
    """Show a crack while its squeeze grows to what the explorer has at the start."""
    values = _start(explorer) | _SCRATCH
    steps = np.linspace(0.0, values["squeeze"], _SQUEEZES).tolist()
    results = [explorer.compute(**values | {"squeeze": step}) for step in steps]
    film = moving(SteadyCrack(results), results, look, SLIDE)
    said = crack_caption(results[-1], look.system)
    return _Shown(figures=film, alt=said, count=len(results), rate=RATE / 2)


def _breaking(both: BothPanes) -> dict[str, float]:
    """Return thickness and squeeze of the pane that breaks, and from which height.

    It is that of the fall, from as high as it takes; a usual one where that leaves no crumbs.
    """
    explorer, pane = breaking_explorer(), both.struck.pane
    values = _start(explorer)
    own = {"thickness": pane.thickness, "squeeze": both.struck.compression}
    sliders: Any = explorer.controls
    if all(sliders[name].low <= value <= sliders[name].high for name, value in own.items()):
        for height in _HEIGHTS:
            tried = own | {"height": height}
            broken = explorer.compute(**values | tried).toughened
            if len(broken.cracks) and crumbles(broken):
                return tried
    return {name: values[name] for name in (*own, "height")}


def _slow(look: Look, pane: dict[str, float]) -> _Shown:
    """Show two panes that break, microsecond by microsecond."""
    explorer = breaking_explorer()
    values = _start(explorer) | pane
    full = explorer.compute(**values).toughened.over
    times = np.linspace(0.0, full, _BREAKS).tolist()
    results = [explorer.compute(**values | {"time": time}) for time in times]
    film = moving(BreakingScene(), results, look, SLIDE)
    said = moment_sentence(results[-1], look.system)
    return _Shown(figures=film, alt=said, count=len(results), rate=RATE / 6)


def example() -> BothPanes:
    """Return the fall of the example: a ball of 227 g from 1.4 m on panes of 4 mm."""
    struck = struck_explorer().result
    ball = ball_of_mass(_MASS, solid("steel"))
    return drop_both(ball, struck.pane, _HEIGHT, struck.compression)


def _acts(both: BothPanes, system: System) -> Iterator[tuple[str, _Shown]]:
    """Yield the pictures of one act after the other."""
    look = Look(system=system, large=True)
    film, said = moments(both), both_sentence(both, system)
    alike = "Two panes, alike to look at, each on two rests with a ball high above it."
    yield "alike", _still(BothScene(), film[0], look, alike)
    falls = moving(BothScene(), film, look, SLIDE)
    yield "both", _Shown(figures=falls, alt=said, count=len(film), rate=RATE)
    breaking = _breaking(both)
    yield "slow", _slow(look, breaking)
    crack = _set(pressed_crack_explorer(), system, **_SCRATCH, squeeze=0.0)
    said = crack_caption(crack.result, system)
    yield "flaw", _still(crack.scene, crack.result, look, said)
    yield "shut", _closing(crack, look)
    yield "ions", _standing(_set(swap_explorer(), system))
    yield "ways", _standing(_set(kinds_explorer(), system))
    yield "floors", _standing(_set(floor_explorer(), system))
    pane = {name: breaking[name] for name in ("thickness", "squeeze")}
    crumbs = _set(crumb_explorer(), system, **pane)  # the pane of the slow break
    yield "crumbs", _still(PiecesScene(), crumbs.result, look, crumbs.said)


@in_steps
def stage_file(
    target: str | Path, both: BothPanes | None = None, system: System = "metric"
) -> Steps[Path]:
    """Write the show as one HTML file that opens anywhere.

    Parameters
    ----------
    target : path
        The file to write; an old one is replaced.
    both : BothPanes, optional
        The fall of the day; `example` by default.
    system : {"metric", "us"}
        Units.

    Returns
    -------
    Path
        The file written.

    Raises
    ------
    ValueError
        If `system` is unknown.
    OSError
        If the file cannot be written.

    """
    one_of("system", system, ("metric", "us"))
    yield 0.0, "the fall"
    shown, titles = {}, {act.key: act.title for act in STORY}
    for done, (key, act) in enumerate(_acts(both or example(), system)):
        pictures: list[str] = []
        for figure in act.figures:
            pictures.append(picture(figure))
            share = (done + len(pictures) / act.count) / len(STORY)
            yield share, f"{titles[key]}: picture {len(pictures)} of {act.count}"
        shown[key] = {"alt": act.alt, "rate": act.rate, "pictures": pictures}
    asked = questions(_ASKED, system)
    acts = [
        {
            "title": act.title,
            "ask": act.ask,
            "say": act.say,
            **shown.get(act.key, {"alt": "", "rate": 0, "pictures": []}),
            "lines": [[one["question"], one["short"]] for one in asked]
            if act.key == "questions"
            else [],
        }
        for act in STORY
    ]
    return replace_file(Path(target), render("stage.html", acts=acts).encode())


class Stage(SavingPanel):
    """Writes the show and says how to open it.

    Attributes
    ----------
    write, films : Button
        Write the file, and the film of both panes for slides; older ones stay.

    """

    def __init__(self, system: System = "metric") -> None:
        one_of("system", system, ("metric", "us"))
        self._system: System = system
        self.write = button("Write the show as one file", self.save)
        self.films = button("Save the film of both panes", self.save_film)
        super().__init__("demonstration", [], [self.write, self.films])

    def save(self) -> None:
        """Write the show under the next free name, and say where."""
        how = (
            "A click opens it: F fills the screen, ? lists the keys. For your notes on "
            "another screen (N) open the file from its folder."
        )
        self.keep(
            ["show"],
            lambda made: stage_file.steps(made / "show.html", system=self._system),
            how,
        )

    def save_film(self) -> None:
        """Write the film of both panes, as a GIF and, where PyAV is installed, as a video."""
        look = Look(system=self._system, large=True)
        endings = (".gif", ".mp4") if find_spec("av") else (".gif",)
        how = "A GIF for slides" + (
            ", and a video that can be paused."
            if len(endings) > 1
            else ". For a video that can be paused: python -m pip install av."
        )

        def write(made: Path) -> Steps[None]:
            yield 0.0, "the fall"
            both = example()
            for number, end in enumerate(endings, 1):
                film = both_film.steps(made / f"both{end}", both, look=look)
                yield from part(film, (number, len(endings)), f"film {end}")

        self.keep(["both"], write, how)


def on_stage(system: System = "metric") -> Stage:
    """Return the panel of notebook 21."""
    return Stage(system)
