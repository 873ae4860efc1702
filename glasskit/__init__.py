# SPDX-License-Identifier: MIT
"""Explain, safely and truthfully, why toughened glass survives blows that break plain glass.

Import the module you need, for example ``from glasskit import crack, stress``. Nothing is
imported here, so that a page which needs one module does not wait for the others.
"""

__version__ = "0.1.0"
