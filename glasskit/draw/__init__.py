# SPDX-License-Identifier: MIT
"""Draw results with matplotlib on given figures: no widgets, no global state."""
