"""The upper side of everything within a thickness of a floor: carpet as a height field, exact in every column.

The set of points within t of a triangle is the triangle moved along its normal, a cylinder about each side and a
ball about each corner. The greatest height of all of these over a place is the height of the covered floor there,
for any mesh: no sampling, no step along averaged normals. Between columns heights are joined straight.

Only sides that stand out (and open ones) need their cylinder: at a side that two faces facing up fold into a valley,
a point at distance t is nearer than t to one of the two. So with corners that only have such sides around them.
"""

import math
from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from floorpan.geometry.heights import HeightGrid
from floorpan.geometry.mesh import Floats, Mesh
from floorpan.geometry.normals import face_normals
from floorpan.progress import Step, Work

Bools = NDArray[np.bool_]
Longs = NDArray[np.int64]

_PAIRS_AT_ONCE = 1_000_000
_FACES_AT_ONCE = 200_000


def offset_heights(
    mesh: Mesh,
    thick_mm: Floats,
    low_mm: Floats,
    high_mm: Floats,
    cell_mm: float,
    *,
    beyond: bool = False,
) -> Work[HeightGrid]:
    """Heights of a floor with a cover, at the middles of square cells between two xy corners (2,) [mm].

    thick_mm : (M,) thickness of the cover on each face, square to it; 0 where there is none
    beyond   : whether columns beside the floor, which the cover's rounded border still reaches, are answered too

    A thicker cover ends in a quarter round over a thinner neighbour. Undercuts keep the top.
    """
    yield Step(0.0, "Laying carpet: the bare floor")
    bare = HeightGrid.over(mesh, low_mm, high_mm, cell_mm)
    field = _Field(bare)
    covered = thick_mm > 0.0
    normal = face_normals(mesh)
    normal = np.where(normal[:, 2:] < 0.0, -normal, normal)
    soup = mesh.points[mesh.faces[covered]] + (thick_mm[covered, None] * normal[covered])[:, None, :]
    for start in range(0, len(soup), _FACES_AT_ONCE):
        part = soup[start : start + _FACES_AT_ONCE]
        sheet = Mesh(part.reshape(-1, 3), np.arange(3 * len(part), dtype=np.int32).reshape(-1, 3))
        field.raise_to(HeightGrid.over(sheet, low_mm, high_mm, cell_mm).z)
    yield Step(0.2, "Laying carpet: over folds")
    pairs, thick = _standing_out(mesh, thick_mm, normal)
    ball = np.zeros(len(mesh.points))
    np.maximum.at(ball, pairs.ravel(), np.repeat(thick, 2))
    corners = np.flatnonzero(ball)
    for done in field.balls(mesh.points[corners], ball[corners]):
        yield Step(0.2 + 0.2 * done, "Laying carpet: over corners")
    for done in field.rods(mesh.points[pairs[:, 0]], mesh.points[pairs[:, 1]], thick):
        yield Step(0.4 + 0.6 * done, "Laying carpet: over folds")
    z = field.z if beyond else np.where(np.isnan(bare.z), np.nan, field.z)
    return HeightGrid(bare.low_mm, cell_mm, z)


def offset_profile(
    mesh: Mesh, thick_mm: Floats, start_mm: Floats, end_mm: Floats, step_mm: float
) -> Work[Floats]:
    """Heights (N, 3) of a covered floor along an upright section between two xy places (2,), every step_mm [mm].

    thick_mm : (M,) thickness of the cover on each face, square to it. Exact at every point, also where the floor
    slopes across the section; NaN height where there is no floor.
    """
    start, way = np.asarray(start_mm, dtype=np.float64)[:2], np.subtract(end_mm, start_mm)[:2]
    length = float(np.hypot(*way))
    count = max(math.ceil(length / step_mm), 1)
    step = length / count
    turn = np.eye(4)
    turn[:2, :2] = np.array([[way[0], way[1]], [-way[1], way[0]]]) / length
    turn[:2, 3] = -turn[:2, :2] @ start
    # What is farther off the section than its cover is thick cannot be met.
    aside = (mesh.points @ turn[:3, :3].T + turn[:3, 3])[:, 1][mesh.faces]
    near = (aside.min(axis=1) <= thick_mm) & (aside.max(axis=1) >= -thick_mm)
    laid = mesh.moved(turn).kept(near)
    low, high = np.array([-step / 2, -step / 2]), np.array([length + step / 2, step / 2])
    grid = yield from offset_heights(laid, thick_mm[near], low, high, step)
    along = np.linspace(0.0, 1.0, count + 1)[:, None]
    profile: Floats = np.column_stack([start + along * way, grid.z[:, 0]])
    return profile


