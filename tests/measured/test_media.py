"""Sound, photographs and films as telephones store them."""

import av
import numpy as np
import pytest
from PIL import Image

from glasskit.measured import film_fall, film_frames, read_photo, read_sound

RATE = 48_000


def store_sound(path, samples, codec):
    with av.open(str(path), "w") as file:
        stream = file.add_stream(codec, rate=RATE, layout="mono")
        step = stream.codec_context.frame_size or 1024
        for start in range(0, samples.size, step):
            part = samples[None, start : start + step].astype(np.float32)
            frame = av.AudioFrame.from_ndarray(part, format="fltp", layout="mono")
            frame.sample_rate, frame.pts = RATE, start
            file.mux(stream.encode(frame))
        file.mux(stream.encode(None))
    return path


def store_film(path, frames, rate=30):
    with av.open(str(path), "w") as file:
        stream = file.add_stream("h264", rate=rate)
        stream.height, stream.width = frames[0].shape[:2]
        stream.pix_fmt = "yuv420p"
        for pixels in frames:
            file.mux(stream.encode(av.VideoFrame.from_ndarray(pixels, format="rgb24")))
        file.mux(stream.encode(None))
    return path


@pytest.mark.parametrize("kind", [("wav", "pcm_s16le"), ("m4a", "aac"), ("mp3", "mp3")])
def test_a_tone_is_the_tone_that_was_stored(tmp_path, kind):
    ending, codec = kind
    tone = 0.5 * np.sin(2 * np.pi * 1000 * np.arange(RATE) / RATE) * np.hanning(RATE)
    sound = read_sound(store_sound(tmp_path / f"tone.{ending}", tone, codec))
    assert sound.rate == RATE
    assert sound.duration == pytest.approx(1.0, abs=0.1)
    loudest = np.argmax(np.abs(np.fft.rfft(sound.samples)))
    assert loudest * RATE / sound.samples.size == pytest.approx(1000, abs=2)
    assert np.max(np.abs(sound.samples)) == pytest.approx(0.5, abs=0.05)


def test_a_photograph_stands_upright(tmp_path):
    pixels = np.zeros((20, 40, 3), np.uint8)
    pixels[:, :20] = 255
    notes = Image.Exif()
    notes[0x0112] = 6  # the camera was turned: the top of the scene is at the right
    Image.fromarray(pixels).save(tmp_path / "turned.png", exif=notes)
    upright = read_photo((tmp_path / "turned.png").read_bytes())
    assert upright.shape == (40, 20, 3)
    assert upright[:20].min() == 255
    assert upright[20:].max() == 0


def test_the_frames_of_a_film_come_with_their_times(tmp_path):
    frames = [np.full((64, 96, 3), level, np.uint8) for level in (0, 60, 120, 180)]
    found = list(film_frames(store_film(tmp_path / "film.mp4", frames), longest_side=48))
    assert [frame.time for frame in found] == pytest.approx([0, 1 / 30, 2 / 30, 0.1])
    assert [frame.pixels.shape for frame in found] == [(32, 48, 3)] * 4
    assert found[2].pixels.mean() == pytest.approx(120, abs=4)


@pytest.mark.parametrize(
    "reader", [read_sound, read_photo, lambda media: next(film_frames(media))]
)
def test_what_cannot_be_read_is_said(tmp_path, reader):
    text = tmp_path / "film.mp4"
    text.write_text("no film\n" * 100)
    for media in (text, text.read_bytes(), tmp_path / "missing.mov", b""):
        with pytest.raises(ValueError, match=r"^media must be"):
            reader(media)
    with pytest.raises(ValueError, match=r"missing\.mov"):
        reader(tmp_path / "missing.mov")


def test_a_film_without_sound_and_a_sound_without_film_say_so(tmp_path):
    silent = store_film(tmp_path / "silent.mp4", [np.zeros((64, 64, 3), np.uint8)] * 3)
    with pytest.raises(ValueError, match=r"media must hold sound, got 'silent\.mp4'"):
        read_sound(silent)
    tone = store_sound(tmp_path / "tone.wav", np.zeros(RATE), "pcm_s16le")
    with pytest.raises(ValueError, match=r"media must hold a film, got 'tone\.wav'"):
        next(film_frames(tone))


def test_a_film_on_its_side_stands_upright_and_tells_how_far_it_is():
    film = film_fall(np.random.default_rng(3), side=320, turned=True, quality=15)
    frames = list(film_frames(film.file))
    assert frames[0].pixels.shape == (320, 180, 3)
    # The pane lies at the bottom: below its face the picture is darker than above.
    face = round(film.face * 320)
    assert frames[0].pixels[face + 10 :].mean() < 0.8 * frames[0].pixels[:face].mean()
    shares = [frame.share for frame in frames]
    assert shares == sorted(shares)
    assert 0.8 < shares[-1] <= 1


def test_dropped_frames_leave_gaps_in_the_times():
    film = film_fall(np.random.default_rng(4), side=128, rate=60.0, dropped=0.3)
    gaps = np.diff([frame.time for frame in film_frames(film.file)])
    assert gaps.min() == pytest.approx(1 / 60, rel=0.01)
    assert gaps.max() >= 1.9 / 60


def test_a_film_that_was_cut_off_is_read_as_far_as_it_goes_or_refused(tmp_path):
    film = film_fall(np.random.default_rng(3), side=128).file
    for part in (film[: len(film) // 2], film[:100]):
        with pytest.raises(ValueError, match=r"^media must be a sound or a film"):
            list(film_frames(part))
