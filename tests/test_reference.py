# SPDX-License-Identifier: MIT
import reference


def test_the_list_of_names_is_that_of_the_topics():
    written = reference.PAGE.read_text(encoding="utf-8")
    assert written == reference.page(), "write it anew: python tests/reference.py"
