# SPDX-License-Identifier: MIT
"""One machine for a class: seats with one-time words, pages without a shell, limits that hold.

Start it with ``python -m glasskit.room pages`` or ``python -m glasskit.room hub``. With
``python -m glasskit.room telephone`` the break log is kept by telephone. It needs the optional
packages of ``pip install "glasskit[room]"``; nothing else in the kit does.
"""
