"""Small openings closed from their corners inward, ear by ear, the smallest first; wide ones stay open.

An ear is a corner of a loop cut off by the line between its two neighbours. It is taken where it turns into the
opening, holds no other point of the loop, joins no two points that a face joins already, and its circle is no wider
than allowed.
"""

import heapq
import math
from collections.abc import Sequence

import numpy as np
from scipy.spatial import cKDTree

from floorpan.geometry.edges import boundary_loops, edges
from floorpan.geometry.mesh import Floats, Ints, Mesh
from floorpan.geometry.point_neighbours import smooth_normals
from floorpan.progress import Step, Work

# An ear that stands steeper than this to the sheet beside it would fold back.
_LEAST_COSINE = 0.05
_FEW = 24
_TELL_EVERY = 2_000

Place = list[float]


def closed(mesh: Mesh, normals: Floats, widest_mm: Floats) -> Work[tuple[Mesh, Ints]]:
    """A mesh whose faces agree, its narrow openings closed with faces of its own points, which come last.

    The second result are openings (S, 3) of three points, on their left, that no face of sound shape fits into.

    normals   : (N, 3) unit normals of the sheet at each point, even where faces are rough; either way round
    widest_mm : (N,) how wide the circle round an ear may be at each point [mm]
    """
    yield Step(0.0, "Closing narrow gaps")
    found = edges(mesh)
    loops = boundary_loops(mesh, found.open_pairs)
    outward = np.einsum("ij,ij->i", normals, smooth_normals(mesh)) >= 0.0
    normals = np.where(outward[:, None], normals, -normals)
    rim = np.zeros(len(mesh.points), dtype=bool)
    rim[found.open_pairs] = True
    between = found.pairs[rim[found.pairs].all(axis=1)]
    taken = set(map(tuple, between.tolist()))
    added: list[tuple[int, int, int]] = []
    slits: list[list[int]] = []
    for number, loop in enumerate(loops):
        if number % _TELL_EVERY == 0:
            yield Step(number / len(loops), "Closing narrow gaps")
        # Backwards, so that the opening lies on the left.
        inward = loop[::-1]
        opening = _Opening(mesh.points, normals, widest_mm, inward, taken)
        added += opening.close()
        if opening.left == 3:
            slits.append(opening.still_open())
    faces = np.vstack([mesh.faces, np.array(added, dtype=np.int32).reshape(-1, 3)])
    return Mesh(mesh.points, faces), np.array(slits, dtype=np.int32).reshape(-1, 3)


def circle_width(points: Floats, faces: Ints) -> Floats:
    """Widths (M,) of the circles round faces [mm]; infinite for one without area."""
    corner = points[faces]
    side = [corner[:, (k + 1) % 3] - corner[:, k] for k in range(3)]
    around = np.prod([np.linalg.norm(one, axis=1) for one in side], axis=0)
    twice_area = np.linalg.norm(np.cross(side[0], side[1]), axis=1)
    width: Floats = np.where(twice_area > 0.0, around, np.inf) / np.where(twice_area > 0.0, twice_area, 1.0)
    return width


class _Opening:
    """One loop of open edges, opening on the left, on its way to being closed."""

    def __init__(
        self, points: Floats, normals: Floats, widest: Floats, loop: Ints, taken: set[tuple[int, ...]]
    ) -> None:
        count = len(loop)
        self.number: list[int] = loop.tolist()
        self.at: list[Place] = points[loop].tolist()
        self.up: list[Place] = normals[loop].tolist()
        self.widest: list[float] = widest[loop].tolist()
        self.after = [(k + 1) % count for k in range(count)]
        self.before = [k - 1 if k else count - 1 for k in range(count)]
        self.left = count
        self.gone = [False] * count
        self.taken = taken
        self.tree = cKDTree(points[loop]) if count > _FEW else None
        self.version = [0] * count

    def close(self) -> list[tuple[int, int, int]]:
        """The faces that close it as far as may be."""
        waiting: list[tuple[float, int, int]] = []
        for tip in range(len(self.number)):
            self._offer(waiting, tip)
        faces: list[tuple[int, int, int]] = []
        while waiting and self.left > 2:
            _, tip, version = heapq.heappop(waiting)
            if self.gone[tip] or version != self.version[tip] or not self._free(tip):
                continue
            one, two = self.before[tip], self.after[tip]
            faces.append((self.number[one], self.number[tip], self.number[two]))
            if self.left == 3:
                self.left = 0
                break
            self.taken.add(self._line(one, two))
            self.gone[tip] = True
            self.left -= 1
            self.after[one], self.before[two] = two, one
            for near in (one, two):
                self.version[near] += 1
                self._offer(waiting, near)
        return faces

    def still_open(self) -> list[int]:
        """What is left of the loop, point by point."""
        return [number for number, gone in zip(self.number, self.gone, strict=True) if not gone]

    def _offer(self, waiting: list[tuple[float, int, int]], tip: int) -> None:
        one, two = self.before[tip], self.after[tip]
        a, b, c = self.at[one], self.at[tip], self.at[two]
        cross = _cross(_way(a, b), _way(b, c))
        twice_area = math.sqrt(_dot(cross, cross))
        if twice_area <= 0.0:
            return
        width = math.dist(a, b) * math.dist(b, c) * math.dist(c, a) / twice_area
        if width > min(self.widest[one], self.widest[tip], self.widest[two]):
            return
        if all(_dot(cross, self.up[k]) > _LEAST_COSINE * twice_area for k in (one, tip, two)):
            heapq.heappush(waiting, (width, tip, self.version[tip]))

    def _free(self, tip: int) -> bool:
        """Whether an ear joins no two points that are joined already, and holds no other point of the loop."""
        one, two = self.before[tip], self.after[tip]
        if self.left > 3 and self._line(one, two) in self.taken:
            return False
        a, b, c = self.at[one], self.at[tip], self.at[two]
        up = self.up[tip]
        own = {self.number[k] for k in (one, tip, two)}
        for other in self._beside(a, b, c):
            if self.gone[other] or self.number[other] in own:
                continue
            q = self.at[other]
            if all(_dot(_cross(_way(p, r), _way(p, q)), up) >= 0.0 for p, r in ((a, b), (b, c), (c, a))):
                return False
        return True

    def _beside(self, a: Place, b: Place, c: Place) -> Sequence[int]:
        if self.tree is None:
            return range(len(self.number))
        middle = [(a[k] + b[k] + c[k]) / 3.0 for k in range(3)]
        found: list[int] = self.tree.query_ball_point(middle, max(math.dist(middle, p) for p in (a, b, c)))
        return found

    def _line(self, one: int, two: int) -> tuple[int, ...]:
        first, second = self.number[one], self.number[two]
        return (first, second) if first < second else (second, first)


def _way(a: Place, b: Place) -> Place:
    return [b[0] - a[0], b[1] - a[1], b[2] - a[2]]


def _dot(a: Place, b: Place) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _cross(a: Place, b: Place) -> Place:
    return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
