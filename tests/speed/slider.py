# SPDX-License-Identifier: MIT
"""Time the sliders of all explorers: from a move to its picture, and what takes the time.

    python tests/speed/slider.py [page ...]             # in this process, where time goes
    python tests/speed/slider.py --browser [page ...]   # in a real browser

A page is the start of a notebook's name, such as 06; all of them by default. The first table
counts processor time, so that a busy machine spoils it less. The second one goes from a key to
the decoded picture, beside the naive way, which draws the same scene anew with pyplot for each
value as ``interact`` makes easy, and beside the floor, a label alone. Compare within one run:
machines and runs differ.
"""

import sys
import tempfile
import time
import warnings
from pathlib import Path

import nbformat
import numpy as np
from nbformat import v4

TESTS = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(TESTS))

from browser.lab import OpenNotebook, chromium, jupyterlab, lab_page  # noqa: E402

from glasskit.live import gallery  # noqa: E402
from glasskit.live.controls import Slider  # noqa: E402

KEYS, PLACES, PRESSES = 30, 25, 40

OURS = """\
from glasskit.live.gallery import explorer
explorer({page!r})"""

NAIVE = """\
import matplotlib.pyplot as plt
from ipywidgets import interact
from glasskit.live.controls import Slider
from glasskit.live.gallery import explorer
shown = explorer({page!r})
values = {{name: control.value for name, control in shown.controls.items()}}
sliders = (one for one in shown.controls.values() if isinstance(one, Slider))
first = next(one for one in sliders if not one.box.disabled)
step = (first.high - first.low) / 100

def draw(value=(first.low, first.high, step)):
    result = shown.compute(**{{**values, first.name: value}})
    with shown.look.drawing():
        figure = plt.figure(figsize=(12.8, 5.4), dpi=100, layout="constrained")
        shown.scene.build(figure, shown.look, result)
        shown.scene.lay(result, shown.look)
        shown.scene.update(result, shown.look)
        plt.show()

interact(draw);"""

FLOOR = """\
import ipywidgets as widgets
slider, label = widgets.IntSlider(value=50), widgets.HTML("50")
slider.observe(lambda change: setattr(label, "value", str(change["new"])), "value")
label.add_class("floor-label")
floor = widgets.VBox([slider, label])
floor.add_class("floor")
floor"""

WATCH = """root => {
  const picture = () => root.querySelector('img');
  const shown = () => picture()?.src ?? root.querySelector('.floor-label')?.textContent;
  window.watched = {pressed: 0, pictures: [], source: shown()};
  document.addEventListener('keydown', () => { watched.pressed = performance.now(); }, true);
  new MutationObserver(async () => {
    const now = shown();
    if (!now || now === watched.source) return;
    watched.source = now;
    const pressed = watched.pressed;
    await picture()?.decode();
    watched.pictures.push([pressed, performance.now()]);
  }).observe(root, {childList: true, subtree: true, attributes: true, characterData: true});
}"""


# --- in this process ------------------------------------------------------------------------


class Spent:
    """Processor time spent in methods of some objects [ms], call by call."""

    def __init__(self):
        self.calls = {}

    def watch(self, thing, method):
        plain = getattr(thing, method)
        kept = self.calls.setdefault(method, [])

        def watched(*args):
            start = time.process_time()
            try:
                return plain(*args)
            finally:
                kept.append(1e3 * (time.process_time() - start))

        setattr(thing, method, watched)

    def mean(self, method):
        return sum(self.calls[method]) / max(1, len(self.calls["_draw"]))


def places(control):
    """Return where keys and where a drag bring a slider, in steps from its low end."""
    ends = np.array([control.slider.min, control.slider.max])
    last = int(np.ptp(ends) / control.slider.step + 0.5)
    start = control._place(control._shown(control.value))
    way = 1 if start < last / 2 else -1
    pressed = [start + way * min(count % 20, 20 - count % 20) for count in range(1, KEYS)]
    keys = [min(max(place, 0), last) for place in pressed]
    return {"keys": keys, "drag": np.unique(np.linspace(0, last, PLACES).astype(int))}


def in_process(pages):
    print(
        "processor time of a move to the bytes of its picture [ms], and its mean shares\n"
        f"{'':42}{'p50':>6}{'p95':>6} | {'compute':>8}{'frames':>8}{'artists':>8}"
        f"{'encode':>8}{'rest':>6} | {'frames':>7}{'kB':>5}"
    )
    for page in pages:
        shown = gallery.explorer(page)
        for control in shown.controls.values():
            if not isinstance(control, Slider) or control.box.disabled:
                continue
            for kind, stops in places(control).items():
                spent = Spent()
                plain = {**vars(shown)}, {**vars(shown._picture)}
                for method in ("_draw", "_computed"):
                    spent.watch(shown, method)
                shown._newest._work = shown._draw
                for method in ("draw", "_rebuild", "_encoded"):
                    spent.watch(shown._picture, method)
                for stop in stops:
                    at = control.slider.min + stop * control.slider.step
                    control.slider.value = 10**at if control._log else at
                _report(f"{page} {control.name} {kind}", spent, len(shown.image.value))
                for thing, names in zip((shown, shown._picture), plain, strict=True):
                    for name in set(vars(thing)) - set(names):
                        delattr(thing, name)
            control.reset()
        shown.close()


