# SPDX-License-Identifier: MIT
r"""Follow potassium into glass from a molten salt, and the squeeze that it leaves.

In the bath potassium takes the places of the smaller sodium. It diffuses with an Arrhenius
coefficient :math:`D`, and each place strains the network by the linear dilation coefficient
:math:`B` for each share of potassium oxide. The plate cannot swell layer by layer, so the
skin is squeezed and the core stretched [Cooper1969]. Glass yields a little even in the bath:
the squeeze fades with several times :math:`T_j` at once (`bath_glasses.fading`), which the
Maxwell time of frozen glass from `materials.melts` sets [Sane1987]. With
:math:`a = x / 2\sqrt{Dt}`, :math:`b_j = \sqrt{t/T_j}` and the Faddeeva function :math:`w`, the
share still strained at depth :math:`x` has the closed form

.. math:: q(x, t) = \sum_j W_j \int_0^t e^{-(t - s)/T_j} \frac{\partial c}{\partial s}\,ds
          = c_s\, e^{-a^2} \sum_j W_j \operatorname{Re} w(b_j + i a), \qquad
          \sigma = -\frac{E B C}{1 - \nu} (q - \bar q)

with :math:`C` the alkali content. Without relaxation :math:`q` is the complementary error
function. Hence the trade-off: longer and hotter goes deeper, and squeezes the surface less.

Say with every number from here: coefficients are published values with wide ranges (see
`bath_glasses`), so depth is known to about a factor of two, squeeze to about a half and above
470 °C not even so well, and the dilation coefficient is the effective one, 3 to 5 times below
the molar-volume prediction [Varshneya2001].
"""

import warnings
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import dawsn, erfc, wofz

from glasskit import stress
from glasskit.quantities import (
    FloatArray,
    OutsideValidityWarning,
    in_range,
    non_negative,
    positive,
    require,
)
from glasskit.toughening.bath_glasses import (
    BathGlass,
    bath_glass,
    cases,
    diffusivity,
    fading,
    relaxation_time,
    resolve,
)
from glasskit.toughening.interdiffusion import MOBILITY_RATIOS, interdiffuse

_IMAGES = 24  # mirror images of the faces; enough up to a full plate
_FULL = 3.0  # D t / thickness^2 at which a plate is full to rounding
_STEPS = 8  # to the end of a skin: seven come within 1e-12 of a diffusion length
_NEAR = 1e-7  # of a diffusion length: so far the last steps may cross an end by rounding
_APART = 0.1  # sqrt(D t) / thickness up to which the two skins do not meet


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class TradeOff:
    """What a bath gives; the arrays have the broadcast shape of its settings.

    Attributes
    ----------
    surface_compression : ndarray
        Compression at the faces, positive; negative where relaxation has left tension [Pa].
    case_depth : ndarray
        Depth of the compressed skin [m].
    centre_tension : ndarray
        Tension in the core [Pa].
    remaining : ndarray
        Share of the first ions' strain that is left at the face [-].

    """

    surface_compression: FloatArray
    case_depth: FloatArray
    centre_tension: FloatArray
    remaining: FloatArray


