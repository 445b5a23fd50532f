"""Run as a program: thin the mesh of a folder as wished, and leave it beside, with a word of how far it has come."""

import json
import sys
from dataclasses import asdict
from pathlib import Path

import numpy as np

from floorpan.geometry.mesh import Mesh
from floorpan.geometry.thin import Thinned, thin, thin_to
from floorpan.progress import Step, finish
from floorpan_app.stage.thinning import FAR, THIN, TOLD, WHOLE


def main(folder: str, wish: str, most: str) -> int:
    """0 once the thinned mesh is written; wish: `faces` for a count, `worst_mm` for a distance to stray at most."""
    place = Path(folder)
    with np.load(place / WHOLE) as held:
        whole, untouched = Mesh(held["points"], held["faces"]), held["untouched"]
    stay = untouched if untouched.any() else None
    if wish == "faces":
        made = thin(whole, int(most), stay)
    else:
        made = finish(thin_to(whole, float(most), stay), lambda step: _tell(place, step))
    _leave(place, made)
    return 0


def _tell(place: Path, step: Step) -> None:
    part = place / f"part-{FAR}"
    part.write_text(f"{step.done:.4f} {step.doing}", "utf-8")
    part.replace(place / FAR)


def _leave(place: Path, made: Thinned) -> None:
    (place / TOLD).write_text(json.dumps(asdict(made.deviation)), "utf-8")
    written = place / f"part-{THIN}"
    np.savez(written, points=made.mesh.points, faces=made.mesh.faces)
    written.replace(place / THIN)


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
