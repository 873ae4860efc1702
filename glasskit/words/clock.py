# SPDX-License-Identifier: MIT
"""Say in plain words how fast a flaw creeps, and when the pane breaks."""

import numpy as np
from scipy.constants import Julian_year, day, hour, inch, mil, minute

from glasskit.crack import ENVIRONMENTS, Clock, time_to_failure
from glasskit.quantities import System, show, show_number

AIRS = {
    "design": "damp air, as design reckons",
    "half humid": "air of a room, 50% humid",
    "water": "under water",
}
"""What the reader calls the surroundings of `glasskit.crack.growth.ENVIRONMENTS`."""

MARKS = (
    (1.0, "a second"),
    (minute, "a minute"),
    (hour, "an hour"),
    (day, "a day"),
    (Julian_year / 12, "a month"),
    (Julian_year, "a year"),
    (80 * Julian_year, "a lifetime"),
    (4500 * Julian_year, "since the\npyramids"),
)
"""Everyday times [s]; the age of the pyramids is general knowledge, without a source."""

_UNITS = (
    (Julian_year, "year"),
    (day, "day"),
    (hour, "hour"),
    (minute, "minute"),
    (1.0, "second"),
)
_SPEEDS = (
    (1e-3, "mm a second"),
    (1e-6, "µm a second"),
    (1e-9, "nm a second"),
    (1e-6 / hour, "µm an hour"),
    (1e-9 / hour, "nm an hour"),
    (1e-9 / Julian_year, "nm a year"),
)
_US_SPEEDS = (
    (inch, "in a second"),
    (mil, "mil a second"),
    (mil / hour, "mil an hour"),
    (mil / Julian_year, "mil a year"),
    (1e-9 / Julian_year, "nm a year"),
)


def time_words(time: float, digits: int = 2) -> str:
    """Write a time as people say it, to one or two digits.

    Examples
    --------
    >>> time_words(61.0), time_words(6220.0), time_words(0.01), time_words(np.inf)
    ('1 minute', '1.7 hours', 'less than a second', 'for ever')

    """
    if not np.isfinite(time):
        return "for ever"
    if time < 0.95:
        return "less than a second"
    size, name = next((item for item in _UNITS if time >= 0.95 * item[0]), _UNITS[-1])
    number = float(f"{time / size:.{digits}g}")
    return (
        f"{show_number(number, digits).removesuffix('.0')} {name}{'' if number == 1 else 's'}"
    )


def speed_words(speed: float, system: System = "metric") -> str:
    """Write the speed of a creeping crack [m/s] in a unit that fits.

    Examples
    --------
    >>> speed_words(4.4e-8), speed_words(0.0), speed_words(3e-15)
    ('40 nm a second', 'stands still', '90 nm a year')
    >>> speed_words(8.3e-10, "us")
    '0.1 mil an hour'

    """
    if speed == 0:
        return "stands still"
    # Steps between US units are wide: they serve down to a tenth.
    speeds, least = (_SPEEDS, 1.0) if system == "metric" else (_US_SPEEDS, 0.1)
    size, name = next((item for item in speeds if speed >= least * item[0]), speeds[-1])
    return f"{show_number(speed / size, 1)} {name}"


def clock_sentence(result: Clock, system: System) -> str:
    """Say what the pull does to the flaw, and how long the pane stands it."""
    bears = result.bearing
    pull = show(result.tension, "stress", system, 2)
    depth = show(bears.depth, "depth", system, 2)
    start = f"Under a steady pulling stress of {pull} a flaw {depth} deep"
    if result.life == 0:
        return f"{start} runs at once: the pane breaks."
    if np.isfinite(result.life):
        return (
            f"{start} grows {speed_words(result.speed, system)} at first. The pane breaks "
            f"after about {time_words(result.life, 1)}, give or take a factor of ten. "
            f"{_plain(result)}"
        ).rstrip()
    if result.tension <= -bears.profile.surface and bears.profile.surface < 0:
        squeeze = show(-bears.profile.surface, "stress", system, 2)
        return (
            f"{start} does not grow: the surface is still squeezed, by a stress of {squeeze} "
            f"less the pull. No clock runs. {_plain(result)}"
        ).rstrip()
    return f"{start} does not grow: the pull on its tip is too small. {_rule(result)}".rstrip()


def _plain(result: Clock) -> str:
    """Say how plain glass would fare, for a pane with squeeze."""
    if result.bearing.squeeze <= 0:
        return ""
    bears = result.bearing
    life = time_to_failure(result.tension, bears.depth, bears.law).item()
    if life == 0:
        return "Plain glass would break at once."
    if not np.isfinite(life):
        return "In plain glass it would not creep either."
    return f"Plain glass would break after about {time_words(life, 1)}."


def _rule(result: Clock) -> str:
    """Say what the rule of the standards makes of a pull that the flaw outlives."""
    time = result.bearing.rule_time(result.tension)
    if not np.isfinite(time):
        return ""
    allowed = time_words(time)
    return f"The standards do not count on that and allow it for {allowed}."


def clock_numbers(result: Clock, system: System) -> list[tuple[str, str]]:
    """List the numbers behind the picture."""
    bears = result.bearing
    held = {
        "a second": 1.0,
        "a day": day,
        "fifty years": 50 * Julian_year,
    }
    rows = [
        ("pull on the tip (stress intensity)", show(result.intensity, "toughness", system, 2)),
        (
            "pull on the tip below which nothing creeps",
            show(bears.law.threshold, "toughness", system, 2),
        ),
        ("K at which it runs", show(bears.law.toughness, "toughness", system, 2)),
        ("creeps only above a pulling stress of", show(bears.floor, "stress", system, 2)),
        *(
            (f"breaks within {name} at", show(bears.for_time(time), "stress", system, 2))
            for name, time in held.items()
        ),
        (
            "rule of the standards, fifty years",
            show(bears.by_rule(50 * Julian_year), "stress", system, 2),
        ),
    ]
    for name, law in ENVIRONMENTS.items():
        life = bears.life(result.tension, law)
        rows.append((f"lasts, {AIRS[name]}", time_words(life, 1) if life else "not at all"))
    return rows


def clock_verdict(result: Clock, system: System) -> str:
    """Say in six to ten words how long the pane holds."""
    if result.life == 0:
        return "The pane breaks at once under this pull"
    if not np.isfinite(result.life):
        return "No clock runs: the flaw does not grow"
    time = time_words(result.life, 1)
    return (
        f"Holds {time if time.startswith('less') else f'about {time}'} under this steady pull"
    )