def _report(label, spent, size):
    moves, mean = spent.calls["_draw"], spent.mean
    artists = mean("draw") - mean("_rebuild") - mean("_encoded")
    rest = mean("_draw") - mean("draw") - mean("_computed")
    print(
        f"{label:42}{np.percentile(moves, 50):6.0f}{np.percentile(moves, 95):6.0f} |"
        f" {mean('_computed'):8.1f}{mean('_rebuild'):8.1f}{artists:8.1f}"
        f"{mean('_encoded'):8.1f}{rest:6.1f} | {len(spent.calls['_rebuild']):7}"
        f"{size * 3 / 4 / 1024:5.0f}",
        flush=True,
    )


# --- in a browser ---------------------------------------------------------------------------


def key_to_picture(page, handle):
    """Return the times from key to decoded picture [ms]; some keys change no picture."""
    from playwright.sync_api import TimeoutError as NothingNew

    handle.focus()
    for index in range(PRESSES + 5):
        count = page.evaluate("watched.pictures.length")
        page.keyboard.press("ArrowRight" if index % 20 < 10 else "ArrowLeft")
        try:
            page.wait_for_function(
                f"watched.pictures.length > {count}", polling=10, timeout=3000
            )
        except NothingNew:
            continue  # a row of ions is as wide as several steps
        page.wait_for_timeout(30)
    pictures = page.evaluate("watched.pictures")[5:]
    return [shown - pressed for pressed, shown in pictures]


def drag(page, handle, seconds=3.0, rate=30):
    """Drag to and fro; return pictures a second, and from last event to last picture [s].

    A mouse sends more events, but each that the driver sends costs 10 ms of processor.
    """
    handle.scroll_into_view_if_needed()
    at = handle.bounding_box()
    x, y = at["x"] + at["width"] / 2, at["y"] + at["height"] / 2
    bar = handle.locator("xpath=ancestor::*[contains(@class, 'noUi-base')]").bounding_box()
    way = 1 if x < bar["x"] + bar["width"] / 2 else -1  # beyond its end it asks for nothing
    page.mouse.move(x, y)
    page.mouse.down()
    page.evaluate("watched.pictures = []")
    start = time.perf_counter()
    for index in range(round(seconds * rate)):
        # A slower hand asks coarse sliders for fewer steps than there could be pictures.
        page.mouse.move(x + way * (80 - abs(240 / rate * index % 160 - 80)), y)
        time.sleep(max(0.0, start + index / rate - time.perf_counter()))
    last = page.evaluate("performance.now()")
    took = time.perf_counter() - start
    page.mouse.up()
    page.wait_for_timeout(1500)
    shown = [shown for _, shown in page.evaluate("watched.pictures")]
    during = sum(moment <= last for moment in shown)
    return during / took, max(0.0, (max(shown, default=last) - last) / 1000)


def in_browser(pages):
    ways = {"floor.ipynb": (FLOOR, ".floor", ".floor .floor-label")}
    for page in pages:
        for way, text, root in (
            ("ours", OURS, ".glasskit-picture"),
            ("naive", NAIVE, ".widget-interact"),
        ):
            ways[f"{page}-{way}.ipynb"] = text.format(page=page), root, f"{root} img"
    print(
        f"{'':36}{'p50 [ms]':>9}{'p95 [ms]':>9}{'keys':>5}{'dragged [1/s]':>14}"
        f"{'last after [s]':>15}"
    )
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "notebooks").mkdir()
        for stem, (text, _, _) in ways.items():
            notebook = v4.new_notebook(cells=[v4.new_code_cell(text)])
            notebook.metadata.kernelspec = {"name": "python3", "display_name": "Python 3"}
            nbformat.write(notebook, folder / "notebooks" / stem)
        with jupyterlab(folder) as url, chromium() as browser:
            page = lab_page(browser, url)
            for stem, (_, root, picture) in ways.items():
                opened = OpenNotebook(page, stem, [], picture=picture)
                page.locator(f"{root}:visible").first.evaluate(WATCH)
                handle = page.locator("[aria-disabled=false] .noUi-handle:visible").first
                if handle.count() == 0:
                    handle = page.locator(".noUi-handle:visible").first
                times = key_to_picture(page, handle)
                usual, slow = np.percentile(times or [np.nan], [50, 95])
                pictures, lag = drag(page, handle)
                print(
                    f"{stem.removesuffix('.ipynb'):36}{usual:9.0f}{slow:9.0f}"
                    f"{len(times):5}{pictures:14.1f}{lag:15.2f}",
                    flush=True,
                )
                opened.close()


def main(*asked):
    chosen = [page for page in asked if page != "--browser"] or [""]
    pages = [page for page in gallery.EXPLORERS if page.startswith(tuple(chosen))]
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        (in_browser if "--browser" in asked else in_process)(pages)


if __name__ == "__main__":
    main(*sys.argv[1:])
