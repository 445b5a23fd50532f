"""How many of a population reach each grip, body by body and all at once.

Whole bodies are posed and counted. Percentiles of single measures are never added up to a person: arm and torso
hang together only loosely (correlation about 0.4), so somebody short in both is far rarer than one in twenty. Of
the 2012 Anthropometric Survey of U.S. Army Personnel only 67.5 % of men and 66.1 % of women lie between the 5th
and 95th percentile in five measures at once, where a "percentile person" would promise 90.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from floorpan.driver.person import Belts, Person, Side
from floorpan.driver.posture import most_share, side_sign
from floorpan.errors import BadValue
from floorpan.frames import Floats, Pose, Vector

Ints = NDArray[np.intp]

# Over these shares of the loose way the nearest is looked for first, and refined by so many Newton steps at most: the
# span has one least place or two, and bends gently between neighbours.
_SHARES = 9
_NEWTON = 8
# A step as short as this leaves an error of its square.
_SETTLED = 1e-5


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Bodies:
    """A population, one body a row, as in `Person` [mm, deg].

    shoulder_to_grip_mm : (N,) straight arm, shoulder point to the middle of the fist
    shoulder_mm         : (N,) hip point to shoulder point along the torso
    shoulder_out_mm     : (N,) middle of the chest to the shoulder point
    loose_forward_mm, loose_turn_deg : (N,) or one for all, how far loose belts let the shoulder go

    Raises BadValue unless the rows match and are lengths.
    """

    shoulder_to_grip_mm: Floats
    shoulder_mm: Floats
    shoulder_out_mm: Floats
    loose_forward_mm: Floats | float = 80.0
    loose_turn_deg: Floats | float = 10.0

    def __post_init__(self) -> None:
        lengths = (self.shoulder_to_grip_mm, self.shoulder_mm, self.shoulder_out_mm)
        loose = [np.asarray(value, dtype=float) for value in (self.loose_forward_mm, self.loose_turn_deg)]
        rows = (len(self),)
        match = all(length.shape == rows for length in lengths) and all(
            way.shape in ((), rows) for way in loose
        )
        finite = all(np.isfinite(value).all() for value in (*lengths, *loose))
        if not match or not finite or not len(self):
            raise BadValue(
                "bodies-do-not-match",
                "Every body has an arm, a torso and a shoulder breadth, all numbers.",
                "Give as many of each, and at least one.",
            )
        if any((length <= 0.0).any() for length in lengths) or any((way < 0.0).any() for way in loose):
            raise BadValue(
                "bodies-without-length", "A body's lengths lie above nothing.", "Take these rows out."
            )

    def __len__(self) -> int:
        return int(np.size(self.shoulder_to_grip_mm))

    @classmethod
    def of_people(cls, people: tuple[Person, ...]) -> "Bodies":
        """People measured one by one as rows."""
        return cls(
            shoulder_to_grip_mm=np.array([one.shoulder_to_grip_mm for one in people]),
            shoulder_mm=np.array([one.shoulder_mm for one in people]),
            shoulder_out_mm=np.array([one.shoulder_out_mm for one in people]),
            loose_forward_mm=np.array([one.loose_forward_mm for one in people]),
            loose_turn_deg=np.array([one.loose_turn_deg for one in people]),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Shares:
    """Shares of a population, 0 to 1, with one standard error each.

    each, each_error   : by grip
    every, every_error : who reaches all of them at once

    A standard error says how far a share of so many bodies lies from the share of all bodies of that kind; where
    all or none of them reach it is 0 and says nothing. It does not cover how well the kind fits your drivers.
    """

    each: tuple[float, ...]
    each_error: tuple[float, ...]
    every: float
    every_error: float


def reach_margins(
    bodies: Bodies,
    h_point: Vector,
    back_deg: float,
    hand_side: Side,
    grips: Floats,
    belts: Belts,
    turn_deg: float = 0.0,
) -> Floats:
    """How much arm each body has to spare at each grip (N, G) [mm]: `reach`'s spare_mm, negative is missing.

    h_point, grips (G, 3) : in car axes [mm]; back_deg, turn_deg and belts as in `reach`

    Raises BadValue where a grip or the H-point is no place.
    """
    places, hip = np.asarray(grips, dtype=float), np.asarray(h_point, dtype=float)
    if places.ndim != 2 or places.shape[1] != 3 or not np.isfinite([*places.ravel(), *hip, back_deg]).all():
        raise BadValue("no-such-place", "A grip is three numbers in car axes.", "Set the grips again.")
    # In the seat's own axes, ahead of the hip, out on the hand's side and up; the torso only leans there.
    away = Pose.turned((0.0, 0.0, 1.0), -turn_deg).apply(places - hip)
    away = away * np.array([-1.0, float(side_sign(hand_side)), 1.0])
    torsos = _Torsos(bodies, math.radians(back_deg))
    on_backrest = torsos.shoulders(np.arange(len(bodies)), np.zeros(1))
    spans = np.linalg.norm(on_backrest[:, None] - away, axis=2)
    if most_share(belts) > 0.0:
        # Worked out the same way or not, loose belts never keep a hand further off than tight ones.
        spans = np.minimum(spans, torsos.least_spans(away))
    margins: Floats = bodies.shoulder_to_grip_mm[:, None] - spans
    return margins


def shares(*margins: Floats, weights: Floats | None = None) -> Shares:
    """Who reaches: margins (N, G) [mm] of bodies that count by weights (N,), alike where none are given.

    Several margins are as many seat notches, of which everybody picks one: a grip is reached where one of them does,
    all grips where one notch serves for all.

    The error is the binomial sqrt(p (1 - p) / N), for weighted bodies the linearised sqrt(sum w**2 (hit - p)**2)
    / sum w of a ratio (Cochran, *Sampling Techniques*, section 6.3). Raises BadValue for no bodies and for
    weights that do not match, are negative or are all nothing.
    """
    reached = [np.asarray(one) >= 0.0 for one in margins]
    shapes = {one.shape for one in reached}
    if (
        len(shapes) != 1
        or reached[0].ndim != 2
        or not reached[0].size
        or any(np.isnan(m).any() for m in margins)
    ):
        raise BadValue("no-bodies", "There is nobody to count, or no grip.", "Give bodies and grips.")
    counts = np.ones(len(reached[0])) if weights is None else np.asarray(weights, dtype=float)
    counted = counts.shape == (len(reached[0]),) and bool(np.isfinite(counts).all())
    if not counted or (counts < 0.0).any() or counts.sum() <= 0.0:
        raise BadValue(
            "weights-do-not-match", "Every body counts by one weight.", "Give one for each, none below 0."
        )
    every = np.any([one.all(axis=1) for one in reached], axis=0)
    hits = np.column_stack([np.any(reached, axis=0), every]).astype(float)
    told = counts @ hits / counts.sum()
    errors = np.sqrt((counts**2) @ (hits - told) ** 2) / counts.sum()
    *each, all_told = (float(share) for share in told)
    *each_error, all_error = (float(error) for error in errors)
    return Shares(each=tuple(each), each_error=tuple(each_error), every=all_told, every_error=all_error)


def mixed(men: Shares, women: Shares, share_of_men: float) -> Shares:
    """The shares of a mix of men and women counted apart, share_of_men from 0 to 1.

    Each sex's error counts by its part; the two are independent. Raises BadValue for a part outside 0 to 1 or
    different grips.
    """
    if not 0.0 <= share_of_men <= 1.0 or len(men.each) != len(women.each):
        raise BadValue(
            "no-such-mix", "A mix is 0 to 1 of men, at the same grips.", "Give a part from 0 to 1."
        )
    rest = 1.0 - share_of_men

    def share(of_men: float, of_women: float) -> float:
        return share_of_men * of_men + rest * of_women

    def error(of_men: float, of_women: float) -> float:
        return math.hypot(share_of_men * of_men, rest * of_women)

    return Shares(
        each=tuple(map(share, men.each, women.each)),
        each_error=tuple(map(error, men.each_error, women.each_error)),
        every=share(men.every, women.every),
        every_error=error(men.every_error, women.every_error),
    )


class _Torsos:
    """The torsos of a population in axes ahead, out and up from the hip, moved by shares of the loose way.

    At share s the torso leans by back - lean s and the shoulders are turned by turn s. The shoulder stays as far
    from the hip, so it is nearest to a grip d away from the hip where d shoulder(s) is greatest.
    """

    def __init__(self, bodies: Bodies, back: float) -> None:
        self.tall, self.wide, self.back = bodies.shoulder_mm, bodies.shoulder_out_mm, back
        self.lean = bodies.loose_forward_mm / bodies.shoulder_mm
        self.turn = np.broadcast_to(np.radians(bodies.loose_turn_deg), self.lean.shape)

    def shoulders(self, rows: Ints, at: Floats) -> Floats:
        """Shoulder points (..., 3) of bodies at shares, rows and at (...) broadcast together."""
        lean, turn = self.back - self.lean[rows] * at, self.turn[rows] * at
        sine, cosine, tall, wide = np.sin(lean), np.cos(lean), self.tall[rows], self.wide[rows]
        forward = wide * np.sin(turn)
        points = np.empty((*sine.shape, 3))
        points[..., 0] = forward * cosine - tall * sine
        points[..., 1] = wide * np.cos(turn)
        points[..., 2] = tall * cosine + forward * sine
        return points

    def least_spans(self, away: Floats) -> Floats:
        """The least distances (N, G) from the shoulders to grips (G, 3) over all shares."""
        at = np.linspace(0.0, 1.0, _SHARES)
        everybody = np.arange(len(self.tall))[:, None]
        shoulders = self.shoulders(everybody, at)
        best = np.argmax(shoulders @ away.T, axis=1)
        spans: Floats = np.linalg.norm(shoulders[everybody, best] - away, axis=2)
        # At an end the nearest may still lie inside, where the shoulder comes nearer from there.
        leaves_first = self._slopes(everybody, away, at[:1])[0] > 0.0
        leaves_last = self._slopes(everybody, away, at[-1:])[0] < 0.0
        ends = (best == 0) & ~leaves_first | (best == _SHARES - 1) & ~leaves_last
        body, grip = np.nonzero(~ends)
        start = at[best[body, grip]]
        finer = self.shoulders(body, self._greatest(body, away[grip], start))
        spans[body, grip] = np.minimum(spans[body, grip], np.linalg.norm(finer - away[grip], axis=1))
        return spans

    def _greatest(self, body: Ints, away: Floats, start: Floats) -> Floats:
        """Shares (K,) where d shoulder(s) is greatest, within a neighbour of start."""
        step = 1.0 / (_SHARES - 1)
        low, high = np.maximum(start - step, 0.0), np.minimum(start + step, 1.0)
        at = start
        for _ in range(_NEWTON):
            slope, bend = self._slopes(body, away, at)
            # Where it does not bend down Newton would climb off the wrong way: half a step up the slope instead.
            down = bend < 0.0
            onward = np.where(down, -slope / np.where(down, bend, 1.0), np.sign(slope) * step / 2)
            before, at = at, np.clip(at + onward, low, high)
            if np.abs(at - before).max(initial=0.0) < _SETTLED:
                break
        return at

    def _slopes(self, body: Ints, away: Floats, at: Floats) -> tuple[Floats, Floats]:
        """First and second derivative (...) of d shoulder(s) by s; bodies, grips (..., 3) and shares broadcast."""
        lean_by, turn_by = self.lean[body], self.turn[body]
        lean, turn = self.back - lean_by * at, turn_by * at
        sine, cosine, round_sine, round_cosine = np.sin(lean), np.cos(lean), np.sin(turn), np.cos(turn)
        ahead, out, up = away[..., 0], away[..., 1], away[..., 2]
        # The grip's parts along the leaning torso and square to it, ahead.
        along, square = up * cosine - ahead * sine, ahead * cosine + up * sine
        turning = square * round_cosine - out * round_sine
        slope = self.tall[body] * lean_by * square + self.wide[body] * (
            turn_by * turning - lean_by * along * round_sine
        )
        bend = -self.tall[body] * lean_by**2 * along - self.wide[body] * (
            turn_by**2 * (out * round_cosine + square * round_sine)
            + 2.0 * turn_by * lean_by * along * round_cosine
            + lean_by**2 * square * round_sine
        )
        return slope, bend
