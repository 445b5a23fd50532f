"""Straight edges: a level or a rule that lay in the scan, and how far the scan bends it."""

import math
from dataclasses import dataclass
from typing import Annotated

import numpy as np

from floorpan.errors import BadValue
from floorpan.fields import Text, check_fields
from floorpan.frames import Vector
from floorpan.geometry.mesh import Floats
from floorpan.scan.axis_doubt import PICK_MM

# Common practice, no source: a straight edge may bow by 1 mm in a metre.
ALLOWED_SHARE = 1.0 / 1000.0
SHORTEST_MM = 100.0


@dataclass(frozen=True, slots=True, kw_only=True)
class StraightEdge:
    """Places picked along something straight, from one end to the other, in the scan's own coordinates [mm].

    levelled : it was laid true with every other edge that says so, by bubble or by eye

    Raises BadValue for fewer than three, or where its ends lie too near together to tell a bow.
    """

    id: str
    name: Annotated[str, Text(80, "Name")] = ""
    points_mm: tuple[Vector, ...]
    levelled: bool = False

    def __post_init__(self) -> None:
        check_fields(self)
        if len(self.points_mm) < 3:
            raise BadValue("edge-too-few", "A bow takes three places.", "Pick both ends and one between.")
        if math.dist(self.points_mm[0], self.points_mm[-1]) < SHORTEST_MM:
            raise BadValue(
                "edge-too-short",
                f"Under {SHORTEST_MM:g} mm a bow cannot be told from a shaky hand.",
                "Pick the edge from end to end.",
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeCheck:
    """How straight it is in the scan.

    bow_mm   : greatest distance of a picked place from the line between the ends
    at_mm    : where that is; length_mm : from end to end
    u_mm     : how well the bow is known, half-width at about 95 %
    verdict  : clear, close, or short: bowed by more than is allowed
    """

    id: str
    bow_mm: float
    at_mm: Vector
    length_mm: float
    allowed_mm: float
    u_mm: float
    verdict: str


def check_edge(edge: StraightEdge, *, pick_mm: float = PICK_MM) -> EdgeCheck:
    """An edge against the line between its ends.

    A place between the ends is off by its own pick and by the chord under it, which the two ends' picks shift: its
    variance is pick^2 (1 + t^2 + (1 - t)^2) at a share t of the way.
    """
    points: Floats = np.array(edge.points_mm)
    start, way = points[0], points[-1] - points[0]
    length = float(np.linalg.norm(way))
    share = (points - start) @ way / length**2
    off = np.linalg.norm(points - start - share[:, None] * way, axis=1)
    worst = int(off.argmax())
    t = float(np.clip(share[worst], 0.0, 1.0))
    u = 2.0 * pick_mm * math.sqrt(1.0 + t**2 + (1.0 - t) ** 2)
    allowed = ALLOWED_SHARE * length
    bow = float(off[worst])
    verdict = "clear" if bow <= allowed else "close" if bow <= allowed + u else "short"
    x, y, z = (float(value) for value in points[worst])
    return EdgeCheck(
        id=edge.id, bow_mm=bow, at_mm=(x, y, z), length_mm=length, allowed_mm=allowed, u_mm=u, verdict=verdict
    )
