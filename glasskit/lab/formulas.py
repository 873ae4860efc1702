# SPDX-License-Identifier: MIT
r"""Turn readings into a result: what the bench formulas of a glass laboratory add to the rest.

Bending of bars and ring-on-ring stand in `glasskit.bending.bars` and
`glasskit.bending.discs`, mirrors in `glasskit.breakage.fragments`, light in `glasskit.light`.
Here are the ball on a ring, density, expansion, hardness, cracks at a dent in stressed glass,
a turned analyser, and light guided along a surface.
`glasskit.lab.reducing` ties each to its limits.

Stress is positive in tension; a surface compression is a positive number.
"""

import numpy as np
from numpy.typing import ArrayLike
from scipy.constants import kilogram_force
from scipy.special import ai_zeros

from glasskit.damage import SHAPE_FACTOR
from glasskit.quantities import (
    FloatArray,
    finite,
    in_range,
    non_negative,
    positive,
    require,
)

_KNOOP = 14.229  # load over projected area of the long pyramid, per square of its diagonal
_KELL = (-280.54253e-12, 105.56302e-9, -46.170461e-6, -7.9870401e-3, 16.945176, 999.83952)
_AIRY = -ai_zeros(2)[0]  # where the first two modes lie below a surface, for a straight fall
BEYOND = float(_AIRY[0] / (_AIRY[1] - _AIRY[0]))
"""How far the surface lies beyond the first line, in distances of the first two; 1.336 [-]."""
_TRUE_AREA = 2 * np.sin(np.radians(136 / 2))  # of the Vickers pyramid; 1.8544


def water_density(temperature: ArrayLike) -> FloatArray:
    """Return the density of pure water without bubbles at one atmosphere.

    Parameters
    ----------
    temperature : array_like
        Between 273.15 and 373.15 [K].

    Returns
    -------
    ndarray of float
        Density [kg/m^3].

    Raises
    ------
    ValueError
        If the water would be ice or steam.

    Notes
    -----
    Good to 0.01 kg/m^3 where it is pure; tap water is heavier by up to 0.5.

    References
    ----------
    [Kell1975]

    Examples
    --------
    >>> water_density(293.15).round(2).item()
    998.2

    """
    warm = in_range("temperature", temperature, 273.15, 373.15, "K") - 273.15
    above = np.polyval(_KELL, warm)
    return np.asarray(above / (1 + 16.879850e-3 * warm))


def buoyancy_density(
    mass: ArrayLike, immersed: ArrayLike, temperature: ArrayLike, air: ArrayLike = 1.2
) -> FloatArray:
    r"""Return the density of a piece from its weight in air and in water.

    .. math:: \rho = \frac{m\,(\rho_w - \rho_a)}{m - m_w} + \rho_a

    Parameters
    ----------
    mass, immersed : array_like
        Reading of the balance in air, and hanging in water [kg].
    temperature : array_like
        Of the water [K].
    air : array_like
        Density of the air [kg/m^3].

    Returns
    -------
    ndarray of float
        Density [kg/m^3].

    Raises
    ------
    ValueError
        If a mass is not positive, or the piece is not heavier in air.

    Notes
    -----
    A bubble on the piece, or the pull of water on the wire, weighs as much as a fault of the
    balance. Both weighings on one balance: its weights are of the same density.

    References
    ----------
    [C693]

    Examples
    --------
    A cube of window glass, 20 g in air and 12 g in water at 20 degrees:

    >>> buoyancy_density(20e-3, 12e-3, 293.15).round(1).item()
    2493.7

    """
    dry, wet = positive("mass", mass, "kg"), positive("immersed", immersed, "kg")
    require(wet < dry, "immersed", wet, "be less than the mass in air", "kg")
    water, thin = water_density(temperature), positive("air", air, "kg/m³")
    return np.asarray(dry * (water - thin) / (dry - wet) + thin)


