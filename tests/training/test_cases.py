# SPDX-License-Identifier: MIT
"""Cases with a planted mistake: solvable, told apart, marked, worked by hand from print."""

import math
import re
from functools import cache

import numpy as np
import pytest

from glasskit.quantities import to_display, typed
from glasskit.training import case, practice_set
from glasskit.training.cases import HOLDS, KINDS, name_of
from glasskit.words.training import choice_reply, number_reply

SEEDS = (0, 1, 7)
EVERY = pytest.mark.parametrize("kind", KINDS)


def numbers(text):
    """Return the numbers printed in a story, in order."""
    return [float(found) for found in re.findall(r"\d+(?:\.\d+)?", text)]


def test_there_are_more_than_eighteen_kinds_and_all_differ():
    cases = practice_set(1)
    assert len(KINDS) == len(cases) == len({one.mistake for one in cases}) >= 18
    assert len({name_of(kind) for kind in KINDS}) == len(KINDS) - len(HOLDS) + 1
    assert len({one.working for one in cases}) == len(KINDS)
    assert len({one.lesson for one in cases}) == len(KINDS)


@EVERY
def test_the_truth_passes_and_the_planted_result_fails(kind):
    for seed in SEEDS:
        one = case(kind, seed)
        assert one.mark(one.truth) == "right"
        assert one.mark(one.planted) == ("right" if kind in HOLDS else "planted")
        assert one.mistake in one.choices
        assert len({name_of(choice) for choice in one.choices}) == 5
        assert name_of(HOLDS[0]) in {name_of(choice) for choice in one.choices}
        assert len(one.hints) == 3


@EVERY
def test_the_truth_as_a_reader_types_it_passes(kind):
    one = case(kind, 2)
    shown = to_display(one.truth, one.quantity).item()
    assert one.mark(typed(f"{shown:.3g}", one.quantity, "metric")) == "right"
    assert one.mark(typed(f"{shown:.3g} {one.unit}", one.quantity)) == "right"


@EVERY
def test_the_same_seed_gives_the_same_case_and_another_a_different_one(kind):
    assert case(kind, 5) == case(kind, 5)
    assert case(kind, 5).story != case(kind, 6).story or kind == "too_few"


@EVERY
def test_no_hint_gives_the_number_away_and_nothing_is_left_unfilled(kind):
    one = case(kind, 3)
    printed = f"{to_display(one.truth, one.quantity).item():.3g}"
    for text in (one.story, one.question, *one.hints, one.lesson, case(kind, 3, 2).working):
        assert "{" not in text
        if kind in HOLDS:
            continue
        assert not re.search(rf"(?<![\d.]){re.escape(printed)}(?![\d.])", text) or (
            len(printed) < 3
        ), (printed, text)


def test_the_order_of_a_set_is_mixed_and_repeats():
    order = [one.mistake for one in practice_set(4)]
    assert order == [one.mistake for one in practice_set(4)]
    assert order != list(KINDS)
    assert order != [one.mistake for one in practice_set(5)]


def test_a_bar_worked_by_hand_from_the_printed_story(outside):
    one = case("gross_span", 11)
    force, outer, inner, width, thickness = numbers(one.story)
    outside(
        "four-point stress of a printed case / MPa",
        to_display(one.truth, "stress"),
        3 * force * (outer - inner) / (2 * width * thickness**2),
        source="3 F (L - l)/(2 b h^2) in newtons and millimetres",
        status="hand calculation",
        rel=1e-12,
    )


def test_a_rod_a_mirror_and_a_fringe_worked_by_hand(outside):
    diameter, span, force = numbers(case("diameter", 11).story)
    outside(
        "three-point stress of a printed rod / MPa",
        to_display(case("diameter", 11).truth, "stress"),
        8 * force * span / (math.pi * diameter**3),
        source="8 F L/(pi d^3) in newtons and millimetres",
        status="hand calculation",
        rel=1e-12,
    )
    squeeze, radius, constant = numbers(case("mirror_stress", 11).story)
    outside(
        "applied stress from a printed mirror / MPa",
        to_display(case("mirror_stress", 11).truth, "stress"),
        constant / math.sqrt(1e-3 * radius) + squeeze,
        source="A/sqrt(r) + compression",
        status="hand calculation",
        rel=1e-12,
    )
    lag, path, right = numbers(case("stress_optic", 11).story)[:3]
    outside(
        "edge stress from a printed retardation / MPa",
        to_display(case("stress_optic", 11).truth, "stress"),
        lag / (right * path),  # nm over mm/TPa: 1e-9/(1e-12 1e-3) = 1e6 Pa
        source="retardation/(C s)",
        status="hand calculation",
        rel=1e-12,
    )


