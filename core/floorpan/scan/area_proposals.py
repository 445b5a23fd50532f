"""Areas proposed from the shape of a scan in car axes: floor, tunnel flanks, tunnel top, dash underside.

The proof of a cabin is a tunnel: a ridge along the car near its centre plane, well over a floor that lies on both
sides of it at the same stations. Without one nothing is proposed at all: a table top has a level too. Seats,
cross-members and everything that stands on the floor are left to the builder. All figures here are common practice,
no source; they are wide enough for any cabin and are held against the invented car.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import MultiPolygon, Polygon

from floorpan.frames import Pose
from floorpan.geometry.mesh import Floats, Mesh
from floorpan.geometry.normals import face_areas, face_normals
from floorpan.progress import Step, Work
from floorpan.scan.area_shapes import AreaShape, Bools, PrismShape, middles_of

LONGEST_LEVEL_MM = 450.0
LEAST_TUNNEL_MM = 400.0
STATION_MM = 40.0
# How far over and under its plane the floor reaches: ribs, studs, seat cross-members; dents.
FLOOR_UP_MM, FLOOR_DOWN_MM = 45.0, 15.0
_FLOOR_SIDE_MM2 = 30_000.0
_DASH_MM2 = 20_000.0
_CELL_MM = 12.0
_PIECE_MM2 = 2_500.0


@dataclass(frozen=True, slots=True, eq=False)
class ProposedArea:
    """A part of the scan that its shape gives away.

    kind   : as areas are called
    faces  : (M,) mask of the faces meant; of all proposals together, each face is in one at most
    shapes : the same as outlines in car axes, to be kept with the layout once turned into the scan's coordinates
    why    : one sentence for the builder
    """

    kind: str
    faces: Bools
    shapes: tuple[AreaShape, ...]
    why: str


@dataclass(frozen=True, slots=True, eq=False)
class _Plane:
    """z = level + along x + aside y [mm]."""

    level: float
    along: float
    aside: float

    def over(self, at: Floats) -> Floats:
        """How high points (N, 3) lie over it, straight up [mm]."""
        height: Floats = at[:, 2] - self.level - self.along * at[:, 0] - self.aside * at[:, 1]
        return height

    def frame(self, at: Floats) -> Pose:
        """A frame in the plane under a point (3,): x rearward, z square to the plane, upward."""
        up = np.array([-self.along, -self.aside, 1.0]) / np.sqrt(self.along**2 + self.aside**2 + 1.0)
        return _frame(up, np.array([at[0], at[1], self.level + self.along * at[0] + self.aside * at[1]]))


@dataclass(frozen=True, slots=True, eq=False)
class _Faces:
    middle: Floats
    normal: Floats
    area: Floats


@dataclass(frozen=True, slots=True, eq=False)
class _Ridge:
    """A tunnel's top: its plane, centre line y = centre + drift x, half its width, and its faces."""

    plane: _Plane
    centre: float
    drift: float
    half_mm: float
    faces: Bools
    length_mm: float

    def aside(self, at: Floats) -> Floats:
        """How far points (N, 3) lie to the right of the centre line [mm]."""
        off: Floats = at[:, 1] - self.centre - self.drift * at[:, 0]
        return off


