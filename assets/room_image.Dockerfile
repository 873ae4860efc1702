# SPDX-License-Identifier: MIT
# One seat of a hub on a cluster: the kit, its pages and a notebook server.
#   docker build -f assets/room_image.Dockerfile -t REGISTRY/glasskit-seat:0.1.0 .
# Built from the folder of the README. No root inside, nothing started but the server.
FROM python:3.12-slim-bookworm

RUN useradd --create-home --uid 1000 seat
WORKDIR /opt/glasskit
COPY pyproject.toml README.md LICENSE ./
COPY glasskit glasskit
COPY notebooks notebooks
COPY assets assets
# The hub's own version: the chart names it as its appVersion.
ARG JUPYTERHUB=5
RUN pip install --no-cache-dir . "jupyterlab>=4.2,<5" "sympy>=1.12,<2" "jupyterhub==${JUPYTERHUB}.*"

# A home may be mounted over /home/seat: the pages are laid out there at the first start.
USER seat
WORKDIR /home/seat
ENV OPENBLAS_NUM_THREADS=1 OMP_NUM_THREADS=1
# Build the list of fonts once, not at each seat's first picture.
RUN python -c "import matplotlib.font_manager"
CMD ["sh", "-c", "python -c 'from pathlib import Path; from glasskit.__main__ import lay_out; lay_out(Path())' && exec python -m jupyterhub.singleuser --ServerApp.terminals_enabled=False"]
