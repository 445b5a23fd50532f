"""Shapes that name a part of a scan: a box, an outline drawn from a view, or strokes of a brush.

They are kept in the scan's own coordinates and ask only where a face lies, never its number: so they hold when the
same scan is read again, thinned or cleaned.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Annotated

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.spatial import cKDTree
from shapely.geometry import Polygon

from floorpan.errors import BadValue
from floorpan.fields import Range, check_fields
from floorpan.frames import Pose, Vector
from floorpan.geometry.mesh import Floats, Mesh
from floorpan.geometry.near import vector
from floorpan.geometry.surface import Surface

Bools = NDArray[np.bool_]

NOBODY = -1


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxShape:
    """An upright box in a frame of its own.

    frame : from box coordinates to the scan's own; least_mm, greatest_mm : corners in box coordinates [mm]
    """

    frame: Pose = Pose()
    least_mm: Vector
    greatest_mm: Vector


@dataclass(frozen=True, slots=True, kw_only=True)
class PrismShape:
    """What lies behind an outline drawn from a view. Raises BadValue where it crosses itself or holds nothing.

    frame      : from the outline's coordinates to the scan's own; z is the line of sight
    corners_mm : where it turns, in the frame's x and y [mm]
    deep_mm    : from where to where along z [mm]; None for all the way through
    """

    frame: Pose
    corners_mm: tuple[tuple[float, float], ...]
    deep_mm: tuple[float, float] | None = None

    def __post_init__(self) -> None:
        if len(self.corners_mm) < 3 or not Polygon(self.corners_mm).is_valid:
            raise BadValue(
                "outline-crosses",
                "This outline crosses itself or holds nothing.",
                "Draw it again, all the way round.",
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """One stroke of a brush: places on the surface, and how far the brush reaches about each. Needs one place.

    at_mm : in the scan's own coordinates [mm]
    """

    at_mm: tuple[Vector, ...]
    radius_mm: Annotated[float, Range(1.0, 500.0, "mm", "Brush")]

    def __post_init__(self) -> None:
        check_fields(self)
        if not self.at_mm or not np.isfinite(self.at_mm).all():
            raise BadValue("empty-stroke", "This stroke touches nothing.", "Paint over the scan again.")


@dataclass(frozen=True, slots=True, kw_only=True)
class AreaShape:
    """One step of drawing an area: a box, an outline or a stroke (exactly one), put to it or taken away from it."""

    box: BoxShape | None = None
    prism: PrismShape | None = None
    stroke: Stroke | None = None
    takes_away: bool = False

    def __post_init__(self) -> None:
        if (self.box is not None) + (self.prism is not None) + (self.stroke is not None) != 1:
            raise BadValue(
                "one-shape", "An area is drawn by one box, outline or stroke at a time.", "Draw it again."
            )


def faces_in(mesh: Mesh, shapes: Sequence[AreaShape]) -> Bools:
    """Which faces (M,) shapes cover, in the mesh's coordinates: by their middles, the later shape wins.

    A face larger than the brush is also painted where a stroke runs over it.
    """
    return _drawn(middles_of(mesh), shapes, mesh)


def middles_of(mesh: Mesh) -> Floats:
    """Middles (M, 3) of the faces [mm]."""
    a, b, c = (mesh.points[mesh.faces[:, k]] for k in range(3))
    middles: Floats = (a + b + c) / 3.0
    return middles


def points_in(points: Floats, shapes: Sequence[AreaShape]) -> Bools:
    """Which points (N, 3) shapes cover [mm]: the later shape wins, one that takes away takes away."""
    return _drawn(np.asarray(points, dtype=np.float64).reshape(-1, 3), shapes, None)


def owners(
    mesh: Mesh, areas: Sequence[Sequence[AreaShape]], yields: Sequence[bool] = ()
) -> NDArray[np.int32]:
    """Area number (M,) of every face, NOBODY where no area covers it; the later area wins.

    yields : areas that give way to every other, whatever their place (those a placed thing stands for)
    """
    owner = np.full(len(mesh.faces), NOBODY, dtype=np.int32)
    middles = middles_of(mesh)
    firm = [not (number < len(yields) and yields[number]) for number in range(len(areas))]
    for number in sorted(range(len(areas)), key=lambda one: firm[one]):
        owner[_drawn(middles, areas[number], mesh)] = number
    return owner


def in_prism(points: Floats, frame: Pose, corners_mm: Floats, deep_mm: tuple[float, float] | None) -> Bools:
    """Which points (N, 3) lie within an outline (K, 2) seen along its frame's z, and as deep as `deep_mm` says."""
    at = frame.inverse().apply(points)
    corners = np.asarray(corners_mm, dtype=np.float64)
    low, high = corners.min(axis=0), corners.max(axis=0)
    maybe = (at[:, 0] >= low[0]) & (at[:, 0] <= high[0]) & (at[:, 1] >= low[1]) & (at[:, 1] <= high[1])
    if deep_mm is not None:
        maybe &= (at[:, 2] >= deep_mm[0]) & (at[:, 2] <= deep_mm[1])
    rows = np.flatnonzero(maybe)
    inside = np.zeros(len(points), dtype=bool)
    inside[rows] = shapely.contains_xy(Polygon(corners), at[rows, 0], at[rows, 1])
    return inside


