# SPDX-License-Identifier: MIT
"""Seats in place of names: who may sit down, with a word that works once."""

import hmac
import secrets
import time
from collections.abc import Callable

from glasskit.quantities import whole

MOST_SEATS = 60

LETTERS = "bcdfghkmnpqrtwxz2346789"
"""Of words and codes: no vowels, so no words of a language; nothing that looks alike."""

_WORDS = 3  # for each seat: the lesson's, and two for a browser that was closed
_FREE_TRIES = 3
_LONGEST_WAIT = 60.0  # s


class TooSoon(Exception):  # noqa: N818, said to whoever is at the door, no fault of the program
    """Wrong words came too often from one address; the text says how long to wait."""


class Tries:
    """Slows down who guesses: wrong words are counted for each address.

    Addresses are told apart so that one pupil cannot keep the others out. Each try after the
    free ones has to wait, 2 s at first, then twice as long each time up to a minute.

    Parameters
    ----------
    free : int
        Wrong words that cost nothing.
    clock : callable
        Returns the time [s].

    """

    def __init__(self, free: int, clock: Callable[[], float]) -> None:
        self._free, self._clock = free, clock
        self._wrong: dict[str, tuple[int, float]] = {}  # address: wrong tries, not before

    def judge(self, address: str, right: Callable[[], bool]) -> bool:
        """Say whether a word is right, unless its address must wait.

        Parameters
        ----------
        address : str
            Where the try comes from.
        right : callable
            Looks at the word.

        Raises
        ------
        TooSoon
            If this address must wait; the word is then not even looked at.

        """
        tries, not_before = self._wrong.get(address, (0, 0.0))
        if (wait := not_before - self._clock()) > 0:
            raise TooSoon(f"Too many wrong words. Try again in {wait:.0f} seconds.")
        if right():
            self._wrong.pop(address, None)
            return True
        late = tries + 1 - self._free
        pause = min(2.0 ** (late + 1), _LONGEST_WAIT) if late >= 0 else 0.0
        self._wrong[address] = (tries + 1, self._clock() + pause)
        return False


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
        self._tries = Tries(_FREE_TRIES, clock)

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
        return self._tries.judge(address, lambda: self._spend(seat, plain(word)))

    def _spend(self, seat: str, typed: str) -> bool:
        words = self.words.get(seat.strip().lower(), [])
        for known in words:
            if same(plain(known), typed):
                words.remove(known)
                return True
        return False


def letters(count: int) -> str:
    """Return letters and digits drawn by chance, none that looks like another."""
    return "".join(secrets.choice(LETTERS) for _ in range(count))


def plain(typed: str) -> str:
    """Return a word as typed without what does not matter: case, blanks and hyphens."""
    return "".join(typed.lower().replace("-", "").split())


def same(one: str, other: str) -> bool:
    """Say whether two words are alike, in a time that does not tell how much of them is."""
    return hmac.compare_digest(one.encode(), other.encode())


def _word() -> str:
    return f"{letters(4)}-{letters(4)}"
