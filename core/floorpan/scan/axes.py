"""Car axes from points picked on a scan.

Level points give the plane square to Z; points of the centre plane, and the middles of left and right pairs, give the
direction of X; one point gives X = 0 and Z = 0. Which way each axis runs is told by the picks: a pair says where right
is, a front point where front is, a point above where up is. Any two settle the third, for the axes are right-handed;
with all three a mirrored scan, or a pair picked the wrong way round, is found out.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Literal

import numpy as np

from floorpan.errors import AxesProblem
from floorpan.fields import Choice, Text, check_fields
from floorpan.frames import Pose, Vector
from floorpan.geometry.fit import PlaneFit, fit_plane, in_plane
from floorpan.geometry.mesh import Floats
from floorpan.scan.axis_doubt import odd_one_out, slope_doubt

Role = Literal["level", "pair", "centre", "origin", "front", "above"]

# Two points of a direction nearer together than this set no direction worth having [mm]; common practice, no source.
LEAST_BASE_MM = 50.0
# Pairs and identical points.
SAME_MM = 1e-6
# The length over which builders judge a tilt [mm].
TILT_OVER_MM = 900.0


@dataclass(frozen=True, slots=True, kw_only=True)
class AxisPick:
    """A point picked on a scan, and what it stands for.

    id      : a letter, shown at the point
    at_mm   : in the scan's own coordinates
    role    : level: one of the points of equal height; pair: one of two mirrored points, with `side` and `partner`;
              centre: on the car's centre plane; origin: X = 0 and Z = 0; front: anywhere ahead of the other picks;
              above: anywhere higher than the level points
    side    : of a pair: left or right of a driver who faces forward
    partner : letter of the other point of the pair
    """

    id: Annotated[str, Text(8, "Letter")]
    at_mm: Vector
    role: Annotated[str, Choice(("level", "pair", "centre", "origin", "front", "above"), "What it is")] = (
        "level"
    )
    side: Annotated[str, Choice(("", "left", "right"), "Side")] = ""
    partner: Annotated[str, Text(8, "Partner")] = ""
    name: Annotated[str, Text(120, "Name")] = ""

    def __post_init__(self) -> None:
        check_fields(self)
        if not all(math.isfinite(v) for v in self.at_mm):
            raise AxesProblem(
                "pick-not-finite", f"Point {self.id} is nowhere.", "Pick it again.", pick=self.id
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class AxesFit:
    """Car axes, and how well the picks agree with them.

    pose : from scan coordinates into car axes
    residuals_mm : letter and how far that pick is off what the others say, for every pick that has a say
    rms_mm : root mean square of the residuals
    u_tilt_deg, u_yaw_deg : doubt of Z and of X as half-widths at about 95 %; u_deg: the greater
    tilt_over_900_mm : what the doubt of Z makes over 900 mm
    odd_one : letter of the one pick that is off while the others agree, "" where there is none
    advice  : a sentence about it, or ""
    can_tell_mirror : whether the picks would show a mirrored scan
    """

    pose: Pose
    residuals_mm: tuple[tuple[str, float], ...]
    rms_mm: float
    u_tilt_deg: float
    u_yaw_deg: float
    tilt_over_900_mm: float
    odd_one: str
    advice: str
    can_tell_mirror: bool

    @property
    def u_deg(self) -> float:
        """The greater of the two doubts [deg]."""
        return max(self.u_tilt_deg, self.u_yaw_deg)


def fit_axes(picks: Sequence[AxisPick], *, up_hint: Vector | None = None) -> AxesFit:
    """Car axes from picks by least squares. Raises AxesProblem with the pick to take again.

    up_hint : roughly up in scan coordinates, used where no pick tells, such as the mean normal of a floor scan
    """
    _no_letter_twice(picks)
    level = _of(picks, "level")
    plane = _level_plane(level)
    pairs = _pairs(picks)
    line = _centre_line(picks, pairs, plane.normal)
    z_axis, x_axis, can_tell = _directed(picks, pairs, plane, line.direction, up_hint)
    origin = _origin(picks)
    y_axis = np.cross(z_axis, x_axis)
    turn = np.stack([x_axis, y_axis, z_axis])
    shift = -np.array([x_axis @ origin, y_axis @ line.at, z_axis @ origin])
    matrix = np.eye(4)
    matrix[:3, :3], matrix[:3, 3] = turn, shift
    residuals = [(pick.id, abs(float(r))) for pick, r in zip(level, plane.residual_mm, strict=True)]
    off = np.abs((line.points - line.at) @ y_axis)
    residuals += [
        (letter, float(r)) for letters, r in zip(line.letters, off, strict=True) for letter in letters
    ]
    tilt = math.degrees(slope_doubt((_points(level) - plane.centre) @ plane.axes[:2].T, plane.residual_mm))
    yaw = math.degrees(line.doubt(y_axis, x_axis))
    odd, advice = odd_one_out(level, plane, line.letters, (line.points - line.at) @ turn[:2].T)
    return AxesFit(
        pose=Pose.from_matrix(matrix),
        residuals_mm=tuple(residuals),
        rms_mm=float(np.sqrt(np.mean([r * r for _, r in residuals]))),
        u_tilt_deg=tilt,
        u_yaw_deg=yaw,
        tilt_over_900_mm=TILT_OVER_MM * math.tan(math.radians(min(tilt, 89.0))),
        odd_one=odd,
        advice=advice,
        can_tell_mirror=can_tell,
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Line:
    """The centre line: points it goes through, their letters, its direction square to the level plane's normal."""

    points: Floats
    letters: tuple[tuple[str, ...], ...]
    at: Floats
    direction: Floats
    pair_mm: float

    def doubt(self, y_axis: Floats, x_axis: Floats) -> float:
        """Half-width of the direction at about 95 % [rad]."""
        away = self.points - self.at
        if len(self.points) == 1:
            # One pair alone: its two points are its only base.
            return slope_doubt(np.array([[-self.pair_mm / 2], [self.pair_mm / 2]]), np.zeros(2))
        return slope_doubt((away @ x_axis)[:, None], away @ y_axis)


