# SPDX-License-Identifier: MIT
"""A pane that breaks, moment by moment: cracks that run, branch, turn and stop."""

__all__: list[str] = []