def ball_on_ring(
    force: ArrayLike,
    support_diameter: ArrayLike,
    plate_diameter: ArrayLike,
    thickness: ArrayLike,
    poisson: ArrayLike,
) -> FloatArray:
    r"""Return the tension under the ball of a disc that lies on a ring.

    .. math:: \sigma = \frac{3F(1+\nu)}{4\pi h^2}\left[1 + 2\ln\frac{a}{b}
        + \frac{1-\nu}{1+\nu}\left(1 - \frac{b^2}{2a^2}\right)\frac{a^2}{R^2}\right],
        \qquad b = h/3

    Parameters
    ----------
    force : array_like
        Force on the ball [N].
    support_diameter, plate_diameter : array_like
        Diameters of the ring, :math:`2a`, and of the disc, :math:`2R` [m].
    thickness : array_like
        Thickness :math:`h` [m].
    poisson : array_like
        Poisson's ratio [-].

    Returns
    -------
    ndarray of float
        Equal in all directions, on the far face below the ball [Pa]; broadcast.

    Raises
    ------
    ValueError
        If an argument is out of its range or the ring wider than the disc.

    Notes
    -----
    From memory; checked against the plate formula for an even load on a disc of radius b. That
    the ball presses evenly on a third of the thickness is the published rule: the stress
    rises by some 8 % if it is a quarter. Small deflections.

    References
    ----------
    [Shetty1980]

    Examples
    --------
    500 N on a disc 2 mm thick, on a ring of 30 mm, in MPa:

    >>> ball_on_ring(500.0, 30e-3, 36e-3, 2e-3, 0.22).item() / 1e6
    279.3

    """
    ring = positive("support_diameter", support_diameter, "m") / 2
    edge = positive("plate_diameter", plate_diameter, "m") / 2
    require(edge >= ring, "plate_diameter", 2 * edge, "reach support_diameter", "m")
    depth, nu = positive("thickness", thickness, "m"), in_range("poisson", poisson, 0.0, 0.5)
    patch = depth / 3
    require(patch < ring, "thickness", depth, "be less than three ring radii", "m")
    rim = (1 - nu) / (1 + nu) * (1 - patch**2 / (2 * ring**2)) * (ring / edge) ** 2
    scale = 0.75 * finite("force", force, "N") * (1 + nu) / (np.pi * depth**2)
    return np.asarray(scale * (1 + 2 * np.log(ring / patch) + rim))


def vickers_hardness(load: ArrayLike, diagonal: ArrayLike) -> FloatArray:
    """Return the mean pressure under a Vickers pyramid, 2 P/d^2.

    Parameters
    ----------
    load : array_like
        Force [N].
    diagonal : array_like
        Mean of the two full diagonals of the dent [m].

    Returns
    -------
    ndarray of float
        Load over projected area [Pa], the hardness of toughness formulas; 8 % above the
        Vickers number, which divides by the true area.

    Raises
    ------
    ValueError
        If an argument is not finite and positive.

    Notes
    -----
    On the projected area: 7.9 % above the Vickers number in the same unit. On glass it falls
    with the load below some newtons.

    References
    ----------
    [C1327], which divides by the true area.

    Examples
    --------
    1 kgf and diagonals of 58 µm on window glass, in GPa:

    >>> vickers_hardness(9.80665, 58e-6).item() / 1e9
    5.83

    """
    return np.asarray(
        2 * positive("load", load, "N") / positive("diagonal", diagonal, "m") ** 2
    )


def vickers_number(load: ArrayLike, diagonal: ArrayLike) -> FloatArray:
    """Return the Vickers number, 1.8544 P/d^2 in kgf/mm^2.

    Parameters
    ----------
    load : array_like
        Force [N].
    diagonal : array_like
        Mean of the two full diagonals of the dent [m].

    Returns
    -------
    ndarray of float
        Load over true area of the dent [kgf/mm^2].

    Raises
    ------
    ValueError
        If an argument is not finite and positive.

    Notes
    -----
    On glass it falls with the load below some newtons: state the load.

    References
    ----------
    [C1327]

    Examples
    --------
    A dent 58 µm across under 9.81 N:

    >>> vickers_number(9.81, 58e-6).item()
    551.4

    """
    pressure = vickers_hardness(load, diagonal) * _TRUE_AREA / 2
    return np.asarray(pressure / (kilogram_force * 1e6))


