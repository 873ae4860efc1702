# SPDX-License-Identifier: MIT
"""The style sheet of explorers: targets of 24 px and more, large type, nothing fancy."""

STYLE = """<style>
.glasskit { --jp-widgets-font-size: 15px; --jp-widgets-inline-height: 32px;
  --jp-ui-font-size1: 15px; max-width: 1600px; color: #1a1a1a; background: #fff; }
.glasskit.glasskit-large { --jp-widgets-font-size: 24px; --jp-widgets-inline-height: 46px;
  --jp-ui-font-size1: 24px; }
.glasskit .widget-html, .glasskit .widget-html-content { line-height: 1.4; height: auto;
  font-size: var(--jp-widgets-font-size); color: #1a1a1a; }
.glasskit .glasskit-controls { display: flex; flex-flow: row wrap; column-gap: 24px; }
.glasskit .glasskit-control { flex: 1 1 27em; font-size: var(--jp-widgets-font-size); }
.glasskit .glasskit-box { width: auto; flex: 0 0 auto; }
.glasskit .glasskit-box > label { width: 13em; text-align: left; color: #1a1a1a; }
.glasskit .glasskit-box > input { width: 5.5em; flex: 0 0 auto; }
.glasskit .glasskit-box.glasskit-wide > label { width: 15em; }
.glasskit .glasskit-box.glasskit-wide > input { width: 12em; }
.glasskit table.glasskit-numbers td { white-space: normal; }
.glasskit .glasskit-slider { width: auto; flex: 1 1 auto; margin-right: 14px; }
.glasskit .glasskit-choice { max-width: 60em; text-align: left; white-space: normal;
  line-height: 1.4; padding: 6px 1em; margin: 3px; overflow: visible; }
.glasskit .noUi-target { background: #e6e6e6; border: 1px solid #595959; }
.glasskit .noUi-horizontal .noUi-handle { width: 24px; height: 24px; top: -11px; right: -12px;
  border: 2px solid #1a1a1a; border-radius: 12px; background: #0072b2; }
.glasskit .noUi-handle:focus-visible, .glasskit button:focus-visible,
.glasskit input:focus-visible, .glasskit select:focus-visible
  { outline: 3px solid #d55e00 !important; outline-offset: -3px; }
.glasskit button { min-height: 32px; height: auto; width: auto; padding: 0 1em;
  font-size: var(--jp-widgets-font-size); color: #1a1a1a; background: #e6e6e6; }
.glasskit .glasskit-picture img { display: block; width: min(100%, 62vh * 64 / 27);
  height: auto; }
.glasskit .glasskit-sentence { font-size: 1.1em; }
.glasskit .glasskit-message .widget-html-content { color: #8a3c00; font-weight: 600; }
.glasskit .glasskit-stopped { display: none; }
.glasskit .glasskit-stopped.jupyter-widgets-disconnected { display: block; }
.glasskit .glasskit-stopped .widget-html-content { color: #8a3c00; font-weight: 600; }
.glasskit table { border-collapse: collapse; }
.glasskit th, .glasskit td { padding: 2px 1.2em 2px 0; text-align: left; font-weight: 400;
  background: none; font-size: var(--jp-widgets-font-size); }
.glasskit td { font-weight: 600; white-space: nowrap; }
</style>"""