def _of(picks: Sequence[AxisPick], role: str) -> list[AxisPick]:
    return [pick for pick in picks if pick.role == role]


def _points(picks: Sequence[AxisPick]) -> Floats:
    return np.array([pick.at_mm for pick in picks], dtype=np.float64).reshape(-1, 3)


def _no_letter_twice(picks: Sequence[AxisPick]) -> None:
    seen: set[str] = set()
    for pick in picks:
        if pick.id in seen:
            raise AxesProblem(
                "letter-twice",
                f"Two points are called {pick.id}.",
                "Give one of them another letter.",
                pick=pick.id,
            )
        seen.add(pick.id)


def _level_plane(level: list[AxisPick]) -> PlaneFit:
    if len(level) < 3:
        raise AxesProblem(
            "level-too-few",
            f"{len(level) or 'No'} level point{'s' if len(level) != 1 else ''} picked; a plane takes three.",
            "Pick points of one height, far apart: both sills, front and rear.",
            picked=len(level),
        )
    plane = fit_plane(_points(level))
    if (
        plane.spread_mm[0] * math.sqrt(len(level)) < LEAST_BASE_MM
        or plane.spread_mm[1] < 0.02 * plane.spread_mm[0]
    ):
        raise AxesProblem(
            "level-on-a-line",
            "The level points lie in a line, so the plane can roll about it.",
            "Pick one off to the side.",
        )
    return plane


def _pairs(picks: Sequence[AxisPick]) -> list[tuple[AxisPick, AxisPick]]:
    """(left, right) of every pair."""
    by_letter = {pick.id: pick for pick in _of(picks, "pair")}
    pairs = []
    for pick in by_letter.values():
        other = by_letter.get(pick.partner)
        if other is None or other.partner != pick.id or {pick.side, other.side} != {"left", "right"}:
            raise AxesProblem(
                "pair-half",
                f"Point {pick.id} is half a pair.",
                "Pick its mate on the other side of the car, one left and one right.",
                pick=pick.id,
            )
        if math.dist(pick.at_mm, other.at_mm) <= SAME_MM:
            raise AxesProblem(
                "pair-identical",
                f"Points {pick.id} and {other.id} are one and the same place.",
                f"Pick {other.id} on the other side of the car.",
                pick=other.id,
            )
        if pick.side == "left":
            pairs.append((pick, other))
    return pairs