def test_limits_met_by_bisection_are_those_of_the_card(outside):
    thickness = numbers(case("short_span", 11).story)[1]
    outside(
        "least span of a printed bar / mm",
        to_display(case("short_span", 11).truth, "length"),
        10 * thickness,
        source="ten depths, as the test card says",
        status="hand calculation",
        rel=1e-6,
    )
    thin = case("large_deflection", 11)
    thickness, _, support = numbers(thin.story)[:3]
    outside(
        "largest stress of a printed thin disc / MPa",
        to_display(thin.truth, "stress"),
        3 * 70e3 * thickness**2 / (2 * support**2),
        source="C1499's least thickness turned round, E = 70 GPa",
        status="hand calculation",
        rel=1e-6,
    )


def test_statistics_worked_by_hand(outside):
    chance = numbers(case("none_broke", 11).story)[-1] / 100
    outside(
        "panes that must pass, printed case",
        case("none_broke", 11).truth,
        math.ceil(math.log(0.05) / math.log(1 - chance)),
        source="ln 0.05/ln(1 - p), rounded up",
        status="hand calculation",
        abs_=0,
    )
    one = case("mean_for_design", 11)
    modulus, scale = numbers(one.story.split("Fit:")[1])[:2]
    outside(
        "stress that breaks one in a thousand, printed case / MPa",
        to_display(one.truth, "stress"),
        scale * (-math.log(0.999)) ** (1 / modulus),
        source="sigma0 (-ln 0.999)^(1/m) with the rounded fit as printed",
        status="hand calculation",
        rel=0.01,
    )
    one = case("spread_for_mean", 11)
    sample = numbers(one.story.split(":")[1])
    outside(
        "standard uncertainty of a printed mean / MPa",
        to_display(one.truth, "stress"),
        np.std(sample, ddof=1) / math.sqrt(10),
        source="standard deviation over the root of ten",
        status="hand calculation",
        rel=1e-9,
    )


def test_marking_tells_near_low_high_and_a_slipped_point():
    one = case("gross_span", 1)
    assert one.mark(one.truth * 1.009) == "right"
    assert one.mark(one.truth * 1.011) == one.mark(one.truth * 0.97) == "near"
    assert one.mark(one.truth * 1e3) == one.mark(one.truth / 10) == "power of ten"
    assert one.mark(one.truth * 0.8) == one.mark(-one.truth) == one.mark(0.0) == "low"
    assert one.mark(one.truth * 1.5) == "high"
    with pytest.raises(ValueError, match=r"^answer must be finite"):
        one.mark(math.nan)


def test_replies():
    one = case("one_roller", 1)
    assert number_reply(one, one.truth).startswith("Right: ")
    assert one.lesson in number_reply(one, one.truth)
    assert "still contains the mistake" in number_reply(one, one.planted)
    assert number_reply(one, 3 * one.truth) == "Too high."
    assert choice_reply(one, "one_roller").startswith("Yes")
    assert choice_reply(one, "pooled").startswith("Not here")


def test_unknown_kinds_and_seeds_are_refused():
    with pytest.raises(ValueError, match=r"^mistake must be one of"):
        case("laziness", 1)
    with pytest.raises(ValueError, match=r"^mistake must be one of"):
        name_of("laziness")
    with pytest.raises(
        ValueError, match=r"^seed must be a whole number, 0 <= seed .* got -1$"
    ):
        case("psi", -1)
    with pytest.raises(ValueError, match=r"^level must be a whole number"):
        case("psi", 1, 3)


# --- nothing but the numbers tells ----------------------------------------------------------

STOP = {*("a", "an", "the", "of", "for", "in", "to", "and", "at", "is", "are", "by", "its")}
STOP |= {"with", "from", "that", "it", "on", "as", "not"}