def diffuse(
    depth: ArrayLike,
    time: ArrayLike,
    temperature: ArrayLike,
    glass: str | BathGlass = "soda-lime",
    *,
    thickness: float | None = None,
    surface_share: ArrayLike = 1.0,
) -> FloatArray:
    r"""Return the share of sodium that potassium has replaced.

    In a thick plate :math:`c = c_s \operatorname{erfc}(x / 2\sqrt{Dt})`; where a thickness is
    given, both faces take part, with their mirror images.

    Parameters
    ----------
    depth : array_like
        Depth below one face [m].
    time : array_like
        Time in the bath [s].
    temperature : array_like
        Absolute temperature of the bath [K].
    glass : str or BathGlass
        Name, or coefficients of your own.
    thickness : float, optional
        Thickness of the plate [m]; endless if left out.
    surface_share : array_like
        Share kept at the faces, 0 to 1: fresh salt close to 1, used salt less [-].

    Returns
    -------
    ndarray of float
        Share, 0 to 1, in the broadcast shape [-].

    Raises
    ------
    ValueError
        If a number is out of range, or `depth` exceeds `thickness`.

    Warns
    -----
    OutsideValidityWarning
        Outside 350 to 520 °C.

    Notes
    -----
    Constant diffusivity; see `interdiffusion` for one that changes with the share. The share
    is taken to jump at the face at once.

    References
    ----------
    [Crank1975], eqs 2.45 and 4.18.

    Examples
    --------
    Eight hours at 450 °C: how much has been replaced 5 µm below the face of window glass?

    >>> diffuse(5e-6, 8 * 3600, 450 + 273.15).round(2).item()
    0.37

    """
    place = non_negative("depth", depth, "m")
    top = in_range("surface_share", surface_share, 0.0, 1.0)
    spread = positive("time", time, "s") * diffusivity(temperature, glass)
    if thickness is None:
        return np.asarray(top * erfc(place / (2 * np.sqrt(spread))))
    size = positive("thickness", thickness, "m").item()
    require(place <= size, "depth", place, f"be at most {size:g} m", "m")
    length = 2 * np.sqrt(np.minimum(spread, _FULL * size**2))[..., None]
    turn = np.arange(_IMAGES)
    sign = np.where(turn % 2, -1.0, 1.0)
    near = turn * size + place[..., None]
    far = (turn + 1) * size - place[..., None]
    share = (sign * (erfc(near / length) + erfc(far / length))).sum(-1)
    return np.asarray(top * np.clip(share, 0.0, 1.0))


def strained_share(
    depth: ArrayLike,
    time: ArrayLike,
    temperature: ArrayLike,
    glass: str | BathGlass = "soda-lime",
    surface_share: ArrayLike = 1.0,
) -> FloatArray:
    """Return the share of swapped ions whose strain has not relaxed, in a thick plate.

    Parameters
    ----------
    depth, time, temperature, glass, surface_share
        As for `diffuse` [m], [s], [K], [-].

    Returns
    -------
    ndarray of float
        Share, at most that of `diffuse` [-]. Its peak moves below the face when the first
        ions' strain has faded.

    Raises
    ------
    ValueError
        If a number is out of range.

    Notes
    -----
    A thick plate: the two skins do not meet. One relaxation time stands for a spectrum.

    Examples
    --------
    At the face and 10 µm below after 8 hours at 450 °C:

    >>> strained_share([0.0, 10e-6], 8 * 3600.0, 723.15).round(2).tolist()
    [0.77, 0.06]

    """
    place = non_negative("depth", depth, "m")
    top = in_range("surface_share", surface_share, 0.0, 1.0)
    skin = _Skin.after(time, temperature, resolve(glass))
    return np.asarray(top * skin.strained(place / skin.length))


def squeeze(
    depth: ArrayLike,
    time: ArrayLike,
    temperature: ArrayLike,
    thickness: ArrayLike,
    glass: str | BathGlass = "soda-lime",
    surface_share: ArrayLike = 1.0,
) -> FloatArray:
    """Return the compression at one depth, for arrays of settings.

    At the depth of a flaw it first grows with time, then falls: the best bath is the one
    that suits the flaw.

    Parameters
    ----------
    depth, time, temperature, glass, surface_share
        As for `diffuse` [m], [s], [K], [-].
    thickness : array_like
        Thickness of the plate, with both faces in the bath [m].

    Returns
    -------
    ndarray of float
        Compression, positive; negative where the glass is stretched [Pa].

    Raises
    ------
    ValueError
        If a number is out of range.

    Warns
    -----
    OutsideValidityWarning
        If the two skins meet, or outside 350 to 520 °C.

    Examples
    --------
    At the face and 10 µm below after 8 hours at 450 °C, in MPa:

    >>> [round(number / 1e6) for number in squeeze([0.0, 10e-6], 8 * 3600.0, 723.15, 4e-3)]
    [493, 40]

    """
    own = resolve(glass)
    place = non_negative("depth", depth, "m")
    top = in_range("surface_share", surface_share, 0.0, 1.0)
    skin = _Skin.after(time, temperature, own)
    mean = skin.mean(positive("thickness", thickness, "m"))
    return np.asarray(own.full_squeeze * top * (skin.strained(place / skin.length) - mean))


