"""Run as a program: thin the mesh of a folder to so many triangles, and leave it beside."""

import sys
from pathlib import Path

import numpy as np

from floorpan.geometry.mesh import Mesh
from floorpan.geometry.thin import thin
from floorpan_app.stage.thinning import THIN, WHOLE


def main(folder: str, most: str) -> int:
    """0 once the thinned mesh is written."""
    place = Path(folder)
    with np.load(place / WHOLE) as held:
        whole = Mesh(held["points"], held["faces"])
    mesh, off = thin(whole, int(most))
    written = place / f"part-{THIN}"
    np.savez(written, points=mesh.points, faces=mesh.faces, worst_mm=off.worst_mm)
    written.replace(place / THIN)
    return 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
