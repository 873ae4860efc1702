# SPDX-License-Identifier: MIT
"""One page for the day of a demonstration: what to do, what to bring, what to say."""

import datetime
from collections.abc import Mapping

from matplotlib.figure import Figure

from glasskit.demonstration import CAUTIONS, FallingPane, Plan, Prospect
from glasskit.draw.look import GREY, INK, Look
from glasskit.impact import drop_energy, drop_speed
from glasskit.quantities import System, rounded, show, to_display, unit
from glasskit.sheets.page import filled, picture, render
from glasskit.tables import read
from glasskit.words.demonstration import (
    budget_sentence,
    demo_name,
    next_sentence,
    percent,
    rehearsal_sentence,
    release_sentence,
    show_sentence,
    spares_sentence,
    verdict,
)

FIELDS = {"place": "Place", "date": "Date", "presenter": "Presenter", "helper": "Helper"}
_DEED = {
    "ball drop": "a ball of {mass} is dropped on the middle of the pane",
    "device drop": "a device of {mass} is dropped flat along a guide",
    "flat fall": "the pane of {mass} falls flat",
    "hammer": "a hammer of {mass} is swung at the middle of the pane",
}
_STYLES = (("-", "//"), ("--", ".."), ("-.", "\\\\"), (":", "--"))


def _mass(plan: Plan) -> float:
    """Return what falls or swings [kg]; of a falling pane the first one."""
    if isinstance(plan.rig, FallingPane):
        pane = plan.prospects[0].specimen.pane
        return float(pane.length * pane.width * pane.thickness * pane.glass.density)
    return plan.rig.mass


def _curves(plan: Plan, system: System) -> Figure:
    """Draw the chance of breaking against height, each kind with its band."""
    look = Look(system=system, mono=True)
    with look.drawing():
        figure = Figure((6.4, 2.4), layout="constrained")
        ax = figure.subplots()
        ax.set(xscale="log", ylim=(0, 100), xlabel=look.label("height", "height"))
        ax.set_ylabel("chance of breaking / %")
        heights = look.shown(plan.heights, "height")
        ax.set_xlim(heights[0], heights[-1])
        for prospect, (style, hatch) in zip(plan.prospects, _STYLES * 9, strict=False):
            found = prospect.odds
            band = (100 * found.low, 100 * found.high)
            ax.fill_between(heights, *band, fc="none", ec=GREY, lw=0.6, hatch=hatch)
            name = prospect.specimen.name
            ax.plot(heights, 100 * found.chance, color=INK, ls=style, label=name)
        chosen = look.shown(plan.height, "height").item()
        ax.axvline(chosen, color=GREY, lw=1.5)
        ax.text(chosen, 101, look.show(plan.height, "height", 2), ha="center", va="bottom")
        ticks = [tick for tick in (0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20) if tick < heights[-1]]
        ax.set_xticks(ticks, [f"{tick:g}" for tick in ticks], minor=False)
        ax.set_xticks([], minor=True)
        ax.legend(frameon=False, loc="best")
    return figure


def _row(prospect: Prospect, system: System) -> dict[str, str]:
    """Say of one kind of pane what it shall do, how sure that is, and how many to bring."""
    pane = prospect.specimen.pane
    size = (pane.length, pane.width, pane.thickness)
    sides = [rounded(side) for side in to_display(size, "thickness", system)]
    return {
        "name": prospect.specimen.name,
        "size": f"{' × '.join(sides)} {unit('thickness', system).symbol}",
        "shall": "break" if prospect.shall_break else "survive",
        "chance": percent(prospect.chance),
        "band": f"{percent(prospect.low)} to {percent(prospect.high)}",
        "bring": "rehearse first" if prospect.bring is None else str(prospect.bring),
        "expected": f"{prospect.expected:.0f}" if prospect.expected < 100 else "very many",
    }


def plan_sheet(
    plan: Plan,
    *,
    fields: Mapping[str, str] | None = None,
    system: System = "metric",
    on: datetime.date | None = None,
) -> str:
    """Return a plan as one page to print.

    Parameters
    ----------
    plan : Plan
        From `glasskit.demonstration.plan`.
    fields : mapping, optional
        Text by a name of `FIELDS`; the others stay empty lines.
    system : {"metric", "us"}
        Units.
    on : date, optional
        Date in the footer; today by default.

    Returns
    -------
    str
        HTML; see `glasskit.sheets.save`.

    Raises
    ------
    ValueError
        If a field is unknown.

    Notes
    -----
    One page for up to four kinds of pane with short names; with more it runs on. A planning
    aid: it goes with a signed risk assessment, never in its place.

    """
    demo = demo_name(plan.rig)
    mass = _mass(plan)
    speed = show(drop_speed(plan.height), "speed", system, 2)
    energy = show(drop_energy(mass, plan.height), "energy", system, 2)
    kit = next(row["kit"] for row in read("demos") if row["demo"] == demo).split(";")
    return render(
        "plan.html",
        on,
        title="Plan for the day",
        fields=filled(FIELDS, fields),
        deed=_DEED[demo].format(mass=show(mass, "small_mass" if mass < 1 else "mass", system)),
        shows=plan.shows,
        verdict=verdict(plan, system),
        rows=[_row(prospect, system) for prospect in plan.prospects],
        rehearse=plan.rehearsals[0],
        target=plan.target,
        release=release_sentence(plan, system),
        joint=show_sentence(plan, system),
        bring=spares_sentence(plan),
        budget=budget_sentence(plan, system) if plan.budget else "",
        fits=plan.fits,
        hardly_known=plan.hardly_known,
        rehearsals=rehearsal_sentence(plan),
        curves=picture(_curves(plan, system)),
        kit=kit,
        height=show(plan.height, "height", system, 2),
        speed=speed,
        energy=energy,
        higher=next_sentence(plan, system),
        # The rule for the pane that held stands beside the running order.
        cautions=[CAUTIONS[key] for key in plan.cautions if key != "unbroken"],
    )
