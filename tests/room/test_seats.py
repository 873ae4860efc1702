# SPDX-License-Identifier: MIT
import pytest

from glasskit.room.seats import Seats, TooSoon


class Clock:
    now = 1000.0

    def __call__(self):
        return self.now


def test_a_word_opens_its_own_seat_once():
    seats = Seats(3)
    word = seats.words["seat-01"][0]
    assert not seats.admit("seat-02", word, "a")
    assert seats.admit(" Seat-01", f" {word.upper().replace('-', ' ')}", "a")
    assert not seats.admit("seat-01", word, "a")
    assert seats.admit("seat-01", seats.words["seat-01"][0], "a")  # a spare


@pytest.mark.parametrize("seat", ["", "seat-04", "../seat-01", "seat-1"])
def test_an_empty_word_or_an_unknown_seat_opens_nothing(seat):
    seats = Seats(3)
    assert not seats.admit(seat, seats.words["seat-01"][0], "a")
    assert not seats.admit("seat-01", "", "a")


def test_each_wrong_word_doubles_the_wait_of_its_address_alone():
    clock = Clock()
    seats = Seats(2, clock)
    waits = [waited(seats, clock) for _ in range(11)]
    assert waits == [0, 0, 0, 2, 4, 8, 16, 32, 60, 60, 60]


def waited(seats, clock):
    """Return how long an address waits until its next wrong word is looked at [s]."""
    since = clock.now
    while True:
        try:
            assert not seats.admit("seat-01", "wrong", "a")
        except TooSoon:
            clock.now += 0.5
        else:
            return clock.now - since


def test_a_right_word_waits_too_but_not_from_another_address():
    clock = Clock()
    seats = Seats(1, clock)
    word = seats.words["seat-01"][0]
    for _ in range(3):
        seats.admit("seat-01", "wrong", "a")
    with pytest.raises(TooSoon, match="Try again in 2 seconds"):
        seats.admit("seat-01", word, "a")
    assert seats.admit("seat-01", word, "b")


def test_words_differ_and_hold_no_letters_that_look_alike():
    words = [word for held in Seats(60).words.values() for word in held]
    assert len(set(words)) == 180
    assert not set("".join(words)) & set("01aeilosuvy5")


@pytest.mark.parametrize("count", [0, 61, 2.5])
def test_a_room_has_1_to_60_seats(count):
    with pytest.raises(ValueError, match="count must be"):
        Seats(count)
