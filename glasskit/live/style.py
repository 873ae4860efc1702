# SPDX-License-Identifier: MIT
"""The style sheet of explorers: targets of 24 px and more (44 under a finger), large type.

Ink and ground are those of JupyterLab's theme, bright or dark; a picture keeps its white
ground and has a frame of its own. The notebook takes arrow keys from a menu in a cell that is
not being edited, so those keys stay inside an explorer's menus.
"""

STYLE = """<style onload="this.closest('.glasskit')?.addEventListener('keydown', event => {
  if (event.target.matches('select') &amp;&amp; event.key.startsWith('Arrow'))
    event.stopPropagation(); })">
.glasskit { --jp-widgets-font-size: 15px; --jp-widgets-inline-height: 32px;
  --jp-ui-font-size1: 15px; --glasskit-ink: var(--jp-ui-font-color0, #1a1a1a);
  --glasskit-button: var(--jp-layout-color2, #e6e6e6); --jp-widgets-color: var(--glasskit-ink);
  --jp-widgets-label-color: var(--glasskit-ink); max-width: 1600px;
  color: var(--glasskit-ink); }
.glasskit.glasskit-large { --jp-widgets-font-size: 24px; --jp-widgets-inline-height: 46px;
  --jp-ui-font-size1: 24px; }
.glasskit .widget-html, .glasskit .widget-html-content { line-height: 1.4; height: auto;
  font-size: var(--jp-widgets-font-size); color: inherit; }
.glasskit .glasskit-controls { display: flex; flex-flow: row wrap; column-gap: 24px; }
.glasskit .glasskit-control { flex: 1 1 32em; font-size: var(--jp-widgets-font-size); }
.glasskit .glasskit-controls > .glasskit-across { flex: 1 1 100%; }
.glasskit .glasskit-box { width: auto; flex: 0 0 auto; }
.glasskit .glasskit-box > label { width: 13em; text-align: left; color: inherit;
  white-space: normal; height: auto; line-height: 1.2; align-self: center; }
.glasskit .glasskit-box > input { width: 5.5em; flex: 0 0 auto; }
.glasskit .glasskit-box.glasskit-wide > input { flex: 1 1 12em; }
.glasskit .glasskit-recording .glasskit-wide { flex: 1 1 26em; }
.glasskit table.glasskit-numbers td { white-space: normal; }
.glasskit .glasskit-control > .widget-hbox { flex-wrap: wrap; }
.glasskit .glasskit-slider { width: auto; flex: 1 1 11em; margin-right: 14px; }
@media (max-width: 900px) { .glasskit .glasskit-slider { flex-basis: 100%; margin: 0 14px; } }
.glasskit .glasskit-choice { max-width: 60em; text-align: left; white-space: normal;
  line-height: 1.4; padding: 6px 1em; margin: 3px; overflow: visible; }
.glasskit .glasskit-right { border: 3px solid; font-weight: 600; }
.glasskit .noUi-target { background: var(--glasskit-button); border: 1px solid; }
.glasskit .noUi-horizontal .noUi-handle { width: 24px; height: 24px; top: -11px; right: -12px;
  border: 2px solid; border-radius: 12px; background: var(--glasskit-ink); }
.glasskit :is(button, input, select, textarea, .noUi-handle, [role=region]):focus-visible
  { outline: 3px solid currentColor !important; outline-offset: -3px; }
.glasskit .noUi-horizontal .noUi-handle:focus-visible { outline-offset: 2px; }
.glasskit button { min-height: 32px; height: auto; width: auto; padding: 0 1em;
  font-size: var(--jp-widgets-font-size); color: inherit; background: var(--glasskit-button); }
.glasskit .glasskit-picture img { display: block; width: min(100%, 62vh * 64 / 27);
  height: auto; box-sizing: border-box; background: #fff; border: 1px solid #595959; }
.glasskit .glasskit-picture.glasskit-old { position: relative; }
.glasskit .glasskit-picture img { transition: opacity 0.3s; }
.glasskit :is(.glasskit-old, .glasskit-stale) img { opacity: 0.4; }
.glasskit .glasskit-old::after { content: "working …"; position: absolute; top: 1em; left: 1em;
  padding: 0.3em 0.8em; color: #1a1a1a; background: #fff; border: 2px solid; }
.glasskit .glasskit-invitation { display: flex; flex-wrap: wrap; gap: 24px; font-size: 1.4em; }
.glasskit .glasskit-invitation img { background: #fff; }
.glasskit:fullscreen .glasskit-invitation { font-size: 2em; }
.glasskit:fullscreen .glasskit-invitation img { width: 60vh; height: 60vh; }
.glasskit .glasskit-plan td { white-space: normal; font-weight: 400; vertical-align: top; }
.glasskit .glasskit-line { display: flex; flex: none; flex-flow: row wrap; gap: 4px 12px;
  align-items: center; border-top: 1px solid; padding: 4px 0; overflow: visible; }
.glasskit .glasskit-vote { flex: none; overflow: visible; }
.glasskit .glasskit-answer { flex: 1 1 18em; }
.glasskit .glasskit-line .glasskit-control { flex: 0 0 auto; }
.glasskit .glasskit-line .glasskit-box > label { width: 5.6em; white-space: nowrap; }
.glasskit .glasskit-line .glasskit-box > input { width: 3.5em; }
.glasskit .glasskit-bar { flex: 0 0 12em; }
.glasskit .glasskit-grown { height: 0.9em; background: #777; width: var(--to);
  animation: glasskit-grow 1.5s ease-in-out; }
@keyframes glasskit-grow { from { width: var(--from); } to { width: var(--to); } }
@media (prefers-reduced-motion: reduce) { .glasskit .glasskit-grown { animation: none; } }
:is(.glasskit, .glasskit-asked):fullscreen { max-width: none; padding: 3vh 3vw; overflow: auto;
  background: var(--jp-layout-color0, #fff); }
:is(.glasskit:fullscreen, .glasskit-asked:fullscreen > .glasskit:first-child) {
  --jp-widgets-font-size: min(3.6vh, 2vw); --jp-widgets-inline-height: min(6vh, 3.4vw); }
.glasskit-asked:fullscreen > .glasskit { flex: none; max-width: none; }
.glasskit:fullscreen > :is(.glasskit-picture, .glasskit-buttons),
.glasskit:fullscreen table.glasskit-numbers { display: none; }
.glasskit:fullscreen strong { font-size: 1.3em; }
.glasskit:fullscreen .glasskit-answer { flex-basis: 8em; }
.glasskit:fullscreen .glasskit-line .glasskit-box > input { width: 2.6em; }
.glasskit:fullscreen .glasskit-line .glasskit-box > label { width: 5em; }
.glasskit:fullscreen button { padding: 0 0.6em; }
.glasskit:fullscreen .glasskit-bar { flex-basis: 8em; }
.glasskit .glasskit-sentence .widget-html-content {
  font-size: calc(1.1 * var(--jp-widgets-font-size)); }
.glasskit :is(.glasskit-message, .glasskit-status):has(> .widget-html-content:empty)
  { height: 0; min-height: 0; margin: 0; }
.glasskit .glasskit-message .widget-html-content { font-weight: 600; }
.jp-InputPlaceholder .jp-PlaceholderText { display: none; }
.glasskit .glasskit-stopped { display: none; }
.glasskit .glasskit-stopped.jupyter-widgets-disconnected { display: block; }
.jp-NotebookPanel:has(.jp-Notebook-ExecutionIndicator[data-status="unknown"])
  .glasskit .glasskit-stopped { display: block; }
.glasskit .glasskit-stopped .widget-html-content { font-weight: 600; }
@media (pointer: coarse) {
  .glasskit:not(.glasskit-large) { --jp-widgets-inline-height: 44px; }
  .glasskit button { min-height: 44px; }
  .glasskit .noUi-horizontal .noUi-handle { width: 44px; height: 44px; top: -22px;
    right: -22px; border-radius: 22px; }
  .glasskit .glasskit-slider { margin: 0 24px; }
}
.glasskit a { color: inherit; text-decoration: underline; }
.glasskit table { border-collapse: collapse; }
.glasskit th, .glasskit td { padding: 2px 1.2em 2px 0; text-align: left; font-weight: 400;
  background: none; color: inherit; font-size: var(--jp-widgets-font-size); }
.glasskit td { font-weight: 600; white-space: nowrap; }
</style>"""
