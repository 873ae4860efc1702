import re
from importlib import import_module
from itertools import pairwise
from types import SimpleNamespace

import av
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from glasskit import sheets
from glasskit.demonstration import drop_both
from glasskit.draw.both import RATE, moments
from glasskit.draw.falling import FallScene
from glasskit.draw.look import Look
from glasskit.draw.picture import SCREEN, Size, layout_faults, moving, still
from glasskit.impact import Falling, Pane, ball_of_mass, fall_time
from glasskit.materials import glass, solid

FILM = import_module("glasskit.sheets.film")  # the face has a function of that name
SMALL = Size(12.8, 5.4, 40)


def test_fall_time_and_speed(outside):
    outside(
        "time to fall 1 m [s]",
        fall_time(1.0),
        0.4515,
        source="sqrt(2/9.80665) = sqrt(0.203943)",
        status="hand calculation",
        rel=1e-3,
    )
    end = Falling(mass=0.227, height=1.0, time=fall_time(1.0))
    outside(
        "speed after 1 m [m/s]",
        end.speed,
        (2 * 9.80665) ** 0.5,
        source="energy: v^2 = 2 g h",
        status="exact",
        rel=1e-12,
    )
    with pytest.raises(ValueError, match="time must lie in"):
        Falling(mass=1.0, height=1.0, time=1.0)


@given(st.floats(0.01, 50), st.floats(0.01, 50), st.floats(0, 1))
def test_no_energy_is_lost_on_the_way(mass, height, share):
    body = Falling(mass=mass, height=height, time=share * fall_time(height))
    assert body.energy + body.energy_left == pytest.approx(mass * 9.80665 * height)


@pytest.mark.parametrize(
    "look", [Look(), Look(large=True), Look(system="us"), Look(mono=True)], ids=str
)
@pytest.mark.parametrize("share", [0.0, 0.4, 1.0])
def test_the_fall_is_laid_out(look, share):
    fallen = Falling(mass=0.227, height=1.0, time=share * fall_time(1.0))
    assert layout_faults(still(FallScene(), fallen, look, SCREEN)) == []


def frames_of(path):
    with Image.open(path) as film:
        for index in range(film.n_frames):
            film.seek(index)
            yield np.asarray(film.convert("L"), dtype=float) / 255, film.info["duration"]