def trade_off(
    time: ArrayLike,
    temperature: ArrayLike,
    thickness: ArrayLike,
    glass: str | BathGlass = "soda-lime",
    surface_share: ArrayLike = 1.0,
) -> TradeOff:
    """Return what longer and hotter baths gain in depth and lose in squeeze.

    Parameters
    ----------
    time : array_like
        Time in the bath [s].
    temperature : array_like
        Absolute temperature of the bath [K].
    thickness : array_like
        Thickness of the plate, with both faces in the bath [m].
    glass : str or BathGlass
        Name, or coefficients of your own.
    surface_share : array_like
        Share kept at the faces [-].

    Returns
    -------
    TradeOff
        Surface compression, case depth and centre tension in the broadcast shape.

    Raises
    ------
    ValueError
        If a number is out of range.

    Warns
    -----
    OutsideValidityWarning
        If the two skins meet, or outside 350 to 520 °C.

    Notes
    -----
    Beside processors' figures: soda-lime after 8 h at 450 °C, 490 MPa (printed: at least 500
    MPa and 9 µm) and 17 µm (another prints 16 to 19 µm after 8 h, from which the diffusivity
    was taken); aluminosilicate after 16 h at 430 °C, 560 MPa and 41 µm (printed: at least
    700 MPa and 40 µm).

    Examples
    --------
    Window glass 4 mm thick, 450 °C, four hours and a day: squeeze in MPa, depth in µm.

    >>> bath = trade_off(np.array([4, 24]) * 3600, 450 + 273.15, 4e-3)
    >>> bath.surface_compression.round(-7) / 1e6, bath.case_depth.round(6) * 1e6
    (array([520., 420.]), array([13., 28.]))

    """
    own = resolve(glass)
    top = in_range("surface_share", surface_share, 0.0, 1.0)
    skin = _Skin.after(time, temperature, own)
    mean = skin.mean(positive("thickness", thickness, "m"))
    mean, top, face = np.broadcast_arrays(mean, top, skin.face)
    scale = own.full_squeeze * top
    return TradeOff(
        surface_compression=np.asarray(scale * (face - mean)),
        case_depth=skin.end(mean),
        centre_tension=np.asarray(scale * mean),
        remaining=np.asarray(face),
    )


