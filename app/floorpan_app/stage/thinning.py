"""Fewer triangles for the picture of a big scan, or for a copy to hand on, made in a process of its own.

Nothing is measured on them.
"""

import json
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Final

import numpy as np

from floorpan.errors import FloorpanError
from floorpan.geometry.deviation import Deviation
from floorpan.geometry.edges import Bools
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.thin import Thinned, check_count
from floorpan.progress import Step, Work
from floorpan_app.stage import words

MOST_TRIANGLES: Final = 350_000
# What is drawn until the thinned mesh is there: drawn in a moment even without a graphics card.
QUICK_TRIANGLES: Final = 150_000
WHOLE, THIN, TOLD, FAR = "whole.npz", "thin.npz", "told.json", "far.txt"
_LOOK_S: Final = 0.05
# How long it takes, about: two seconds and this much for each triangle.
_BASE_S, _EACH_S = 2.0, 7e-6


class NotThinned(FloorpanError):
    """The process that thins ended without a mesh."""


def thinned(mesh: Mesh, most: int, untouched: Bools | None = None) -> Work[Thinned]:
    """The mesh with about so many triangles.

    Raises NotThinned where the process fails, BadValue where what is to stay untouched fills the count.
    """
    check_count(mesh, most, untouched)
    return _in_a_child(mesh, untouched, "faces", str(most))


def thinned_to(mesh: Mesh, worst_mm: float, untouched: Bools | None = None) -> Work[Thinned]:
    """The mesh with as few triangles as stray no farther than worst_mm. Raises NotThinned where the process fails."""
    return _in_a_child(mesh, untouched, "worst_mm", repr(worst_mm))


def _in_a_child(mesh: Mesh, untouched: Bools | None, wish: str, most: str) -> Work[Thinned]:
    with tempfile.TemporaryDirectory(prefix="floorpan-") as folder:
        place = Path(folder)
        stay = np.zeros(len(mesh.faces), dtype=bool) if untouched is None else untouched
        np.savez(place / WHOLE, points=mesh.points, faces=mesh.faces, untouched=stay)
        yield Step(0.05, words.THINNING)
        command = [sys.executable, "-m", "floorpan_app.stage.thin_child", folder, wish, most]
        child = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        try:
            began, about = time.monotonic(), _BASE_S + _EACH_S * len(mesh.faces)
            told = 0.0
            while child.poll() is None:
                guessed = (time.monotonic() - began) / about if wish == "faces" else _told(place)
                told = max(told, min(guessed, 1.0))
                yield Step(0.05 + 0.9 * told, words.THINNING)
                time.sleep(_LOOK_S)
        finally:
            if child.poll() is None:
                child.kill()
            child.wait()
        if child.returncode != 0 or not (place / THIN).is_file():
            raise NotThinned("not-thinned", *words.NOT_THINNED, returned=child.returncode)
        off = json.loads((place / TOLD).read_text("utf-8"))
        with np.load(place / THIN) as held:
            made = Mesh(held["points"], held["faces"])
    told_of = Deviation(**off | {"where_mm": tuple(off["where_mm"])})
    return Thinned(mesh=made, deviation=told_of, before=len(mesh.faces), after=len(made.faces))


def _told(place: Path) -> float:
    """How far the process says it has come, 0 before it says anything."""
    said = place / FAR
    return float(said.read_text("utf-8").split()[0]) if said.is_file() else 0.0
