# SPDX-License-Identifier: MIT
"""Say what somebody reads on a fracture surface, and how that stands."""

from glasskit.quantities import System, show
from glasskit.training import SURFACES, Reading

_LESSONS = {
    "face": "The lines point back to one place on the face that was pulled.",
    "edge": "The mirror is a quarter of a circle in the corner: an edge broke it.",
    "roller": "The mirror is sound, but outside the loads the stress was less: set it aside.",
    "lost": "The lines point into what is missing. Unknown is a result, a guess is none.",
    "chip": "The shell at the other face came later: no line runs out from it.",
    "branching": "Follow the forks back: they close towards the origin.",
}


def reading_verdict(reading: Reading) -> str:
    """Say in six to ten words what is to be done with the surface."""
    return "Mark where it began, and the mirror round it"


def reading_sentence(reading: Reading, system: System = "metric") -> str:
    """Say what the surface is, and what the mark on it says; nothing of the answer."""
    return (
        f"{SURFACES[reading.surface.kind][1]} Your mark: "
        f"{show(reading.across, 'length', system)} from the left, "
        f"{show(reading.up, 'length', system)} up; your answer: {reading.answer}."
    )


def reading_numbers(reading: Reading, system: System = "metric") -> list[tuple[str, str]]:
    """Return label and text of what the radius tells."""
    said = show(reading.stress, "stress", system) if reading.radius else "no radius yet"
    return [
        ("radius as marked", show(reading.radius, "thickness", system)),
        ("stress that it tells of", said),
    ]


def reading_reply(reading: Reading, system: System = "metric") -> str:
    """Say how a reading stands, part by part."""
    lesson = _LESSONS[reading.surface.kind]
    if reading.right:
        broke = show(reading.surface.stress, "stress", system)
        return f"Right. {lesson} It broke at {broke}."
    if reading.surface.answer == "cannot tell":
        return f"Not yet: can anybody see where it began? {lesson}"
    wrong = [
        words
        for words, good in (
            ("where it began", reading.placed),
            ("how large the mirror is", reading.sized),
            ("what it broke from", reading.named),
        )
        if not good
    ]
    return f"Not yet: look again at {' and '.join(wrong)}. Follow the lines back."
