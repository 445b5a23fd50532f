"""A triangle mesh of the car's surface: surface nets on a sparse grid, every vertex then set on the surface.

Surface nets: one vertex a cell that the surface crosses, one quad a grid edge that it crosses, after S. F. F.
Gibson, "Constrained elastic surface nets", MICCAI 1998; without the relaxing, because the exact distance is known.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from floorpan.sample.blocks import CELLS, Blocks, Places
from floorpan.sample.shapes import Floats

Faces = NDArray[np.int32]

_ON_SURFACE_MM = 1e-9
_STEP_MM = 1e-4
_LEAST_AREA_MM2 = 0.1
# A point this many cells or less from where a second surface meets its own, at 20 degrees or more, goes there.
_VALLEY_CELLS = 0.6
_VALLEY_COSINE = 0.94


@dataclass(frozen=True, slots=True)
class Surface:
    """Points (N, 3) on the surface in mm, outward unit normals (N, 3), faces (M, 3) turned outward."""

    points: Floats
    normals: Floats
    faces: Faces


def surface_of(blocks: Blocks) -> Surface:
    """The car's surface inside the box that the blocks divide, open where the box cuts it."""
    nodes = _node_distances(blocks)
    points, quads = _nets(nodes, blocks)
    points, normals = _set_on_surface(points, blocks)
    in_valleys, bisecting = _set_in_valleys(points, normals, blocks)
    step = in_valleys - points
    step_mm = np.sqrt(np.sum(step * step, axis=1))
    touched = quads[(step_mm[quads] > 0.0).any(axis=1)]
    for _ in range(8):
        # Where two neighbours went to the same valley, the one that moved farther goes back.
        faces = _triangles(in_valleys, touched)
        folded = faces[turned_in(in_valleys, bisecting, faces)]
        back = np.take_along_axis(folded, step_mm[folded].argmax(axis=1)[:, None], axis=1)[:, 0]
        in_valleys[back], bisecting[back], step_mm[back] = points[back], normals[back], 0.0
    return Surface(in_valleys, bisecting, _triangles(in_valleys, quads))


def _node_distances(blocks: Blocks) -> Floats:
    """Signed distance at the grid's nodes near the surface, NaN elsewhere, shape (nodes along X, Y, Z)."""
    nodes = np.full([CELLS * n + 1 for n in blocks.shape], np.nan)
    crossed = np.abs(blocks.away_mm) <= blocks.reach_mm
    for solid, shape in enumerate(blocks.car.shapes):
        flat = np.flatnonzero(crossed & blocks.matters[solid])
        if len(flat) == 0:
            continue
        places = np.stack(np.unravel_index(flat, blocks.shape))
        first, last = places.min(axis=1), places.max(axis=1) + 1
        wanted = np.zeros(last - first, dtype=np.bool_)
        wanted[tuple(places - first[:, None])] = True
        for axis in range(3):
            wanted = _node_row(wanted, axis)
        at = np.stack(np.nonzero(wanted)) + CELLS * first[:, None]
        found = shape.distance((blocks.low_mm[:, None] + at * blocks.cell_mm).T)
        place = tuple(at)
        nodes[place] = np.fmin(nodes[place], found)
    return nodes


def _node_row(wanted: NDArray[np.bool_], axis: int) -> NDArray[np.bool_]:
    """From blocks to nodes along one axis: a node is wanted when a block it touches is."""
    repeated = np.repeat(wanted, CELLS, axis=axis)
    pad = [(0, 0)] * 3
    pad[axis] = (0, 1)
    before = [(0, 0)] * 3
    before[axis] = (1, 0)
    return np.pad(repeated, pad) | np.pad(repeated, before)


def _nets(nodes: Floats, blocks: Blocks) -> tuple[Floats, Places]:
    """One vertex for every crossed cell (N, 3) and one quad for every crossed edge (Q, 4), turned outward."""
    cells = np.array(nodes.shape) - 1
    owners, sums, quads = [], [], []
    for axis in range(3):
        here = np.moveaxis(nodes, axis, 0)
        start, end = here[:-1], here[1:]
        with np.errstate(invalid="ignore"):
            crossed = ((start < 0.0) & (end >= 0.0)) | ((start >= 0.0) & (end < 0.0))
        place = np.stack(np.nonzero(crossed))
        a, b = start[crossed], end[crossed]
        part = a / (a - b)
        node = np.empty_like(place)
        others = [k for k in range(3) if k != axis]
        node[axis], node[others[0]], node[others[1]] = place
        at = node.astype(np.float64)
        at[axis] += part
        around = []
        # The four cells round the edge, counter-clockwise as seen from its far end.
        first, second = (axis + 1) % 3, (axis + 2) % 3
        for back_first, back_second in ((0, 0), (1, 0), (1, 1), (0, 1)):
            cell = node.copy()
            cell[first] -= back_first
            cell[second] -= back_second
            within = np.all((cell >= 0) & (cell < cells[:, None]), axis=0)
            around.append(np.where(within, (cell[0] * cells[1] + cell[1]) * cells[2] + cell[2], -1))
        quad = np.stack(around, axis=1)
        for column in range(4):
            inside = quad[:, column] >= 0
            owners.append(quad[inside, column])
            sums.append(at[:, inside])
        outward = a < 0.0
        quad[~outward] = quad[~outward][:, ::-1]
        quads.append(quad[np.all(quad >= 0, axis=1)])
    owner, weight = np.concatenate(owners), np.concatenate(sums, axis=1)
    number = np.zeros(int(np.prod(cells)), dtype=np.int64)
    number[owner] = 1
    owned = np.flatnonzero(number)
    number[owned] = np.arange(len(owned))
    member = number[owner]
    count = np.bincount(member)
    middle = np.stack([np.bincount(member, weights=row) / count for row in weight], axis=1)
    return blocks.low_mm + middle * blocks.cell_mm, number[np.concatenate(quads)]


