# SPDX-License-Identifier: MIT
"""Explorer of the known drops: each on the odds of its panes, before and after all others."""

from glasskit.demonstration import Knowledge, knowledge
from glasskit.demonstration.posterior import cases
from glasskit.draw.known import KnownScene
from glasskit.live.controls import Choice
from glasskit.live.explorer import Explorer
from glasskit.words.known import known_label, known_numbers, known_sentence


def known_explorer() -> Explorer[Knowledge]:
    """Return the explorer of notebook 22: one known drop after the other."""
    records = {known_label(case): case.name for case in cases()}
    return Explorer(
        [Choice("record", "known drop", records, next(iter(records)))],
        knowledge,
        KnownScene(),
        known_sentence,
        known_numbers,
        title="What known drops have taught",
    )
