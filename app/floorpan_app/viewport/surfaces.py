"""Meshes as the drawing toolkit takes them: shaded smoothly, coloured by role or by values."""

from dataclasses import dataclass
from typing import Any
from weakref import WeakKeyDictionary

import numpy as np
import pyvista
from numpy.typing import NDArray
from vtkmodules.util.numpy_support import numpy_to_vtk, vtk_to_numpy
from vtkmodules.vtkCommonCore import vtkUnsignedCharArray
from vtkmodules.vtkFiltersCore import vtkBinnedDecimation

from floorpan.geometry.mesh import Mesh

Floats = NDArray[np.float64]
Normals = NDArray[np.float32]

# A stand-in has about this many triangles, and half as many again on a bumpy floor.
STAND_IN_TRIANGLES = 20_000


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Shading:
    """Colours from a value at each point.

    values      : (N,), in the unit of `least` and `greatest`; where it is not finite the point gets `unknown`
    stops       : colours at equal steps from least to greatest; beyond them the end colours hold
    unknown     : the colour of points without a value
    isolines_at : values along which a line is drawn
    """

    values: Floats
    stops: tuple[str, ...]
    least: float
    greatest: float
    unknown: str
    isolines_at: tuple[float, ...] = ()


_normals: WeakKeyDictionary[Mesh, Normals] = WeakKeyDictionary()


def smooth_normals(mesh: Mesh) -> Normals:
    """Unit normals (N, 3) at the points, each the mean of the faces around it weighted by their area.

    Worked out once for each mesh, as long as somebody holds it; a worker may do so ahead.
    """
    known = _normals.get(mesh)
    if known is None:
        known = _normals[mesh] = _smooth_normals(mesh)
    return known


def _smooth_normals(mesh: Mesh) -> Normals:
    points, faces = mesh.points.astype(np.float32), mesh.faces
    a, b, c = (points[faces[:, corner]] for corner in range(3))
    flat = np.cross(b - a, c - a)
    total = np.zeros((len(points), 3), dtype=np.float64)
    for axis in range(3):
        weights = np.repeat(flat[:, axis], 3)
        total[:, axis] = np.bincount(faces.ravel(), weights=weights, minlength=len(points))
    length = np.linalg.norm(total, axis=1, keepdims=True)
    unit = np.divide(total, length, out=np.tile([0.0, 0.0, 1.0], (len(total), 1)), where=length > 0.0)
    normals: Normals = unit.astype(np.float32)
    return normals


def surface(points: Floats, faces: NDArray[Any], normals: NDArray[Any]) -> pyvista.PolyData:
    """Triangles with normals at their points; the points are shared with the array, not copied."""
    shape: pyvista.PolyData = pyvista.PolyData.from_regular_faces(points, faces)
    held: Any = np.asarray(normals, dtype=np.float32)
    shape.point_data.active_normals = held
    return shape


def coloured(shading: Shading) -> NDArray[np.uint8]:
    """The colour (N, 3) of each point, straight between the stops."""
    stops = np.array([rgb(stop) for stop in (*shading.stops, shading.unknown)]) * 255.0
    steps = len(shading.stops) - 1
    known = np.isfinite(shading.values)
    place = (np.where(known, shading.values, shading.least) - shading.least) / (
        shading.greatest - shading.least
    )
    place = np.clip(place, 0.0, 1.0) * steps
    low = np.minimum(place.astype(int), steps - 1)
    share = (place - low)[:, None]
    colours = (1 - share) * stops[low] + share * stops[low + 1]
    colours[~known] = stops[-1]
    rounded: NDArray[np.uint8] = np.round(colours).astype(np.uint8)
    return rounded


def set_colours(shape: pyvista.PolyData, colours: NDArray[np.uint8]) -> None:
    """Give each point of a shape its colour."""
    array: vtkUnsignedCharArray = numpy_to_vtk(np.ascontiguousarray(colours), deep=True)  # type: ignore[no-untyped-call]
    array.SetName("colour")
    shape.GetPointData().SetScalars(array)


def isolines(mesh: Mesh, values: Floats, at: tuple[float, ...]) -> Floats:
    """Straight pieces (K, 2, 3) [mm] along which the values at a mesh's points equal one of `at`."""
    pieces = [np.empty((0, 2, 3))]
    for level in at:
        pieces.append(_level(mesh, values - level))
    return np.concatenate(pieces)


def _level(mesh: Mesh, values: Floats) -> Floats:
    """Where the values, taken as straight over each triangle, pass zero."""
    here = values[mesh.faces]
    above = here > 0.0
    cut = np.isfinite(here).all(axis=1) & (above.any(axis=1) != above.all(axis=1))
    here, above, faces = here[cut], above[cut], mesh.faces[cut]
    # One corner stands alone on its side; the line crosses the two edges that leave it.
    alone = np.where((above.sum(axis=1) == 1)[:, None], above, ~above).argmax(axis=1)
    row = np.arange(len(faces))
    ends = np.empty((len(faces), 2, 3))
    for end, step in enumerate((1, 2)):
        other = (alone + step) % 3
        first, second = here[row, alone], here[row, other]
        share = (first / (first - second))[:, None]
        a, b = mesh.points[faces[row, alone]], mesh.points[faces[row, other]]
        ends[:, end] = a + share * (b - a)
    return ends


def stand_in(shape: pyvista.PolyData) -> pyvista.PolyData:
    """A coarse copy of a big mesh, made fast, for while the camera moves."""
    low, high = np.array(shape.bounds).reshape(3, 2).T
    size = np.maximum(high - low, 1e-3)
    largest_faces = np.sort([size[0] * size[1], size[1] * size[2], size[0] * size[2]])
    cell = np.sqrt(2.0 * largest_faces[-1] / STAND_IN_TRIANGLES)
    divisions = np.maximum(np.ceil(size / cell), 1).astype(int)
    coarse = vtkBinnedDecimation()
    coarse.SetInputData(shape)
    coarse.AutoAdjustNumberOfDivisionsOff()
    coarse.SetNumberOfDivisions(*(int(count) for count in divisions))
    coarse.SetPointGenerationModeToBinAverages()
    coarse.Update()
    result = pyvista.wrap(coarse.GetOutput())
    faces = np.asarray(result.regular_faces, dtype=np.int32)
    normals = smooth_normals(Mesh(np.asarray(result.points, dtype=float), faces))
    made = surface(result.points, faces, normals)
    given = result.GetPointData().GetArray("colour")
    if given is not None:
        # Averages come as fractions, which the toolkit would take for shares of white.
        average: NDArray[np.float64] = vtk_to_numpy(given)  # type: ignore[no-untyped-call]
        whole: NDArray[np.uint8] = np.round(average).astype(np.uint8)
        set_colours(made, whole)
    return made


def rgb(colour: str) -> tuple[float, float, float]:
    """Red, green and blue from 0 to 1 of a colour written as in the theme record."""
    red, green, blue = (int(colour[place : place + 2], 16) / 255.0 for place in (1, 3, 5))
    return red, green, blue