def propose_areas(mesh: Mesh) -> Work[tuple[ProposedArea, ...]]:
    """Areas of a scan in car axes [mm], faces turned to the side that was scanned, in the order they are to be laid.

    Empty where no tunnel with a floor on both sides is found.
    """
    yield Step(0.0, "Looking for the floor")
    if len(mesh.faces) < 100:
        return ()
    faces = _Faces(middles_of(mesh), face_normals(mesh), face_areas(mesh))
    yield Step(0.3, "Looking for the floor")
    floor = _floor(faces)
    yield Step(0.4, "Looking for the tunnel")
    ridge = _ridge(faces, floor) if floor is not None else None
    if floor is None or ridge is None or not _floor_beside(faces, floor, ridge):
        return ()
    yield Step(0.5, "Looking for the tunnel")
    found = list(_flanks(faces, floor, ridge))
    taken = ridge.faces.copy()
    for _, mask, _ in found:
        taken |= mask
    height = floor.over(faces.middle)
    ground = ~taken & (height > -FLOOR_DOWN_MM) & (height < FLOOR_UP_MM) & (faces.normal[:, 2] > 0.2)
    top_mm = float(np.median(floor.over(faces.middle[ridge.faces])))
    yield Step(0.6, "Drawing round the areas")
    parts = [
        _area("floor", faces, ground, floor.frame(faces.middle[ground].mean(axis=0)),
              "The widest low level, on both sides of the tunnel.")
    ]  # fmt: skip
    parts += [
        _area("tunnel flank", faces, mask, _frame_on(faces, mask),
              f"The steep side that falls from the tunnel's top to the floor, on the {side}.")
        for side, mask, _ in found
    ]  # fmt: skip
    parts.append(
        _area("tunnel top", faces, ridge.faces, ridge.plane.frame(faces.middle[ridge.faces].mean(axis=0)),
              f"A ridge {ridge.length_mm:.0f} mm long near the centre plane, about {top_mm:.0f} mm over the floor.")
    )  # fmt: skip
    yield Step(0.8, "Looking for the dash")
    dash = _dash_underside(faces, floor, ridge)
    if dash is not None:
        wide = float(np.ptp(faces.middle[dash][:, 1]))
        parts.append(
            _area("dash", faces, dash, _frame_on(faces, dash),
                  f"A surface {wide:.0f} mm wide that looks down, over the front of the tunnel: the dash's underside.")
        )  # fmt: skip
    return tuple(parts)


def _floor(faces: _Faces) -> _Plane | None:
    """The lowest level with a good share of everything that faces up, with ground left and right."""
    up = faces.normal[:, 2] > 0.9
    if not up.any():
        return None
    z, weight = faces.middle[up, 2], faces.area[up]
    start, held = _heaped(z, weight, 10.0)
    held = held + np.concatenate([held[1:], [0.0]])
    first = int(np.flatnonzero(held >= 0.25 * held.max())[0])
    # Up to the top of that rise, not its first step.
    while first + 1 < len(held) and held[first + 1] > held[first]:
        first += 1
    plane = _Plane(start + 10.0 * (first + 1), 0.0, 0.0)
    for reach in (40.0, 20.0, 12.0):
        near = up & (np.abs(plane.over(faces.middle)) < reach)
        if np.count_nonzero(near) < 50:
            return None
        plane = _fitted(faces.middle[near], faces.area[near])
    near = up & (np.abs(plane.over(faces.middle)) < FLOOR_DOWN_MM)
    for side in (-1.0, 1.0):
        if faces.area[near & (side * faces.middle[:, 1] > 100.0)].sum() < _FLOOR_SIDE_MM2:
            return None
    return plane if np.hypot(plane.along, plane.aside) < 0.15 else None


def _heaped(values: Floats, weight: Floats, bin_mm: float) -> tuple[float, Floats]:
    """Weight in equal bins, and where the first begins; one empty bin at either end."""
    start = float(values.min()) - bin_mm
    bins = ((values - start) / bin_mm).astype(np.int64)
    held: Floats = np.bincount(bins, weights=weight, minlength=int(bins.max()) + 2).astype(np.float64)
    return start, held


def _fitted(at: Floats, weight: Floats) -> _Plane:
    root = np.sqrt(weight)
    system = np.column_stack([np.ones(len(at)), at[:, 0], at[:, 1]]) * root[:, None]
    level, along, aside = np.linalg.lstsq(system, at[:, 2] * root, rcond=None)[0]
    return _Plane(float(level), float(along), float(aside))


def _ridge(faces: _Faces, floor: _Plane) -> _Ridge | None:
    """The strip near the centre plane that most of the upward faces over the floor agree on."""
    height = floor.over(faces.middle)
    maybe = (faces.normal[:, 2] > 0.9) & (height > 60.0) & (height < LONGEST_LEVEL_MM)
    maybe &= np.abs(faces.middle[:, 1]) < 200.0
    if faces.area[maybe].sum() < LEAST_TUNNEL_MM * 40.0:
        return None
    at, weight = faces.middle[maybe], faces.area[maybe]
    plane = _strongest(at[:, 0], at[:, 2], weight, np.linspace(-0.2, 0.2, 41), 8.0)
    for reach in (12.0, 8.0):
        near = np.abs(plane.over(at)) < reach
        if np.count_nonzero(near) < 50:
            return None
        plane = _fitted(at[near], weight[near])
    on_top = maybe & (np.abs(plane.over(faces.middle)) < 8.0)
    line = _centre_line(faces.middle[on_top])
    if line is None:
        return None
    centre, drift, half, length = line
    off = faces.middle[:, 1] - centre - drift * faces.middle[:, 0]
    on_top &= np.abs(off) < half + 10.0
    good = length >= LEAST_TUNNEL_MM and 20.0 <= half <= 200.0 and abs(centre) < 150.0 and abs(drift) < 0.1
    return _Ridge(plane, centre, drift, half, on_top, length) if good else None


