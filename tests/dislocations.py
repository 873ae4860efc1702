# SPDX-License-Identifier: MIT
"""Cracks as rows of dislocations: an integral equation that shares no code with the package.

Kernel of the half-plane: Erdogan, Gupta & Cook 1973, from memory; of the plate, long and with
ends free to turn: worked out here.
"""

from functools import cache

import numpy as np
from scipy.optimize import brentq


def faces(x, xi, thickness=np.inf):
    """Pull at depths `x` that dislocations at `xi` owe to the free faces, shape (x, xi)."""
    apart, place = x[:, None] + xi, x[:, None]
    near = -1 / apart + 6 * place / apart**2 - 4 * place**2 / apart**3
    if np.isinf(thickness):
        return near
    return near - far_face(x / thickness, xi / thickness) / thickness


def far_face(x, xi):
    """Pull at depths `x` that dislocations at `xi` owe to the far face of a plate 1 thick.

    Their stress in a sheet, made free on both faces, less that in a half-plane. Airy function
    f(x) cos(s y) for each wave number s, f = (A + B s x) exp(-s x) + the same from the far
    face; the tractions of an edge dislocation in a sheet (textbook) are undone.
    """
    node, share = np.polynomial.legendre.leggauss(60)
    s, step = 15 * (1 + node) ** 2, 30 * (1 + node) * share
    near, far = xi[:, None], 1 - xi[:, None]
    fade, none, one = np.exp(-s), np.zeros_like(s), np.ones_like(s)
    traction = np.moveaxis(
        np.array(  # f and f'/s at either face for A, B, C, E
            [
                [one, none, fade, s * fade],
                [-one, one, fade, (s - 1) * fade],
                [fade, s * fade, one, none],
                [-fade, (1 - s) * fade, one, -one],
            ]
        ),
        -1,
        0,
    )
    wanted = np.stack(
        [
            -near / s * np.exp(-near * s),
            -(near * s - 1) / s**2 * np.exp(-near * s),
            far / s * np.exp(-far * s),
            -(far * s - 1) / s**2 * np.exp(-far * s),
        ],
        axis=-1,
    )
    plate = np.linalg.solve(traction, wanted[..., None])[..., 0]
    a = plate[..., 0] - wanted[..., 0]
    b = plate[..., 1] - wanted[..., 0] - wanted[..., 1]
    c, e = plate[..., 2], plate[..., 3]
    x = x[:, None, None]
    second = (a + b * (s * x - 2)) * np.exp(-s * x)
    second += (c + e * (s * (1 - x) - 2)) * np.exp(-s * (1 - x))
    return second @ (s**2 * step)


def edge_crack(pulls, ratio=0.0, points=200):
    """K/(stress sqrt(pi a)) of a crack of unit depth that stands open under each of `pulls`.

    Root-singular density at the tip; Gauss points, and between them the places where the rule
    gives the principal value exactly.
    """
    node, share = np.polynomial.legendre.leggauss(2 * points)

    def off(y):
        return np.sum(share / (y - node)) - np.log((1 + y) / (1 - y))

    ends = np.append(node[points:], 1.0)
    inset = 1e-9 * np.diff(ends)
    gaps = zip(ends[:-1] + inset, ends[1:] - inset, strict=True)
    between = [brentq(off, low, high) for low, high in gaps]
    t, x = 1 - node[points:] ** 2, 1 - np.square(between)
    kernel = 1 / (t - x[:, None]) + faces(x, t, 1 / ratio if ratio else np.inf)
    pulled = np.stack([pull(x) for pull in pulls], axis=-1)
    half = np.linalg.solve(2 * kernel * share[points:], pulled)
    # The density is even in the node; its value at the tip, between the middle two nodes.
    legendre = np.polynomial.legendre.legvander(node, 2 * points - 1)
    at_tip = np.polynomial.legendre.legvander(0.0, 2 * points - 1)
    scale = (np.arange(2 * points) + 0.5) * at_tip
    value = (scale @ (legendre.T * share)) @ np.concatenate([half[::-1], half])
    return np.sqrt(2) * np.pi * value.ravel()


class OpenPart:
    """Open part of an edge crack in a half-plane or a plate.

    Dislocations along the open part from `inner` to the tip; Gauss-Chebyshev collocation. The
    inner end of the open part lies where the stress intensity there is zero.
    """

    def __init__(self, field, inner, tip, thickness=np.inf, count=160):
        middle, half = (tip + inner) / 2, (tip - inner) / 2
        order = (2 * np.arange(1, count + 1) - 1) / (4 * count) * np.pi
        node, point = np.cos(2 * order), np.cos(np.pi * np.arange(1, count) / count)
        t, x = (middle + half * node)[None, :], (middle + half * point)[:, None]
        matrix = np.full((count, count), np.pi / count)  # last row: the opening closes
        smooth = faces(x[:, 0], t[0], thickness)
        matrix[:-1] *= 1 / (node - point[:, None]) + half * smooth
        density = np.linalg.solve(matrix, np.append(field(x[:, 0]), 0.0))
        ends = np.sin((2 * count - 1) * order) / np.sin(order) / count
        scale = np.pi * np.sqrt(np.pi * half)
        self.at_tip = scale * (ends @ density)
        self.at_inner = -scale * (ends @ density[::-1])
        # Density as a sum of cosines of the angle, each integrated from the tip.
        self._orders = np.arange(1, count)
        waves = np.cos(np.outer(self._orders, 2 * order))
        self._waves = 2 / count * (waves @ density) / self._orders
        self._middle, self._half = middle, half

    def opening(self, place, glass):
        """Distance between the faces at depths inside the open part."""
        angle = np.arccos((place - self._middle) / self._half)
        stiffness = glass.modulus / (1 - glass.poisson**2)
        sines = np.sin(np.multiply.outer(angle, self._orders))
        return 4 * np.pi * self._half / stiffness * (sines @ self._waves)


@cache
def pressed_crack(field, depth, thickness=np.inf):
    """Open part of an edge crack in contact from its mouth inwards, and where it begins."""

    def at_inner(place):
        return OpenPart(field, place, depth, thickness).at_inner

    places = np.linspace(0.02, 0.98, 25) * depth
    pulls = [at_inner(place) for place in places]
    first = next(i for i in range(24) if pulls[i] <= 0 < pulls[i + 1])
    inner = brentq(at_inner, places[first], places[first + 1])
    return OpenPart(field, inner, depth, thickness), inner
