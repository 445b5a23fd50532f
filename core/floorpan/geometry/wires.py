"""A convex hull as rounded segments: its edges, and lines over its faces close enough that nothing slips between."""

import math

import numpy as np

from floorpan.frames import Floats
from floorpan.geometry.solids import Body, Solid


def wires(body: Body, spacing_mm: float) -> tuple[Floats, Floats, Floats]:
    """Ends (K, 3), other ends (K, 3) and radii (K,) of segments that stand for a body's skin [mm].

    No point of the skin is farther than spacing_mm / 2 from a segment, so a ball of radius r that keeps off the
    segments and their radii dips into the body by r - sqrt(r**2 - spacing_mm**2 / 4) at most.
    """
    found = [_of_solid(solid, spacing_mm) for solid in body]
    if not found:
        return np.zeros((0, 3)), np.zeros((0, 3)), np.zeros(0)
    starts, ends, radii = (np.concatenate(parts) for parts in zip(*found, strict=True))
    return starts, ends, radii


def _of_solid(solid: Solid, spacing: float) -> tuple[Floats, Floats, Floats]:
    skin = solid.hull.skin()
    # The hull's own corners are the skin's; standing in the car they are the solid's.
    corners = solid.pose.apply(np.asarray(skin.points, dtype=float))
    lines = [line for face in skin.faces for line in _over_face(corners[face], spacing)]
    ends = np.unique(np.round(np.array(lines), 6).reshape(-1, 6), axis=0).reshape(-1, 2, 3)
    return ends[:, 0], ends[:, 1], np.full(len(ends), solid.hull.radius_mm)


def _over_face(corners: Floats, spacing: float) -> list[tuple[Floats, Floats]]:
    """The three edges of a triangle, and lines along its longest edge, spacing apart at most."""
    sides = np.linalg.norm(corners - np.roll(corners, -1, axis=0), axis=1)
    longest = int(np.argmax(sides))
    a, b, c = np.roll(corners, -longest, axis=0)
    lines = [_ordered(one, two) for one, two in ((a, b), (b, c), (c, a))]
    if sides[longest] <= 0.0:
        return lines[:1]
    height = float(np.linalg.norm(np.cross(b - a, c - a))) / float(sides[longest])
    rows = math.ceil(height / spacing)
    for row in range(1, rows):
        share = row / rows
        lines.append(_ordered(a + share * (c - a), b + share * (c - b)))
    return lines


def _ordered(one: Floats, two: Floats) -> tuple[Floats, Floats]:
    """The same segment whichever way round a face goes."""
    return (one, two) if tuple(one) <= tuple(two) else (two, one)
