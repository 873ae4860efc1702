# SPDX-License-Identifier: MIT
"""A real JupyterLab in a real browser: what a reader with a keyboard meets.

The server has folders, port and token of its own and works on a copy of the notebooks, so a
test changes nothing outside its temporary folder.
"""

import hashlib
import os
import secrets
import shutil
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
CHROMIUM_FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
SECONDS = 1000  # Playwright counts milliseconds


def why_no_browser():
    """Return why the browser tests cannot run here, or an empty string."""
    try:
        import playwright  # noqa: F401
    except ImportError:
        return "playwright is not installed"
    return "" if chromium_path() else "no chromium on the path"


def chromium_path():
    return shutil.which("chromium") or shutil.which("chromium-browser")


@contextmanager
def jupyterlab(folder):
    """Serve copies of the notebooks and assets from `folder`; yield a function name -> URL."""
    for name in ("notebooks", "assets"):
        if (ROOT / name).is_dir():
            shutil.copytree(ROOT / name, folder / name, dirs_exist_ok=True)
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    token = secrets.token_hex(16)
    private = {f"JUPYTER_{x}_DIR": str(folder / x) for x in ("CONFIG", "DATA", "RUNTIME")}
    quiet = folder / "CONFIG/lab/user-settings/@jupyterlab/apputils-extension"
    quiet.mkdir(parents=True)
    (quiet / "notification.jupyterlab-settings").write_text('{"fetchNews": "false"}')
    search = os.pathsep.join([str(ROOT), str(ROOT / "tests")])
    command = [
        *(sys.executable, "-m", "jupyterlab", "--no-browser", "--allow-root"),
        f"--ServerApp.root_dir={folder}",
        f"--ServerApp.port={port}",
        "--ServerApp.port_retries=0",
        "--ServerApp.terminals_enabled=False",
        f"--IdentityProvider.token={token}",
        "--LabApp.expose_app_in_browser=True",
    ]
    with open(folder / "server.log", "wb") as log:
        server = subprocess.Popen(
            command,
            stdout=log,
            stderr=log,
            env={**os.environ, **private, "PYTHONPATH": search, "IPYTHONDIR": str(folder)},
        )
        try:
            _wait_for(f"http://127.0.0.1:{port}/api/status?token={token}", server, log.name)
            yield (
                lambda name: (
                    f"http://127.0.0.1:{port}/doc/tree/notebooks/{name}?token={token}&reset"
                )
            )
        finally:
            server.terminate()
            try:
                server.wait(10)
            except subprocess.TimeoutExpired:
                server.kill()
                server.wait()


def _wait_for(url, server, log):
    for _ in range(300):
        if server.poll() is not None:
            break
        try:
            with urllib.request.urlopen(url, timeout=5):
                return
        except (urllib.error.URLError, ConnectionError, TimeoutError):
            time.sleep(0.1)
    raise RuntimeError(f"JupyterLab did not start:\n{Path(log).read_text()[-2000:]}")


@contextmanager
def chromium():
    """Yield a headless Chromium."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=chromium_path(), args=CHROMIUM_FLAGS
        )
        try:
            yield browser
        finally:
            browser.close()


class OpenNotebook:
    """A notebook in the browser, all its cells run, its explorers laid open."""

    def __init__(self, browser, url, viewport=(1280, 800), picture=".glasskit-picture img"):
        width, height = viewport
        self.name = url.split("?")[0].rsplit("/", 1)[-1]
        self.page = browser.new_page(viewport={"width": width, "height": height})
        self.page.set_default_timeout(60 * SECONDS)
        started = time.perf_counter()
        self.page.goto(url)
        self.page.wait_for_function(
            "window.jupyterapp?.shell?.currentWidget?.sessionContext?.session?.kernel"
            "?.connectionStatus === 'connected'"
        )
        self.page.evaluate("jupyterapp.commands.execute('notebook:run-all-cells')")
        for skip in self.page.locator(".glasskit-skip").all():
            skip.click()
        self.explorer = self.page.locator(".glasskit:has(.glasskit-picture)").first
        shown = self.page.locator(picture).first

        def picture_or_error():
            assert shown.is_visible() or self.errors()

        self.eventually(picture_or_error, seconds=60)
        assert self.errors() == []
        self.seconds_to_picture = time.perf_counter() - started

    @property
    def image(self):
        return self.explorer.locator(".glasskit-picture img")

    @property
    def slider(self):
        return self.explorer.locator(".noUi-handle").first

    @property
    def has_slider(self):
        return self.slider.count() > 0

    @property
    def menu(self):
        return self.explorer.locator("select").first

    @property
    def box(self):
        return self.explorer.locator(".glasskit-control:has(.noUi-handle) input").first

    def boxes(self):
        """Return what all number boxes hold."""
        return [box.input_value() for box in self.explorer.locator("input[type=text]").all()]

    def messages(self):
        """Return all that is said beside the controls."""
        return " ".join(self.explorer.locator(".glasskit-message").all_inner_texts())

    def seen(self):
        """Return what picture (as a short digest), reader and table say at one moment."""
        source, *words = self.explorer.evaluate(
            """root => {
              const image = root.querySelector('.glasskit-picture img');
              const text = part => root.querySelector('.glasskit-' + part).innerText.trim();
              return [image.src, image.alt, text('sentence'), text('numbers')];
            }"""
        )
        return hashlib.sha256(source.encode()).hexdigest()[:8], *words

    def settle(self):
        """Wait until nothing has changed for half a second."""
        before = None
        while (now := (self.seen(), self.boxes())) != before:
            before = now
            self.page.wait_for_timeout(500)

    def button(self, name):
        return self.explorer.get_by_role("button", name=name)

    def press(self, locator, *keys):
        """Press keys, as a reader without a mouse does."""
        locator.focus()
        for key in keys:
            self.page.keyboard.press(key)

    def type_number(self, text):
        """Replace what the first number box holds, and press Enter."""
        self.press(self.box, "Control+A")
        self.page.keyboard.type(text)
        self.page.keyboard.press("Enter")

    def eventually(self, check, seconds=20):
        """Call `check` until its assertions hold, on a machine however busy."""
        limit = time.perf_counter() + seconds
        while True:
            try:
                return check()
            except AssertionError:
                if time.perf_counter() > limit:
                    raise
            self.page.wait_for_timeout(20)

    def picture_of_page(self, name):
        """Keep a screenshot where GLASSKIT_SCREENSHOTS says, if it does."""
        if folder := os.environ.get("GLASSKIT_SCREENSHOTS"):
            self.explorer.evaluate("root => root.scrollIntoView({block: 'start'})")
            self.page.wait_for_timeout(200)
            Path(folder).mkdir(parents=True, exist_ok=True)
            stem = self.name.removesuffix(".ipynb")
            self.page.screenshot(path=Path(folder) / f"{stem}-{name}.png")

    def close(self):
        self.page.close()

    def errors(self):
        """Return the error outputs of all cells."""
        return self.page.evaluate(
            """() => jupyterapp.shell.currentWidget.content.widgets.flatMap(cell =>
              cell.model.type !== 'code' ? [] : cell.model.outputs.toJSON()
                .filter(output => output.output_type === 'error')
                .map(output => output.evalue))"""
        )
