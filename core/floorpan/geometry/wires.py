"""A convex hull as rounded segments: its edges, and lines over its faces close enough that nothing slips between."""

import numpy as np

from floorpan.frames import Floats
from floorpan.geometry.solids import Body, Solid

Wires = tuple[Floats, Floats, Floats]


def wires(body: Body, spacing_mm: float) -> Wires:
    """Ends (K, 3), other ends (K, 3) and radii (K,) of segments that stand for a body's skin [mm].

    No point of the skin is farther than spacing_mm / 2 from a segment, so a ball of radius r that keeps off the
    segments and their radii dips into the body by r - sqrt(r**2 - spacing_mm**2 / 4) at most. There is nothing
    inside: what lies in a body whole, deeper than its own radius and half the spacing, is not noticed.
    """
    found = [_of_solid(solid, spacing_mm) for solid in body]
    if not found:
        return np.zeros((0, 3)), np.zeros((0, 3)), np.zeros(0)
    starts, ends, radii = (np.concatenate(parts) for parts in zip(*found, strict=True))
    return starts, ends, radii


def _of_solid(solid: Solid, spacing: float) -> Wires:
    skin = solid.hull.skin()
    # The hull's own corners are the skin's; standing in the car they are the solid's.
    corners = solid.pose.apply(np.asarray(skin.points, dtype=float))
    lines = _over_faces(corners[skin.faces], spacing)
    # The same segment whichever way round a face goes, and once for both faces at an edge.
    lines = np.round(lines, 6)
    turned = _comes_after(lines[:, 0], lines[:, 1])
    lines[turned] = lines[turned][:, ::-1]
    ends = np.unique(lines.reshape(-1, 6), axis=0).reshape(-1, 2, 3)
    return ends[:, 0], ends[:, 1], np.full(len(ends), solid.hull.radius_mm)


def _over_faces(faces: Floats, spacing: float) -> Floats:
    """Segments (L, 2, 3) of triangles (F, 3, 3): their edges, and lines along the longest, spacing apart at most."""
    following = np.roll(faces, -1, axis=1)
    sides = np.linalg.norm(following - faces, axis=2)
    edges = np.stack([faces, following], axis=2).reshape(-1, 2, 3)
    longest = np.argmax(sides, axis=1)
    of = np.arange(len(faces))
    a, b, c = (faces[of, (longest + step) % 3] for step in range(3))
    long_side = sides[of, longest]
    twice_the_face = np.linalg.norm(np.cross(b - a, c - a), axis=1)
    height = np.divide(twice_the_face, long_side, out=np.zeros(len(faces)), where=long_side > 0.0)
    rows = np.ceil(height / spacing).astype(int)
    between = np.maximum(rows - 1, 0)
    face = np.repeat(of, between)
    number = np.arange(len(face)) - np.repeat(np.cumsum(between) - between, between) + 1
    share = (number / rows[face])[:, None]
    lines = np.stack([a[face] + share * (c - a)[face], b[face] + share * (c - b)[face]], axis=1)
    return np.concatenate([edges, lines])


def _comes_after(one: Floats, other: Floats) -> np.ndarray:
    """Which rows (N, 3) come after their fellows when sorted by x, then y, then z."""
    apart = one - other
    first = np.argmax(apart != 0.0, axis=1)
    return np.asarray(apart[np.arange(len(apart)), first] > 0.0)
