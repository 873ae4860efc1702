# SPDX-License-Identifier: MIT
"""Set moments in which the right answer is to stop and ask. All are invented."""

from dataclasses import dataclass
from functools import cache

from glasskit.tables import read


@dataclass(frozen=True, slots=True, kw_only=True)
class Incident:
    """Something that happens at the bench, and four things one might do first.

    Attributes
    ----------
    key, story : str
        Its name, and what happens.
    options, replies : tuple of str
        What one might do, and what is to be said to it.
    right : int
        Place of the right option from 0.

    """

    key: str
    story: str
    options: tuple[str, ...]
    replies: tuple[str, ...]
    right: int


@cache
def incidents() -> tuple[Incident, ...]:
    """Return every incident.

    Returns
    -------
    tuple of Incident
        In the order of ``glasskit/data/incidents.csv``.

    """
    told: dict[str, list[dict[str, str]]] = {}
    for row in read("incidents"):
        told.setdefault(row["key"], []).append(row)
    return tuple(
        Incident(
            key=key,
            story=rows[0]["story"],
            options=tuple(row["option"] for row in rows),
            replies=tuple(row["reply"] for row in rows),
            right=[row["correct"] for row in rows].index("yes"),
        )
        for key, rows in told.items()
    )
