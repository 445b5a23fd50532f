"""A surface ready to be drawn and met by a ray; several actors may share one."""

import functools
import math
from dataclasses import dataclass
from typing import Any

import numpy as np
import pyvista
from numpy.typing import NDArray
from vtkmodules.vtkCommonCore import reference
from vtkmodules.vtkCommonDataModel import vtkStaticCellLocator
from vtkmodules.vtkRenderingCore import vtkPolyDataMapper

from floorpan_app.viewport.surfaces import stand_in

Floats = NDArray[np.float64]

# Directions to look for the outermost points in, and how many points are looked at.
_OUTERMOST = np.array(
    [[x, y, z] for x in (-2, -1, 0, 1, 2) for y in (-2, -1, 0, 1, 2) for z in (-2, -1, 0, 1, 2)]
)
_LOOKED_AT = 20_000

# Nothing in a cabin is farther than this along a ray.
_FAR_MM = 100_000.0
_BIG_TRIANGLES = 60_000


@dataclass(frozen=True, slots=True)
class Meeting:
    """Where a ray meets a form, in the form's own frame: distance [mm], point, triangle."""

    away_mm: float
    point: Floats
    cell: int


class Form:
    """A shape with its mapper; the tree for rays and the coarse stand-in are made when first asked for."""

    def __init__(self, shape: pyvista.PolyData) -> None:
        self.shape = shape
        self.mapper = _mapper(shape)
        self._coarse: vtkPolyDataMapper | None = None
        self._tree: vtkStaticCellLocator | None = None

    @property
    def is_big(self) -> bool:
        """Whether drawing it takes long enough to be worth a stand-in."""
        return int(self.shape.n_cells) > _BIG_TRIANGLES

    def coarse_mapper(self) -> vtkPolyDataMapper:
        """Draws a coarse copy."""
        if self._coarse is None:
            self._coarse = _mapper(stand_in(self.shape))
        return self._coarse

    def forget_coarse(self) -> None:
        """The shape's colours changed; the coarse copy is made again when needed."""
        self._coarse = None

    @functools.cached_property
    def outermost(self) -> Floats:
        """The farthest points (K, 3) in many directions: enough to see how much room the form takes."""
        points = np.asarray(self.shape.points, dtype=float)
        points = points[:: max(1, len(points) // _LOOKED_AT)]
        found: Floats = points[np.unique((points @ _OUTERMOST.T).argmax(axis=0))]
        return found

    def meet(self, origin: Floats, direction: Floats) -> Meeting | None:
        """The first triangle a ray meets."""
        if self._tree is None:
            self._tree = vtkStaticCellLocator()
            self._tree.SetDataSet(self.shape)
            self._tree.BuildLocator()
        # The toolkit writes its answers into these; its own types call them plain numbers.
        share: Any = reference(0.0)
        sub: Any = reference(0)
        cell: Any = reference(0)
        point, inside = [0.0, 0.0, 0.0], [0.0, 0.0, 0.0]
        end = origin + _FAR_MM * direction
        met = self._tree.IntersectWithLine(
            origin.tolist(), end.tolist(), 0.0, share, point, inside, sub, cell
        )
        if not met:
            return None
        return Meeting(float(share) * _FAR_MM, np.array(point), int(cell))

    def normal(self, cell: int) -> Floats:
        """Unit normal of a triangle, in the form's own frame; up where the triangle has no area."""
        points, faces = self._corners
        (ax, ay, az), (bx, by, bz), (cx, cy, cz) = points[faces[cell]].tolist()
        # Written out: asked for at every step of the mouse, and an array of three is slow.
        ux, uy, uz, vx, vy, vz = bx - ax, by - ay, bz - az, cx - ax, cy - ay, cz - az
        x, y, z = uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx
        length = math.sqrt(x * x + y * y + z * z)
        return np.array([x / length, y / length, z / length] if length > 0.0 else [0.0, 0.0, 1.0])

    @functools.cached_property
    def _corners(self) -> tuple[Floats, NDArray[np.int64]]:
        """The shape's points and triangles, shared with it: asking the toolkit each time is slow."""
        return np.asarray(self.shape.points), np.asarray(self.shape.regular_faces)


def _mapper(shape: pyvista.PolyData) -> vtkPolyDataMapper:
    mapper = vtkPolyDataMapper()
    mapper.SetInputData(shape)
    if shape.GetPointData().GetArray("colour") is not None:
        mapper.SetColorModeToDirectScalars()
        mapper.ScalarVisibilityOn()
    else:
        mapper.ScalarVisibilityOff()
    return mapper
