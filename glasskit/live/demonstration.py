# SPDX-License-Identifier: MIT
"""The planner: ask for panes, rig and target, show the odds, save the sheets, keep the log."""

import html
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from glasskit.demonstration import (
    BothPanes,
    DroppedBall,
    FallingPane,
    Plan,
    drop_both,
    moved,
    plan,
)
from glasskit.demonstration.planning import LEAST_FALL
from glasskit.draw.odds import OddsScene, Outlook
from glasskit.files import next_free
from glasskit.impact import ball_of_mass
from glasskit.live.breaklog import LogForm
from glasskit.live.controls import Choice, Slider, failing, message, set_message
from glasskit.live.explorer import Explorer
from glasskit.live.panel import button, controls, file_link, framed, placed, row, text_field
from glasskit.live.panes import PanesForm, RigForm, TargetForm
from glasskit.live.stage import stage_file
from glasskit.live.style import STYLE
from glasskit.quantities import System, show
from glasskit.sheets import (
    both_film,
    briefing_cards,
    closing_crack_film,
    fall_film,
    plan_sheet,
    question_cards,
    risk_assessment,
    save,
    slides,
)
from glasskit.words.demonstration import (
    demo_name,
    grade,
    odds_numbers,
    odds_sentence,
    plan_sentences,
)

LOG = "demonstration/break-log.csv"
"""Where the break log is kept, beside the notebook."""

_HIGHEST = 6.0  # upper end of the slider of heights [m]

_WIDE = "<style>.glasskit .glasskit-said li { margin-bottom: 0.3em; }</style>"


