# SPDX-License-Identifier: MIT
"""Cards for the seats of a room: address, seat and words, to print and cut apart."""

import datetime
from collections.abc import Mapping, Sequence

from glasskit.sheets.page import render


def seat_list(
    address: str,
    words: Mapping[str, Sequence[str]],
    code: str,
    on: datetime.date | None = None,
) -> str:
    """Return a card for each seat, as HTML.

    Parameters
    ----------
    address : str
        What pupils type into their browser.
    words : mapping
        Seat to its words, each good for one log-in.
    code : str
        The address as a QR code, a data URI.
    on : date, optional
        The date at the foot; today by default.

    Examples
    --------
    >>> "seat-01" in seat_list("http://192.0.2.1:8000/", {"seat-01": ["b2c3-d4f6"]}, "data:,")
    True

    """
    seats = [(seat, first, spare) for seat, (first, *spare) in words.items()]
    return render(
        "seats.html", on, title="Seats and words", address=address, seats=seats, code=code
    )
