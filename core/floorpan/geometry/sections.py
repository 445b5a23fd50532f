"""Plane sections of a mesh as polylines; the mesh may be open."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from floorpan.geometry.mesh import Floats, Mesh

Longs = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class Polyline:
    """Points (K, 3) [mm] in order; closed: the last joins the first, which is not repeated."""

    points: Floats
    closed: bool

    @property
    def length_mm(self) -> float:
        """Length [mm]."""
        ends = np.vstack([self.points, self.points[:1]]) if self.closed else self.points
        return float(np.linalg.norm(np.diff(ends, axis=0), axis=1).sum())


def section(mesh: Mesh, at_mm: Floats, normal: Floats) -> tuple[Polyline, ...]:
    """Where a plane cuts a mesh, longest first.

    A point that lies in the plane counts as above it, so every face is cut in one segment or none and the pieces
    join; a face that lies in the plane is not drawn.
    """
    normal = np.asarray(normal, dtype=np.float64)
    height = (mesh.points - np.asarray(at_mm, dtype=np.float64)) @ (normal / np.linalg.norm(normal))
    above = height >= 0.0
    faces = mesh.faces
    count = above[faces[:, 0]].astype(np.int8) + above[faces[:, 1]] + above[faces[:, 2]]
    cut = faces[(count == 1) | (count == 2)].astype(np.int64)
    if not len(cut):
        return ()
    side = above[cut]
    lone = np.where(side.sum(axis=1) == 1, side.argmax(axis=1), (~side).argmax(axis=1))
    row = np.arange(len(cut))
    tip, one, two = cut[row, lone], cut[row, (lone + 1) % 3], cut[row, (lone + 2) % 3]
    edge = np.concatenate([np.column_stack([tip, one]), np.column_stack([tip, two])])
    unique, number = np.unique(np.sort(edge, axis=1), axis=0, return_inverse=True)
    p, q = height[unique[:, 0]], height[unique[:, 1]]
    share = (p / (p - q))[:, None]
    points = mesh.points[unique[:, 0]] * (1.0 - share) + mesh.points[unique[:, 1]] * share
    ends = number.reshape(2, -1).T
    lines = [_made(points, chain, closed) for chain, closed in chains(ends)]
    return tuple(sorted((line for line in lines if len(line.points) > 1), key=lambda line: -line.length_mm))


def _made(points: Floats, chain: list[int], closed: bool) -> Polyline:
    """Without repeated places: a cut through a corner gives the same place once for every face around it."""
    line = points[chain]
    keep = np.concatenate([[True], (np.abs(np.diff(line, axis=0)) > 0.0).any(axis=1)])
    line = line[keep]
    if closed and len(line) > 1 and bool((line[0] == line[-1]).all()):
        line = line[:-1]
    return Polyline(line, closed and len(line) > 2)


def chains(ends: Longs) -> list[tuple[list[int], bool]]:
    """Segments (S, 2) of numbered ends joined into open and closed chains; where three meet, chains part."""
    at: dict[int, list[int]] = {}
    pairs: list[list[int]] = ends.tolist()
    for place, pair in enumerate(pairs):
        for end in pair:
            at.setdefault(end, []).append(place)
    left = [True] * len(pairs)
    found: list[tuple[list[int], bool]] = []
    # Loose ends first, so that no open chain is started in its middle.
    starts = [end for end, held in at.items() if len(held) != 2] + [
        end for end, held in at.items() if len(held) == 2
    ]
    for start in starts:
        for first in at[start]:
            if not left[first]:
                continue
            chain = [start]
            number: int | None = first
            while number is not None:
                left[number] = False
                one, two = pairs[number]
                chain.append(two if one == chain[-1] else one)
                onward = at[chain[-1]]
                number = next((n for n in onward if left[n]), None) if len(onward) == 2 else None
            closed = len(chain) > 3 and chain[0] == chain[-1]
            found.append((chain[:-1] if closed else chain, closed))
    return found
