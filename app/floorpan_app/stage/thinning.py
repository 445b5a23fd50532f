"""Fewer triangles for the picture of a big scan, made in a process of its own. Nothing is measured on them."""

import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import numpy as np

from floorpan.errors import FloorpanError
from floorpan.geometry.mesh import Mesh
from floorpan.progress import Step, Work
from floorpan_app.stage import words

MOST_TRIANGLES: Final = 600_000
WHOLE, THIN = "whole.npz", "thin.npz"
_LOOK_S: Final = 0.05
# How long it takes, about: two seconds and this much for each triangle.
_BASE_S, _EACH_S = 2.0, 4e-6


class NotThinned(FloorpanError):
    """The process that thins ended without a mesh."""


@dataclass(frozen=True, slots=True, eq=False)
class Thinned:
    """A thinned mesh and how far it strays from the whole one [mm]."""

    mesh: Mesh
    worst_mm: float


def thinned(mesh: Mesh, most: int) -> Work[Thinned]:
    """The mesh with about so many triangles. Raises NotThinned where the process fails."""
    with tempfile.TemporaryDirectory(prefix="floorpan-") as folder:
        place = Path(folder)
        np.savez(place / WHOLE, points=mesh.points, faces=mesh.faces)
        yield Step(0.05, words.THINNING)
        command = [sys.executable, "-m", "floorpan_app.stage.thin_child", folder, str(most)]
        child = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        try:
            began, about = time.monotonic(), _BASE_S + _EACH_S * len(mesh.faces)
            while child.poll() is None:
                gone = (time.monotonic() - began) / about
                yield Step(0.05 + 0.9 * min(gone, 1.0), words.THINNING)
                time.sleep(_LOOK_S)
        finally:
            if child.poll() is None:
                child.kill()
            child.wait()
        if child.returncode != 0 or not (place / THIN).is_file():
            raise NotThinned("not-thinned", *words.NOT_THINNED, returned=child.returncode)
        with np.load(place / THIN) as held:
            return Thinned(Mesh(held["points"], held["faces"]), float(held["worst_mm"]))