def said(text):
    """Return the words of a text that mean something."""
    return set(re.findall("[a-z]+", text.lower())) - STOP


GUESSERS = {
    "shared words": lambda name, text: len(said(name) & text),
    "share of words": lambda name, text: len(said(name) & text) / len(said(name)),
    "shared beginnings": lambda name, text: len(
        {word[:4] for word in said(name)} & {word[:4] for word in text}
    ),
    "long shared words": lambda name, text: sum(len(word) > 5 for word in said(name) & text),
    "shortest": lambda name, text: -len(name),
    "longest": lambda name, text: len(name),
}


drawn = cache(case)  # once for all who guess


@pytest.mark.parametrize("level", [1, 2])
@pytest.mark.parametrize("guess", GUESSERS)
def test_a_program_that_counts_words_names_at_most_two_in_five(guess, level):
    named = []
    for kind in KINDS:
        for seed in range(10):
            one = drawn(kind, seed, level)
            text = said(f"{one.title} {one.story} {one.working} {one.question}")
            scores = [GUESSERS[guess](name_of(choice), text) for choice in one.choices]
            best = [score == max(scores) for score in scores]
            named.append(best[one.choices.index(one.mistake)] / sum(best))
    assert np.mean(named) <= 0.4


def test_numbers_only_tell_no_word_of_the_mistake():
    for kind in KINDS:
        one = case(kind, 1, 2)
        assert case(kind, 1).story == one.story
        assert len(said(re.sub("[A-Za-z]{1,3}\\b", "", one.working))) <= 6, one.working


def sum_of(working):
    """Return what a working in numbers only comes to."""
    sides = {"×": "*", "−": "-", "^": "**", "²": "**2", "³": "**3", "[": "(", "]": ")"}
    sides |= {"10⁻⁶": "1e-6", "√": "np.sqrt", "π": "np.pi", "ln": "np.log", "exp": "np.exp"}
    sides |= {"2 np.pi": "2 * np.pi", "1.22 ×": "1.22 ×", "1 000": "1000"}
    text = working.split("→")[0]
    for old, new in sides.items():
        text = text.replace(old, new)
    return eval(text, {"np": np})


# What the numbers as written make of the unit that is printed behind the arrow.
AS_WRITTEN = {"proved": 100, "shortcut": 1, "applied_for_net": 1e6, "stress_optic": 1}
SUMS = [kind for kind in KINDS if "×" in case(kind, 1, 2).working or kind in AS_WRITTEN]


@pytest.mark.parametrize("kind", [kind for kind in SUMS if kind not in ("short_span",)])
def test_numbers_only_come_to_the_result_that_is_told(kind):
    for seed in SEEDS:
        one = case(kind, seed, 2)
        told = to_display(one.planted, one.quantity).item()
        made = sum_of(one.working) * AS_WRITTEN.get(kind, 1)
        if kind in ("tip_to_tip", "two_dent"):
            made /= 1e6
        assert made == pytest.approx(told, rel=0.01)


@pytest.mark.parametrize("kind", ["two_bar", "two_dent"])
def test_one_of_two_mistakes_mended_is_not_enough(kind):
    for seed in range(5):
        one = case(kind, seed)
        half = one.planted * 9.80665  # the load put right, the other mistake left
        assert one.mark(half) in ("low", "high")


def test_two_mistakes_worked_by_hand_from_the_printed_story(outside):
    load, outer, inner, width, thickness = numbers(case("two_bar", 11).story)
    outside(
        "stress of a printed bar with two mistakes / MPa",
        to_display(case("two_bar", 11).truth, "stress"),
        3 * load * 9.80665 * (outer - inner) / (2 * width * thickness**2),
        source="3 F (L - l)/(2 b h^2) with 9.80665 N/kgf",
        status="hand calculation",
        rel=1e-12,
    )
    squeeze, radius, constant, _ = numbers(case("two_mirror", 11).story)
    outside(
        "applied stress of a printed mirror with two mistakes / MPa",
        to_display(case("two_mirror", 11).truth, "stress"),
        constant / math.sqrt(1e-3 * radius) + squeeze,
        source="A/sqrt(r) + compression",
        status="hand calculation",
        rel=1e-12,
    )
