# SPDX-License-Identifier: MIT
"""Time a slider in a real browser: from key to decoded picture, ours beside the naive way.

    python tests/speed/slider.py [module:function [presses]]

The function returns an explorer. The naive way draws the same scene anew with pyplot for each
value, as ``interact`` makes easy. Compare the two within one run: machines and runs differ.
"""

import json
import sys
import tempfile
import time
from pathlib import Path

import nbformat
from nbformat import v4

TESTS = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(TESTS), str(TESTS / "browser")]

from lab import OpenNotebook, chromium, jupyterlab, lab_page  # noqa: E402

OURS = """\
from {module} import {function} as explorer
explorer()"""

NAIVE = """\
import matplotlib.pyplot as plt
from ipywidgets import interact
from {module} import {function}
explorer = {function}()
values = {{name: control.value for name, control in explorer.controls.items()}}
first = next(c for c in explorer.controls.values() if hasattr(c, "slider"))
step = (first.high - first.low) / 100

def draw(value=(first.low, first.high, step)):
    result = explorer.compute(**{{**values, first.name: value}})
    with explorer.look.drawing():
        figure = plt.figure(figsize=(12.8, 5.4), dpi=100, layout="constrained")
        explorer.scene.build(figure, explorer.look, result)
        explorer.scene.update(result, explorer.look)
        plt.show()"""
NAIVE_PANEL = "interact(draw);"

WATCH = """root => {
  window.watched = {pressed: 0, pictures: [], source: root.querySelector('img').src};
  document.addEventListener('keydown', () => { watched.pressed = performance.now(); }, true);
  new MutationObserver(async () => {
    const image = root.querySelector('img');
    if (!image || image.src === watched.source) return;
    watched.source = image.src;
    const pressed = watched.pressed;
    await image.decode();
    watched.pictures.push([pressed, performance.now()]);
  }).observe(root, {childList: true, subtree: true, attributes: true});
}"""


def percentile(values, percent):
    return sorted(values)[min(len(values) - 1, round(percent / 100 * len(values)))]


def key_to_picture(page, handle, presses):
    """Return the times from key to decoded picture [ms]."""
    handle.focus()
    for index in range(presses + 5):
        count = page.evaluate("watched.pictures.length")
        page.keyboard.press("ArrowRight" if index % 20 < 10 else "ArrowLeft")
        page.wait_for_function(f"watched.pictures.length > {count}", polling=10)
        page.wait_for_timeout(30)
    pictures = page.evaluate("watched.pictures")[5:]
    return [shown - pressed for pressed, shown in pictures]


def drag(page, handle, seconds=3.0, rate=60):
    """Drag to and fro; return pictures a second, and from last event to last picture [s]."""
    handle.scroll_into_view_if_needed()
    at = handle.bounding_box()
    x, y = at["x"] + at["width"] / 2, at["y"] + at["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.evaluate("watched.pictures = []")
    start = time.perf_counter()
    for index in range(round(seconds * rate)):
        page.mouse.move(x + 80 - abs(index % 160 - 80), y)
        time.sleep(max(0.0, start + index / rate - time.perf_counter()))
    last = page.evaluate("performance.now()")
    took = time.perf_counter() - start
    page.mouse.up()
    page.wait_for_timeout(1500)
    shown = [shown for _, shown in page.evaluate("watched.pictures")]
    during = sum(moment <= last for moment in shown)
    return during / took, max(0.0, (shown[-1] - last) / 1000)


def measured(browser, url, name, root, handle, presses):
    start = time.perf_counter()
    page = lab_page(browser, url)
    OpenNotebook(page, name, picture=f"{root} img")
    opening = time.perf_counter() - start
    page.locator(root).first.evaluate(WATCH)
    handle = page.locator(handle).first
    times = key_to_picture(page, handle, presses)
    pictures, lag = drag(page, handle)
    page.close()
    return {
        "opening to first picture [s]": opening,
        "key to picture, p50 [ms]": percentile(times, 50),
        "key to picture, p95 [ms]": percentile(times, 95),
        "dragged pictures [1/s]": pictures,
        "last event to last picture [s]": lag,
    }


def main(target="spring:spring_explorer", presses="60"):
    module, function = target.split(":")
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "notebooks").mkdir()
        for stem, cells in (("ours", [OURS]), ("naive", [NAIVE, NAIVE_PANEL])):
            sources = [cell.format(module=module, function=function) for cell in cells]
            notebook = v4.new_notebook(cells=[v4.new_code_cell(text) for text in sources])
            notebook.metadata.kernelspec = {"name": "python3", "display_name": "Python 3"}
            nbformat.write(notebook, folder / "notebooks" / f"{stem}.ipynb")
        with jupyterlab(folder) as url, chromium() as browser:
            count = int(presses)
            ours, naive = (
                measured(browser, url, f"{stem}.ipynb", root, ".noUi-handle", count)
                for stem, root in (
                    ("ours", ".glasskit-picture"),
                    ("naive", ".widget-interact"),
                )
            )
    print(f"{'':34}{'ours':>8}{'naive':>8}{'naive/ours':>12}")
    for row, value in ours.items():
        print(f"{row:34}{value:8.2f}{naive[row]:8.2f}{naive[row] / value:12.2f}")
    print(json.dumps({"ours": ours, "naive": naive}))


if __name__ == "__main__":
    main(*sys.argv[1:])
