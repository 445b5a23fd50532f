"""How hard a corner may be before a vessel leaves its well.

The vessel leans in its well under an even push sideways (a) and a pull down (g less what a bump takes away). Along
the way out its centre of gravity first has to rise: the energy g y - a x rises as long as a / g is less than
dy / dx of the centre of gravity. It leaves at the least a for which that holds nowhere on the way any more: no
barrier is left before it leans so far that it lies over the edge. A vessel whose centre of gravity lies below the
mouth is not leaned out of a straight well at all.

Friction between vessel and well is left out, and that is on the safe side: friction only ever works against the
motion, so a vessel that rests without it rests with it, at any a; with it the vessel may hold a little more.

What is left out on the other side: a vessel thrown about rather than pushed evenly, and a drink that sloshes.
"""

import functools
import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from floorpan.frames import Floats
from floorpan.items.lean_path import Way, way, whole_way
from floorpan.items.vessels import Profile
from floorpan.items.well_outline import WellOutline

Direction = Literal["cornering", "braking"]

BUMP_G = 0.5
"""What a bump takes off the pull down [g]; default, edit me."""
NEVER = math.inf

_FLAT = 1e-9
_JUMP = 50.0
_ZOOMS = 5
_ZOOM_LEANS = 24
_RIGHT_ANGLE_RAD = math.pi / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Tilt:
    """How a holder leans in the car [deg]: its top rearward, and to the right."""

    back_deg: float = 0.0
    right_deg: float = 0.0

    def upright(self) -> Floats:
        """The holder's own up in car axes (3,)."""
        lean = np.array([math.tan(math.radians(self.back_deg)), math.tan(math.radians(self.right_deg)), 1.0])
        return np.asarray(lean / np.linalg.norm(lean))


LEVEL = Tilt()


@functools.lru_cache(maxsize=256)
def leaving_ratio(profile: Profile, well: WellOutline, centre_mm: float, closely: bool = True) -> float:
    """Push sideways over pull down at which the vessel leaves an upright well; NEVER where it does not.

    centre_mm : its centre of gravity over its base [mm]
    closely   : False for a quick answer that may be too low, never too high
    """
    gone = whole_way(profile, well)
    ratio, where = _leaves(gone, centre_mm)
    # Where a new contact comes in the barrier jumps up between two leans: look closer there.
    for _ in range(_ZOOMS if closely else 0):
        if not math.isfinite(ratio) or ratio <= 0.0:
            break
        before = gone.lean_rad[max(where - 1, 0)]
        after = gone.lean_rad[min(where + 1, len(gone.lean_rad) - 1)]
        between = np.linspace(before, after, _ZOOM_LEANS)[1:-1]
        gone = _closer(gone, way(profile, well, between, sliding=False))
        ratio, where = _leaves(gone, centre_mm)
    return ratio


def lean_rad_at(profile: Profile, well: WellOutline, centre_mm: float, ratio: float) -> float:
    """How far the vessel leans under a push of `ratio` times the pull down [rad]; a right angle once it has left."""
    gone = whole_way(profile, well)
    held = np.asarray(_barriers(gone, centre_mm) > ratio)
    free = np.flatnonzero(np.logical_or(gone.out, gone.slide <= ratio))
    first = np.flatnonzero(held)
    if len(first) == 0 or (len(free) and free[0] <= first[0]):
        return _RIGHT_ANGLE_RAD
    return float(gone.lean_rad[first[0]]) if first[0] > 0 else 0.0


def leaves_g(ratio: float, direction: Direction, *, unloaded_g: float = BUMP_G, tilt: Tilt = LEVEL) -> float:
    """The acceleration [g] at which a vessel with this leaving ratio leaves; the worse of both ways.

    direction  : "cornering" left and right, "braking" and pulling away
    unloaded_g : what a bump takes off the pull down
    """
    down = 1.0 - unloaded_g
    if down <= 0.0:
        return 0.0
    up = tilt.upright()
    along = float(up[1] if direction == "cornering" else up[0])
    return min(_at_angle(ratio, down, float(up[2]), sign * along) for sign in (1.0, -1.0))


