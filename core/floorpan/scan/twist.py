"""Twist and racking: whether a scan is wound along the car, by levels laid true; whether it is skewed, by diagonals.

Taped diagonals tell racking only: out of their plane they change with the square of the twist, less than a tape sees.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from floorpan.frames import Pose, Vector
from floorpan.geometry.mesh import Floats
from floorpan.scan.axis_doubt import PICK_MM
from floorpan.scan.known_lengths import KnownLength, check_lengths
from floorpan.scan.straight_edges import StraightEdge

# Common practice, no source: levels laid true with each other may be wound by 1 mm in a metre, diagonals off likewise.
ALLOWED_SHARE = 1.0 / 1000.0
PARALLEL_DEG = 20.0
APART_MM = 300.0
# Half-width at about 95 % of how far the car, or the way from one level to the other, lies off level; common practice,
# no source. Levels that are not parallel are wound by as much of the angle between them as this tilts them.
CAR_TILT_DEG = 2.0
WAY_TILT_DEG = 10.0
# Two lengths are diagonals where they cross in their middle half, this far from parallel, this near to each other.
_MIDDLE = (0.25, 0.75)
_CROSSING_DEG = 30.0
_NEAR_SHARE = 0.1


@dataclass(frozen=True, slots=True, kw_only=True)
class TwistCheck:
    """Two levels that were laid true with each other, seen along the way from one to the other.

    ids       : of the two edges, in the order they were picked
    angle_deg : that the scan winds the second against the first; 0 in the car
    off_mm    : what that comes to over span_mm, the longer of the two; u_mm : half-width at about 95 %
    apart_mm  : from one to the other
    verdict   : clear, close (cannot be told), or short: wound by more than is allowed
    """

    ids: tuple[str, str]
    angle_deg: float
    off_mm: float
    span_mm: float
    apart_mm: float
    allowed_mm: float
    u_mm: float
    verdict: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RackCheck:
    """Two taped diagonals.

    ids    : of the two known lengths
    off_mm : scan less tape of the first, less that of the second; u_mm : half-width at about 95 %
    verdict : clear, close (cannot be told), or short: skewed by more than is allowed
    """

    ids: tuple[str, str]
    off_mm: float
    allowed_mm: float
    u_mm: float
    verdict: str


def up_in_scan(pose: Pose | None) -> Vector | None:
    """Which way is up in a scan's own coordinates; None until its axes are set."""
    return None if pose is None else pose.rotation[6:9]


def check_twists(
    edges: Sequence[StraightEdge], *, up: Vector | None = None, pick_mm: float = PICK_MM
) -> tuple[TwistCheck, ...]:
    """Every pair of levelled edges that lie about parallel (PARALLEL_DEG) and well apart (APART_MM).

    up : in the scan's own coordinates, None while it is not known: the plane through the two levels stands in for it
    """
    levelled = [edge for edge in edges if edge.levelled]
    return tuple(_twists(levelled, up, pick_mm))


def _twists(levelled: Sequence[StraightEdge], up: Vector | None, pick_mm: float) -> Iterator[TwistCheck]:
    for one, other in combinations(levelled, 2):
        first, second = _Line.along(one), _Line.along(other)
        if first.way @ second.way < 0.0:
            second = _Line(second.middle, -second.way, second.spread, second.length)
        if math.acos(min(float(first.way @ second.way), 1.0)) > math.radians(PARALLEL_DEG):
            continue
        mean = (first.way + second.way) / np.linalg.norm(first.way + second.way)
        apart = second.middle - first.middle
        apart = apart - (apart @ mean) * mean
        if float(np.linalg.norm(apart)) < APART_MM:
            continue
        found = _against(first, second, mean, apart, up, pick_mm)
        yield _told((one.id, other.id), found, max(first.length, second.length), float(np.linalg.norm(apart)))


@dataclass(frozen=True, slots=True)
class _Line:
    """The line that fits picks best: its middle, its direction, sum of squares along it [mm2], end to end [mm]."""

    middle: Floats
    way: Floats
    spread: float
    length: float

    @classmethod
    def along(cls, edge: StraightEdge) -> "_Line":
        points: Floats = np.array(edge.points_mm)
        middle: Floats = points.mean(axis=0)
        _, singular, ways = np.linalg.svd(points - middle)
        return cls(middle, ways[0], float(singular[0]) ** 2, math.dist(edge.points_mm[0], edge.points_mm[-1]))


