"""A surface from a scan of points alone, without inventing a floor where nothing was seen.

A gap counts as wide where a circle with no given point in it is wider than a multiple of the spacing around it. Every
triangle made here has a circle round it no wider than that, and each place in a triangle lies within half that circle
of one of its corners: so no place farther than half the widest gap from all given points is ever covered.
"""

from dataclasses import dataclass
from typing import Annotated

import numpy as np
from numpy.typing import NDArray

from floorpan.errors import NoSurface
from floorpan.fields import Range, check_fields
from floorpan.frames import Vector
from floorpan.geometry.curve import along_curve
from floorpan.geometry.ears import circle_width, closed
from floorpan.geometry.mesh import Floats, Ints, Mesh
from floorpan.geometry.one_facing import one_facing, side_by_side
from floorpan.geometry.slits import parted_at_slits
from floorpan.geometry.stars import agreed_triangles, around, sheet_normals
from floorpan.geometry.weld import weld
from floorpan.progress import Step, Work, part

_FEWEST = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class Surfacing:
    """How a surface is made from points.

    widest_gap   : how many times the spacing around it a gap may be wide and is still closed
    seen_from_mm : where the scanner stood, in the scan's own coordinates [mm]; None where it is not known
    """

    widest_gap: Annotated[
        float, Range(1.5, 6.0, "", "Widest gap", "as a multiple of the spacing of the points around it")
    ] = 4.0
    seen_from_mm: Vector | None = None

    def __post_init__(self) -> None:
        check_fields(self)


@dataclass(frozen=True, slots=True, eq=False)
class Surfaced:
    """A surface made from points.

    mesh  : of given points, in the order they had, moved nowhere
    given : (P,) which of the given points each point of the mesh is
    left_out : why: how many of the given points are not in the mesh
    spacing_mm, widest_gap_mm : of the middle one of all points [mm]
    """

    mesh: Mesh
    given: NDArray[np.int64]
    left_out: dict[str, int]
    spacing_mm: float
    widest_gap_mm: float


def surface_from_points(
    points: Floats, surfacing: Surfacing = Surfacing(), *, up: Vector = (0.0, 0.0, 1.0)
) -> Work[Surfaced]:
    """A mesh of points (N, 3) [mm] whose gaps stay open. Raises NoSurface where no three points agree on one.

    up : what most of each sheet is to face where nobody says where the scanner stood
    """
    yield Step(0.0, "Joining points")
    given, single = _distinct(points)
    left_out = {"not a number": len(points) - len(given), "there twice": len(given) - len(single)}
    given = given[single]
    if len(given) < _FEWEST:
        raise _no_surface()
    # Points that lie together are worked on together.
    given = given[along_curve(np.asarray(points[given], dtype=np.float64))]
    at = np.ascontiguousarray(points[given], dtype=np.float64)
    found = yield from part(around(at, surfacing.widest_gap), 0.0, 0.15)
    widest = surfacing.widest_gap * found.spacing_mm
    normals = yield from part(sheet_normals(at, found), 0.15, 0.4)
    faces = yield from part(agreed_triangles(at, normals, found, widest), 0.4, 0.8)
    faces = faces[circle_width(at, faces) <= widest[faces].min(axis=1)]
    if not len(faces):
        raise _no_surface()
    mesh = _without_seam(one_facing(Mesh(at, faces)).mesh)
    mesh, slits = yield from part(closed(mesh, normals, widest), 0.8, 0.95)
    mesh = parted_at_slits(mesh, slits, widest)
    yield Step(0.95, "Turning triangles")
    mesh, given = _in_given_order(_without_seam(one_facing(mesh).mesh), given)
    seen = None if surfacing.seen_from_mm is None else np.array(surfacing.seen_from_mm)
    mesh = one_facing(mesh, up=np.array(up), seen_from_mm=seen).mesh
    left_out["in no triangle that its neighbours agree on"] = len(at) - len(mesh.points)
    yield Step(1.0, "Ready")
    return Surfaced(
        mesh,
        given,
        {why: count for why, count in left_out.items() if count},
        float(np.median(found.spacing_mm)),
        float(np.median(widest)),
    )


def _distinct(points: Floats) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Rows of finite points, and which of these are the first of their place."""
    finite = np.flatnonzero(np.isfinite(points).all(axis=1))
    number = weld(Mesh(points[finite], np.zeros((0, 3), dtype=np.int32))).new_point
    return finite, np.unique(number, return_index=True)[1]


def _without_seam(mesh: Mesh) -> Mesh:
    """The mesh without a face at each edge where two sides of a sheet meet that no turning makes agree."""
    pairs = side_by_side(mesh)
    if not pairs.odd.any():
        return mesh
    keep = np.ones(len(mesh.faces), dtype=bool)
    keep[pairs.two[pairs.odd]] = False
    return Mesh(mesh.points, mesh.faces[keep])


def _in_given_order(mesh: Mesh, given: NDArray[np.int64]) -> tuple[Mesh, NDArray[np.int64]]:
    """The mesh without unused points, points in the order they were given, faces in rising order."""
    order = np.argsort(given)
    place = np.empty(len(order), dtype=np.int32)
    place[order] = np.arange(len(order), dtype=np.int32)
    faces: Ints = place[mesh.faces]
    lowest = faces.argmin(axis=1)
    turned = faces[np.arange(len(faces))[:, None], (lowest[:, None] + np.arange(3)) % 3]
    faces = turned[np.lexsort((turned[:, 2], turned[:, 1], turned[:, 0]))]
    whole = Mesh(mesh.points[order], faces)
    used = np.unique(faces)
    return whole.kept(np.ones(len(faces), dtype=bool)), given[order][used]


def _no_surface() -> NoSurface:
    return NoSurface(
        "no-surface-in-points",
        "No three of these points agree on a surface.",
        "Scan with closer points, or let wider gaps be closed.",
    )