def flashes(frames, window=1000.0):
    """Return the most reversals of brightness in a second, over blocks of a tenth."""
    blocks, times = [], [0.0]
    for picture, duration in frames:
        height, width = (10 * (side // 10) for side in picture.shape)
        cut = picture[:height, :width]
        blocks.append(cut.reshape(10, height // 10, 10, width // 10).mean(axis=(1, 3)))
        times.append(times[-1] + duration)
    most = 0
    for row, column in np.ndindex(10, 10):
        level = [block[row, column] for block in blocks]
        turns, last, way = [], level[0], 0
        for time, value in zip(times, level, strict=False):
            if abs(value - last) >= 0.1:
                now = np.sign(value - last)
                turns += [time] if way and now != way else []
                way, last = now, value
        most = max(most, *(sum(a <= t < a + window for t in turns) for a in [0.0, *turns]))
    return most


def test_flashes_are_counted():
    black, white = np.zeros((20, 20)), np.ones((20, 20))
    assert flashes([(black, 100), (white, 100)] * 10) >= 6
    assert flashes([(white, 100)] * 20) == 0


@pytest.mark.slow
@pytest.mark.parametrize("made", [sheets.fall_film, sheets.closing_crack_film])
def test_films_do_not_flash_and_play_once(made, tmp_path):
    shorter = {"slower": 3.0} if made is sheets.fall_film else {"frames": 12}
    path = made(tmp_path / "a.gif", **shorter)
    frames = list(frames_of(path))
    assert len(frames) >= 10
    assert flashes(frames) <= 3  # WCAG 2.3.1
    assert frames[0][1] == frames[-1][1] == 1000
    with Image.open(path) as film:
        assert "loop" not in film.info
    assert [item.name for item in tmp_path.iterdir()] == ["a.gif"]


def instants(count=3):
    times = np.linspace(0, fall_time(1.0), count)
    return [Falling(mass=1.0, height=1.0, time=float(time)) for time in times]


def test_the_player_stands_alone_and_says_what_is_seen(tmp_path):
    words = {"title": "<b>fall</b>", "text": 'a "fall"'}
    path = sheets.film(FallScene(), instants(), tmp_path / "a.html", size=SMALL, **words)
    html = path.read_text(encoding="utf-8")
    assert re.search(r"https?:|<link|//cdn", html) is None
    assert '<img alt="a &quot;fall&quot;"' in html
    assert "<b>fall" not in html
    for name in ("Pause", "Play", "Next frame"):
        assert f'aria-label="{name}"' in html
    assert html.count("data:image/png;base64") == 3
    assert 'value="once" id="_anim_radio1_film"\n             checked' in html
    assert [item.name for item in tmp_path.iterdir()] == ["a.html"]


def test_the_same_film_gives_the_same_player(tmp_path):
    words = {"title": "fall", "text": "fall", "size": SMALL}
    first, second = (
        sheets.film(FallScene(), instants(), tmp_path / name, **words).read_bytes()
        for name in ("a.html", "b.html")
    )
    assert first == second


def test_films_refuse_what_cannot_be(tmp_path):
    words = {"title": "", "text": "", "size": SMALL}
    with pytest.raises(ValueError, match="ending of path must be one of"):
        sheets.film(FallScene(), instants(), tmp_path / "a.mov", **words)
    with pytest.raises(ValueError, match="number of results must lie in"):
        sheets.film(FallScene(), instants()[:1], tmp_path / "a.gif", **words)
    with pytest.raises(ValueError, match="rate must lie in"):
        sheets.film(FallScene(), instants(), tmp_path / "a.gif", rate=60, **words)
    other = Falling(mass=1.0, height=2.0, time=0.0)
    with pytest.raises(ValueError, match="results must share one frame"):
        next(moving(FallScene(), [*instants(), other], Look(), SMALL))
    assert list(tmp_path.iterdir()) == []
    old = tmp_path / "a.gif"
    old.write_bytes(b"old")
    with pytest.raises(ValueError, match="results must share one frame"):
        sheets.film(FallScene(), [*instants(), other], old, **words)
    assert [one.read_bytes() for one in tmp_path.iterdir()] == [b"old"]


def test_slides_are_full_hd_and_carry_their_words(tmp_path):
    shown = SimpleNamespace(
        scene=FallScene(), result=instants()[1], look=Look(), title="a fall", said="it falls",
        alt="The ball falls. it falls",
    )  # fmt: skip
    png, svg = sheets.slides(shown, tmp_path, "fall")
    with Image.open(png) as image:
        assert image.size == (1920, 1080)
        assert image.info["Description"] == shown.alt
    assert "it falls" in svg.read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def both():
    pane = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"), damping=0.05)
    return drop_both(ball_of_mass(0.227, solid("steel")), pane, 1.4, 100e6)


def test_the_film_of_both_panes_is_a_video_that_rests_at_both_ends(
    tmp_path, both, monkeypatch
):
    fewer = moments(both)[::9]
    monkeypatch.setattr(FILM, "moments", lambda fall: fewer)
    path = sheets.both_film(tmp_path / "both.mp4", both)
    with av.open(path) as video:
        [stream] = video.streams.video
        pictures = [frame.to_ndarray(format="gray") for frame in video.decode(stream)]
        assert (stream.width, stream.height) == (1920, 1080)
        assert float(stream.average_rate) == RATE
    assert len(pictures) == len(fewer) + 2 * RATE - 1
    change = [np.abs(a.astype(float) - b).mean() for a, b in pairwise(pictures)]
    assert max(change[: RATE - 1]) < 0.5 < max(change)
    assert max(change[-RATE + 1 :]) < 0.5


def test_a_video_without_its_library_is_refused_in_words(tmp_path, both, monkeypatch):
    monkeypatch.setattr(FILM, "find_spec", lambda name: None)
    with pytest.raises(ValueError, match=r"\.mp4 after: python -m pip install av; got no"):
        sheets.both_film(tmp_path / "both.mp4", both)
    assert list(tmp_path.iterdir()) == []


def test_a_break_is_shown_a_hundred_thousand_times_slower(tmp_path, monkeypatch):
    monkeypatch.setattr(FILM, "SLIDE", SMALL)
    with av.open(str(sheets.slow_motion_film(tmp_path / "break.mp4", frames=4))) as file:
        stream = file.streams.video[0]
        pictures = list(file.decode(stream))
        # A microsecond a frame; the first and the last rest for a second.
        assert 1 / float(stream.average_rate) / 1e-6 == pytest.approx(1e5)
    assert len(pictures) == 4 + 2 * 10 - 1
