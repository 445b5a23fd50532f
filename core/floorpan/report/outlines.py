"""Flat outlines of solids and scans: seen from a side, or cut by a plane."""

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.spatial import ConvexHull, QhullError
from shapely.geometry import LineString, MultiPoint, Polygon
from shapely.geometry.base import BaseGeometry

from floorpan.geometry.mesh import Mesh
from floorpan.geometry.sections import section
from floorpan.geometry.solids import Body, Solid
from floorpan.report.display import Point

Floats = NDArray[np.float64]
Ring = tuple[Point, ...]

_FLAT = 1e-6
# Of more triangles than this the outline is drawn to a cell.
_MOST_TRIANGLES = 20_000
_CELL_MM = 2.0
_STROKE_MM = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """A direction to look from: which way of the car runs to the right and which up on the sheet (unit axes)."""

    name: str
    right: tuple[float, float, float]
    up: tuple[float, float, float]

    def flat(self, points: Floats) -> Floats:
        """Points (N, 3) in car axes on the sheet (N, 2) [mm]."""
        held = np.asarray(points, dtype=float).reshape(-1, 3)
        flat: Floats = np.column_stack([held @ np.asarray(self.right), held @ np.asarray(self.up)])
        return flat


def silhouette(body: Body, side: Side) -> BaseGeometry:
    """What a body covers, seen from a side: the union of its hulls' outlines, each dilated by its radius; of meshes
    the union of their triangles, to a cell of 2 mm where there are very many."""
    flats = [
        _seen_mesh(posed_mesh(solid), side)
        if solid.hull.uneven is not None
        else MultiPoint(side.flat(solid.points())).convex_hull.buffer(solid.hull.radius_mm, quad_segs=16)
        for solid in body
    ]
    return shapely.union_all(flats) if flats else Polygon()


def posed_mesh(solid: Solid) -> Mesh:
    """The skin of a solid where it stands."""
    return solid.hull.skin().moved(solid.pose.matrix())


def _seen_mesh(mesh: Mesh, side: Side) -> BaseGeometry:
    if len(mesh.faces) > _MOST_TRIANGLES:
        return footprint(mesh, side, _CELL_MM)
    flat = side.flat(mesh.points)[mesh.faces]
    first, second = flat[:, 1] - flat[:, 0], flat[:, 2] - flat[:, 0]
    area = first[:, 0] * second[:, 1] - first[:, 1] * second[:, 0]
    covered: BaseGeometry = shapely.union_all(shapely.polygons(flat[np.abs(area) > _FLAT]), grid_size=1e-4)
    return covered


def cut_of_body(body: Body, station_mm: float) -> BaseGeometry:
    """A body cut by the plane X = station, in (Y, Z); round skins as polyhedra, inside by at most 1 % of the radius."""
    cuts = [cut for solid in body if (cut := _cut_of_solid(solid, station_mm)) is not None]
    return shapely.union_all(cuts) if cuts else Polygon()


def _cut_of_solid(solid: Solid, station_mm: float) -> BaseGeometry | None:
    points, radius = solid.points(), solid.hull.radius_mm
    if not points[:, 0].min() - radius < station_mm < points[:, 0].max() + radius:
        return None
    if solid.hull.uneven is not None:
        return _cut_of_uneven(posed_mesh(solid), station_mm)
    if radius > 0.0:
        points = (points[:, None, :] + radius * _directions()[None, :, :]).reshape(-1, 3)
    try:
        skin = Mesh(points, ConvexHull(points).simplices)
    except QhullError:
        return None
    lines = cut_of_mesh(skin, station_mm, finest_mm=0.0)
    if not lines:
        return None
    outline = MultiPoint(np.vstack(lines)).convex_hull
    return outline if outline.area > _FLAT else None


def _cut_of_uneven(mesh: Mesh, station_mm: float) -> BaseGeometry | None:
    """The stuff between closed lines, a line in a line being a hollow; an open line as a thin stroke."""
    stuff: BaseGeometry = Polygon()
    for line in cut_of_mesh(mesh, station_mm, finest_mm=0.0):
        closed = len(line) > 3 and bool(np.allclose(line[0], line[-1]))
        piece = Polygon(line).buffer(0.0) if closed else LineString(line).buffer(_STROKE_MM / 2)
        stuff = stuff.symmetric_difference(piece) if closed else stuff.union(piece)
    return stuff if stuff.area > _FLAT else None


