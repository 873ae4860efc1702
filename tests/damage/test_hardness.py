# SPDX-License-Identifier: MIT
import pytest

from glasskit.damage import hardness

SODA_LIME = 5.5e9


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("fingernail", "leaves nothing"),
        ("copper coin", "leaves metal"),
        ("key", "leaves metal"),
        ("pocket knife", "may cut"),
        ("hardened steel file", "cuts"),
        ("quartz sand", "cuts"),
        ("diamond", "cuts"),
    ],
)
def test_things_do_to_window_glass_what_the_mohs_table_says(name, expected):
    # Source: mineralogy course table (found): nail 2.5, copper 3, knife or glass 5.5, steel
    # file 6.5, quartz 7. Harder by a rank scratches; equal rank, a knife, is the doubtful one.
    assert hardness.verdict(hardness.scratcher(name), SODA_LIME) == expected


@pytest.mark.parametrize(
    ("name", "mohs"),
    [
        ("fingernail", 2.5),
        ("copper coin", 3.0),
        ("hardened steel file", 6.5),
        ("quartz sand", 7.0),
    ],
)
def test_ranks_are_those_of_the_mineralogy_table(outside, name, mohs):
    outside(
        f"Mohs rank, {name}",
        hardness.scratcher(name).mohs,
        mohs,
        abs_=0.0,
        source="mineralogy course table of everyday hardness",
        status="found",
    )


def test_rank_and_pressure_put_things_in_the_same_order():
    ranks = [item.mohs for item in hardness.scratchers()]
    assert ranks == sorted(ranks)


def test_a_mohs_step_is_about_a_ratio_of_1_6_in_pressure(outside):
    quartz, corundum = hardness.scratcher("quartz sand"), hardness.scratcher("corundum")
    middle = (quartz.hardness_low + quartz.hardness_high) / 2
    step = (corundum.hardness_low / middle) ** (1 / (corundum.mohs - quartz.mohs))
    # Tolerance: the scale is of ranks, so a step is only alike on average.
    outside(
        "hardness ratio per Mohs step, quartz to corundum",
        step,
        1.6,
        rel=0.25,
        source="[Tabor1954]: a constant ratio of about 1.6 from rank to rank",
        status="memory",
    )


def test_harder_glass_is_never_easier_to_cut():
    order = ["cuts", "may cut", "leaves metal", "leaves nothing"]
    for item in hardness.scratchers():
        grades = [
            order.index(hardness.verdict(item, h)) for h in (0.05e9, 1e9, 5e9, 9e9, 50e9)
        ]
        assert grades == sorted(grades)


def test_every_row_has_a_source_and_a_status():
    assert all(item.source and item.status for item in hardness.scratchers())


def test_bad_things_are_refused():
    with pytest.raises(ValueError, match=r"^name must be one of fingernail.*; got 'butter'$"):
        hardness.scratcher("butter")
    with pytest.raises(ValueError, match=r"^hardness must be finite and positive; got 0 Pa$"):
        hardness.verdict(hardness.scratcher("key"), 0.0)
    with pytest.raises(ValueError, match=r"^mohs must lie in 1 <= mohs <= 10; got 11$"):
        hardness.Scratcher(
            name="x",
            metal=False,
            mohs=11,
            hardness_low=1e9,
            hardness_high=2e9,
            source="",
            status="",
        )
