# SPDX-License-Identifier: MIT
"""What keeps a file that is too large from cutting a page off from its kernel."""

import html

import ipywidgets as widgets

LARGEST = 8_000_000
"""The largest file that is sent [B]: a kernel's connection ends with a message of 10 MiB."""

# The button clicks an input that stands nowhere on the page, so it is met on its way.
_GUARD = """
const place = this.closest('.glasskit-upload'), inputs = HTMLInputElement.prototype;
if (!place || place.dataset.watched) return;
place.dataset.watched = 'yes';
place.addEventListener('click', ({ target }) => {
  if (!target.closest('.widget-upload')) return;
  const click = inputs.click, back = () => { inputs.click = click; };
  inputs.click = function () {
    back();
    if (!this.watched) this.addEventListener('change', event => {
      const large = this.files[0]?.size > %d;
      place.querySelector('.glasskit-too-large').hidden = !large;
      if (large) event.stopImmediatePropagation();
    }, true);
    this.watched = true;
    click.call(this);
  };
  setTimeout(back);
}, true);
"""
_LARGE = '<style onload="%s">.glasskit .glasskit-too-large { font-weight: bold; }</style>'


def hold_back_large(place: widgets.Box, what: str, instead: str) -> None:
    """Let the upload button in a box hold back files that are too large, and say so there.

    Parameters
    ----------
    place : Box
        Holds the button; gets the sentence as its last child.
    what : str
        What the file is, such as "sound".
    instead : str
        What to do with a large one.

    """
    said = f"This {what} has more than {LARGEST / 1e6:g} MB: {instead}."
    alert = f'<div role="alert" class="glasskit-too-large" hidden>{html.escape(said)}</div>'
    guard = html.escape(_GUARD % LARGEST, quote=True)
    place.add_class("glasskit-upload")
    place.children = (*place.children, widgets.HTML(f"{_LARGE % guard}{alert}"))
