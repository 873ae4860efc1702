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
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from functools import cache
from pathlib import Path

from spring import spring_explorer
from suite import SOCKETS

from glasskit.live import gallery
from glasskit.live.controls import Slider

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
SPRING = "spring.ipynb"  # an explorer for the parts that no notebook shows
STANDS_IN = {"00_start_here.ipynb": "01_why_glass_breaks.ipynb"}  # what page 00 shows
SECONDS = 1000  # Playwright counts milliseconds
ANSWER = 60  # seconds in which a kernel mostly answers
PATIENCE = 240  # seconds until something has failed, on a machine however busy
SEEN = """root => {
  const image = root.querySelector('.glasskit-picture img');
  const text = part => root.querySelector('.glasskit-' + part).textContent.trim();
  return [image.src, image.alt, text('sentence'), text('numbers')];
}"""

SCREEN = {"width": 1280, "height": 800}
LEAVE_NOTHING_OPEN = """() => [...jupyterapp.shell.widgets('main')]
  .filter(shown => shown.context?.path.endsWith('.ipynb')).forEach(shown => shown.dispose())"""
ANSWERED = """const answered = promise => new Promise((done, fail) => {
  const {model} = jupyterapp.shell.currentWidget.sessionContext.session.kernel;
  const {kernels} = jupyterapp.serviceManager;
  const late = setTimeout(() => kernels.connectTo({model}).info, patience);
  const lost = setTimeout(() => fail(Error('the kernel did not answer')), 10 * patience);
  promise.then(done, fail).finally(() => [late, lost].forEach(clearTimeout));
});"""  # a request may lie unread until somebody connects anew (ipykernel, issue 1554)
CLOSED = """() => [...jupyterapp.shell.currentWidget.node.querySelectorAll('.jp-Cell')]
  .filter(cell => getComputedStyle(cell).display === 'none').length"""


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
    """Serve copies of the notebooks and assets from `folder`; yield a function path -> URL."""
    for name in ("notebooks", "assets"):
        if (ROOT / name).is_dir():
            shutil.copytree(ROOT / name, folder / name, dirs_exist_ok=True)
    (folder / "notebooks/empty.txt").touch()
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    token = secrets.token_hex(16)
    private = {f"JUPYTER_{x}_DIR": str(folder / x) for x in ("CONFIG", "DATA")}
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
        f"--KernelManager.transport={SOCKETS}",
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
            yield lambda path: f"http://127.0.0.1:{port}/doc/tree/{path}?token={token}&reset"
        finally:
            server.terminate()
            try:
                server.wait(10)
            except subprocess.TimeoutExpired:
                server.kill()
                server.wait()


def _wait_for(url, server, log):
    limit = time.perf_counter() + PATIENCE
    while time.perf_counter() < limit and server.poll() is None:
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


def lab_page(browser, url):
    """Return a page that shows JupyterLab with an empty file open, ready for notebooks."""
    page = browser.new_page(viewport=SCREEN)
    page.set_default_timeout(PATIENCE * SECONDS)
    page.goto(url("notebooks/empty.txt"))
    page.wait_for_function("window.jupyterapp?.shell?.currentWidget?.context?.isReady")
    return page


def elsewhere(make, *given):
    """Return what `make` makes in another thread: this one's event loop is Playwright's."""
    with ThreadPoolExecutor(1) as other:
        return other.submit(make, *given).result()


def open_notebook(page, name, kernels):
    """Open a notebook in a page that shows JupyterLab, with a kernel of these or a new one.

    One that runs already has imported the kit: the start takes half as long.
    """
    kernel = {"kernel": {"id": kernels.pop()}} if kernels else {}
    page.evaluate(
        "async asked => { await jupyterapp.commands.execute('docmanager:open', asked); }",
        {"path": f"notebooks/{name}", **kernel},
    )
    page.wait_for_function(
        """name => {
          const shown = jupyterapp.shell.currentWidget;
          return shown?.context?.path.endsWith(name) && shown.context.isReady
            && shown.sessionContext.session?.kernel?.connectionStatus === 'connected';
        }""",
        arg=name,
    )


def run(page, *commands):
    """Let JupyterLab run cells of its notebook, and wait until they have run."""
    page.evaluate(
        f"""async ([commands, patience]) => {{
          {ANSWERED}
          for (const name of commands)
            await answered(jupyterapp.commands.execute('notebook:' + name));
        }}""",
        [commands, ANSWER * SECONDS],
    )


def leave_notebook(page, kernels):
    """Close the notebook unsaved and add its kernel, without widgets, to these.

    The reply of the kernel is waited for and not the end of its messages: each widget sends
    one that it closes, and of a thousand a busy server drops what it cannot read in time.
    """
    kernel = page.evaluate(
        f"""async patience => {{
          {ANSWERED}
          const shown = jupyterapp.shell.currentWidget, context = shown.sessionContext;
          const {{kernel}} = context.session, preference = context.kernelPreference;
          const code = 'import ipywidgets; ipywidgets.Widget.close_all()';
          const asked = kernel.requestExecute({{code}});
          await answered(new Promise(replied => {{ asked.onReply = replied; }}));
          context.kernelPreference = {{...preference, shutdownOnDispose: false}};
          shown.dispose();
          return kernel.id;
        }}""",
        ANSWER * SECONDS,
    )
    kernels.append(kernel)


