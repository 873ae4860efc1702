# SPDX-License-Identifier: MIT
"""Time the crack functions beside the obvious way: ``python tests/speed/crack.py``."""

from timeit import repeat
from types import SimpleNamespace

import numpy as np
from scipy.integrate import quad

from glasskit import crack, stress
from glasskit.crack import weight

GLASS = SimpleNamespace(modulus=70e9, poisson=0.22)
PROFILE = stress.exchanged(700e6, 40e-6, 0.7e-3)


def best(call, number):
    """Return the least time of one call [s]."""
    return min(repeat(call, number=number, repeat=5)) / number


def by_quadrature(depth):
    """Stress intensity of one crack by adaptive quadrature of the weight function."""
    terms = weight.coefficients(np.asarray(depth / PROFILE.thickness))

    def integrand(y):
        series = terms[0] + y * (terms[1] + y * (terms[2] + y * terms[3]))
        return PROFILE(depth * (1 - y**2)) * series

    return np.sqrt(8 * depth / np.pi) * quad(integrand, 0, 1)[0]


def main():
    """Print times and ratios."""
    depths = np.linspace(1e-6, 300e-6, 10_000)
    some = depths[::100]
    together = best(lambda: crack.stress_intensity(PROFILE, depths), 1)
    one_by_one = best(lambda: [by_quadrature(d) for d in some], 1) * depths.size / some.size
    apart = np.abs(
        crack.stress_intensity(PROFILE, some) / [by_quadrature(d) for d in some] - 1
    )
    print(f"stress_intensity, 10 000 depths: {together * 1e3:.1f} ms")
    print(f"adaptive quadrature, 10 000 depths (from 100): {one_by_one * 1e3:.0f} ms")
    print(f"ratio {one_by_one / together:.0f}, largest difference {apart.max():.1e}")
    same = best(lambda: crack.open_crack(PROFILE, 60e-6, GLASS), 100)
    moving = iter(np.linspace(50e-6, 350e-6, 2_000))
    new = best(lambda: crack.open_crack(PROFILE, next(moving), GLASS), 100)
    print(
        f"open_crack, warm: {same * 1e3:.2f} ms; each time at a new depth: {new * 1e3:.2f} ms"
    )
    runs = best(lambda: crack.breaking_stress(PROFILE, 60e-6, 0.75e6), 20)
    print(f"breaking_stress of a pressed crack: {runs * 1e3:.2f} ms")


if __name__ == "__main__":
    main()