def _strongest(x: Floats, z: Floats, weight: Floats, slopes: Floats, bin_mm: float) -> _Plane:
    """The line z = level + slope x that holds most weight within a bin."""
    best = (-1.0, 0.0, 0.0)
    for slope in slopes:
        start, held = _heaped(z - slope * x, weight, bin_mm)
        k = int(held.argmax())
        if held[k] > best[0]:
            best = (float(held[k]), float(slope), start + (k + 0.5) * bin_mm)
    return _Plane(best[2], best[1], 0.0)


def _centre_line(at: Floats) -> tuple[float, float, float, float] | None:
    """Centre, drift, half width and length of a strip along x from the stations that it covers [mm]."""
    station = np.floor(at[:, 0] / STATION_MM).astype(int)
    rows = []
    for one in np.unique(station):
        y = at[station == one, 1]
        if len(y) >= 5:
            low, high = np.percentile(y, [3.0, 97.0])
            rows.append(((one + 0.5) * STATION_MM, (low + high) / 2.0, (high - low) / 2.0))
    if len(rows) < 5:
        return None
    x, middle, half = np.array(rows).T
    usual = float(np.median(half))
    # Stations hidden in part by what stands on the tunnel say nothing about its middle.
    whole = np.abs(half - usual) < 0.15 * usual + 5.0
    if np.count_nonzero(whole) < 4:
        return None
    drift, centre = np.polyfit(x[whole], middle[whole], 1)
    return float(centre), float(drift), usual, float(len(rows) * STATION_MM)


def _floor_beside(faces: _Faces, floor: _Plane, ridge: _Ridge) -> bool:
    """Whether the ridge stands between floors: ground on both sides at the same stations, 200 mm of them at least."""
    ground = (np.abs(floor.over(faces.middle)) < FLOOR_DOWN_MM) & (faces.normal[:, 2] > 0.9)
    station = np.floor(faces.middle[:, 0] / STATION_MM).astype(int)
    off = ridge.aside(faces.middle)
    shared = set(station[ridge.faces].tolist())
    for side in (-1.0, 1.0):
        beside = ground & (side * off > ridge.half_mm) & (side * off < ridge.half_mm + 350.0)
        shared &= set(station[beside].tolist())
    return len(shared) * STATION_MM >= 200.0


def _flanks(faces: _Faces, floor: _Plane, ridge: _Ridge) -> Iterator[tuple[str, Bools, float]]:
    """Left and right flank: side in words, faces, how far it runs out per mm down."""
    down = -ridge.plane.over(faces.middle)
    height = floor.over(faces.middle)
    for side, word in ((-1.0, "left"), (1.0, "right")):
        out = side * ridge.aside(faces.middle) - ridge.half_mm
        # A wall that leans outward from its foot is no flank, nor is one that looks at the tunnel.
        steep = (side * faces.normal[:, 1] > 0.45) & (down > 4.0) & (height > 4.0)
        steep &= (out > -20.0) & (out < 250.0)
        low = steep & (down > 30.0)
        if faces.area[low].sum() < 0.2 * LEAST_TUNNEL_MM * 30.0:
            continue
        run = _run_out(out[low] / down[low], faces.area[low])
        mask = steep & (np.abs(out - run * down) < 15.0)
        if faces.area[mask].sum() >= _PIECE_MM2:
            yield word, mask, run


def _run_out(ratio: Floats, weight: Floats) -> float:
    usual = (ratio > -0.2) & (ratio < 2.0)
    ratio, weight = ratio[usual], weight[usual]
    start, held = _heaped(ratio, weight, 0.025)
    near = np.abs(ratio - start - (int(held.argmax()) + 0.5) * 0.025) < 0.1
    return float(np.average(ratio[near], weights=weight[near]))


