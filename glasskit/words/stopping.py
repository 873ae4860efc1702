# SPDX-License-Identifier: MIT
"""Say what a fall brings and what the stop makes of it."""

from glasskit.impact import Stop, drop_energy
from glasskit.materials import Body
from glasskit.quantities import GRAVITY, System, show, show_number

# Falls to compare with: mass [kg], height [m], words. Common practice, no source.
EVERYDAY = (
    (0.005, 0.4, "a coin from a chair"),
    (0.1, 0.75, "an apple off a table"),
    (1.0, 0.75, "a bag of flour off a table"),
    (4.0, 2.0, "a brick from a ladder"),
    (70.0, 1.0, "a person off a table"),
)

_PLAIN = {
    "soda-lime": "glass",
    "hardwood": "wood",
    "granite": "stone",
}


def plain_name(body: Body) -> str:
    """Name a material as a passer-by would."""
    return _PLAIN.get(body.name, body.name)


def force_kind(force: float) -> str:
    """Return the kind of quantity in which a force of this size is read easily."""
    return "large_force" if force >= 1e3 else "force"


def time_kind(time: float) -> str:
    """Return the kind of quantity in which a time of this size is read easily."""
    return "millitime" if time >= 1e-3 else "microtime"


def energy_likeness(energy: float) -> str:
    """Compare an energy with that of an everyday fall.

    Examples
    --------
    >>> energy_likeness(0.74)
    'as much as an apple off a table'
    >>> energy_likeness(3.0)
    '4.1 times as much as an apple off a table'

    """
    falls = [(drop_energy(mass, height).item(), name) for mass, height, name in EVERYDAY]
    reference, name = next(
        (fall for fall in reversed(falls) if energy >= 0.8 * fall[0]), falls[0]
    )
    share = energy / reference
    if 0.8 <= share <= 1.25:
        return f"as much as {name}"
    return f"{show_number(share, 2)} times as much as {name}"


def stop_sentence(stop: Stop, system: System = "metric") -> str:
    """Say what the fall brings, how it is stopped and with what force."""
    mass = show(stop.mass, "small_mass", system)
    height = show(stop.height, "height", system)
    energy = show(stop.energy, "energy", system, 2)
    way = show(stop.way, "length", system, 2)
    force = show(stop.peak_force, force_kind(stop.peak_force), system, 2)
    heavy = f"the weight of {show(stop.peak_force / GRAVITY, 'mass', system, 2)}"
    fall = (
        f"A {plain_name(stop.striker)} ball of {mass} that falls {height} brings {energy}, "
        f"{energy_likeness(stop.energy)}."
    )
    if stop.block is None:
        return f"{fall} Stopped evenly over {way} it presses with {force}, {heavy}."
    time = show(stop.duration, time_kind(stop.duration), system, 2)
    said = (
        f"{fall} A thick block of {plain_name(stop.block)} stops it over {way}: it presses "
        f"with up to {force}, {heavy}, for {time}."
    )
    if stop.dented is None:
        return said
    return f"{said} The {plain_name(stop.dented)} dents, so the true force is lower."


def stop_numbers(stop: Stop, system: System = "metric") -> list[tuple[str, str]]:
    """List the numbers behind the picture."""
    rows = [
        ("energy of the fall", show(stop.energy, "energy", system)),
        ("speed at the touch", show(stop.speed, "speed", system)),
        ("speed lost to the air", show(stop.drag_loss, "percent", system, 2)),
        ("ball across", show(2 * stop.radius, "length", system)),
        ("stopping distance", show(stop.way, "length", system, 2)),
        ("time of the stop", show(stop.duration, time_kind(stop.duration), system, 2)),
        ("mean force over that distance", show(stop.mean_force, "force", system, 2)),
        ("largest force", show(stop.peak_force, "force", system, 2)),
        ("that is, weights of the ball", show_number(stop.weights, 2)),
    ]
    if stop.knock is None or stop.block is None:
        return rows
    contact = show(2 * stop.knock.contact_radius, "length", system, 2)
    pull = show(stop.knock.rim_tension, "stress", system, 2)
    pressure = show(stop.knock.peak_pressure, "stiffness", system, 2)
    return [
        *rows,
        ("widest circle of contact, across", contact),
        ("highest pressure, in its middle", pressure),
        (f"pulling stress at its rim, on the {plain_name(stop.block)}", pull),
    ]


def stop_verdict(stop: Stop, system: System) -> str:
    """Say in six to ten words over what distance the ball stops, and with what force."""
    way = show(stop.way, "length", system, 2)
    force = show(stop.peak_force, force_kind(stop.peak_force), system, 2)
    return f"Stopped over {way} it presses with {force}"