def _set_on_surface(points: Floats, blocks: Blocks) -> tuple[Floats, Floats]:
    """Newton steps along the distance's gradient until every point (N, 3) lies on the surface; with normals.

    Where two solids meet in a valley a step out of one may land in the other; a few steps settle it.
    """
    points = points.copy()
    normals = np.zeros_like(points)
    left = np.arange(len(points))
    for _ in range(60):
        distance, which = blocks.near(points[left], blocks.holding(points[left]))
        gradient = outward(points[left], which, blocks)
        normals[left] = gradient
        off = np.abs(distance) > _ON_SURFACE_MM
        points[left[off]] -= distance[off, None] * gradient[off]
        left = left[off]
        if len(left) == 0:
            break
    return points, normals


def _set_in_valleys(points: Floats, normals: Floats, blocks: Blocks) -> tuple[Floats, Floats]:
    """Points near a valley between two solids set on both of them, so that the valley runs clean."""
    which = blocks.near(points, blocks.holding(points))[1]
    off, other = blocks.near(points, blocks.holding(points), which)
    at = np.flatnonzero(np.abs(off) <= _VALLEY_CELLS * blocks.cell_mm)
    one, two = which[at], other[at]
    moved = points[at]
    for _ in range(8):
        first, second = outward(moved, one, blocks), outward(moved, two, blocks)
        cosine = np.sum(first * second, axis=1)
        steep = np.abs(cosine) < _VALLEY_COSINE
        at, one, two, moved = at[steep], one[steep], two[steep], moved[steep]
        first, second, cosine = first[steep], second[steep], cosine[steep]
        away, beside = distance_to(moved, one, blocks), distance_to(moved, two, blocks)
        square = 1.0 - cosine * cosine
        moved = moved - ((away - cosine * beside) / square)[:, None] * first
        moved = moved - ((beside - cosine * away) / square)[:, None] * second
    step = moved - points[at]
    settled = np.sqrt(np.sum(step * step, axis=1)) < _VALLEY_CELLS * blocks.cell_mm
    settled &= np.abs(blocks.near(moved, blocks.holding(moved))[0]) < _ON_SURFACE_MM
    points, normals = points.copy(), normals.copy()
    points[at[settled]] = moved[settled]
    between = (first + second)[settled]
    normals[at[settled]] = between / np.sqrt(np.sum(between * between, axis=1))[:, None]
    return points, normals


def distance_to(points: Floats, which: Places, blocks: Blocks) -> Floats:
    """Signed distance (N,) of each point to the solid given for it."""
    distance = np.empty(len(points))
    for solid in np.unique(which):
        members = np.flatnonzero(which == solid)
        distance[members] = blocks.car.shapes[solid].distance(points[members])
    return distance


def outward(points: Floats, which: Places, blocks: Blocks) -> Floats:
    """Unit gradient (N, 3) of the distance to the solid given for each point, by central differences."""
    gradient = np.zeros_like(points)
    for solid in np.unique(which):
        members = np.flatnonzero(which == solid)
        shape = blocks.car.shapes[solid]
        for k in range(3):
            ahead, behind = points[members].copy(), points[members].copy()
            ahead[:, k] += _STEP_MM
            behind[:, k] -= _STEP_MM
            gradient[members, k] = shape.distance(ahead) - shape.distance(behind)
    length = np.sqrt(gradient[:, 0] ** 2 + gradient[:, 1] ** 2 + gradient[:, 2] ** 2)
    return np.asarray(gradient / np.maximum(length, 1e-30)[:, None])


def _triangles(points: Floats, quads: Places) -> Faces:
    """Quads (Q, 4) split along their shorter diagonal."""
    a, b, c, d = (points[quads[:, k]] for k in range(4))
    one, other = a - c, b - d
    short = np.sum(one * one, axis=1) <= np.sum(other * other, axis=1)
    first = np.where(short[:, None], quads[:, [0, 1, 2]], quads[:, [0, 1, 3]])
    second = np.where(short[:, None], quads[:, [0, 2, 3]], quads[:, [1, 2, 3]])
    return np.stack((first, second), axis=1).reshape(-1, 3).astype(np.int32)


def turned_in(points: Floats, normals: Floats, faces: Faces) -> NDArray[np.bool_]:
    """Which faces (M, 3) look away from the normals of all their points, or have next to no area."""
    area = cross(points, faces)
    facing = [np.sum(area * normals[faces[:, k]], axis=1) for k in range(3)]
    return np.asarray(np.maximum(np.maximum(facing[0], facing[1]), facing[2]) < _LEAST_AREA_MM2)


def cross(points: Floats, faces: NDArray[np.integer]) -> Floats:
    """Twice the area vector (M, 3) of faces (M, 3)."""
    a = points[faces[:, 1]] - points[faces[:, 0]]
    b = points[faces[:, 2]] - points[faces[:, 0]]
    return np.stack(
        (
            a[:, 1] * b[:, 2] - a[:, 2] * b[:, 1],
            a[:, 2] * b[:, 0] - a[:, 0] * b[:, 2],
            a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0],
        ),
        axis=1,
    )
