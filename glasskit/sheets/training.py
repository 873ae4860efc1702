# SPDX-License-Identifier: MIT
"""Records of a trainee's practice and first week, and what a supervisor has seen: to sign."""

import datetime
from collections.abc import Mapping

from glasskit.sheets.page import filled, render
from glasskit.tables import read
from glasskit.training import Progress, Week
from glasskit.words.training import progress_sentence, record_rows
from glasskit.words.week import week_rows, week_sentence

FIELDS = {
    "trainee": "trainee",
    "laboratory": "laboratory",
    "supervisor": "supervisor",
    "signed": "date and signature of the supervisor",
}
"""Fields of the head, by name; what is not given is a line to write on."""


def competences() -> tuple[tuple[str, str], ...]:
    """Return what a newcomer shows in the first week, and how a supervisor sees it.

    Returns
    -------
    tuple of (str, str)
        Competence, how it is shown.

    """
    return tuple((row["competence"], row["shown"]) for row in read("competences"))


def practice_record(
    progress: Progress,
    fields: Mapping[str, str] | None = None,
    on: datetime.date | None = None,
) -> str:
    """Return the record of one trainee.

    Parameters
    ----------
    progress : Progress
        From `glasskit.training.open_progress`.
    fields : mapping, optional
        What is known of `FIELDS`; the trainee's name is that of the file.
    on : date, optional
        Date in the footer; today by default.

    Returns
    -------
    str
        HTML for `glasskit.sheets.save`.

    Raises
    ------
    ValueError
        If a field is unknown.

    """
    known = {"trainee": progress.trainee, **(fields or {})}
    return render(
        "practice.html",
        on,
        title="Record of practice",
        fields=filled(FIELDS, known),
        sentence=progress_sentence(progress),
        rows=record_rows(progress),
        competences=competences(),
    )


def week_record(
    week: Week,
    fields: Mapping[str, str] | None = None,
    on: datetime.date | None = None,
) -> str:
    """Return the record of a first week, to be signed.

    Parameters
    ----------
    week : Week
        From `training.open_week`.
    fields : mapping, optional
        What is known of `FIELDS`.
    on : date, optional
        Date in the footer; today by default.

    Returns
    -------
    str
        HTML for `glasskit.sheets.save`.

    Raises
    ------
    ValueError
        If a field is unknown.

    """
    return render(
        "week.html",
        on,
        title="Record of the first week",
        fields=filled(FIELDS, fields),
        sentence=week_sentence(week),
        rows=week_rows(week),
        competences=competences(),
    )
