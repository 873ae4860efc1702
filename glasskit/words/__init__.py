# SPDX-License-Identifier: MIT
"""Turn results into plain sentences and formatted quantities, metric or US customary."""