def _directions() -> Floats:
    """Unit vectors evenly over a sphere (golden spiral), 600 of them."""
    count = 600
    index = np.arange(count) + 0.5
    z = 1.0 - 2.0 * index / count
    turn = np.pi * (1.0 + 5.0**0.5) * index
    flat = np.sqrt(1.0 - z**2)
    return np.column_stack([flat * np.cos(turn), flat * np.sin(turn), z])


def cut_of_mesh(
    mesh: Mesh, station_mm: float, axis: int = 0, *, finest_mm: float = 0.2
) -> tuple[Floats, ...]:
    """A scan cut by the plane at a station along an axis, as polylines (N, 2) in the other two axes, longest first.

    finest_mm : wiggles under this are drawn straight
    """
    others = [k for k in range(3) if k != axis]
    normal = np.eye(3)[axis]
    found = []
    for line in section(mesh, station_mm * normal, normal):
        flat = line.points[:, others]
        drawn = LineString(np.vstack([flat, flat[:1]]) if line.closed else flat).simplify(finest_mm)
        if drawn.length > _FLAT:
            found.append(np.asarray(drawn.coords))
    return tuple(found)


def footprint(mesh: Mesh, side: Side, cell_mm: float = 15.0) -> BaseGeometry:
    """What a scan covers seen from a side, to a cell: the union of the cells with a piece of surface in them.

    A scan that is very large for its cells gets larger ones: 500 at most along either side.
    """
    if not len(mesh.faces):
        return Polygon()
    flat = side.flat(mesh.points)[mesh.faces]
    cell_mm = max(cell_mm, float(np.ptp(flat.reshape(-1, 2), axis=0).max()) / 500.0)
    # Half a cell off, so that a straight edge of the scan never falls on a cell's edge.
    low = flat.reshape(-1, 2).min(axis=0) - cell_mm / 2
    touched = np.floor((_sampled(flat, cell_mm) - low) / cell_mm).astype(np.int64)
    grid = np.zeros(touched.max(axis=0) + 1, dtype=bool)
    grid[touched[:, 0], touched[:, 1]] = True
    cells = np.argwhere(grid)
    starts = np.flatnonzero(np.r_[True, np.any(np.diff(cells, axis=0) != (0, 1), axis=1)])
    first, last = cells[starts], cells[np.r_[starts[1:], len(cells)] - 1]
    boxes = shapely.box(
        low[0] + first[:, 0] * cell_mm,
        low[1] + first[:, 1] * cell_mm,
        low[0] + (last[:, 0] + 1) * cell_mm,
        low[1] + (last[:, 1] + 1) * cell_mm,
    )
    covered: BaseGeometry = shapely.union_all(boxes, grid_size=1e-3).simplify(cell_mm * 0.75)
    return covered


def _sampled(flat: Floats, cell_mm: float) -> Floats:
    """Points over triangles (M, 3, 2), no two neighbours farther apart than half a cell."""
    edges = np.linalg.norm(flat - np.roll(flat, 1, axis=1), axis=2).max(axis=1)
    parts = np.maximum(1, np.ceil(2.0 * edges / cell_mm)).astype(np.int64)
    found = []
    for count in np.unique(parts):
        own = flat[parts == count]
        steps = np.arange(count + 1) / count
        u, v = np.meshgrid(steps, steps, indexing="ij")
        inside = u + v <= 1.0 + 1e-9
        u, v = u[inside], v[inside]
        weights = np.column_stack([1.0 - u - v, u, v])
        found.append(np.einsum("kw,mwc->mkc", weights, own).reshape(-1, 2))
    return np.vstack(found)


def carpet_band(line: Floats, carpet_mm: float) -> BaseGeometry:
    """The carpet over a floor line (N, 2): the band on its upper side."""
    if carpet_mm <= 0.0 or len(line) < 2:
        return Polygon()
    onward = line if line[-1, 0] >= line[0, 0] else line[::-1]
    band: BaseGeometry = LineString(onward).buffer(
        carpet_mm, single_sided=True, join_style="mitre", mitre_limit=2.0
    )
    return band


def rings(shape: BaseGeometry) -> tuple[Ring, ...]:
    """The rings of a flat shape: outsides one way round, holes the other; lines and points are left out."""
    found: list[Ring] = []
    for part in shapely.get_parts(shape):
        if isinstance(part, Polygon) and not part.is_empty:
            turned = shapely.geometry.polygon.orient(part)
            found += [
                tuple((float(x), float(y)) for x, y in ring.coords[:-1])
                for ring in (turned.exterior, *turned.interiors)
            ]
    return tuple(found)
