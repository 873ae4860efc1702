# SPDX-License-Identifier: MIT
"""What a screen reader says of a panel: names, values with their units, and what has changed.

The widgets' own front end gives a slider neither name nor unit (a logarithmic one speaks its
exponent), a button no state, and a message a place that comes and goes with it. The script
in every frame adds all this from what the page shows; what it needs to know it reads from
classes and from the hints (``tooltip``) that the functions below set.
"""

import html
from typing import Any

import ipywidgets as widgets

# A slider's value as the number box says it stands in the hint of its own label. While the
# reader moves the handle, the script reckons it from the place: the kit's answer comes later.
_SCRIPT = """
const frame = this.closest('.glasskit');
if (!frame || frame.dataset.aloud) return;
frame.dataset.aloud = 'yes';
const put = (it, name, text) => {
  if (it.getAttribute(name) !== text) it.setAttribute(name, text);
};
const say = (handle, text) => {
  handle.dataset.said = text;
  put(handle, 'aria-valuetext', text);
  put(handle, 'aria-valuenow', text.replace('\\u2212', '-').split(' ')[0]);
};
const hint = slider => slider.querySelector(':scope > label')?.title || '';
const unit = slider => hint(slider).replace(/^\\S+/, '');
const moved = handle => {
  const shown = handle.getAttribute('aria-valuetext'), at = Number(shown);
  const slider = handle.closest('.glasskit-slider');
  if (!slider || shown === handle.dataset.said || Number.isNaN(at)) return;
  const log = slider.classList.contains('glasskit-log');
  const plain = at => (log ? 10 ** at : at).toLocaleString('en',
    { maximumSignificantDigits: log ? 3 : 6, useGrouping: false });
  for (const end of ['aria-valuemin', 'aria-valuemax'])
    put(handle, end, plain(Number(handle.getAttribute(end))));
  say(handle, plain(at).replace('-', '\\u2212') + unit(slider));
};
const told = slider => {
  const handle = slider.querySelector('.noUi-handle'), text = hint(slider);
  const box = slider.parentElement?.querySelector(':scope > .glasskit-box > label');
  if (!handle || !box || !text) return;
  const ending = ' /' + unit(slider), name = box.textContent;
  put(handle, 'aria-label', name.endsWith(ending) ? name.slice(0, -ending.length) : name);
  put(handle, 'aria-disabled', String(!!slider.querySelector('.noUi-target[disabled]')));
  if (!handle.dataset.said) moved(handle);
  if (!handle.matches(':focus, .noUi-active')) say(handle, text);
};
const all = () => {
  const each = (what, does) => frame.querySelectorAll(what).forEach(does);
  each('.glasskit-slider', told);
  each('.glasskit-toggle',
    it => put(it, 'aria-pressed', String(it.classList.contains('glasskit-pressed'))));
  each('.glasskit-named', it => it.title && put(it, 'aria-label', it.title));
  each('.glasskit-group', it => {
    put(it, 'role', 'group');
    const first = it.querySelector('strong, label') || it.firstElementChild;
    put(it, 'aria-label', first.textContent.split(':')[0].trim());
  });
  each('.glasskit-message > .widget-html-content', it => put(it, 'role', 'alert'));
  each('.glasskit-status > .widget-html-content', it => put(it, 'role', 'status'));
};
// A button that goes, or rests while its work is done, takes the place of the reader with it:
// back to the one that was pressed before, as soon as that can be pressed.
let been = [], lost = false;
frame.addEventListener('focusin', ({ target }) => {
  lost = false;
  been = [...been.filter(it => it !== target), target];
});
const back = () => {
  const last = been.at(-1), at = document.activeElement;
  const there = it => it.getClientRects().length > 0;
  if (last?.tagName !== 'BUTTON' || ![last, document.body].includes(at) && there(at)) return;
  lost ||= !there(last) || last.disabled;
  been = been.filter(there);
  if (lost && been.length && !been.at(-1).disabled) been.at(-1).focus({ preventScroll: true });
};
new MutationObserver(changes => {
  let anew = false;
  for (const { type, target, attributeName } of changes) {
    if (type === 'attributes' && attributeName === 'aria-valuetext') moved(target);
    else anew ||= attributeName !== 'style' && !target.closest('.glasskit-picture');
  }
  if (anew) all();
  back();
}).observe(frame, { subtree: true, childList: true,
  attributeFilter: ['aria-valuetext', 'title', 'class', 'disabled', 'style'] });
all();
"""

ALOUD = f'<style onload="{html.escape(_SCRIPT)}"></style>'
"""Goes into every frame, once."""


def status() -> Any:
    """Return a place whose changes are spoken when the reader pauses."""
    place = widgets.HTML()
    place.add_class("glasskit-status")
    return place


def pressed(toggle: Any, on: bool) -> None:
    """Say of a button that it is pressed, or that it could be, by a tick and aloud."""
    toggle.icon = "check" if on else ""
    toggle.add_class("glasskit-toggle")
    (toggle.add_class if on else toggle.remove_class)("glasskit-pressed")


def name_aloud(button: Any, name: str) -> None:
    """Give a button whose sign says too little a name of its own."""
    button.tooltip = name
    button.add_class("glasskit-named")


def grouped(box: Any) -> None:
    """Let the first heading or label in a box name the whole: so two can be told apart."""
    box.add_class("glasskit-group")