def in_stroke(points: Floats, at_mm: Floats, radius_mm: float) -> Bools:
    """Which points (N, 3) lie within a radius of any place (K, 3) of a stroke."""
    near = np.flatnonzero(
        ((points >= at_mm.min(axis=0) - radius_mm) & (points <= at_mm.max(axis=0) + radius_mm)).all(axis=1)
    )
    away = cKDTree(at_mm).query(points[near], distance_upper_bound=radius_mm * (1.0 + 1e-12))[0]
    inside = np.zeros(len(points), dtype=bool)
    inside[near[np.isfinite(away)]] = True
    return inside


def _drawn(points: Floats, shapes: Sequence[AreaShape], mesh: Mesh | None) -> Bools:
    held = np.zeros(len(points), dtype=bool)
    for shape in shapes:
        held[_covered(points, shape, mesh)] = not shape.takes_away
    return held


def _covered(points: Floats, shape: AreaShape, mesh: Mesh | None) -> Bools:
    if shape.box is not None:
        at = shape.box.frame.inverse().apply(points)
        low, high = np.asarray(shape.box.least_mm), np.asarray(shape.box.greatest_mm)
        inside: Bools = np.all((at >= low) & (at <= high), axis=1)
        return inside
    if shape.prism is not None:
        corners = np.asarray(shape.prism.corners_mm)
        return in_prism(points, shape.prism.frame, corners, shape.prism.deep_mm)
    assert shape.stroke is not None
    places = np.asarray(shape.stroke.at_mm, dtype=np.float64)
    covered = in_stroke(points, places, shape.stroke.radius_mm)
    if mesh is not None:
        covered[_run_over(mesh, places, shape.stroke.radius_mm)] = True
    return covered


def _run_over(mesh: Mesh, places: Floats, radius_mm: float) -> NDArray[np.int64]:
    """Faces longer than a brush that a stroke's places lie on."""
    low, high = places.min(axis=0) - radius_mm, places.max(axis=0) + radius_mm
    rows = np.arange(len(mesh.faces))
    longest = np.zeros(len(rows))
    for axis in range(3):
        # One column at a time, and only of what is left: a whole scan has millions of faces.
        a, b, c = (mesh.points[mesh.faces[rows, k], axis] for k in range(3))
        least, most = np.minimum(np.minimum(a, b), c), np.maximum(np.maximum(a, b), c)
        near = (least <= high[axis]) & (most >= low[axis])
        rows, longest = rows[near], np.maximum(longest[near], (most - least)[near])
    rows = rows[longest > radius_mm]
    if not len(rows):
        return rows
    large = np.zeros(len(mesh.faces), dtype=bool)
    large[rows] = True
    found = Surface(mesh.kept(large), floor=False).signed(places)
    return rows[found.face[np.abs(found.distance_mm) <= radius_mm]]


def moved(shape: AreaShape, pose: Pose) -> AreaShape:
    """The same shape seen from the frame that a pose leads to, as from car axes to a scan's own coordinates."""
    if shape.box is not None:
        return replace(shape, box=replace(shape.box, frame=pose.after(shape.box.frame)))
    if shape.prism is not None:
        return replace(shape, prism=replace(shape.prism, frame=pose.after(shape.prism.frame)))
    assert shape.stroke is not None
    at = pose.apply(np.asarray(shape.stroke.at_mm))
    return replace(shape, stroke=replace(shape.stroke, at_mm=tuple(vector(place) for place in at)))