def sheet_of(grid: HeightGrid) -> Mesh:
    """A height field as triangles facing up, its corners at the cells' middles; open where a height is missing."""
    x, y = grid.centres()
    known = np.isfinite(grid.z)
    number = np.cumsum(known.ravel()).reshape(known.shape) - 1
    points = np.column_stack([x[known], y[known], grid.z[known]])
    a, b, c, d = number[:-1, :-1], number[1:, :-1], number[1:, 1:], number[:-1, 1:]
    whole = known[:-1, :-1] & known[1:, :-1] & known[1:, 1:] & known[:-1, 1:]
    z = grid.z
    # Along the diagonal that bends less, so that ridges and borders stay whole.
    other = np.abs(z[:-1, :-1] - z[1:, 1:]) > np.abs(z[1:, :-1] - z[:-1, 1:])
    faces = [
        np.stack(corner, axis=-1)[mask]
        for corner, mask in (
            ((a, b, c), whole & ~other),
            ((a, c, d), whole & ~other),
            ((a, b, d), whole & other),
            ((b, c, d), whole & other),
        )
    ]
    return Mesh(points, np.concatenate(faces).astype(np.int32).reshape(-1, 3))


class _Field:
    """Heights that only ever rise."""

    def __init__(self, grid: HeightGrid) -> None:
        self.low, self.cell = grid.low_mm, grid.cell_mm
        self.shape: tuple[int, int] = (grid.z.shape[0], grid.z.shape[1])
        self._z = np.where(np.isnan(grid.z), -np.inf, grid.z).ravel()

    @property
    def z(self) -> Floats:
        """The heights (NX, NY), NaN where nothing is."""
        z: Floats = np.where(np.isfinite(self._z), self._z, np.nan).reshape(self.shape)
        return z

    def raise_to(self, z: Floats) -> None:
        """No column lower than these heights (NX, NY)."""
        self._z = np.fmax(self._z, z.ravel())

    def balls(self, centre: Floats, radius: Floats) -> Iterator[float]:
        """The tops of balls; tells how far it is."""
        for done, owner, cell, at in self._pairs(centre[:, :2], centre[:, :2], radius):
            across = at - centre[owner, :2]
            left = radius[owner] ** 2 - np.einsum("ij,ij->i", across, across)
            met = left >= 0.0
            z = centre[owner[met], 2] + np.sqrt(left[met])
            np.maximum.at(self._z, cell[met], z)
            yield done

    def rods(self, start: Floats, end: Floats, radius: Floats) -> Iterator[float]:
        """The tops of cylinders without ends; tells how far it is."""
        way = end - start
        length = np.linalg.norm(way, axis=1)
        unit = way / np.where(length > 0.0, length, 1.0)[:, None]
        for done, owner, cell, at in self._pairs(start[:, :2], end[:, :2], radius):
            across, axis = at - start[owner, :2], unit[owner]
            along = np.einsum("ij,ij->i", across, axis[:, :2])
            # Height w over the start where |(across, w)|^2 less its square along the axis is the radius squared.
            flat = 1.0 - axis[:, 2] ** 2
            half = axis[:, 2] * along
            rest = np.einsum("ij,ij->i", across, across) - along**2 - radius[owner] ** 2
            under = half**2 - flat * rest
            met = (under >= 0.0) & (flat > 1e-12)
            owner, cell, along, axis = owner[met], cell[met], along[met], axis[met]
            up = (half[met] + np.sqrt(under[met])) / flat[met]
            foot = along + up * axis[:, 2]
            between = (foot >= 0.0) & (foot <= length[owner])
            np.maximum.at(self._z, cell[between], start[owner[between], 2] + up[between])
            yield done

    def _pairs(
        self, one: Floats, two: Floats, radius: Floats
    ) -> Iterator[tuple[float, Longs, Longs, Floats]]:
        """Columns (flat number and place) that may lie within a radius of each xy segment, in portions."""
        low = np.minimum(one, two) - radius[:, None]
        high = np.maximum(one, two) + radius[:, None]
        first = np.ceil((low - self.low) / self.cell - 0.5).astype(np.int64)
        last = np.floor((high - self.low) / self.cell - 0.5).astype(np.int64)
        first, last = np.maximum(first, 0), np.minimum(last, np.array(self.shape) - 1)
        wide = np.maximum(last - first + 1, 0)
        count = wide[:, 0] * wide[:, 1]
        total = np.cumsum(count)
        begin = 0
        while begin < len(count):
            before = total[begin - 1] if begin else 0
            end = max(int(np.searchsorted(total, before + _PAIRS_AT_ONCE)), begin + 1)
            size = count[begin:end]
            owner = np.repeat(np.arange(begin, end), size)
            step = np.arange(len(owner)) - np.repeat(np.cumsum(size) - size, size)
            along, aside = np.divmod(step, np.maximum(wide[owner, 1], 1))
            i, j = first[owner, 0] + along, first[owner, 1] + aside
            at = np.column_stack([self.low[0] + (i + 0.5) * self.cell, self.low[1] + (j + 0.5) * self.cell])
            yield end / len(count), owner, i * self.shape[1] + j, at
            begin = end


