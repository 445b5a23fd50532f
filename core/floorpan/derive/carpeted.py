"""The floor with its carpet laid, loose and squeezed, part by part as the layout says."""

import numpy as np

from floorpan.derive.bench import Bench
from floorpan.derive.cropped import cropped
from floorpan.derive.floor import CARPET_IN, NO_CARPET, label_faces
from floorpan.frames import STILL
from floorpan.layout import Layout
from floorpan.progress import Work, part
from floorpan.scan.carpet import BARE, CarpetSurfaces, carpet_surfaces, face_thickness
from floorpan.scan.prepare import flipped

CELL_MM = 5.0


def carpeted(bench: Bench, layout: Layout, cell_mm: float = CELL_MM) -> Work[CarpetSurfaces | None]:
    """Bare, loose and squeezed floor of the scan that things stand on, in car axes; None without one.

    cell_mm : a column every so much [mm]. What carpet never lies on (dash, seats, belts) is left out.
    """
    scan = bench.floor_scan(layout)
    if scan is None:
        return None
    ready = yield from part(bench.prepare(scan), 0.0, 0.3)
    mesh = cropped(flipped(ready.mesh) if scan.flipped else ready.mesh, scan)
    named = label_faces(mesh, scan.areas)
    level = np.array([area.kind not in NO_CARPET for area in scan.areas] + [True])[named]
    mesh, named = mesh.kept(level).moved((scan.pose or STILL).matrix()), named[level]
    if not len(mesh.faces):
        return None
    none_on_top = scan.role in CARPET_IN
    carpets = [BARE if none_on_top else layout.carpet_on(area.id) for area in scan.areas]
    thickness = face_thickness(named, carpets, BARE if none_on_top else layout.carpet())
    low, high = mesh.bounds[0, :2], mesh.bounds[1, :2]
    return (yield from part(carpet_surfaces(mesh, thickness, low, high, cell_mm), 0.3, 1.0))
