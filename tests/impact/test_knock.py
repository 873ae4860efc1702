# SPDX-License-Identifier: MIT
from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from glasskit import impact
from glasskit.impact import contact, ringing
from glasskit.impact.knock import knock

GLASS = SimpleNamespace(
    modulus=70e9, poisson=0.3, density=2500.0, plane_strain_modulus=70e9 / 0.91
)
STEEL = SimpleNamespace(density=7860.0, plane_strain_modulus=200e9 / 0.91)
PANE = ringing.Pane(length=0.3, width=0.3, thickness=4e-3, glass=GLASS, damping=0.0)
LAID = replace(PANE, edges="laid")
BALL = impact.ball_of_mass(0.227, STEEL)
SPEED = np.array([1.4, 3.0])


def struck(pane, ball=BALL, seconds=6e-3, steps=40):
    stiffness = contact.contact_stiffness(ball.radius, contact.contact_modulus(STEEL, GLASS))
    brief = contact.knock_duration(ball.mass, SPEED.max(), stiffness).item()
    step = brief / steps
    count = int(seconds / step)
    blow = knock(ball.mass, stiffness.item(), pane, SPEED, step, count, 20.0 / brief)
    return blow, step * np.arange(count)


def number(pane, highest=2e5):
    """Frequencies by side, rigidity and mass, the way the books print them."""
    scale = np.sqrt(pane.rigidity / (2500.0 * pane.thickness)) / pane.length**2
    return np.sort(ringing.modes(pane, highest).frequency) / scale


# --- edges at rest and ringing --------------------------------------------------------------


def test_a_clamped_pane_rings_and_sinks_as_the_books_say(outside):
    clamped = replace(PANE, edges="clamped")
    outside(
        "lowest mode of a clamped square",
        number(clamped)[0],
        35.99,
        rel=0.01,  # Tolerance: the clamp turns a little.
        source="Leissa, Vibration of Plates (1969)",
        status="memory",
    )
    outside(
        "middle of a clamped square under a central load, in a^2/D",
        clamped.compliance() * PANE.rigidity / 0.3**2,
        0.00560,
        rel=0.02,
        source="Timoshenko and Woinowsky-Krieger, table 37",
        status="memory",
    )


@pytest.mark.parametrize(("place", "expected"), [(1, 19.60), (2, 24.27)])
def test_a_free_pane_rings_as_the_books_say(outside, place, expected):
    outside(
        f"free square, even mode {place}",
        number(LAID)[place],
        expected,
        rel=0.01,
        source="Leissa, J. Sound Vib. 31 (1973) 257, Poisson's ratio 0.3",
        status="memory",
    )


def test_a_soft_strip_lets_the_pane_bob_as_one_mass(outside):
    soft = replace(PANE, edges="strip", support_stiffness=10.0)
    outside(
        "bobbing of a pane stuck on 10 N/m / (rad/s)",
        ringing.modes(soft, 1e5).frequency.min(),
        np.sqrt(10.0 / PANE.mass),
        rel=1e-3,
        source="one mass on one spring",
        status="exact",
    )


def test_a_hard_strip_is_nearly_a_pinned_edge():
    strip = replace(PANE, edges="strip")
    assert number(strip)[0] == pytest.approx(number(PANE)[0], rel=0.02)
    assert strip.compliance() == pytest.approx(PANE.compliance(), rel=0.02)


# --- edges that lift ------------------------------------------------------------------------


def energy(blow, pane, step):
    """Energy of the pane and its bed in time, mode by mode, shape (n, k)."""
    found = blow.answer.modes
    speed = np.gradient(blow.swung, step, axis=-1)
    bent = found.frequency[:, None, None] * blow.swung
    # Sides of a quarter, even places; four quarters of two sides each.
    half = (np.arange(40) + 0.5) / 80
    along = pane.length * np.concatenate([half, np.full(40, 0.5)])
    across = pane.width * np.concatenate([np.full(40, 0.5), half])
    sunk = np.tensordot(found.shapes.values(along, across) @ found.vectors, blow.swung, 1)
    pressed = pane.bedding * np.maximum(sunk, 0.0) ** 2 * (4 * 0.15 / 40)
    return 0.5 * (speed**2 + bent**2).sum(axis=0) + 0.5 * pressed.sum(axis=0)


@pytest.mark.parametrize("support", [np.inf, 1.2e7])
def test_a_pane_that_jumps_keeps_its_energy(outside, support):
    pane = replace(LAID, support_stiffness=support)
    blow, time = struck(pane)
    start = 0.5 * BALL.mass * SPEED**2
    lost = 0.5 * BALL.mass * (SPEED**2 - blow.velocity**2) + BALL.mass * 9.80665 * blow.place
    held = energy(blow, pane, time[1])
    quiet = max(np.flatnonzero(force)[-1] for force in blow.force) + 20
    assert quiet < time.size - 100
    assert blow.lift[:, quiet:].max() > 0.2e-3
    for at, share in enumerate(lost / start):
        outside(
            f"energy in pane and bed, ball {at + 1}, over that of the fall",
            held[at, quiet:-5].mean() / start[at],
            share,
            abs_=0.01,
            source="conservation: what the ball lost",
            status="independent method",
        )
    assert np.ptp(held[:, quiet:-5], axis=1) == pytest.approx(0, abs=0.01 * start.max())


def test_a_pane_on_nothing_flies_off_with_what_the_ball_gave(outside):
    pane = replace(LAID, support_stiffness=1e-3)
    blow, time = struck(pane, seconds=1.5e-3)
    found = blow.answer.modes
    node, weight = np.polynomial.legendre.leggauss(40)
    place = node * 0.15
    grid = np.meshgrid(place, place, indexing="ij")
    mean = np.tensordot(np.outer(weight, weight) / 4, found.shapes.values(*grid), 2)
    moved = np.tensordot(mean @ found.vectors, blow.swung, 1)
    speed = (moved[:, -1] - moved[:, -21]) / (20 * time[1])
    given = BALL.mass * (SPEED + 9.80665 * time[-1] - blow.velocity)
    for at in range(2):
        outside(
            f"momentum of a pane on nothing, ball {at + 1} / (N s)",
            PANE.mass * speed[at],
            given[at],
            rel=5e-3,
            source="conservation of momentum",
            status="exact",
        )


def test_the_first_peak_does_not_know_the_edges_and_later_ones_do():
    damped = replace(PANE, damping=0.02)
    tension = {}
    for edges in ringing.EDGES:
        blow = impact.ball_on_pane(BALL, replace(damped, edges=edges), 2.0, steps=25)
        parts = (blow.time < 2e-4, blow.time > 5e-4)
        tension[edges] = [blow.tension[part].max() for part in parts]
    first, later = np.array(list(tension.values())).T
    assert np.ptp(first) < 0.02 * first.mean()
    assert np.ptp(later) > 0.05 * later.mean()


def test_steps_and_modes_hardly_move_a_jumping_pane():
    (coarse, one), (fine, other) = (struck(LAID, steps=steps) for steps in (20, 80))
    early = np.interp(one[one < 3e-3], other, fine.sinking[0])
    assert coarse.sinking[0, one < 3e-3] == pytest.approx(early, abs=0.02 * early.max())


def test_edges_are_one_of_four():
    with pytest.raises(ValueError, match=r"^edges must be one of pinned, laid, strip"):
        replace(PANE, edges="glued")
