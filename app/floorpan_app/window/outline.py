"""The side outline of a layout, simplified until it is a few lines that can be kept in the settings."""

from collections.abc import Sequence

import numpy as np

from floorpan.derive import Bench
from floorpan.geometry.mesh import Mesh
from floorpan.items.states import State
from floorpan.layout import Layout, record_of
from floorpan.report.outlines import Side
from floorpan.report.side_outline import rings, simpler
from floorpan_app.settings import OutlineLine

_SIDE = Side(name="side", right=(1.0, 0.0, 0.0), up=(0.0, 0.0, 1.0))
_FINEST_MM = 6.0
_FLOOR_BAND_MM = 60.0
_FLOOR_STEP_MM = 30.0


def outline_of(layout: Layout, bench: Bench, state: State) -> tuple[OutlineLine, ...]:
    """Floor along the middle, then everything placed; nothing is worked out that is not there yet."""
    lines: list[OutlineLine] = []
    if not bench.floors_ready(layout):
        return ()
    scene = bench.scene(layout)
    if scene.floor is not None:
        lines += _floor([area.surface.mesh for area in scene.floor.areas if area.level])
    for thing in layout.things():
        for part in record_of(thing).parts(thing):
            body = scene.body(f"{thing.id}.{part.name}", state)
            lines += [OutlineLine(role=part.material, points=ring) for ring in rings(body, _SIDE, _FINEST_MM)]
    return tuple(lines)


def _floor(meshes: Sequence[Mesh]) -> list[OutlineLine]:
    """The height of the floor along a band in the middle of the car, where it was scanned; no dash, no seat."""
    if not meshes:
        return []
    points = np.vstack([mesh.points for mesh in meshes])
    points = points[np.abs(points[:, 1]) < _FLOOR_BAND_MM]
    station = np.floor(points[:, 0] / _FLOOR_STEP_MM).astype(int)
    heights = [
        (float(at * _FLOOR_STEP_MM), float(np.median(points[station == at, 2]))) for at in np.unique(station)
    ]
    if len(heights) < 2:
        return []
    return [OutlineLine(role="floor", points=simpler(heights, _FINEST_MM))]
