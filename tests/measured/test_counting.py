# SPDX-License-Identifier: MIT
"""Crumbs in photographs: the whole way, from pixels to the squeeze that a count suggests."""

from dataclasses import replace
from io import BytesIO

import numpy as np
import pytest
from PIL import Image
from speed.counting import SEED, table

from glasskit.breakage import SQUARE, crumb_count, dicing_tension
from glasskit.materials import glass
from glasskit.measured import (
    FRAME,
    VIEW,
    Correction,
    Levelled,
    Pieces,
    corrected,
    count_square,
    find_pieces,
    find_square,
    invented_photo,
    level,
    read_photo,
)

GLASS = glass("soda-lime")
CLEAR = {"contrast": 0.45, "noise": 1.5, "blur": 0.7}


def counted(pieces, **other):
    return count_square(pieces, thickness=6e-3, glass=GLASS, **other)


def found(photo):
    corners = find_square(photo.pixels)
    return find_pieces(level(photo.pixels, corners, side=VIEW))


@pytest.fixture(scope="module")
def photo():
    return invented_photo(np.random.default_rng(5), **CLEAR)


@pytest.fixture(scope="module")
def pieces(photo):
    return found(photo)


def tiles(number, side=VIEW, resolution=5e3):
    """Return pieces that are equal squares, the first corner in that of the view."""
    size = round(side * resolution)
    which = np.arange(size) * number // size
    labels = which[:, None] * number + which + 1
    view = Levelled(picture=np.full((size, size), 100.0), resolution=resolution)
    return Pieces(view=view, labels=labels, clearness=20.0)


# --- the photograph -------------------------------------------------------------------------


def test_the_frame_is_found_to_a_fraction_of_a_pixel():
    for seed in range(4):
        taken = invented_photo(np.random.default_rng(seed), width=640, bright=seed > 1)
        assert np.abs(find_square(taken.pixels) - taken.corners).max() < 0.4


def test_a_photograph_turned_by_its_camera_gives_the_same_count(photo, tmp_path):
    image = Image.fromarray(photo.pixels).rotate(90, expand=True)
    turned = Image.Exif()
    turned[0x0112] = 6  # the camera was held upright: turn by 90° clockwise
    image.save(tmp_path / "upright.jpg", exif=turned, quality=95)
    seen = read_photo(tmp_path / "upright.jpg")
    assert seen.shape == photo.pixels.shape
    corners = find_square(seen)
    assert np.abs(corners - photo.corners).max() < 1.0
    count = counted(find_pieces(level(seen, corners, side=VIEW))).count
    assert count == pytest.approx(photo.count, abs=2.5)


def test_slant_does_not_change_what_is_seen_from_above():
    straight, slanted = (
        found(invented_photo(np.random.default_rng(8), tilt=tilt, **CLEAR))
        for tilt in (0.0, 0.5)
    )
    assert counted(straight).count == pytest.approx(counted(slanted).count, abs=3.0)


def test_corners_of_a_ruler_give_the_scale_too(photo):
    # The middle line of the frame, a "ruler" of 70 mm by 35 mm: the upper half of the square.
    upper = photo.corners.copy()
    straight = level(photo.pixels, photo.corners, side=VIEW)
    rows = np.linalg.norm(photo.corners[1] - photo.corners[2])
    assert straight.resolution * FRAME == pytest.approx(rows, rel=0.2)
    with pytest.raises(ValueError, match="without a dent"):
        level(photo.pixels, upper[::-1])


# --- the count ------------------------------------------------------------------------------


def test_pieces_cut_by_the_border_count_a_half():
    # By hand: tiles of 10 mm, a view of 60 mm; the square of 50 mm holds 4 x 4 whole ones and
    # cuts 6 x 6 - 4 x 4 = 20.
    result = counted(tiles(6, side=60e-3), scale_error=0.0, checked=True)
    assert (result.whole_pieces, result.cut_pieces) == (16, 20)
    assert result.count == 26.0
    assert result.interval == (26.0, 26.0)


def test_sizes_and_masses_are_those_of_the_pieces():
    result = counted(tiles(6, side=60e-3))
    # By hand: 4 x 4 tiles of 10 mm lie clear of the rim; 14.14 mm across; of 6 mm glass one
    # has 0.6 cm³, and ten of them ten times that.
    assert result.areas == pytest.approx(np.full(16, 1e-4))
    assert result.longest == pytest.approx(np.sqrt(2) * 10e-3, rel=0.02)
    assert result.heaviest == pytest.approx(10 * 0.6e-6 * GLASS.density)


def test_a_removed_piece_leaves_the_square_bare(pieces):
    middle = ((0.0, 0.0),)
    less = counted(corrected(pieces, (Correction(kind="remove", places=middle),)))
    whole = counted(pieces)
    assert whole.bare == 0.0
    assert less.bare > 0.0
    assert less.count == whole.count - 1


def test_joined_and_split_pieces_change_the_count_by_one():
    view = tiles(6, side=60e-3)
    joined = corrected(view, (Correction(kind="join", places=((-5e-3, 0.0), (5e-3, 0.0))),))
    assert counted(joined).count == 25.0
    again = corrected(
        joined, (Correction(kind="split", places=((1e-4, -6e-3), (1e-4, 6e-3))),)
    )
    assert counted(again).count == 26.0
    assert again.number == view.number