def knoop_hardness(load: ArrayLike, diagonal: ArrayLike) -> FloatArray:
    """Return the Knoop hardness, 14.229 P/d^2.

    Parameters
    ----------
    load : array_like
        Force [N].
    diagonal : array_like
        Long diagonal of the dent [m].

    Returns
    -------
    ndarray of float
        Load over projected area [Pa].

    Raises
    ------
    ValueError
        If an argument is not finite and positive.

    Notes
    -----
    On glass it falls with the load below some newtons: state the load.

    References
    ----------
    [C730]

    Examples
    --------
    100 gf and a long diagonal of 50 µm, in GPa:

    >>> knoop_hardness(0.980665, 50e-6).item() / 1e9
    5.58

    """
    return np.asarray(
        _KNOOP * positive("load", load, "N") / positive("diagonal", diagonal, "m") ** 2
    )


def dent_toughness(
    load: ArrayLike,
    crack: ArrayLike,
    modulus: ArrayLike,
    hardness: ArrayLike,
    constant: ArrayLike = 0.016,
    surface_compression: ArrayLike = 0.0,
) -> FloatArray:
    r"""Return the toughness from the cracks at a Vickers dent, in stressed glass too.

    .. math:: K_{Ic} = \xi\sqrt{E/H}\,\frac{P}{c^{3/2}} - \psi\,\sigma_R\sqrt{c}

    Parameters
    ----------
    load : array_like
        Force [N].
    crack : array_like
        Length of the crack along the surface from the centre of the dent, :math:`c` [m].
    modulus, hardness : array_like
        Young's modulus and mean pressure of `vickers_hardness` [Pa].
    constant : array_like
        :math:`\xi`, 0.016 with a spread of 0.004 from material to material [-].
    surface_compression : array_like
        Compression, positive, even over the crack [Pa].

    Returns
    -------
    ndarray of float
        Toughness [Pa sqrt(m)]; broadcast. Zero or less where compression and crack do not
        belong together.

    Raises
    ------
    ValueError
        If an argument is out of its range.

    Notes
    -----
    `glasskit.damage.radial_crack` is this turned round: the crack from the toughness. For
    cracks at least twice as long as half the dent's diagonal; glasses that crowd together
    under the point depart from it altogether.

    References
    ----------
    [Anstis1981], [MarshallLawn1977]

    Examples
    --------
    One dent read as if the glass were plain, and with its 100 MPa of compression, in MPa√m:

    >>> seen = dent_toughness(49.0, 150e-6, 70e9, 5.5e9, surface_compression=[0.0, 100e6])
    >>> (seen / 1e6).round(2)
    array([1.52, 0.05])

    """
    ratio = positive("modulus", modulus, "Pa") / positive("hardness", hardness, "Pa")
    wedge = positive("constant", constant) * np.sqrt(ratio) * positive("load", load, "N")
    length = positive("crack", crack, "m")
    squeeze = finite("surface_compression", surface_compression, "Pa")
    return np.asarray(wedge / length**1.5 - SHAPE_FACTOR * squeeze * np.sqrt(length))