def _dash_underside(faces: _Faces, floor: _Plane, ridge: _Ridge) -> Bools | None:
    """The widest surface that looks down over the front half of the tunnel, on both sides of the centre plane."""
    x = faces.middle[:, 0]
    height = floor.over(faces.middle)
    ahead = x < float(np.median(x[ridge.faces]))
    maybe = ahead & (faces.normal[:, 2] < -0.6) & (height > 150.0) & (height < 700.0)
    maybe &= ridge.plane.over(faces.middle) > 40.0
    if faces.area[maybe].sum() < _DASH_MM2:
        return None
    at, weight = faces.middle[maybe], faces.area[maybe]
    plane = _strongest(at[:, 0], at[:, 2], weight, np.linspace(-0.6, 0.6, 61), 12.0)
    # It may hang a little lower on one side.
    for reach in (40.0, 25.0, 15.0):
        close = np.abs(plane.over(at)) < reach
        if np.count_nonzero(close) < 50:
            return None
        plane = _fitted(at[close], weight[close])
    near = maybe & (np.abs(plane.over(faces.middle)) < 15.0)
    y = faces.middle[near, 1]
    if faces.area[near].sum() < _DASH_MM2:
        return None
    low, high = np.percentile(y, [2.0, 98.0])
    return near if low < -150.0 and high > 150.0 and high - low >= 500.0 else None


def _area(kind: str, faces: _Faces, mask: Bools, frame: Pose, why: str) -> ProposedArea:
    """A proposal with its outlines: the footprint of its faces in the frame, as deep as the faces reach."""
    at = frame.inverse().apply(faces.middle[mask])
    low, high = (float(value) for value in np.percentile(at[:, 2], [0.5, 99.5]))
    shapes = tuple(
        AreaShape(prism=PrismShape(frame=frame, corners_mm=corners, deep_mm=(low - 2.0, high + 2.0)))
        for corners in _footprints(at[:, :2])
    )
    return ProposedArea(kind, mask, shapes, why)


def _footprints(at: Floats) -> Iterator[tuple[tuple[float, float], ...]]:
    """Outlines about the cells that points (N, 2) fall in, small gaps closed and crumbs left out."""
    first = np.floor(at.min(axis=0) / _CELL_MM).astype(np.int64)
    place = np.floor(at / _CELL_MM).astype(np.int64) - first
    wide = int(place[:, 1].max()) + 1
    filled = np.flatnonzero(np.bincount(place[:, 0] * wide + place[:, 1]))
    cells = (np.column_stack(np.divmod(filled, wide)) + first) * _CELL_MM
    held = shapely.union_all(
        shapely.box(cells[:, 0], cells[:, 1], cells[:, 0] + _CELL_MM, cells[:, 1] + _CELL_MM)
    )
    closed = held.buffer(1.5 * _CELL_MM, join_style="mitre").buffer(-1.5 * _CELL_MM, join_style="mitre")
    smooth = closed.buffer(-0.4 * _CELL_MM).buffer(0.2 * _CELL_MM).simplify(0.25 * _CELL_MM)
    pieces = smooth.geoms if isinstance(smooth, MultiPolygon) else [smooth]
    for piece in pieces:
        if isinstance(piece, Polygon) and piece.area >= _PIECE_MM2:
            ring = np.asarray(piece.exterior.coords)[:-1]
            yield tuple((float(x), float(y)) for x, y in ring)


def _frame_on(faces: _Faces, mask: Bools) -> Pose:
    """A frame on faces: z along their mean normal, x as far rearward as that allows."""
    normal = (faces.normal[mask] * faces.area[mask, None]).sum(axis=0)
    return _frame(normal / np.linalg.norm(normal), faces.middle[mask].mean(axis=0))


def _frame(up: NDArray[np.float64], at: Floats) -> Pose:
    along = np.array([1.0, 0.0, 0.0]) - up[0] * up
    along /= np.linalg.norm(along)
    matrix = np.eye(4)
    matrix[:3, :3] = np.column_stack([along, np.cross(up, along), up])
    matrix[:3, 3] = at
    return Pose.from_matrix(matrix)
