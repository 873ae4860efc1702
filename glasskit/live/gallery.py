# SPDX-License-Identifier: MIT
"""Every explorer by the notebook it stands in: after its question, and as a still picture.

``python -m glasskit.live.gallery`` writes the still pictures anew into ``assets``.
"""

from importlib import import_module
from pathlib import Path
from typing import Any

from glasskit.classroom import AGES, COURSE, number_questions, question
from glasskit.draw.picture import SCREEN, save, still
from glasskit.live.explorer import Explorer
from glasskit.live.panel import being_made
from glasskit.live.predict import NumberPrediction, Prediction
from glasskit.quantities import one_of
from glasskit.tables import read
from glasskit.words.glossary import in_course_words, spoken

EXPLORERS = {
    "01_why_glass_breaks": "crack:flaw_explorer",
    "01p_why_glass_breaks": "short:scratch_explorer",
    "02_a_crack_pressed_shut": "crack:pressed_crack_explorer",
    "02p_a_crack_pressed_shut": "short:held_crack_explorer",
    "03_ions_to_scale": "ions:swap_explorer",
    "04_from_height_to_energy": "stopping:stop_explorer",
    "04p_from_height_to_energy": "short:soft_stop_explorer",
    "05_swapping_ions": "network:network_explorer",
    "06_salt_bath": "salt_bath:bath_explorer",
    "07_quenched_in_air": "quenching:quench_explorer",
    "08_does_glass_flow": "flow:flow_explorer",
    "09_ball_on_a_pane": "ball:struck_explorer",
    "10_wood_steel_concrete": "floors:floor_explorer",
    "11_keys_and_sand": "scratches:scratch_explorer",
    "12_under_load_for_years": "clock:clock_explorer",
    "13_into_crumbs": "crumbs:crumb_explorer",
    "13p_into_crumbs": "short:crumbling_explorer",
    "14_stress_in_colour": "light:polariser_explorer",
    "15_a_break_in_slow_motion": "breaking:breaking_explorer",
    "20_plan_a_demonstration": "demonstration:planner_explorer",
    "22_how_we_know": "known:known_explorer",
    "23_screen_and_distance": "screening:screening_explorer",
    "31_class_results": "results:class_explorer",
    "41_reduce_my_data": "lab:laboratory_explorer",
    "43_make_sure": "sure:drops_explorer",
    "50_listen": "listening:bounce_explorer",
    "51_count_the_crumbs": "counting:count_explorer",
    "52_film_the_fall": "filming:film_explorer",
    "53_read_the_colours": "colours:colours_explorer",
}

PANELS = {"30_run_a_lesson": "tally:example_hands"}
"""Panels without a question of their own before them."""


def explorer(notebook: str) -> Explorer[Any]:
    """Return the explorer of a notebook, such as "02_a_crack_pressed_shut".

    Raises
    ------
    ValueError
        If no explorer stands in a notebook of that name.

    """
    known = {**EXPLORERS, **PANELS}
    one_of("notebook", notebook, known)
    module, function = known[notebook].split(":")
    made: Explorer[Any] = getattr(import_module(f"glasskit.live.{module}"), function)()
    return made


def predicted(
    notebook: str, key: str = "", age: str = "11-14"
) -> Prediction | NumberPrediction:
    """Return the explorer of a notebook behind a question that comes first.

    Its own question stands in ``glasskit/data/predictions.csv``: a row for each answer, with
    the reply to whoever chooses it, and "yes" where it is what happens.

    Parameters
    ----------
    notebook : str
        Such as "02_a_crack_pressed_shut".
    key : str
        Another question to start with, from the bank or the number questions.
    age : {"8-11", "11-14", "14-16", "16-18"}
        From 14 on they get all of it in the words that are examined.

    Raises
    ------
    ValueError
        If there is no such notebook or question, or `age` is not among those named.

    """
    one_of("age", age, AGES)
    with being_made():
        then = explorer(notebook)
        then.speak(age)
    if key in (numbers := {item.key: item for item in number_questions()}):
        return NumberPrediction(numbers[key], then)
    if key:
        asked = spoken(question(key), age)
        answers = [(option.text, option.reply) for option in asked.options]
        return Prediction(asked.text, answers, asked.correct, then)
    return Prediction(*asked_before(notebook, age), then)


def asked_before(notebook: str, age: str) -> tuple[str, list[tuple[str, str]], int]:
    """Return the question of a notebook, answers with their replies, the right one's place."""
    rows = [row for row in read("predictions") if row["notebook"] == notebook]
    correct = [row["correct"] for row in rows].index("yes")
    said = in_course_words if age in COURSE else str
    options = [(said(row["option"]), said(row["reply"])) for row in rows]
    return said(rows[0]["question"]), options, correct


def draw_assets(folder: str | Path = "assets") -> list[Path]:
    """Write the still picture of every explorer, as it stands at the start."""
    paths = []
    for notebook in {**EXPLORERS, **PANELS}:
        shown = explorer(notebook)
        paths.append(
            save(
                still(shown.scene, shown.result, shown.look, SCREEN),
                Path(folder) / f"{notebook}.png",
                shown.title,
                shown.alt,
            )
        )
    return paths


if __name__ == "__main__":
    for path in draw_assets():
        print(path)
