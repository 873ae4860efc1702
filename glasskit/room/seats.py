# SPDX-License-Identifier: MIT
"""Seats in place of names: who may sit down, with a word that works once."""

import hmac
import secrets
import time
from collections.abc import Callable

from glasskit.quantities import whole

MOST_SEATS = 60
_WORDS = 3  # for each seat: the lesson's, and two for a browser that was closed
_LETTERS = "bcdfghkmnpqrtwxz2346789"  # no vowels, so no words; nothing that looks alike
_FREE_TRIES = 3
_LONGEST_WAIT = 60.0  # s


class TooSoon(Exception):  # noqa: N818, said to whoever is at the door, no fault of the program
    """Wrong words came too often from one address; the text says how long to wait."""


class Seats:
    """The seats of one lesson and their words, kept in memory and nowhere else.

    A word lets one browser in and is then spent; each seat has three. After three wrong
    words from one address each further try has to wait, 2 s at first, then twice as long
    each time up to a minute. Addresses are told apart so that one pupil cannot keep the
    others out; with 23^8 words, guessing from many addresses at once gains nothing.

    Parameters
    ----------
    count : int
        Number of seats, 1 to 60.
    clock : callable, optional
        Returns the time [s].

    Raises
    ------
    ValueError
        If `count` is no number of seats.

    Examples
    --------
    >>> seats = Seats(28)
    >>> word, *spare = seats.words["seat-07"]
    >>> seats.admit("seat-07", word, "192.0.2.1"), seats.admit("seat-07", word, "192.0.2.1")
    (True, False)

    """

    def __init__(self, count: int, clock: Callable[[], float] = time.monotonic) -> None:
        self.words: dict[str, list[str]] = {
            f"seat-{number:02d}": [_word() for _ in range(_WORDS)]
            for number in range(1, whole("count", count, 1, MOST_SEATS) + 1)
        }
        self._clock = clock
        self._wrong: dict[str, tuple[int, float]] = {}  # address: wrong tries, not before

    def admit(self, seat: str, word: str, address: str) -> bool:
        """Say whether this word opens this seat, and spend it.

        Parameters
        ----------
        seat, word : str
            As typed: case, blanks and hyphens in the word do not matter.
        address : str
            Where the try comes from.

        Raises
        ------
        TooSoon
            If this address must wait; the word is then not even looked at.

        """
        tries, not_before = self._wrong.get(address, (0, 0.0))
        if (wait := not_before - self._clock()) > 0:
            raise TooSoon(f"Too many wrong words. Try again in {wait:.0f} seconds.")
        typed = "".join(word.lower().replace("-", "").split()).encode()
        words = self.words.get(seat.strip().lower(), [])
        for known in words:
            if hmac.compare_digest(known.replace("-", "").encode(), typed):
                words.remove(known)
                self._wrong.pop(address, None)
                return True
        late = tries + 1 - _FREE_TRIES
        pause = min(2.0 ** (late + 1), _LONGEST_WAIT) if late >= 0 else 0.0
        self._wrong[address] = (tries + 1, self._clock() + pause)
        return False


def _word() -> str:
    first, last = ("".join(secrets.choice(_LETTERS) for _ in range(4)) for _ in range(2))
    return f"{first}-{last}"
