# SPDX-License-Identifier: MIT
import pytest
from pictures import unpainted


@pytest.fixture
def unseen():
    """For a test of what a panel says and keeps: its pictures are looked at elsewhere."""
    with unpainted():
        yield