def pulls(
    push_g: float, direction: Direction, *, unloaded_g: float = BUMP_G, tilt: Tilt = LEVEL
) -> tuple[float, float]:
    """The push across the holder's axis and the pull along it into the well [g]; push_g < 0 is the other way."""
    up = tilt.upright()
    pull = np.array([0.0, push_g, 0.0]) if direction == "cornering" else np.array([push_g, 0.0, 0.0])
    pull[2] = unloaded_g - 1.0
    into = float(-pull @ up)
    return float(np.linalg.norm(pull + into * up)), into


def _at_angle(ratio: float, down: float, up: float, along: float) -> float:
    """The least a for which the pull of (a sideways, `down` down) is atan(ratio) off the holder's axis.

    up, along : the axis's share upright and towards the push
    """
    cos2 = 0.0 if math.isinf(ratio) else 1.0 / (1.0 + ratio * ratio)
    # (down up - a along)**2 = cos2 (a**2 + down**2), and the left side's root not negative.
    square, linear, constant = along * along - cos2, -2.0 * down * up * along, down * down * (up * up - cos2)
    if constant <= 0.0:
        return 0.0
    if abs(square) < 1e-15:
        roots = [-constant / linear] if abs(linear) > 1e-15 else []
    else:
        inside = max(linear * linear - 4.0 * square * constant, 0.0)
        roots = [(-linear + sign * math.sqrt(inside)) / (2.0 * square) for sign in (1.0, -1.0)]
    fits = [a for a in roots if a > 0.0 and down * up - a * along >= -1e-12]
    return min(fits, default=NEVER)


def _barriers(gone: Way, centre_mm: float) -> Floats:
    """Push over pull below which the centre of gravity still has to rise, at every lean (T,)."""
    up = gone.y_by_lean - centre_mm * np.sin(gone.lean_rad)
    aside = gone.x_by_lean + centre_mm * np.cos(gone.lean_rad)
    forward = aside > _FLAT
    rising = np.where(up > _FLAT, np.inf, 0.0)
    with np.errstate(invalid="ignore"):
        barrier = np.where(forward, np.maximum(up, 0.0) / np.where(forward, aside, 1.0), rising)
    barrier = np.where(gone.out, 0.0, np.nan_to_num(barrier, nan=0.0, posinf=np.inf))
    return np.maximum(barrier, _jumps(gone, centre_mm))


def _jumps(gone: Way, centre_mm: float) -> Floats:
    """Infinite where a lean takes a lift out of all proportion, the first one too: the way is blocked there."""
    height = np.concatenate([[gone.upright_mm], gone.y_mm])
    out = np.concatenate([[False], gone.out])
    lift, lean = np.diff(height), np.diff(gone.lean_rad, prepend=0.0)
    steep = lift > _JUMP * lean * (centre_mm + gone.y_mm.max() + 1.0)
    # What is out lies anywhere; only the lift that took it there counts.
    counts = np.where(out[1:], ~out[:-1] & (lift > 1.0), True)
    blocked = steep & counts & (lift > 1e-3)
    blocked[:-1] |= blocked[1:]
    return np.asarray(np.where(blocked, np.inf, 0.0))


def _leaves(gone: Way, centre_mm: float) -> tuple[float, int]:
    """The leaving ratio on leans looked at, and the index of the lean that decides it."""
    barrier = _barriers(gone, centre_mm)
    out = np.flatnonzero(gone.out)
    last = int(out[0]) if len(out) else len(barrier)
    if last == 0:
        return 0.0, 0
    passed = np.maximum.accumulate(barrier[:last])
    either = np.append(np.maximum(passed, gone.slide[:last]), passed[-1])
    least = int(either.argmin())
    ratio = float(either[least])
    before = barrier[: min(least + 1, last)]
    return ratio, int(before.argmax())


def _closer(gone: Way, more: Way) -> Way:
    order = np.argsort(np.concatenate([gone.lean_rad, more.lean_rad]), kind="stable")
    return Way(
        lean_rad=np.concatenate([gone.lean_rad, more.lean_rad])[order],
        y_mm=np.concatenate([gone.y_mm, more.y_mm])[order],
        y_by_lean=np.concatenate([gone.y_by_lean, more.y_by_lean])[order],
        x_by_lean=np.concatenate([gone.x_by_lean, more.x_by_lean])[order],
        slide=np.concatenate([gone.slide, more.slide])[order],
        out=np.concatenate([gone.out, more.out])[order],
        upright_mm=gone.upright_mm,
    )