def crack_compression(
    load: ArrayLike,
    crack: ArrayLike,
    modulus: ArrayLike,
    hardness: ArrayLike,
    toughness: ArrayLike,
    constant: ArrayLike = 0.016,
) -> FloatArray:
    r"""Return the surface compression from the cracks at a Vickers dent.

    .. math:: \sigma_R = \frac{\xi\sqrt{E/H}\,P/c^{3/2} - K_{Ic}}{\psi\sqrt{c}}

    Parameters
    ----------
    load, crack, modulus, hardness, constant
        As for `dent_toughness`.
    toughness : array_like
        Fracture toughness of the glass [Pa sqrt(m)].

    Returns
    -------
    ndarray of float
        Compression, positive [Pa]; negative stands for tension.

    Raises
    ------
    ValueError
        If an argument is not finite and positive.

    Notes
    -----
    An even stress over the depth of the crack: too little where the layer is thinner.

    References
    ----------
    [MarshallLawn1977]

    Examples
    --------
    Cracks of 60 µm at a dent of 10 N in toughened glass, in MPa:

    >>> crack_compression(10.0, 60e-6, 70e9, 5.5e9, 0.75e6).item() / 1e6
    51.44

    """
    plain = dent_toughness(load, crack, modulus, hardness, constant)
    excess = plain - positive("toughness", toughness, "Pa√m")
    return np.asarray(excess / (SHAPE_FACTOR * np.sqrt(positive("crack", crack, "m"))))


def polarimeter_stress(tilt: ArrayLike, constant: ArrayLike) -> FloatArray:
    r"""Return the surface compression read as the tilt of fringes, :math:`k\tan\theta`.

    Parameters
    ----------
    tilt : array_like
        Angle through which the wedge turned the fringes, 0 to below 90 degrees [rad].
    constant : array_like
        What the instrument's maker or its calibration gives for 45 degrees [Pa].

    Returns
    -------
    ndarray of float
        Compression, positive [Pa].

    Raises
    ------
    ValueError
        If the tilt does not lie in the range or `constant` is not positive.

    Notes
    -----
    A reading of the tin side of float glass, along which light is guided: the layer just below
    it.

    References
    ----------
    [C1279] procedure A (from memory)

    Examples
    --------
    Fringes turned by 55 degrees, an instrument of 70 MPa, in MPa:

    >>> polarimeter_stress(np.radians(55.0), 70e6).item() / 1e6
    99.97

    """
    angle = finite("tilt", tilt, "rad")
    rule = "lie in 0 <= tilt < 1.5708"
    require((angle >= 0) & (angle < np.pi / 2), "tilt", angle, rule, "rad")
    return np.asarray(positive("constant", constant, "Pa") * np.tan(angle))


def analyser_stress(
    fringes: ArrayLike,
    analyser: ArrayLike,
    wavelength: ArrayLike,
    path: ArrayLike,
    stress_optic: ArrayLike,
) -> FloatArray:
    r"""Return the stress from whole fringes and the turn of an analyser.

    .. math:: \sigma = \left(N + \frac{\theta}{180^\circ}\right) \frac{\lambda}{C s}

    Parameters
    ----------
    fringes : array_like
        Whole fringes, counted from a zero that is seen; negative for compression [-].
    analyser : array_like
        Turn of the analyser until the nearest fringe is dark there, positive where the
        retardation is larger than that, -90 to 90 degrees [rad].
    wavelength : array_like
        Of the light [m].
    path : array_like
        Way of the light through the stressed glass [m].
    stress_optic : array_like
        Stress-optic coefficient [1/Pa].

    Returns
    -------
    ndarray of float
        Stress, positive in tension [Pa].

    Raises
    ------
    ValueError
        If `fringes` is not finite, the turn beyond its range, or another argument not
        positive.

    Notes
    -----
    A turn shifts the phase by twice its angle. The quarter-wave plate must be for the colour
    used, and its axes along polariser or analyser.

    References
    ----------
    [JerrardTardy1953]

    Examples
    --------
    One fringe and 45 degrees more, over 10 mm of window glass, in MPa:

    >>> analyser_stress(1.0, np.radians(45.0), 565e-9, 10e-3, 2.7e-12).item() / 1e6
    26.16

    """
    whole_part = finite("fringes", fringes)
    angle = in_range("analyser", analyser, -np.pi / 2, np.pi / 2, "rad")
    wave, way = positive("wavelength", wavelength, "m"), positive("path", path, "m")
    retardation = (whole_part + angle / np.pi) * wave
    return np.asarray(retardation / (positive("stress_optic", stress_optic, "1/Pa") * way))