class OpenNotebook:
    """A notebook opened in a page that shows JupyterLab, run, its questions skipped.

    With `until`, cells are run only as far as the first that holds this regular expression;
    the tests of the notebooks run the others.
    """

    def __init__(self, page, name, kernels, until=None, picture=".glasskit-picture img"):
        self.page, self.name, self.kernels = page, name, kernels
        open_notebook(page, name, kernels)
        if until is None:
            run(page, "run-all-cells")
        else:
            page.evaluate(
                """until => {
                  const {content} = jupyterapp.shell.currentWidget;
                  content.activeCellIndex = content.widgets.findIndex(
                    cell => cell.model.sharedModel.source.match(until));
                }""",
                until,
            )
            run(page, "run-all-above", "run-cell")
        shown = page.locator(f"{picture}:visible").first
        first = page.locator(".glasskit-skip:visible").first.or_(shown).first

        def panel_or_error():
            assert first.is_visible() or self.errors()

        self.eventually(panel_or_error)  # it comes after its cell has run
        self.closed = page.evaluate(CLOSED)
        for skip in page.locator(".glasskit-skip:visible").all():
            skip.click()
        self.explorer = page.locator(".glasskit:visible:has(.glasskit-picture)").first

        def picture_or_error():
            assert shown.is_visible() or self.errors()

        self.eventually(picture_or_error)
        assert self.errors() == []

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

    def spoken(self):
        """Return what a screen reader says of the first slider: its name, and its value."""
        said = [self.slider.get_attribute(f"aria-{it}") for it in ("label", "valuetext")]
        return tuple(said)

    def named(self):
        """Return what it should say: name and unit of its number box, and what that holds."""
        label = self.box.evaluate("box => box.labels[0].textContent")
        name, _, unit = label.partition(" / ")
        return name, f"{self.box.input_value()} {unit}".rstrip()

    def boxes(self):
        """Return what all number boxes hold."""
        return [box.input_value() for box in self.explorer.locator("input[type=text]").all()]

    def messages(self):
        """Return all that is said beside the controls."""
        return " ".join(self.explorer.locator(".glasskit-message").all_inner_texts())

    def seen(self):
        """Return what picture (as a short digest), reader and table say at one moment."""
        return digested(self.explorer.evaluate(SEEN))

    def expected(self, text):
        """Return what is to be seen with `text` in the first number box, computed here."""
        parts = elsewhere(drawn, self.name, text)
        put = "html => (%s)(Object.assign(document.createElement('div'), {innerHTML: html}))"
        names = ("picture", "sentence", "words")
        shown = "".join(
            f'<div class="glasskit-{name}">{part}</div>'
            for name, part in zip(names, parts, strict=True)
        )
        return digested(self.page.evaluate(put % SEEN, shown))

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

    def eventually(self, check):
        """Call `check` until its assertions hold."""
        limit = time.perf_counter() + PATIENCE
        while True:
            try:
                return check()
            except AssertionError:
                if time.perf_counter() > limit:
                    raise
            self.page.wait_for_timeout(20)

    def resize(self, width, height):
        """Give the page another size; return when JupyterLab has laid itself out anew."""
        self.page.set_viewport_size({"width": width, "height": height})
        self.page.wait_for_function(
            "document.getElementById('main').clientWidth === innerWidth"
        )
        self.laid_out()

    def laid_out(self):
        """Wait for the second frame from now: layout done by then was asked for before."""
        self.page.evaluate(
            """() => new Promise(
              done => requestAnimationFrame(() => requestAnimationFrame(done)))"""
        )

    def picture_of_page(self, name, place=None):
        """Keep a screenshot where GLASSKIT_SCREENSHOTS says, if it does."""
        if folder := os.environ.get("GLASSKIT_SCREENSHOTS"):
            (place or self.explorer).evaluate("it => it.scrollIntoView({block: 'start'})")
            self.laid_out()
            Path(folder).mkdir(parents=True, exist_ok=True)
            stem = self.name.removesuffix(".ipynb")
            self.page.screenshot(path=Path(folder) / f"{stem}-{name}.png")

    def leave(self):
        """Close the notebook unsaved and hand its kernel on."""
        leave_notebook(self.page, self.kernels)

    def close(self):
        """Close the notebook unsaved and end its kernel; JupyterLab stays."""
        self.page.evaluate(
            """async () => {
              const shown = jupyterapp.shell.currentWidget;
              await shown.sessionContext.shutdown();
              shown.dispose();
            }"""
        )

    def errors(self):
        """Return the error outputs of all cells."""
        return self.page.evaluate(
            """() => jupyterapp.shell.currentWidget.content.widgets.flatMap(cell =>
              cell.model.type !== 'code' ? [] : cell.model.outputs.toJSON()
                .filter(output => output.output_type === 'error')
                .map(output => output.evalue))"""
        )


def digested(seen):
    source, *words = seen
    return hashlib.sha256(source.encode()).hexdigest()[:8], *words


@cache
def twin(notebook):
    """Return an explorer that starts as the one in a notebook does."""
    name = STANDS_IN.get(notebook, notebook).removesuffix(".ipynb")
    return spring_explorer() if notebook == SPRING else gallery.explorer(name)


def drawn(notebook, text):
    """Return picture, sentence and numbers of a notebook's explorer with `text` in its box."""
    explorer = twin(notebook)
    next(c for c in explorer.controls.values() if isinstance(c, Slider)).box.value = text
    return explorer.image.value, explorer.sentence.value, explorer.words.value
