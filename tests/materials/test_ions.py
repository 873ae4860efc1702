# SPDX-License-Identifier: MIT
import pytest
from hypothesis import given
from hypothesis import strategies as st

from glasskit.materials import ions

SHANNON = "Shannon, Acta Cryst. A32 (1976) 751"
ION = st.sampled_from(ions.names())
SIX_FOLD = [ion for ion in ions.names() if 6 in ions.coordinations(ion)]


@given(ion=ION, data=st.data(), scale=st.sampled_from(["effective", "crystal"]))
def test_more_neighbours_make_a_larger_ion(ion, data, scale):
    known = ions.coordinations(ion, scale)
    few, many = sorted(data.draw(st.tuples(st.sampled_from(known), st.sampled_from(known))))
    smaller, larger = (ions.ionic_radius(ion, number, scale) for number in (few, many))
    assert smaller < larger or few == many


@pytest.mark.parametrize("scale", ions.SCALES)
def test_alkali_ions_grow_down_the_column(scale):
    # Source: periodic table, Li Na K Rb Cs.
    radii = [ions.ionic_radius(ion, 6, scale) for ion in ("Li", "Na", "K", "Rb", "Cs")]
    assert radii == sorted(radii)


@pytest.mark.parametrize("scale", ions.SCALES)
def test_ions_with_ten_electrons_shrink_with_nuclear_charge(scale):
    # Source: same electrons, O2- Na+ Mg2+ Al3+ Si4+ held by 8, 11, 12, 13, 14 protons.
    radii = [ions.ionic_radius(ion, 6, scale) for ion in ("O", "Na", "Mg", "Al", "Si")]
    assert radii == sorted(radii, reverse=True)


def test_crystal_radii_keep_the_distance_between_neighbours(outside):
    for ion in SIX_FOLD:
        if ion == "O2-":
            continue
        distances = [
            ions.ionic_radius(ion, 6, scale) + ions.ionic_radius("O", 6, scale)
            for scale in ("effective", "crystal")
        ]
        assert distances[0] == pytest.approx(distances[1], rel=1e-12)
    # Tolerance: floating point; Shannon prints whole picometres.
    outside(
        "crystal radius of six-fold oxygen / pm",
        ions.ionic_radius("O", 6, "crystal") * 1e12,
        126,
        rel=1e-12,
        source=SHANNON,
        status="found",
    )


# Crystal radii from the second set of Shannon's table, a column of its own there.
@pytest.mark.parametrize(
    ("ion", "coordination", "crystal"),
    [("Na+", 6, 116), ("K+", 6, 152), ("Si4+", 4, 40), ("Al3+", 4, 53), ("O2-", 2, 121)],
)
def test_crystal_radii_are_those_of_shannons_second_column(
    outside, ion, coordination, crystal
):
    outside(
        f"crystal radius of {ion}, {coordination} neighbours / pm",
        ions.ionic_radius(ion, coordination, "crystal") * 1e12,
        crystal,
        rel=1e-12,
        source=f"{SHANNON}, as tabulated in mendeleev 1.3.0",
        status="found",
    )


@pytest.mark.parametrize(
    ("a", "cation_neighbours", "ions_", "name"),
    [
        (564.0, 6, ("Na", 181), "rock salt"),
        (629.2, 6, ("K", 181), "sylvite"),
        (462.0, 6, ("Na", 133), "sodium fluoride"),
        (534.4, 6, ("K", 133), "potassium fluoride"),
    ],
)
def test_radii_add_up_to_the_spacing_of_salt_crystals(
    outside, a, cation_neighbours, ions_, name
):
    cation, anion = ions_
    # Half the cell edge of a rock-salt structure is one cation and one anion (Cl- 181 pm,
    # F- 133 pm, six-fold, Shannon). Tolerance: radii are means over many crystals, good to
    # about two in a hundred in one of them.
    outside(
        f"half the cell edge of {name} / pm",
        ions.ionic_radius(cation, cation_neighbours) * 1e12 + anion,
        a / 2,
        rel=0.02,
        source="cell edges of the alkali halides, crystallography textbooks",
        status="memory",
    )


def test_silicon_and_oxygen_add_up_to_the_bond_in_silica(outside):
    # Tolerance: bonds in silica and quartz lie between 160 and 162 pm.
    outside(
        "silicon-oxygen bond, four-fold and two-fold / pm",
        (ions.ionic_radius("Si", 4) + ions.ionic_radius("O", 2)) * 1e12,
        161,
        abs_=1,
        source="crystal structure of quartz, mineralogy textbooks",
        status="memory",
    )