def guided_compression(
    te_first: ArrayLike,
    te_second: ArrayLike,
    tm_first: ArrayLike,
    tm_second: ArrayLike,
    index_scale: ArrayLike,
    stress_optic: ArrayLike,
) -> FloatArray:
    r"""Return the surface compression from lines of light guided along a surface.

    .. math:: \sigma = \frac{k\,(x^0_{TE} - x^0_{TM})}{C}, \qquad
        x^0 = x_1 - 1.336\,(x_2 - x_1)

    Parameters
    ----------
    te_first, te_second, tm_first, tm_second : array_like
        Where the first two lines of each polarisation stand on the scale, counted from the
        side of the higher index [m].
    index_scale : array_like
        Index for each length on the scale, :math:`k` [1/m].
    stress_optic : array_like
        Stress-optic coefficient :math:`C` [1/Pa].

    Returns
    -------
    ndarray of float
        Compression, positive [Pa].

    Raises
    ------
    ValueError
        If a second line does not lie beyond the first, or another argument is not
        positive.

    Notes
    -----
    The surface is found by continuing two lines, for an index that falls in a straight line:
    there the lines lie as the zeros of Airy's function. Also for a diffused or a parabolic
    layer, 8 to 60 µm deep, it is 2 % off at most (tests). The first line alone, taken for the
    surface, reads 7 to 45 % too little, the more the fewer lines there are.

    References
    ----------
    [Guided2015], [C1422]

    Examples
    --------
    Lines at 6.60 and 7.30 mm, and at 0.80 and 1.50 mm, in MPa:

    >>> guided_compression(6.6e-3, 7.3e-3, 0.8e-3, 1.5e-3, 0.35, 2.9e-12).item() / 1e6
    700.0

    """
    surface = []
    for name, first, second in (
        ("te_second", te_first, te_second),
        ("tm_second", tm_first, tm_second),
    ):
        near, far = (
            finite(name.replace("second", "first"), first, "m"),
            finite(name, second, "m"),
        )
        require(far > near, name, far, "lie beyond the first line", "m")
        surface.append(near - BEYOND * (far - near))
    index = positive("index_scale", index_scale, "1/m") * (surface[0] - surface[1])
    return np.asarray(index / positive("stress_optic", stress_optic, "1/Pa"))


def mean_expansion(
    cold_length: ArrayLike,
    elongation: ArrayLike,
    start_temperature: ArrayLike,
    end_temperature: ArrayLike,
    rod_expansion: ArrayLike = 0.55e-6,
) -> FloatArray:
    r"""Return the mean coefficient of linear expansion between two temperatures.

    .. math:: \alpha = \frac{\Delta L}{L_0\,(T_2 - T_1)} + \alpha_{rod}

    Parameters
    ----------
    cold_length : array_like
        Of the piece at the lower temperature [m].
    elongation : array_like
        As the dilatometer shows it, which is less what its rod grows by [m].
    start_temperature, end_temperature : array_like
        Temperatures [K].
    rod_expansion : array_like
        Mean coefficient of rod and holder between them [1/K].

    Returns
    -------
    ndarray of float
        Coefficient [1/K].

    Raises
    ------
    ValueError
        If `cold_length` is not positive, or the end not the warmer one.

    Notes
    -----
    A piece that is not at the temperature of the thermometer lags behind; slow heating helps.

    References
    ----------
    [ISO7991]

    Examples
    --------
    50 mm of window glass that grow by 118 µm from 20 to 300 degrees, in millionths:

    >>> mean_expansion(50e-3, 118e-6, 293.15, 573.15).item() * 1e6
    8.979

    """
    cold, warm = (
        positive("start_temperature", start_temperature, "K"),
        positive("end_temperature", end_temperature, "K"),
    )
    require(warm > cold, "end_temperature", warm, "be warmer than the start", "K")
    grown = finite("elongation", elongation, "m") / positive("cold_length", cold_length, "m")
    return np.asarray(
        grown / (warm - cold) + non_negative("rod_expansion", rod_expansion, "1/K")
    )
