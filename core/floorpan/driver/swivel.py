"""Where the elbow may be: shoulder and grip leave it a circle, the joints and what stands about leave arcs of it."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

import numpy as np

from floorpan.driver.arm import hanging
from floorpan.driver.joints import JOINTS, Hold, Joint, JointRanges, TorsoAxes, room_left_deg
from floorpan.driver.obstacles import NOTHING_IN_THE_WAY, Obstacles
from floorpan.driver.thick_arm import Clear, ThickArm
from floorpan.errors import BadValue
from floorpan.frames import Floats, Vector, vector_of

Arc = tuple[float, float]
"""From, to [deg]: from lies in -180 to 180, to beyond it by 360 at most; past 180 it goes on from -180."""

StoppedBy = Literal["nothing", "something in the way"] | Joint

# Three cuts of a degree by 64 bring the ends of an arc to 4e-6 degrees.
_STEPS = 360
_CUTS = 64
_ROUNDS = 3
# Degrees or mm by which a pose at the very end of what is allowed may round to beyond it.
_ROUNDING = 1e-9
_NOTHING_MM = 1e-9
_STEP_DEG = 360.0 / _STEPS
_SWIVELS: Floats = np.asarray(-180.0 + _STEP_DEG * np.arange(_STEPS), dtype=float)

Room = Callable[[Floats], Floats]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SwivelCircle:
    """The elbow's circle about the line from shoulder to grip, in car axes [mm].

    centre         : (3,)
    hanging, aside : (3,) unit vectors from it to the elbow at swivels of 0 and 90
    radius_mm      : 0 where the arm is stretched out or folded flat
    """

    centre: Floats
    hanging: Floats
    aside: Floats
    radius_mm: float

    def elbows(self, swivels_deg: Floats) -> Floats:
        """Elbow points (N, 3) for swivels (N,), turned about the way by the right hand rule as in `arm`."""
        angles = np.radians(swivels_deg)[:, None]
        out = np.cos(angles) * self.hanging + np.sin(angles) * self.aside
        points: Floats = self.centre + self.radius_mm * out
        return points


@dataclass(frozen=True, slots=True, kw_only=True)
class Swivel:
    """Which swivels an arm may take and the one it takes.

    by_joints_deg : arcs that the joints allow
    clear_deg     : arcs of those that keep the distance asked for
    swivel_deg    : the one in clear_deg nearest to the one wanted, None where there is none
    elbow_mm      : the elbow there, in car axes
    gap_mm        : the arm's gap to the nearest thing there; infinite where nothing was given
    stopped_by    : what keeps the elbow from where it was wanted; the joint that lacks most comes first
    """

    by_joints_deg: tuple[Arc, ...]
    clear_deg: tuple[Arc, ...]
    swivel_deg: float | None
    elbow_mm: Vector | None
    gap_mm: float
    stopped_by: StoppedBy


def swivel_circle(shoulder: Vector, grip: Vector, upper_mm: float, lower_mm: float) -> SwivelCircle:
    """The circle of elbows that are upper_mm from the shoulder and lower_mm from the grip.

    Raises BadValue for links without length, places that are no numbers and a grip beyond or inside the arm's
    reach; one that the stretched or folded arm just touches makes a circle without radius.
    """
    start, end = np.asarray(shoulder, dtype=float), np.asarray(grip, dtype=float)
    if not (np.isfinite([*start, *end, upper_mm, lower_mm]).all() and min(upper_mm, lower_mm) > 0.0):
        raise BadValue(
            "no-arm", "An arm has two links and two ends.", "Tape upper arm and straight arm again."
        )
    span = float(np.linalg.norm(end - start))
    nearest, furthest = abs(upper_mm - lower_mm), upper_mm + lower_mm
    if span <= _NOTHING_MM or not nearest - _NOTHING_MM <= span <= furthest + _NOTHING_MM:
        raise BadValue(
            "out-of-reach",
            f"The grip is {span:.0f} mm from the shoulder; this arm spans {nearest:.0f} to {furthest:.0f} mm.",
            "Bring the grip nearer, or let the shoulder come along.",
            span_mm=span,
            least_mm=nearest,
            most_mm=furthest,
        )
    way = (end - start) / span
    along = (upper_mm**2 - lower_mm**2 + span**2) / (2.0 * span)
    # The product keeps digits near the straight arm that the difference of two squares would lose.
    radius = math.sqrt(max((upper_mm - along) * (upper_mm + along), 0.0))
    down, aside = hanging(way), hanging(way, 90.0)
    return SwivelCircle(centre=start + along * way, hanging=down, aside=aside, radius_mm=radius)


def comfortable_swivel(
    shoulder: Vector,
    grip: Vector,
    upper_mm: float,
    lower_mm: float,
    torso: TorsoAxes,
    *,
    ranges: JointRanges | None = None,
    hold: Hold | None = None,
    obstacles: Obstacles = NOTHING_IN_THE_WAY,
    clear_mm: float = 0.0,
    wrist_to_grip_mm: float = 62.0,
    wanted_deg: float = 0.0,
) -> Swivel:
    """The swivel nearest to wanted_deg (0 hangs) that every joint allows and that keeps clear_mm from everything.

    The arm is as thick as in `limbs`: shoulder to elbow and elbow to wrist; the hand on the grip is not judged.
    Raises BadValue as `swivel_circle` does, and where a wrist lies beyond the elbow.
    """
    circle = swivel_circle(shoulder, grip, upper_mm, lower_mm)
    if not 0.0 <= wrist_to_grip_mm <= lower_mm or not (math.isfinite(wanted_deg) and math.isfinite(clear_mm)):
        raise BadValue("no-wrist", "The wrist lies on the forearm.", "Tape the wrist to the grip again.")
    start, end = np.asarray(shoulder, dtype=float), np.asarray(grip, dtype=float)
    held, ends = hold or Hold(), ranges or JointRanges()

    def joint_room(swivels: Floats) -> Floats:
        elbows = circle.elbows(swivels)
        return room_left_deg((elbows - start) / upper_mm, (end - elbows) / lower_mm, torso, ends, held)

    thick = ThickArm(
        shoulder=start,
        grip=end,
        elbows=circle.elbows,
        swing_mm=circle.radius_mm,
        wrist_share=wrist_to_grip_mm / lower_mm,
    )

    by_joints, clear = _both(joint_room, Clear(thick, clear_mm - _ROUNDING, obstacles), obstacles)
    chosen = _nearest_in(clear, wanted_deg, -1.0 if torso.side == "right" else 1.0)
    tried = np.array([wanted_deg if chosen is None else chosen, wanted_deg])
    at_chosen, at_wanted = thick.gaps(tried, obstacles)
    return Swivel(
        by_joints_deg=by_joints,
        clear_deg=clear,
        swivel_deg=chosen,
        elbow_mm=None if chosen is None else vector_of(circle.elbows(tried)[0]),
        gap_mm=float(at_chosen),
        stopped_by=_stopped_by(joint_room(tried)[:, 1], float(at_wanted) - clear_mm),
    )


def _both(joint_room: Room, clear: Clear, obstacles: Obstacles) -> tuple[tuple[Arc, ...], tuple[Arc, ...]]:
    """The arcs that the joints allow, and those of them that keep clear. joint_room (13, N) of swivels (N,)."""

    def least_room(swivels: Floats) -> Floats:
        least: Floats = joint_room(swivels).min(axis=0)
        return least

    def room(swivels: Floats) -> Floats:
        return where_clear(least_room(swivels), swivels)

    def where_clear(left: Floats, swivels: Floats) -> Floats:
        # What the joints refuse need not be measured.
        fits = np.flatnonzero(left >= -_ROUNDING)
        kept = left.copy()
        kept[fits[~clear.keeps(swivels[fits])]] = -1.0
        return kept

    on_steps = least_room(_SWIVELS)
    by_joints = _arcs(least_room, on_steps)
    if not (by_joints and _given(obstacles)):
        return by_joints, by_joints
    if clear.keeps_around(_SWIVELS[on_steps >= -_ROUNDING], _STEP_DEG):
        return by_joints, by_joints
    return by_joints, _arcs(room, where_clear(on_steps, _SWIVELS))


@dataclass(frozen=True, slots=True)
class NearestSwivel:
    """The swivel nearest to the wanted one that the joints allow [deg], or the joint that lacks most where none is."""

    swivel_deg: float | None
    joint: Joint | None


def nearest_swivel(
    shoulder: Vector,
    grip: Vector,
    upper_mm: float,
    lower_mm: float,
    torso: TorsoAxes,
    wanted_deg: float = 0.0,
) -> NearestSwivel:
    """`comfortable_swivel` with nothing in the way, quick where the wanted swivel is allowed. Raises as that does."""
    circle = swivel_circle(shoulder, grip, upper_mm, lower_mm)
    elbows = circle.elbows(np.array([wanted_deg]))
    upper = (elbows - np.asarray(shoulder)) / upper_mm
    lower = (np.asarray(grip) - elbows) / lower_mm
    room = room_left_deg(upper, lower, torso, JointRanges(), Hold())[:, 0]
    if room.min() >= -_ROUNDING:
        return NearestSwivel(wanted_deg, None)
    found = comfortable_swivel(shoulder, grip, upper_mm, lower_mm, torso, wanted_deg=wanted_deg)
    return NearestSwivel(found.swivel_deg, JOINTS[int(np.argmin(room))])


def allowed_arcs(room: Room) -> tuple[Arc, ...]:
    """The arcs of a whole turn where room (N,) of swivels (N,) [deg] is not negative, each end inside its arc.

    Arcs and gaps narrower than a degree may be passed over. A whole turn is one arc (-180, 180).
    """
    return _arcs(room, room(_SWIVELS))


def _arcs(room: Room, on_steps: Floats) -> tuple[Arc, ...]:
    """The same, with the room at each of _SWIVELS known."""
    step, swivels, allowed = _STEP_DEG, _SWIVELS, on_steps >= -_ROUNDING
    if allowed.all():
        return ((-180.0, 180.0),)
    opens = np.flatnonzero(allowed & ~np.roll(allowed, 1))
    closes = np.flatnonzero(allowed & ~np.roll(allowed, -1))
    if not len(opens):
        return ()
    inside = swivels[np.concatenate([opens, closes])]
    starts, ends = np.split(_ends(room, inside, np.repeat([-step, step], len(opens))), 2)
    # The arc that goes on past 180 closes first.
    if closes[0] < opens[0]:
        ends = np.roll(ends, -1)
    # A start that lies just before -180 is the same place just before 180.
    starts = np.where(starts < -180.0, starts + 360.0, starts)
    ends = np.where(ends < starts, ends + 360.0, ends)
    order = np.argsort(starts)
    return tuple((float(starts[arc]), float(ends[arc])) for arc in order)


def _ends(room: Room, inside: Floats, step: Floats) -> Floats:
    """The last allowed swivels (A,) on the way from allowed ones by a step (A,) each to one that is not."""
    for _ in range(_ROUNDS):
        step = step / _CUTS
        tried = inside[:, None] + step[:, None] * np.arange(_CUTS)
        allowed = (room(tried.ravel()) >= -_ROUNDING).reshape(tried.shape)
        # The first is allowed; the last one before the first that is not.
        last = np.where(allowed.all(axis=1), _CUTS, np.argmin(allowed, axis=1)) - 1
        inside = tried[np.arange(len(tried)), last]
    return inside


def _nearest_in(arcs: tuple[Arc, ...], wanted: float, outward: float) -> float | None:
    """The swivel in the arcs nearest to the wanted one, -180 to 180; of two as near the one on the outward side."""
    tried = [swivel for arc in arcs for swivel in arc]
    if any((wanted - start) % 360.0 <= end - start for start, end in arcs):
        tried = [wanted]
    ways = [(swivel - wanted + 180.0) % 360.0 - 180.0 for swivel in tried]
    if not ways:
        return None
    best = min(ways, key=lambda way: (round(abs(way), 5), -outward * way))
    return (wanted + best + 180.0) % 360.0 - 180.0


def _stopped_by(joints: Floats, gap: float) -> StoppedBy:
    least = int(np.argmin(joints))
    if joints[least] < -_ROUNDING:
        return JOINTS[least]
    return "something in the way" if gap < -_ROUNDING else "nothing"


def _given(obstacles: Obstacles) -> bool:
    return bool(len(obstacles.radii) or len(obstacles.on_planes))
