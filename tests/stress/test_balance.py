# SPDX-License-Identifier: MIT
import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq
from scipy.special import erfc

from glasskit.stress import PARABOLA_CASE, SKINS, core_tension, shortcut_tension

FACE, CASE, THICK = 700e6, 40e-6, 0.7e-3


def test_the_example_of_the_convention(outside):
    outside(
        "CT by the shortcut",
        shortcut_tension(750e6, 40e-6, 0.7e-3) / 1e6,
        48.4,
        abs_=0.05,
        source="patent and industry convention: CS 750, DOL 40 um, t 0.7 mm gives 48.4",
        status="memory",
    )


def by_quadrature(shape):
    """Return the core tension that makes quad's integral of half a pane vanish."""

    def force(core):
        return quad(shape, 0, THICK / 2, args=(core,), points=[CASE, 3 * CASE], limit=400)[0]

    return brentq(force, 1e3, FACE)


def test_balance_against_quadrature(outside):
    def even(depth, core):
        return -FACE if depth < CASE else core

    def straight(depth, core):
        return min(FACE * (depth / CASE - 1), core)

    for skin, shape in (("even", even), ("straight", straight)):
        outside(
            f"core tension, {skin} skin",
            core_tension(FACE, CASE, THICK, skin).exact,
            by_quadrature(shape),
            rel=1e-6,
            source="scipy.integrate.quad with scipy.optimize.brentq",
            status="independent method",
        )


def test_diffused_skin_against_quadrature(outside):
    # Thin layers: the far face's ions do not reach, so one erfc and a level are enough.
    def zero_and_force(length):
        level = erfc(CASE / length)
        scale = FACE / (1 - level)
        area = quad(lambda x: erfc(x / length) - level, 0, THICK / 2, limit=400)[0]
        return scale * level, scale * area

    length = brentq(lambda length: zero_and_force(length)[1], CASE / 4, CASE)
    outside(
        "core tension, diffused skin",
        core_tension(FACE, CASE, THICK).exact,
        zero_and_force(length)[0],
        rel=1e-4,
        source="scipy.integrate.quad over erfc less a level, brentq",
        status="independent method",
    )


def test_what_the_shortcut_does(outside):
    even = core_tension(FACE, CASE, THICK, "even")
    source = "CS d = CT (t/2 - d) for a step, so the shortcut is half of it"
    outside("error, even skin", even.error, -0.5, abs_=1e-12, source=source, status="exact")
    thin = core_tension(FACE, 1e-3 * THICK, THICK, "straight")
    source = "CS d/2 = CT (t/2 - d) for a thin straight skin: the shortcut itself"
    outside("error, straight skin", thin.error, 0, abs_=1e-5, source=source, status="exact")
    parabola = core_tension(100e6, PARABOLA_CASE * 6e-3, 6e-3, "quenched")
    source = "CT = CS/2; 0.21132/(1 - 0.42265) = 0.36603, so 0.73205 - 1"
    outside("error", parabola.error, -0.26795, abs_=1e-4, source=source, status="exact")
    assert 0.2 < core_tension(FACE, CASE, THICK).error < 0.5


def test_broadcast_and_scaling():
    found = core_tension([[300e6], [600e6]], [20e-6, 60e-6, 100e-6], 1e-3)
    assert found.exact.shape == found.error.shape == (2, 3)
    assert found.exact[1] == pytest.approx(2 * found.exact[0])
    assert (np.diff(found.exact) > 0).all()
    assert core_tension(300e6, 20e-6, 1e-3).exact.shape == ()


@pytest.mark.parametrize("skin", SKINS)
def test_no_skin_deeper_than_half(skin):
    with pytest.raises(ValueError, match="case_depth must be less than half"):
        core_tension(FACE, 0.4e-3, THICK, skin)


def test_refusals():
    with pytest.raises(ValueError, match="skin must be one of"):
        core_tension(FACE, CASE, THICK, "steep")
    with pytest.raises(ValueError, match="case_depth must be at most a quarter"):
        core_tension(FACE, 0.3 * THICK, THICK, "straight")
    with pytest.raises(ValueError, match=r"case_depth must be 0\.2113"):
        core_tension(FACE, CASE, THICK, "quenched")