def _centre_line(picks: Sequence[AxisPick], pairs: list[tuple[AxisPick, AxisPick]], normal: Floats) -> _Line:
    centre = _of(picks, "centre")
    middles = [(_points([left]) + _points([right]))[0] / 2.0 for left, right in pairs]
    points = np.vstack([_points(centre), np.reshape(middles, (-1, 3))])
    letters = tuple((pick.id,) for pick in centre) + tuple((left.id, right.id) for left, right in pairs)
    if not len(points):
        raise AxesProblem(
            "no-centre",
            "Nothing says where the middle of the car is.",
            "Pick two centre points, or two pairs.",
        )
    # A middle is worth two points: its doubt is the mean of two.
    weight = np.array([1.0] * len(centre) + [2.0] * len(pairs))
    at = (weight[:, None] * points).sum(axis=0) / weight.sum()
    flat = in_plane(points - at, normal) * np.sqrt(weight)[:, None]
    _, _, axes = np.linalg.svd(flat, full_matrices=True)
    length = float(np.ptp((points - at) @ axes[0]))
    across = float(np.linalg.norm(_points([pairs[0][1]]) - _points([pairs[0][0]]))) if pairs else 0.0
    if length < LEAST_BASE_MM:
        if not pairs or across < LEAST_BASE_MM:
            raise AxesProblem(
                "centre-too-close",
                "The centre points lie too close together to give a direction.",
                "Pick one near the front and one near the rear.",
                length_mm=length,
            )
        right = _points([pairs[0][1]])[0] - _points([pairs[0][0]])[0]
        direction = np.cross(right, normal)
        return _Line(at[None], (letters[-len(pairs)],), at, direction / np.linalg.norm(direction), across)
    direction = in_plane(axes[0], normal)
    return _Line(points, letters, at, direction / np.linalg.norm(direction), across)


def _directed(
    picks: Sequence[AxisPick],
    pairs: list[tuple[AxisPick, AxisPick]],
    plane: PlaneFit,
    direction: Floats,
    up_hint: Vector | None,
) -> tuple[Floats, Floats, bool]:
    """Z and X the right way round, and whether a mirrored scan would have shown."""
    up = _up(picks, plane)
    rear = _rear(picks, direction)
    right = _right(pairs)
    can_tell = up != 0.0 and rear != 0.0 and right is not None
    if up == 0.0 and not (rear != 0.0 and right is not None) and up_hint is not None:
        up = float(np.sign(plane.normal @ np.asarray(up_hint, dtype=np.float64)))
    if rear == 0.0 and up != 0.0 and right is not None:
        rear = float(np.sign(np.cross(up * plane.normal, direction) @ right))
    if up == 0.0 and rear != 0.0 and right is not None:
        up = float(np.sign(np.cross(plane.normal, rear * direction) @ right))
    if up == 0.0:
        raise AxesProblem(
            "no-up",
            "Nothing says which way is up.",
            "Pick one point above the level points, anywhere on the scan.",
        )
    if rear == 0.0:
        raise AxesProblem(
            "no-front",
            "Nothing says which end is the front.",
            "Pick one point ahead of all others, or a pair.",
        )
    z_axis, x_axis = up * plane.normal, rear * direction
    if right is not None and float(np.cross(z_axis, x_axis) @ right) <= 0.0:
        raise AxesProblem(
            "axes-mirrored",
            "These axes are mirrored: driver and passenger side are swapped.",
            "Pick the pairs again; if they are right, the scan was mirrored on its way here.",
        )
    return z_axis, x_axis, can_tell


def _up(picks: Sequence[AxisPick], plane: PlaneFit) -> float:
    above = _of(picks, "above")
    if not above:
        return 0.0
    height = float(((_points(above) - plane.centre) @ plane.normal).mean())
    return float(np.sign(height)) if abs(height) > LEAST_BASE_MM / 2 else 0.0


def _rear(picks: Sequence[AxisPick], direction: Floats) -> float:
    front = _of(picks, "front")
    others = [pick for pick in picks if pick.role not in ("front", "above")]
    if not front:
        return 0.0
    ahead = float((_points(front).mean(axis=0) - _points(others).mean(axis=0)) @ direction)
    return -float(np.sign(ahead)) if abs(ahead) > LEAST_BASE_MM / 2 else 0.0


def _right(pairs: list[tuple[AxisPick, AxisPick]]) -> Floats | None:
    if not pairs:
        return None
    ways = np.array([_points([right])[0] - _points([left])[0] for left, right in pairs])
    ways /= np.linalg.norm(ways, axis=1, keepdims=True)
    against = ways @ ways[0] < 0.0
    if against.any():
        minority = np.flatnonzero(against if against.sum() * 2 <= len(ways) else ~against)
        left, right = pairs[int(minority[0])]
        raise AxesProblem(
            "pair-swapped",
            f"Pair {left.id} and {right.id} has left and right the other way round than the other pairs.",
            f"Swap {left.id} and {right.id}, or pick them again.",
            pick=left.id,
        )
    way: Floats = ways.mean(axis=0)
    return way


def _origin(picks: Sequence[AxisPick]) -> Floats:
    origin = _of(picks, "origin")
    if len(origin) != 1:
        raise AxesProblem(
            "no-origin" if not origin else "origins",
            "No origin is picked." if not origin else f"{len(origin)} origins are picked.",
            "Pick one point that will still be there next year: a bolt, a drilled hole.",
        )
    at: Floats = _points(origin)[0]
    return at