class Planner(Explorer[Outlook]):
    """The odds of a demonstration, between the form that asks and the log that corrects.

    Attributes
    ----------
    panes, rig, target : PanesForm, RigForm, TargetForm
        What is asked.
    work : Button
        Works out the plan.
    progress : FloatProgress
        How far that is.
    stale : HTML
        Said while the plan is not of what the form holds.
    log : LogForm
        The break log.
    fields : dict of Text
        What is printed at the head of the sheets.
    folder : Text
        Where sheets, slides and films are saved.
    plan : Plan
        The plan at its best height, with what the log tells.

    """

    plan: Plan

    def __init__(self) -> None:
        self._shown = False
        self.progress = widgets.FloatProgress(0.0, min=0.0, max=1.0)
        self.doing, self.stale = message(), message()
        self.log = LogForm(LOG, self.replan)
        self.panes, self.rig, self.target = PanesForm(self._told), RigForm(), TargetForm()
        for group in (self.rig, self.target):
            group.on_change(self._told)
        self._screens = False
        self.rig.on_change(self._follow_rig)
        axes = {"equal factors": False, "equal steps": True}
        height = Slider(
            "height", "height of fall", "height", LEAST_FALL, _HIGHEST, 1.0, log=True
        )
        self._seen = self.log.read().entries
        self.plan = self._planned()
        self._rest()
        height.start = self.plan.height
        height.reset()
        super().__init__(
            [height, Choice("even", "height axis", axes, "equal factors")],
            self._outlook,
            OddsScene(),
            lambda outlook, system: odds_sentence(outlook.plan, system),
            lambda outlook, system: odds_numbers(outlook.plan, system),
            title="Odds of a demonstration",
        )
        self._surround()
        self._say()

    # --- the page ---------------------------------------------------------------------------

    def _surround(self) -> None:
        """Put the form above the picture, what follows from it below."""
        self.work = button("Work out the plan", self.replan)
        line = row(self.work, self.progress)
        form = [self.panes.widget, self.rig.widget, self.target.widget]
        above = framed(widgets.HTML(STYLE + _WIDE), *form, line, self.doing, self.stale)
        self.said_all = widgets.HTML()
        self.said_all.add_class("glasskit-said")
        below = framed(self.said_all, self._saving(), self.log.widget)
        self.frames += [above, below]
        self.widget = widgets.VBox([above, self.widget, below])
        self._shown = True

    def _saving(self) -> Any:
        self.folder = text_field("folder", "demonstration")
        labels = ("place", "date", "presenter", "helper")
        self.fields = {name: text_field(name) for name in labels}
        panel = controls(map(placed, [self.folder, *self.fields.values()]))
        sheets = button("Save the sheets", self.save_sheets)
        films = button("Save slides and films", self.save_films)
        show_file = button("Write the show", self.save_show)
        self.kept = message()
        head = widgets.HTML(
            "<strong>To print and to show</strong><br>Plan of the day, risk assessment to "
            "fill in and question cards, at the height shown; slides and two short films; the "
            "show of page 21 with this fall in it."
        )
        return widgets.VBox([head, panel, row(sheets, films, show_file), self.kept])

    def switch_units(self) -> None:
        """Show the same state in the other units, in the forms too."""
        super().switch_units()
        for group in (self.panes, self.rig, self.target, self.log):
            group.use(self.look.system)
        self._say()

    # --- from the form to the plan ----------------------------------------------------------

    def _told(self) -> None:
        """Say that the plan shown is not yet of what the form holds."""
        if self._shown:
            said = "changed since the plan below was worked out: press “Work out the plan”"
            set_message(self.stale, said)

    def _follow_rig(self) -> None:
        """Ask for the screens of a device while one falls, and for panes otherwise."""
        device = self.rig.controls["rig"].value == "device"
        if device != self._screens:
            self._screens = device
            self.panes.be_screens(device)

    def _planned(self) -> Plan:
        return plan(
            self.panes.panes(self.rig.device),
            self.rig.rig(),
            self.target.shows(),
            self.target.target(),
            place=self.rig.place(),
            have=self.panes.have(),
            log=self._seen,
            progress=self._report,
        )

    def _report(self, share: float, doing: str) -> None:
        self.progress.value = share
        self.progress.description = f"{100 * share:.0f}%"
        set_message(self.doing, f"working on: {doing}")

    def _rest(self) -> None:
        self.progress.value, self.progress.description = 1.0, "done"
        set_message(self.doing, "")

    def replan(self) -> None:
        """Work out the plan of what form and log hold, or say what is wrong with them."""
        self._seen = self.log.read().entries
        try:
            self.plan = self._planned()
        except ValueError as refusal:
            last = "the plan below is still the last one"
            set_message(self.stale, f"not worked out: {refusal}; {last}")
            return
        finally:
            self._rest()
        set_message(self.stale, "")
        height: Any = self.controls["height"]
        height.start = self.plan.height
        height.reset()
        self._newest.request()
        self._say()

    def _outlook(self, height: float, even: bool) -> Outlook:
        least, most = self.plan.heights[[0, -1]].tolist()
        if not least <= height <= most:
            top = show(most, "height", self.look.system, 3)
            raise ValueError(f"height is beyond what rig and ceiling allow, {top} of fall")
        there = self.plan if height == self.plan.height else moved(self.plan, height)
        return Outlook(plan=there, seen=self._seen, even=even)

    def _say(self) -> None:
        """Say what the plan says, and let the log ask for its panes."""
        rows = "".join(
            f"<li>{html.escape(said)}</li>"
            for said in plan_sentences(self.plan, self.look.system)
        )
        self.said_all.value = (
            f"<strong>The plan, at the height it advises</strong><ul>{rows}</ul>"
        )
        self.log.ask([item.specimen.name for item in self.plan.prospects])
        self.log.read()

    # --- what is kept -----------------------------------------------------------------------

    def save_sheets(self) -> list[Path]:
        """Write the sheets at the height shown, and say where; older ones stay."""
        shown, system = self.result.plan, self.look.system
        demo = demo_name(shown.rig)
        told = {name: box.value.strip() for name, box in self.fields.items()}
        day = told.pop("date")
        sheets = {
            "plan": plan_sheet(shown, fields={**told, "date": day}, system=system),
            "risk": risk_assessment(
                demo,
                fields={**told, "dates": day},
                panes=_described(shown, system),
                system=system,
            ),
            "cards": question_cards("curious", system=system),
            "briefing": briefing_cards(),
        }
        return self._keep(
            sheets, lambda name, path: [save(sheets[name], path.with_suffix(".html"))]
        )

    def save_films(self) -> list[Path]:
        """Write a slide and two films at the height shown, and say where."""
        shown, both = self.result.plan, self._both()
        large = replace(self.look, large=True)
        falls = 0.0 if isinstance(shown.rig, FallingPane) else shown.rig.mass

        def write(name: str, path: Path) -> list[Path]:
            if name == "odds":
                return list(slides(self, path.parent, path.name, large))
            gif = path.with_suffix(".gif")
            if name == "fall":
                if both:
                    return [both_film(gif, both, look=large)]
                return [fall_film(gif, mass=falls, height=shown.height, look=large)]
            return [closing_crack_film(gif, look=large, frames=24)]

        return self._keep(["odds", "crack", *(["fall"] if falls else [])], write)

    def save_show(self) -> list[Path]:
        """Write the show of page 21, with the fall of this plan if it is that of a ball."""
        both, system = self._both(), self.look.system
        return self._keep(
            ["show"], lambda _, path: [stage_file(path.with_suffix(".html"), both, system)]
        )

    def _both(self) -> BothPanes | None:
        """Return the fall of the plan on both kinds of pane, if they look alike."""
        shown = self.result.plan
        kinds = {item.shall_break: item for item in reversed(shown.prospects)}
        if not isinstance(shown.rig, DroppedBall) or len(kinds) < 2:
            return None
        plain, tough = kinds[True], kinds[False]
        pane = tough.specimen.pane
        if plain.specimen.pane != pane:
            return None
        ball = ball_of_mass(shown.rig.mass, shown.rig.solid)
        squeeze = max(-tough.specimen.profile.surface, 0.0)
        return drop_both(ball, pane, shown.height, squeeze, (plain.chance, tough.chance))

    def _keep(self, names: Any, write: Any) -> list[Path]:
        """Write one thing after the other under a number of its own, with the bar moving."""
        folder, paths = Path(self.folder.value.strip() or "."), []
        with failing(self.kept, f"could not save in {folder}"):
            with next_free(folder, *names) as places:
                for done, (name, place) in enumerate(zip(names, places, strict=True)):
                    self._report(done / len(places), name)
                    set_message(self.kept, f"working on {name}, {done + 1} of {len(places)}")
                    paths += write(name, place)
            listed = ", ".join(map(file_link, paths))
            where = html.escape(str(folder))
            self.kept.value = (
                f'<div role="status">Saved in {where}, beside this notebook. A click opens '
                f"a tab to print from: {listed}.</div>"
            )
        self._rest()
        return paths


def _described(made: Plan, system: System) -> Sequence[dict[str, str]]:
    """Write the panes of a plan as the risk assessment lists them."""
    rows = []
    for item in made.prospects:
        pane = item.specimen.pane
        sides = f"{show(pane.length, 'length', system)} × {show(pane.width, 'length', system)}"
        rows.append(
            {
                "kind": item.specimen.name,
                "size": sides,
                "thickness": show(pane.thickness, "thickness", system, 2),
                "mass": show(pane.mass, "mass", system, 2),
                "stress or grade": grade(item.specimen, system),
                "number": "" if item.bring is None else str(item.bring),
            }
        )
    return rows


def planner_explorer() -> Planner:
    """Return the planner of notebook 20: two kinds of pane, a ball, six shows at the start."""
    return Planner()