def _standing_out(mesh: Mesh, thick_mm: Floats, normal: Floats) -> tuple[Longs, Floats]:
    """Sides (E, 2) that need a cylinder, with the thickness about each: the greater of its faces'."""
    faces = mesh.faces.astype(np.int64)
    start, end = faces.ravel(), np.roll(faces, -1, axis=1).ravel()
    opposite = np.roll(faces, -2, axis=1).ravel()
    key = np.minimum(start, end) << 32 | np.maximum(start, end)
    order = np.argsort(key, kind="stable")
    key, opposite, owner = key[order], opposite[order], order // 3
    head = np.flatnonzero(np.concatenate([[True], key[1:] != key[:-1]])) if len(key) else np.zeros(0, int)
    uses = np.diff(np.append(head, len(key)))
    thick = np.maximum.reduceat(thick_mm[owner], head) if len(head) else np.zeros(0)
    keep = np.ones(len(head), dtype=bool)
    two = np.flatnonzero(uses == 2)
    one, other = owner[head[two]], owner[head[two] + 1]
    anywhere = mesh.points[key[head[two]] >> 32]
    rise = np.einsum("ij,ij->i", mesh.points[opposite[head[two] + 1]] - anywhere, normal[one])
    same = thick_mm[one] == thick_mm[other]
    facing = (normal[one, 2] > 0.0) & (normal[other, 2] > 0.0)
    keep[two] = ~((rise >= 0.0) & same & facing)
    # Sides along which a sheet is folded back under itself are no valley, though both faces are turned up here.
    keep[two] |= _folded(mesh, opposite[head[two]], opposite[head[two] + 1], key[head[two]])
    keep &= thick > 0.0
    kept = key[head[keep]]
    return np.column_stack([kept >> 32, kept & 0xFFFFFFFF]), thick[keep]


def _folded(mesh: Mesh, one: Longs, other: Longs, key: Longs) -> Bools:
    """Whether, seen from above, both opposite corners lie on the same side of a side."""
    a, b = mesh.points[key >> 32, :2], mesh.points[key & 0xFFFFFFFF, :2]
    way = b - a

    def side(at: Longs) -> Floats:
        off = mesh.points[at, :2] - a
        across: Floats = way[:, 0] * off[:, 1] - way[:, 1] * off[:, 0]
        return across

    folded: Bools = side(one) * side(other) >= 0.0
    return folded
