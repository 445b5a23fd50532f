"""What a scan did not see: the holes of its islands, patched and marked, and their outer rims."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from floorpan.geometry.edges import Edges, boundary_loops, edges, islands
from floorpan.geometry.fit import fit_plane
from floorpan.geometry.mesh import Floats, Ints, Mesh
from floorpan.geometry.polygons import cut_polygon

# A loop whose area is less than this share of its span squared is a crack without width, not a hole.
_CRACK = 1e-9
# Loops with more points than this have their span taken from this many of them.
_SPAN_POINTS = 1500


@dataclass(frozen=True, slots=True, eq=False)
class Hole:
    """A loop of open edges inside an island.

    loop    : (K,) point numbers, scanned faces on the left
    line    : (K, 3) its points [mm]
    area_mm2, longest_mm : area of the patch, greatest distance between two of its points
    bow_mm  : how far the loop leaves its best-fit plane, at most
    clean   : whether the patch could be cut without crossing itself
    """

    loop: Ints
    line: Floats
    area_mm2: float
    longest_mm: float
    bow_mm: float
    clean: bool


@dataclass(frozen=True, slots=True, eq=False)
class Unseen:
    """The unseen of a scan. Patches are marks: never exported, never measured to as metal.

    patches : flat patches over all holes, facing as the surface around them
    patch_of_face : (M,) which hole each patch face belongs to
    holes   : largest first
    rim_loops : point numbers of the outer rim of each island
    rims    : (R, 2, 3) the edges of all rims as segments [mm]
    """

    patches: Mesh
    patch_of_face: Ints
    holes: tuple[Hole, ...]
    rim_loops: tuple[Ints, ...]
    rims: Floats


def unseen_patches(mesh: Mesh, found: Edges | None = None) -> Unseen:
    """Holes and rims of a welded mesh [mm].

    The loop of greatest extent of each island is its outer rim; every other loop is a hole. An island that is a tube
    thus has one of its ends for a rim and the other patched.
    """
    loops = boundary_loops(mesh, (found or edges(mesh)).open_pairs)
    rims, inner = _sorted_out(mesh, loops)
    holes = [_hole(mesh, loop) for loop in inner]
    holes = [one for one in holes if one[0].area_mm2 > _CRACK * one[0].longest_mm ** 2]
    order = sorted(range(len(holes)), key=lambda k: -holes[k][0].area_mm2)
    points: list[Floats] = []
    faces: list[NDArray[np.int64]] = []
    owner: list[int] = []
    base = 0
    for number, k in enumerate(order):
        _, corner, cut = holes[k]
        points.append(corner)
        faces.append(cut.astype(np.int64) + base)
        owner += [number] * len(cut)
        base += len(corner)
    patches = Mesh(
        np.vstack(points) if points else np.zeros((0, 3)),
        (np.vstack(faces) if faces else np.zeros((0, 3))).astype(np.int32),
    )
    return Unseen(
        patches=patches,
        patch_of_face=np.array(owner, dtype=np.int32),
        holes=tuple(holes[k][0] for k in order),
        rim_loops=tuple(rims),
        rims=_segments(mesh, rims),
    )


def _sorted_out(mesh: Mesh, loops: tuple[Ints, ...]) -> tuple[list[Ints], list[Ints]]:
    """Rims, one an island at most, and the other loops."""
    island_of_point = np.zeros(len(mesh.points), dtype=np.int32)
    island_of_point[mesh.faces.ravel()] = np.repeat(islands(mesh), 3)
    longest: dict[int, tuple[float, int]] = {}
    for number, loop in enumerate(loops):
        extent = float(np.linalg.norm(np.ptp(mesh.points[loop], axis=0)))
        island = int(island_of_point[loop[0]])
        if island not in longest or extent > longest[island][0]:
            longest[island] = extent, number
    outer = {number for _, number in longest.values()}
    rims = [loop for number, loop in enumerate(loops) if number in outer]
    return rims, [loop for number, loop in enumerate(loops) if number not in outer]


def _hole(mesh: Mesh, loop: Ints) -> tuple[Hole, Floats, Ints]:
    """A hole with the points and faces of its patch, which runs the other way round than the faces beside it."""
    line = mesh.points[loop][::-1]
    cut, clean = cut_polygon(line)
    corner = line
    if not clean:
        corner = np.vstack([line, line.mean(axis=0)])
        here = np.arange(len(line), dtype=np.int32)
        cut = np.column_stack(
            [here, np.roll(here, -1), np.full(len(line), len(line), dtype=np.int32)]
        ).astype(np.int32)
    sides = corner[cut]
    area = np.linalg.norm(np.cross(sides[:, 1] - sides[:, 0], sides[:, 2] - sides[:, 0]), axis=1).sum() / 2.0
    hole = Hole(
        loop=loop,
        line=mesh.points[loop],
        area_mm2=float(area),
        longest_mm=longest_span(line),
        bow_mm=float(np.abs(fit_plane(line).residual_mm).max()),
        clean=clean,
    )
    return hole, corner, cut


def longest_span(points: Floats) -> float:
    """Greatest distance between two points (K, 3) [mm]; of very long loops, between points a few steps apart."""
    step = -(-len(points) // _SPAN_POINTS)
    few = points[::step]
    best = 0.0
    for start in range(0, len(few), 256):
        way = few[start : start + 256, None, :] - few[None, :, :]
        best = max(best, float(np.einsum("ijk,ijk->ij", way, way).max()))
    return math.sqrt(best)


def _segments(mesh: Mesh, loops: list[Ints]) -> Floats:
    if not loops:
        return np.zeros((0, 2, 3))
    pairs = np.vstack([np.column_stack([loop, np.roll(loop, -1)]) for loop in loops])
    segments: Floats = mesh.points[pairs]
    return segments