def test_what_was_settled_by_hand_is_no_doubt_any_more():
    taken = invented_photo(np.random.default_rng(21), contrast=0.3, noise=2.0)
    unsure = found(taken)
    drawn = next(
        doubt
        for doubt in unsure.doubts
        if doubt.drawn and max(abs(doubt.x), abs(doubt.y)) < SQUARE / 2
    )
    off = 0.4e-3 * np.array([[1, 0], [-1, 0], [0, 1], [0, -1]])
    sides = [tuple(place) for place in off + np.array([drawn.x, drawn.y])]
    ends = next(
        pair
        for pair in zip(sides[::2], sides[1::2], strict=True)
        if unsure.at(*pair[0]) != unsure.at(*pair[1])
    )
    settled = corrected(unsure, (Correction(kind="join", places=ends),))
    assert len(settled.doubts) < len(unsure.doubts)
    low, high = counted(unsure).interval
    sure = counted(unsure, checked=True).interval
    assert sure[1] - sure[0] < high - low


def test_the_squeeze_is_that_of_the_relation_the_other_way_round(pieces):
    result = counted(pieces)
    low, middle, high = result.squeeze
    # Consistency: the count that this squeeze gives is the count that was put in.
    again = crumb_count(middle / 2, 6e-3, dicing_tension=dicing_tension(6e-3))
    assert again == pytest.approx(result.count)
    assert low < 0.9 * middle < 1.1 * middle < high


def test_the_counts_of_squares_agree_with_their_mean_size(pieces):
    result = counted(pieces)
    # Independent of the border: pieces as large as those in the view fill the square.
    assert SQUARE**2 / result.areas.mean() == pytest.approx(result.count, rel=0.15)


def test_a_sample_of_photographs_is_counted_right():
    # Twelve of the 260 of ``tests/speed/counting.py``, whose intervals hold 94 of 100. Here
    # the errors must be of the size that the intervals say, and none far beyond.
    rows, refused = table(range(SEED, SEED + 12))
    true, count, low, high, _, sizes = rows.T
    assert refused <= 2
    assert abs(np.mean(count / true) - 1) < 0.02
    assert np.abs(count / true - 1).max() < 0.08
    off = (true - (low + high) / 2) / ((high - low) / 2 / 1.96)
    assert 0.5 < np.sqrt(np.mean(off**2)) < 1.6
    assert np.abs(off).max() < 3.5
    assert abs(np.mean(sizes) - 1) < 0.03


# --- what is refused ------------------------------------------------------------------------


def test_a_text_named_as_a_photograph_is_refused(tmp_path):
    path = tmp_path / "crumbs.jpg"
    path.write_text("no photograph")
    with pytest.raises(ValueError, match=r"must be a photograph .*'crumbs\.jpg'"):
        read_photo(path)


def test_a_huge_photograph_is_refused_before_it_is_read():
    for wide in (16_000, 24_000):
        kept = BytesIO()
        Image.new("1", (wide, 8000)).save(kept, "PNG")
        with pytest.raises(ValueError, match="at most 120 million pixels"):
            read_photo(kept.getvalue())


def test_a_photograph_without_the_frame_is_refused():
    grain = np.random.default_rng(1).integers(0, 255, (300, 400, 3)).astype(np.uint8)
    for empty in (np.full((300, 400, 3), 128, dtype=np.uint8), grain):
        with pytest.raises(ValueError, match="must show the whole black frame"):
            find_square(empty)


def test_a_blurred_photograph_is_refused():
    blurred = invented_photo(np.random.default_rng(3), blur=6.0, contrast=0.3)
    with pytest.raises(ValueError, match="view must be sharp"):
        find_pieces(level(blurred.pixels, blurred.corners, side=VIEW))


def test_plain_paper_and_whole_glass_are_refused():
    even = Levelled(picture=np.full((300, 300), 120.0), resolution=5e3)
    noisy = np.random.default_rng(2).normal(120, 3, (300, 300))
    for view in (even, Levelled(picture=noisy, resolution=5e3)):
        with pytest.raises(ValueError, match="view must"):
            find_pieces(view)


@pytest.mark.parametrize(
    ("corners", "said"),
    [
        ([[10, 10], [90, 10], [90, 90]], "four pairs"),
        ([[10, 10], [10, 90], [90, 90], [90, 10]], "clockwise"),
        ([[10, 10], [90, 90], [90, 10], [10, 90]], "without a dent"),
        ([[10, 10], [90, 10], [30, 30], [10, 90]], "without a dent"),
        ([[10, 10], [900, 10], [900, 290], [10, 290]], "pixels across"),
        ([[10, 10], [90, 10], [90, 90], [10, 90]], "photograph from nearer"),
    ],
)
def test_corners_that_are_none_are_refused(corners, said):
    with pytest.raises(ValueError, match=said):
        level(np.zeros((300, 400, 3), dtype=np.uint8), corners)


@pytest.mark.parametrize(
    ("kind", "places", "said"),
    [
        ("join", ((0.0, 0.0), (1e-4, 0.0)), "lie on two pieces"),
        ("split", ((0.0, 0.0), (0.0, 0.0)), "through the piece"),
        ("remove", ((1.0, 0.0),), "must lie in the view"),
        ("remove", (), "places must be 1 to remove"),
        ("mend", ((0.0, 0.0),), "kind must be one of"),
    ],
)
def test_corrections_that_mean_nothing_are_refused(kind, places, said):
    with pytest.raises(ValueError, match=said):
        corrected(tiles(5), (Correction(kind=kind, places=places),))


def test_labels_must_have_the_shape_of_the_picture():
    with pytest.raises(ValueError, match="shape of the picture"):
        replace(tiles(5), labels=np.ones((3, 3), dtype=int))