def residual_stress(
    time: float,
    temperature: float,
    thickness: float,
    glass: str | BathGlass = "soda-lime",
    *,
    surface_share: float = 1.0,
    mobility_ratio: float = 1.0,
) -> stress.StressProfile:
    """Return the stress through a plate that had both faces in a salt bath.

    Parameters
    ----------
    time : float
        Time in the bath [s].
    temperature : float
        Absolute temperature of the bath [K].
    thickness : float
        Thickness of the plate [m].
    glass : str or BathGlass
        Name, or coefficients of your own.
    surface_share : float
        Share kept at the faces [-].
    mobility_ratio : float
        How many times faster sodium moves than potassium; 1 makes the diffusivity constant
        and gives the closed form where the two skins do not meet [-].

    Returns
    -------
    StressProfile
        In balance, tension positive.

    Raises
    ------
    ValueError
        If a number is out of range.

    Warns
    -----
    OutsideValidityWarning
        Outside 350 to 520 °C.

    Notes
    -----
    Stress at room temperature: strains from the small change of thermal expansion in the skin
    are left out, and so are the edges of the plate.

    Examples
    --------
    A cover glass 0.7 mm thick, six hours at 420 °C:

    >>> profile = residual_stress(6 * 3600, 420 + 273.15, 0.7e-3, "aluminosilicate")
    >>> round(profile.surface / 1e6, -1), round(profile.case_depth * 1e6)
    (-620.0, 23)

    """
    own = resolve(glass)
    size = positive("thickness", thickness, "m").item()
    state = _Skin.after(time, temperature, own)
    half = state.length.item()
    top = in_range("surface_share", surface_share, 0.0, 1.0).item()
    ratio = in_range("mobility_ratio", mobility_ratio, *MOBILITY_RATIOS).item()
    if ratio == 1 and half <= 2 * _APART * size:
        skin = half * np.linspace(0, 6, 121)
        skin = np.append(skin[skin < 0.49 * size], size / 2)
        depth = np.concatenate((skin, size - skin[-2::-1]))
        kept = top * (state.strained(depth / half) + state.strained((size - depth) / half))
    else:
        plate = interdiffuse(
            time,
            half**2 / (4 * time),
            size,
            mobility_ratio=ratio,
            surface_share=top,
            relaxation=fading(temperature, own),
        )
        face = top * state.face.item()
        depth = np.concatenate(([0.0], plate.depth, [size]))
        kept = np.concatenate(([face], plate.strained, [face]))
    mean = np.trapezoid(kept, depth) / size
    return stress.sampled(depth, -own.full_squeeze * (kept - mean), kind="exchanged")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Skin:
    """What a bath has made of one face: length of diffusion, and how far squeeze has faded.

    Attributes
    ----------
    length : ndarray
        Twice the diffusion length [m].
    shares : ndarray, shape (n,)
        Share of the squeeze in each relaxing element [-].
    faded : ndarray, shape (..., n)
        Root of time over relaxation time [-].

    """

    length: FloatArray
    shares: FloatArray
    faded: FloatArray

    @classmethod
    def after(cls, time: ArrayLike, temperature: ArrayLike, glass: BathGlass) -> "_Skin":
        spent = positive("time", time, "s")
        length = 2 * np.sqrt(spent * diffusivity(temperature, glass))
        shares, times = fading(temperature, glass)
        return cls(length=length, shares=shares, faded=np.sqrt(spent[..., None] / times))

    @property
    def face(self) -> FloatArray:
        """Share still strained at the face."""
        return np.asarray(np.exp(-(self.faded**2)) @ self.shares)

    def strained(self, place: FloatArray) -> FloatArray:
        """Return the share still strained at a depth in units of `length`."""
        return self._and_slope(place)[0]

    def _and_slope(self, place: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Return the share still strained, and how it changes with the depth."""
        at = self.faded + 1j * place[..., None]
        parts, near = wofz(at), np.exp(-(place**2))
        share = near * (parts.real @ self.shares)
        # w'(z) = 2i/sqrt(pi) - 2 z w(z), and the depth runs along i.
        turned = (-2 / np.sqrt(np.pi) + 2 * (at * parts).imag) @ self.shares
        return np.asarray(share), np.asarray(near * turned - 2 * place * share)

    def mean(self, thickness: FloatArray) -> FloatArray:
        """Return the mean strained share of a plate with a skin on both faces."""
        if np.any(self.length > 2 * _APART * thickness):
            warnings.warn(
                "the skins of the two faces meet: use residual_stress for the whole plate",
                OutsideValidityWarning,
                stacklevel=3,
            )
        left = (dawsn(self.faded) / self.faded) @ self.shares
        return np.asarray(2 * self.length / np.sqrt(np.pi) * left / thickness)

    def end(self, mean: FloatArray) -> FloatArray:
        """Return the depth at which the strained share falls to its mean [m]."""
        low, high = np.zeros_like(mean), np.full_like(mean, 6.0)
        place = np.ones_like(mean)
        for _ in range(_STEPS):  # of Newton on the logarithm; halving where one would leave
            share, slope = self._and_slope(place)
            squeezed = share > mean
            low, high = np.where(squeezed, place, low), np.where(squeezed, high, place)
            place = place - np.log(share / mean) * share / slope
            inside = (low - _NEAR < place) & (place < high + _NEAR)
            place = np.where(inside, place, (low + high) / 2)
        return np.asarray(np.where(self.face > mean, place * self.length, 0.0))


@dataclass(frozen=True, kw_only=True)  # no slots: what it gives is computed once and kept
class SaltBath:
    """Settings of a salt bath and what they give.

    Attributes
    ----------
    glass : str
        One of those in ``glasskit/data/baths.csv``.
    time : float
        Time in the bath [s].
    temperature : float
        Absolute temperature [K].
    thickness : float
        Thickness of the plate, both faces in the bath [m].
    wanted_squeeze, wanted_depth : float
        Least compression at the face [Pa] and least depth of the skin [m] that will do.

    Examples
    --------
    >>> bath = SaltBath(glass="soda-lime", time=8 * 3600, temperature=723.15, thickness=4e-3)
    >>> round(bath.outcome.case_depth.item() * 1e6)
    17

    """

    glass: str
    time: float
    temperature: float
    thickness: float
    wanted_squeeze: float = 0.0
    wanted_depth: float = 0.0

    def __post_init__(self) -> None:
        bath_glass(self.glass)
        positive("time", self.time, "s")
        positive("temperature", self.temperature, "K")
        positive("thickness", self.thickness, "m")
        non_negative("wanted_squeeze", self.wanted_squeeze, "Pa")
        non_negative("wanted_depth", self.wanted_depth, "m")

    @property
    def hard_enough(self) -> bool:
        """Whether the face is squeezed as hard as is wanted."""
        return bool(self.outcome.surface_compression >= self.wanted_squeeze)

    @property
    def deep_enough(self) -> bool:
        """Whether the skin is as deep as is wanted."""
        return bool(self.outcome.case_depth >= self.wanted_depth)

    @property
    def coefficients(self) -> BathGlass:
        """Coefficients of the glass, with their sources."""
        return bath_glass(self.glass)

    @cached_property
    def outcome(self) -> TradeOff:
        """Surface compression, case depth, centre tension."""
        return trade_off(self.time, self.temperature, self.thickness, self.glass)

    @property
    def diffusivity(self) -> float:
        """Interdiffusion coefficient [m^2/s]."""
        return diffusivity(self.temperature, self.glass).item()

    @property
    def relaxation_time(self) -> float:
        """Mean Maxwell time in the bath [s]."""
        return relaxation_time(self.temperature, self.glass).item()

    def share(self, depth: ArrayLike) -> FloatArray:
        """Return the swapped share at `depth` [m]; [-]."""
        return diffuse(depth, self.time, self.temperature, self.glass)

    def squeeze(self, depth: ArrayLike) -> FloatArray:
        """Return the compression at `depth` [m]; [Pa]."""
        return squeeze(depth, self.time, self.temperature, self.thickness, self.glass)

    def squeeze_range(self, depth: ArrayLike) -> tuple[FloatArray, FloatArray]:
        """Return the compression, lowest and highest tenth of `bath_glasses.cases` [Pa]."""
        skins, full = self._possible
        mean = skins.mean(np.asarray(self.thickness))
        place = np.asarray(depth, dtype=np.float64)[..., None] / skins.length
        return _tenths(full * (skins.strained(place) - mean))

    @cached_property
    def depth_range(self) -> tuple[FloatArray, FloatArray]:
        """Case depth, lowest and highest tenth of `bath_glasses.cases` [m]."""
        skins, _ = self._possible
        return _tenths(skins.end(skins.mean(np.asarray(self.thickness))))

    @cached_property
    def _possible(self) -> tuple[_Skin, FloatArray]:
        """The skins of all `bath_glasses.cases`, and how hard each squeezes unrelaxed [Pa]."""
        own = self.coefficients
        usual = _Skin.after(self.time, self.temperature, own)
        possible = cases(self.glass)
        faster = np.array([one.diffusivity / own.diffusivity for one in possible])
        slower = np.array([one.slowness / own.slowness for one in possible])
        skins = _Skin(
            length=usual.length * np.sqrt(faster),
            shares=usual.shares,
            faded=usual.faded / np.sqrt(slower)[:, None],
        )
        return skins, np.array([one.full_squeeze for one in possible])


def _tenths(values: FloatArray) -> tuple[FloatArray, FloatArray]:
    low, high = np.quantile(values, [0.1, 0.9], axis=-1)
    return np.asarray(low), np.asarray(high)