def test_potassium_is_a_third_larger_than_sodium(outside):
    # Tolerance: printed to four figures.
    outside(
        "radius of K+ over Na+, six-fold",
        ions.swap("Na", "K").size_ratio,
        1.353,
        rel=4e-4,
        source=f"{SHANNON}: 138 over 102",
        status="found",
    )
    outside(
        "volume of K+ over Na+, six-fold",
        ions.swap("Na", "K").volume_ratio,
        2.476,
        rel=4e-4,
        source="hand: (138/102)^3 = 2628072/1061208 = 2.4765",
        status="hand calculation",
    )
    outside(
        "misfit of K+ for Na+, Pauling",
        ions.swap("Na", "K", scale="pauling").misfit,
        0.4,
        rel=1e-12,
        source="Pauling: (133 - 95)/95 = 38/95 = 2/5",
        status="hand calculation",
    )


@given(coordination=st.floats(4, 12), ion=st.sampled_from(["Na", "K"]))
def test_between_published_radii_the_size_grows_steadily(coordination, ion):
    radius = ions.swap(ion, ion, coordination).incoming
    below = max(n for n in ions.coordinations(ion) if n <= coordination)
    above = min(n for n in ions.coordinations(ion) if n >= coordination)
    low, high = ions.ionic_radius(ion, below), ions.ionic_radius(ion, above)
    assert low <= radius.value.value <= high
    if below < above:
        share = (coordination - below) / (above - below)
        assert radius.value.value == pytest.approx(low + share * (high - low), rel=1e-9)


@given(outgoing=st.sampled_from(SIX_FOLD), incoming=st.sampled_from(SIX_FOLD))
def test_swapping_there_and_back_restores_the_size(outgoing, incoming):
    there = ions.swap(outgoing, incoming).size_ratio
    back = ions.swap(incoming, outgoing).size_ratio
    assert there * back == pytest.approx(1, rel=1e-12)
    bigger = ions.ionic_radius(incoming) > ions.ionic_radius(outgoing)
    assert (ions.misfit(outgoing, incoming) > 0) == bigger


def test_an_ion_fits_its_own_place():
    assert ions.misfit("Na", "Na+") == 0


@pytest.mark.parametrize("ion", ions.names())
def test_the_charge_may_be_left_out(ion):
    element = ion.rstrip("+-0123456789")
    known = ions.coordinations(ion)[0]
    assert ions.ionic_radius(element, known) == ions.ionic_radius(ion, known)


def test_the_list_holds_one_radius_for_each_place_and_all_are_sourced():
    keys = [(row.ion, row.coordination, row.scale) for row in ions.table()]
    assert len(keys) == len(set(keys))
    assert {scale for *_, scale in keys} == set(ions.SCALES)
    assert all(row.value.source and row.value.unit == "m" for row in ions.table())


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (("Fe",), r"^ion must be one of Li\+, Na\+, .*, O2-; got 'Fe'$"),
        (("Na2+",), r"^ion must be one of .*; got 'Na2\+'$"),
        (
            ("K", 5),
            r"^coordination of K\+ \(effective radii\) must be one of 4, 6, .*; got 5$",
        ),
        (
            ("K", 8, "pauling"),
            r"^coordination of K\+ \(pauling radii\) must be one of 6; got 8$",
        ),
        (
            ("K", 6, "ionic"),
            r"^scale must be one of effective, crystal, pauling; got 'ionic'$",
        ),
    ],
)
def test_unknown_ions_and_places_are_refused_with_what_is_known(arguments, message):
    with pytest.raises(ValueError, match=message):
        ions.ionic_radius(*arguments)


@pytest.mark.parametrize(
    ("coordination", "scale", "rule"),
    [
        (3, "effective", r"lie in 4 <= coordination <= 12; got 3"),
        (6.5, "pauling", r"be 6; got 6.5"),
    ],
)
def test_a_swap_outside_the_published_places_is_refused(coordination, scale, rule):
    message = rf"^coordination of Na\+ \({scale} radii\) must {rule}$"
    with pytest.raises(ValueError, match=message):
        ions.swap("Na", "K", coordination, scale)


def test_a_place_must_be_a_number():
    with pytest.raises(ValueError, match=r"^coordination must be finite; got nan$"):
        ions.swap("Na", "K", float("nan"), "effective")


@pytest.mark.parametrize("measure", [ions.misfit, ions.swap])
def test_a_bad_swap_says_which_ion_is_unknown(measure):
    with pytest.raises(ValueError, match=r"^outgoing must be one of .*; got 'Xx'$"):
        measure("Xx", "K")
    with pytest.raises(ValueError, match=r"^incoming must be one of .*; got 'Xx'$"):
        measure("Na", "Xx")
