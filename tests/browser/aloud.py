# SPDX-License-Identifier: MIT
"""What a page says to those who do not see it, and what axe-core finds in it."""

from functools import cache
from importlib.resources import files

_RUN = """async among => {
  const shown = among && [...document.querySelectorAll(among)]
    .filter(it => it.offsetParent && !it.parentElement.closest(among));
  const found = await axe.run(shown ? {include: shown} : document,
    {resultTypes: ['violations'], iframes: false});
  return found.violations.filter(it => ['serious', 'critical'].includes(it.impact))
    .flatMap(it => it.nodes.map(node => `${it.id}: ${node.html.slice(0, 200)}`));
}"""


@cache
def _axe():
    return (files("axe_playwright_python") / "axe.min.js").read_text(encoding="utf-8")


def findings(page, among=None):
    """Return what axe-core calls serious or critical, within elements or on the whole page."""
    found = []
    for frame in page.frames if among is None else [page.main_frame]:
        if not frame.evaluate("'axe' in window"):
            frame.evaluate(_axe())
        found += frame.evaluate(_RUN, among)
    return found


class Listener:
    """What a screen reader is told by Chromium."""

    def __init__(self, page):
        self.page = page
        self._ask = page.context.new_cdp_session(page).send

    def tree(self):
        """Return all nodes that are spoken, in order: role, name, value, and which element."""
        nodes = self._ask("Accessibility.getFullAXTree")["nodes"]
        return [_told(node) for node in nodes if not node.get("ignored")]

    def focused(self):
        """Return what is said of the element that has the focus."""
        self._ask("DOM.getDocument")
        found = self._ask("Runtime.evaluate", {"expression": "document.activeElement"})
        node = {"objectId": found["result"]["objectId"]}
        (told,) = self._ask(
            "Accessibility.getPartialAXTree", {**node, "fetchRelatives": False}
        )["nodes"]
        text = self.page.evaluate("document.activeElement.getAttribute('aria-valuetext')")
        return {**_told(told), "valuetext": text}  # the tree leaves it out


def _told(node):
    said = {key: node.get(key, {}).get("value", "") for key in ("role", "name", "value")}
    state = {one["name"]: one["value"].get("value") for one in node.get("properties", [])}
    return {**state, **said, "element": node.get("backendDOMNodeId")}
