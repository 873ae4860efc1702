# SPDX-License-Identifier: MIT
"""Put results behind sliders: a live picture, its numbers and one plain sentence."""