def _against(
    first: _Line, second: _Line, mean: Floats, apart: Floats, up: Vector | None, pick_mm: float
) -> tuple[float, float]:
    """The angle that the second is wound against the first, and its half-width at about 95 % [rad].

    A fitted slope has the variance pick^2 / (sum of squares along the line); the levels' own angle to each other leaks
    into the twist by as much as they are tilted along the way.
    """
    normal: Floats = np.cross(apart, mean) / np.linalg.norm(apart)
    tilt_deg = WAY_TILT_DEG
    # What stands nearly upright was plumbed, not levelled: up says nothing about it.
    if up is not None and abs(float(mean @ np.array(up))) < 0.5:
        normal, tilt_deg = np.array(up) / np.linalg.norm(up), CAR_TILT_DEG
    slopes = [float(line.way @ normal) for line in (first, second)]
    flat = [line.way - slope * normal for line, slope in zip((first, second), slopes, strict=True)]
    across = float(np.linalg.norm(np.cross(flat[0], flat[1])))
    open_rad = math.atan2(across, float(flat[0] @ flat[1]))
    picks = 2.0 * pick_mm * math.sqrt(1.0 / first.spread + 1.0 / second.spread)
    u = math.hypot(picks, open_rad * math.sin(math.radians(tilt_deg)))
    return abs(math.asin(slopes[1]) - math.asin(slopes[0])), u


def _told(ids: tuple[str, str], found: tuple[float, float], span: float, apart: float) -> TwistCheck:
    angle, u_rad = found
    off, u, allowed = span * math.sin(angle), span * u_rad, ALLOWED_SHARE * span
    return TwistCheck(
        ids=ids,
        angle_deg=math.degrees(angle),
        off_mm=off,
        span_mm=span,
        apart_mm=apart,
        allowed_mm=allowed,
        u_mm=u,
        verdict=_verdict(off, allowed, u),
    )


def check_rackings(lengths: Sequence[KnownLength], *, pick_mm: float = PICK_MM) -> tuple[RackCheck, ...]:
    """Every pair of known lengths that cross as diagonals do.

    A scan that is too large by one factor leaves them alone where both are about as long; one that is skewed makes one
    of them longer and the other shorter.
    """
    scale = check_lengths(lengths, pick_mm=pick_mm)
    if scale is None:
        return ()
    held = list(zip(lengths, scale.lengths, strict=True))
    found = []
    for (one, told_one), (other, told_other) in combinations(held, 2):
        if not _cross(one, other):
            continue
        off, u = told_one.error_mm - told_other.error_mm, math.hypot(told_one.u_mm, told_other.u_mm)
        allowed = ALLOWED_SHARE * (one.taped_mm + other.taped_mm) / 2.0
        found.append(
            RackCheck(
                ids=(one.id, other.id),
                off_mm=off,
                allowed_mm=allowed,
                u_mm=u,
                verdict=_verdict(abs(off), allowed, u),
            )
        )
    return tuple(found)


def _cross(one: KnownLength, other: KnownLength) -> bool:
    """Whether two lengths cross as the diagonals of four targets do."""
    a, b = np.array(one.ends_mm)
    c, d = np.array(other.ends_mm)
    along, beside = b - a, d - c
    normal = np.cross(along, beside)
    area = float(np.linalg.norm(normal))
    if area < math.sin(math.radians(_CROSSING_DEG)) * one.scan_mm * other.scan_mm:
        return False
    # Where each is nearest to the other, as a share of its way.
    shares = (
        float(np.cross(c - a, beside) @ normal) / area**2,
        float(np.cross(c - a, along) @ normal) / area**2,
    )
    near = abs(float((c - a) @ normal)) / area
    return all(_MIDDLE[0] <= share <= _MIDDLE[1] for share in shares) and near <= _NEAR_SHARE * min(
        one.scan_mm, other.scan_mm
    )


def _verdict(off: float, allowed: float, u: float) -> str:
    return "clear" if off <= allowed else "close" if off <= allowed + u else "short"
