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
from glasskit.draw.printables import PAPERS
from glasskit.impact import ball_of_mass
from glasskit.live.breaklog import LogForm
from glasskit.live.controls import Choice, Slider, message, set_message
from glasskit.live.explorer import Explorer
from glasskit.live.panel import button, framed, row, text_field
from glasskit.live.panes import PanesForm, RigForm, TargetForm
from glasskit.live.saving import SavingPanel
from glasskit.live.stage import stage_file
from glasskit.live.style import STYLE
from glasskit.live.work import Work
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
from glasskit.sheets.bound import bound
from glasskit.steps import Steps, finished, part
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

_STALE = "glasskit-stale"  # a picture that is not of what the form holds
_LAST = "the plan below is still the last one"
_HOW = "A click opens a tab to print from."
_FILMS = "A click opens one in a tab of its own; the folder has them for your slides."
_EXAMPLE = (
    "Its fall is an example: this plan has no ball that falls on two panes, free and alike."
)
_SHOW = "A click opens it: F fills the screen, ? lists the keys."

_WIDE = "<style>.glasskit .glasskit-said li { margin-bottom: 0.3em; }</style>"


class Planner(Explorer[Outlook]):
    """The odds of a demonstration, between the form that asks and the log that corrects.

    Attributes
    ----------
    panes, rig, target : PanesForm, RigForm, TargetForm
        What is asked.
    work : Button
        Works out the plan.
    planning : Work
        How far that is, and how to stop it.
    stale : HTML
        Said while the plan is not of what the form holds.
    log : LogForm
        The break log.
    fields : dict of Text
        What is printed at the head of the sheets.
    saving : SavingPanel
        Where sheets, slides and films are saved.
    plan : Plan
        The plan at its best height, with what the log tells.

    """

    plan: Plan

    def __init__(self) -> None:
        self._shown = False
        self.planning, self.stale = Work(), message()
        self.log = LogForm(LOG, self.replan)
        self.panes, self.rig, self.target = PanesForm(self._told), RigForm(), TargetForm()
        for group in (self.rig, self.target):
            group.on_change(self._told)
        self._screens = False
        self.rig.on_change(self._follow_rig)
        axes = {"wider near the floor": False, "even": True}
        height = Slider(
            "height", "height of fall", "height", LEAST_FALL, _HIGHEST, 1.0, log=True
        )
        self._seen = self.log.read().entries
        self.plan = finished(self._planned())
        height.start = self.plan.height
        height.reset()
        super().__init__(
            [height, Choice("even", "height axis", axes, "wider near the floor")],
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
        form = [self.panes.widget, self.rig.widget, self.target.widget]
        doing = [row(self.work), self.planning.widget, self.stale]
        above = framed(widgets.HTML(STYLE + _WIDE), *form, *doing)
        self.said_all = widgets.HTML()
        self.said_all.add_class("glasskit-said")
        below = framed(self.said_all, self._saving(), self.log.widget)
        self.frames += [above, below]
        self.widget = widgets.VBox([above, self.widget, below])
        self._shown = True

    def _saving(self) -> Any:
        labels = ("place", "date", "presenter", "helper")
        self.fields = {name: text_field(name) for name in labels}
        sheets = button("Save the sheets", self.save_sheets)
        films = button("Save slides and films", self.save_films)
        show_file = button("Write the show", self.save_show)
        buttons = [sheets, films, show_file]
        self.saving = SavingPanel("demonstration", list(self.fields.values()), buttons)
        head = widgets.HTML(
            "<strong>To print and to show</strong><br>Plan of the day, risk assessment to "
            "fill in and question cards, at the height shown; slides and two short films; the "
            "show of page 21 with this fall in it."
        )
        return widgets.VBox([head, self.saving.inside])

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
            self.image.add_class(_STALE)

    def _follow_rig(self) -> None:
        """Ask for the screens of a device while one falls, and for panes otherwise."""
        device = self.rig.controls["rig"].value == "device"
        if device != self._screens:
            self._screens = device
            self.panes.be_screens(device)

    def _planned(self) -> Steps[Plan]:
        return plan.steps(
            self.panes.panes(self.rig.device),
            self.rig.rig(),
            self.target.shows(),
            self.target.target(),
            place=self.rig.place(),
            have=self.panes.have(),
            log=self._seen,
        )

    def replan(self) -> None:
        """Work out the plan of what form and log hold, or say what is wrong with them."""
        self.planning.start(self._replanned(), [], f"stopped: {_LAST}")

    def _replanned(self) -> Steps[None]:
        set_message(self.stale, "")
        self._seen = self.log.read().entries
        try:
            self.plan = yield from self._planned()
        except ValueError as refusal:
            set_message(self.stale, f"not worked out: {refusal}; {_LAST}")
            return
        self.image.remove_class(_STALE)
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

    def save_sheets(self) -> None:
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
        paper = PAPERS["Letter" if system == "us" else "A4"]
        whole = bound("Sheets of the demonstration", list(sheets.values()), [], paper)
        sheets = {"all": whole, **sheets}

        def write(made: Path) -> Steps[None]:
            for done, (name, sheet) in enumerate(sheets.items(), 1):
                save(sheet, made / f"{name}.html")
                yield done / len(sheets), f"sheet {name}"

        self.saving.keep(list(sheets), write, f"{_HOW} The first holds all the others.")

    def save_films(self) -> None:
        """Write a slide and two films at the height shown, and say where."""
        shown, both = self.result.plan, self._both()
        large = replace(self.look, large=True)
        falls = 0.0 if isinstance(shown.rig, FallingPane) else shown.rig.mass
        names = ["odds", "crack", *(["fall"] if falls else [])]

        def write(made: Path) -> Steps[None]:
            gif = {name: made / f"{name}.gif" for name in names}
            slides(self, made, "odds", large)
            yield 1 / len(names), "slide of the odds"
            crack = closing_crack_film.steps(gif["crack"], look=large, frames=24)
            yield from part(crack, (2, len(names)), "film of the crack")
            if both:
                fall = both_film.steps(gif["fall"], both, look=large)
            elif falls:
                fall = fall_film.steps(
                    gif["fall"], mass=falls, height=shown.height, look=large
                )
            else:
                return
            yield from part(fall, (3, len(names)), "film of the fall")

        self.saving.keep(names, write, _FILMS)

    def save_show(self) -> None:
        """Write the show of page 21, with the fall of this plan if it is that of a ball."""
        both, system = self._both(), self.look.system
        self.saving.keep(
            ["show"],
            lambda made: stage_file.steps(made / "show.html", both, system),
            _SHOW if both else f"{_SHOW} {_EXAMPLE}",
        )

    def _both(self) -> BothPanes | None:
        """Return the fall of the plan on both kinds of pane, if they are free and alike."""
        shown = self.result.plan
        kinds = {item.shall_break: item for item in reversed(shown.prospects)}
        if (
            not isinstance(shown.rig, DroppedBall)
            or len(kinds) < 2
            or "glued" in shown.cautions
        ):
            return None
        plain, tough = kinds[True], kinds[False]
        pane = tough.specimen.pane
        if plain.specimen.pane != pane:
            return None
        ball = ball_of_mass(shown.rig.mass, shown.rig.solid)
        squeeze = max(-tough.specimen.profile.surface, 0.0)
        return drop_both(ball, pane, shown.height, squeeze, (plain.chance, tough.chance))


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
