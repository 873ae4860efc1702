# SPDX-License-Identifier: MIT
"""What these files share lasts from the first of them to the last: see conftest.py."""
