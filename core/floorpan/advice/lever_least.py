"""The change of least trouble that brings the neutral knob onto a target, or the nearest that can be had.

First the nearest knob is looked for. Where it is on the target, the sum of cost times change is made least among
all changes that bring it there; where it is not, among all that bring it as near. A change and its opposite are two
variables, so that the sum is smooth and its least has few kinds of change in it.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from floorpan.advice.lever_change import (
    BEND_REARWARD,
    BEND_RIGHT,
    RAISE,
    REARWARD,
    RIGHT,
    ROD,
    TILT,
    Mechanism,
    bend_deg,
)
from floorpan.advice.lever_freedom import LeverFreedom, Trouble
from floorpan.frames import Floats, Vector

ON_TARGET_MM = 1e-6
_AS_NEAR_MM = 1e-2
_AT_END = 1e-5


@dataclass(frozen=True, slots=True)
class Found:
    """The change of least trouble.

    change     : (7,)
    short_mm   : how far its knob stays off the target
    stopped_by : ends of ranges that hold the knob off the target, the strongest first
    not_free   : what would bring it nearer and is not free
    """

    change: tuple[float, ...]
    trouble: float
    short_mm: float
    stopped_by: tuple[str, ...]
    not_free: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Bounds:
    """Least and most of each part of a change (7,), the most of the whole bend, costs (7,) by one mm or deg."""

    low: Floats
    high: Floats
    bend_most_deg: float
    costs: Floats

    @classmethod
    def of(cls, mechanism: Mechanism, free: LeverFreedom, trouble: Trouble) -> "Bounds":
        """What is not free has its present value at both ends."""
        low, high = mechanism.present(), mechanism.present()
        if free.length_free:
            low[ROD], high[ROD] = max(free.length_least_mm, mechanism.kink_mm), free.length_most_mm
        if free.raise_free:
            high[RAISE] = free.raise_most_mm
        if free.tilt_free:
            low[TILT], high[TILT] = free.tilt_least_deg, free.tilt_most_deg
        if free.move_free:
            low[REARWARD], high[REARWARD] = -free.move_forward_mm, free.move_rearward_mm
            low[RIGHT], high[RIGHT] = -free.move_left_mm, free.move_right_mm
        most = free.bend_most_deg if free.bend_free else 0.0
        low[[BEND_REARWARD, BEND_RIGHT]] -= most
        high[[BEND_REARWARD, BEND_RIGHT]] += most
        bend = trouble.bend_per_deg
        costs = [trouble.length_per_mm, bend, bend, trouble.raise_per_mm, trouble.tilt_per_deg]
        return cls(low, high, most, np.array([*costs, trouble.move_per_mm, trouble.move_per_mm]))

    def straight(self) -> "Bounds":
        """The same with the lever left as it is."""
        if not self.bend_most_deg:
            return self
        low, high = self.low.copy(), self.high.copy()
        low[[BEND_REARWARD, BEND_RIGHT]] = high[[BEND_REARWARD, BEND_RIGHT]] = 0.0
        return Bounds(low, high, 0.0, self.costs)

    def trouble(self, change: Floats, present: Floats) -> float:
        """Cost times change, summed; the bend counts whole."""
        by = np.abs(change - present)
        by[BEND_REARWARD], by[BEND_RIGHT] = bend_deg(by), 0.0
        return float(self.costs @ by)


def least_change(mechanism: Mechanism, target_mm: Vector, bounds: Bounds) -> Found:
    """The change of least trouble whose neutral knob is on the target, else as near as it comes."""
    target = np.array(target_mm, dtype=float)
    present = mechanism.present()
    nearest = _nearest(mechanism, target, bounds)
    short = _off(mechanism, nearest, target)
    reached = short <= ON_TARGET_MM
    best, least = nearest, bounds.trouble(nearest, present)
    for change in _candidates(mechanism, target, bounds, nearest, 0.0 if reached else short):
        off = _off(mechanism, change, target)
        trouble = bounds.trouble(change, present)
        if off <= (ON_TARGET_MM if reached else short + 2 * _AS_NEAR_MM) and trouble < least - 1e-9:
            best, least = change, trouble
    best = _tidied(mechanism, best, target, bounds, reached)
    least = bounds.trouble(best, present)
    stopped, held = ((), ()) if reached else _stops(mechanism, nearest, target, bounds)
    return Found(tuple(float(v) for v in best), least, _off(mechanism, best, target), stopped, held)


def _tidied(mechanism: Mechanism, change: Floats, target: Floats, bounds: Bounds, reached: bool) -> Floats:
    """The change without parts that are rounding and nothing else, where the knob stays where it is without them."""
    present = np.clip(mechanism.present(), bounds.low, bounds.high)
    tidy = np.where(np.abs(change - present) < _AT_END, present, change)
    if reached:
        tidy = _landed(mechanism, tidy, target, bounds)
        return tidy if _off(mechanism, tidy, target) <= ON_TARGET_MM else change
    return tidy if _off(mechanism, tidy, target) <= _off(mechanism, change, target) + _AS_NEAR_MM else change


def _off(mechanism: Mechanism, change: Floats, target: Floats) -> float:
    return float(np.linalg.norm(mechanism.knob_mm(change) - target))


def _nearest(mechanism: Mechanism, target: Floats, bounds: Bounds) -> Floats:
    """The change whose knob comes nearest to the target, from the present one."""
    free = np.flatnonzero(bounds.high > bounds.low)
    change = np.clip(mechanism.present(), bounds.low, bounds.high)
    if not len(free):
        return change

    def full(some: Floats) -> Floats:
        whole = change.copy()
        whole[free] = some / bounds.costs[free]
        return whole

    def squared(some: Floats) -> tuple[float, Floats]:
        whole = full(some)
        rest = mechanism.knob_mm(whole) - target
        return float(rest @ rest) / 2, (mechanism.slopes(whole).T @ rest)[free] / bounds.costs[free]

    low, high = (bounds.low * bounds.costs)[free], (bounds.high * bounds.costs)[free]
    first = change[free] * bounds.costs[free]
    found = _least_of(squared, first, low, high, _whole_bend(full, bounds, free))
    return _landed(mechanism, _inside(full(found), bounds), target, bounds)


def _least_of(
    valued: Callable[[Floats], tuple[float, Floats]], first: Floats, low: Floats, high: Floats, held: Any
) -> Floats:
    """Where a value given with its slopes is least between two bounds (n,), under what is held."""
    from scipy.optimize import minimize

    found = minimize(
        valued,
        first,
        jac=True,
        method="SLSQP",
        bounds=list(zip(low.tolist(), high.tolist(), strict=True)),
        constraints=held,
        options={"maxiter": 100, "ftol": 1e-12},
    )
    least: Floats = np.asarray(found.x, dtype=float)
    return least


def _whole_bend(
    full: Callable[[Floats], Floats], bounds: Bounds, free: NDArray[np.intp]
) -> list[dict[str, Any]]:
    """The bend as a whole stays under its most, where it is free."""
    if not bounds.bend_most_deg:
        return []
    most = bounds.bend_most_deg

    def room(some: Floats) -> float:
        return most - bend_deg(full(some)) ** 2 / most

    def slope(some: Floats) -> Floats:
        slopes = np.zeros(7)
        parts = [BEND_REARWARD, BEND_RIGHT]
        slopes[parts] = -2.0 * full(some)[parts] / most
        held: Floats = slopes[free] / bounds.costs[free]
        return held

    return [{"type": "ineq", "fun": room, "jac": slope}]


def _inside(change: Floats, bounds: Bounds) -> Floats:
    """The change with every part taken back into its range."""
    inside = np.clip(change, bounds.low, bounds.high)
    bend = bend_deg(inside)
    if 0.0 < bounds.bend_most_deg < bend:
        inside[[BEND_REARWARD, BEND_RIGHT]] *= bounds.bend_most_deg / bend
    return inside


def _landed(mechanism: Mechanism, change: Floats, target: Floats, bounds: Bounds) -> Floats:
    """The change with its knob put on the target to rounding, moving only parts that are inside their ranges."""
    present = mechanism.present()
    landed = change
    for _ in range(4):
        rest = target - mechanism.knob_mm(landed)
        if np.linalg.norm(rest) > 1.0:
            return change
        loose = (landed - bounds.low > _AT_END) & (bounds.high - landed > _AT_END)
        loose &= np.abs(landed - present) > _AT_END
        if bounds.bend_most_deg - bend_deg(landed) < _AT_END:
            loose[[BEND_REARWARD, BEND_RIGHT]] = False
        scaled = mechanism.slopes(landed)[:, loose] / bounds.costs[loose]
        step = np.zeros(7)
        step[loose] = (np.linalg.pinv(scaled, rcond=1e-9) @ rest) / bounds.costs[loose]
        landed = _inside(landed + step, bounds)
    return landed if _off(mechanism, landed, target) < _off(mechanism, change, target) else change


def _stops(
    mechanism: Mechanism, nearest: Floats, target: Floats, bounds: Bounds
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The ends of free ranges that hold the knob off the target, the strongest first, and what is not free."""
    rest = mechanism.knob_mm(nearest) - target
    pull = -(mechanism.slopes(nearest).T @ rest) / bounds.costs
    free = bounds.high > bounds.low
    felt: list[tuple[float, str]] = []
    for part, (least, most) in _ENDS.items():
        if free[part] and nearest[part] - bounds.low[part] < _AT_END:
            felt.append((-float(pull[part]), least))
        if free[part] and bounds.high[part] - nearest[part] < _AT_END:
            felt.append((float(pull[part]), most))
    bend = bend_deg(nearest)
    if bounds.bend_most_deg and bounds.bend_most_deg - bend < _AT_END:
        parts = [BEND_REARWARD, BEND_RIGHT]
        felt.append((float(pull[parts] @ nearest[parts]) / bend, "bend_most_deg"))
    least_felt = 1e-6 * float(np.linalg.norm(rest))
    stopped = tuple(name for strength, name in sorted(felt, reverse=True) if strength > least_felt)
    held = [name for part, name in _NOT_FREE.items() if not free[part] and abs(pull[part]) > least_felt]
    return stopped, tuple(dict.fromkeys(held))


_ENDS = {
    ROD: ("length_least_mm", "length_most_mm"),
    RAISE: ("raise_least_mm", "raise_most_mm"),
    TILT: ("tilt_least_deg", "tilt_most_deg"),
    REARWARD: ("move_forward_mm", "move_rearward_mm"),
    RIGHT: ("move_left_mm", "move_right_mm"),
}
"""The fields of LeverFreedom that end a range; raise_least_mm: a box cannot go lower than it stands."""

_NOT_FREE = {
    ROD: "length_free",
    BEND_REARWARD: "bend_free",
    BEND_RIGHT: "bend_free",
    RAISE: "raise_free",
    TILT: "tilt_free",
    REARWARD: "move_free",
    RIGHT: "move_free",
}


def _candidates(
    mechanism: Mechanism, target: Floats, bounds: Bounds, nearest: Floats, short_mm: float
) -> Iterator[Floats]:
    """Changes of little trouble: with the lever left straight, and bent, each from two places."""
    present = mechanism.present()
    straight = bounds.straight()
    unbent = _nearest(mechanism, target, straight)
    if _off(mechanism, unbent, target) <= (short_mm + _AS_NEAR_MM if short_mm else ON_TARGET_MM):
        for start in (unbent, present):
            yield _least(mechanism, target, straight, start, short_mm)
    if bounds.bend_most_deg:
        slight = present.copy()
        slopes = mechanism.slopes(present)[:, [BEND_REARWARD, BEND_RIGHT]]
        towards = slopes.T @ (target - mechanism.knob_mm(present))
        slight[[BEND_REARWARD, BEND_RIGHT]] = towards / (float(np.linalg.norm(towards)) or 1.0)
        for start in (nearest, slight):
            yield _least(mechanism, target, bounds, start, short_mm)


_PARTS = np.array([ROD, RAISE, TILT, REARWARD, RIGHT])
_PLUS, _MINUS, _BEND, _TOWARDS = slice(0, 5), slice(5, 10), 10, 11


def _least(mechanism: Mechanism, target: Floats, bounds: Bounds, start: Floats, short_mm: float) -> Floats:
    """The change of least trouble found from a start; its knob off the target by short_mm at most."""
    present = mechanism.present()
    low, high = _split_bounds(present, bounds)
    costs = np.array([*bounds.costs[_PARTS], *bounds.costs[_PARTS], bounds.costs[BEND_REARWARD], 10.0])
    free = np.flatnonzero(high > low)
    if not len(free):
        return _inside(present, bounds)
    by = (start - present)[_PARTS]
    bend = bend_deg(start)
    where = np.arctan2(start[BEND_RIGHT], start[BEND_REARWARD])
    first: Floats = np.clip(np.array([*np.maximum(by, 0), *np.maximum(-by, 0), bend, where]), low, high)

    def whole(some: Floats) -> Floats:
        split = first.copy()
        split[free] = some / costs[free]
        return split

    def rest(some: Floats) -> Floats:
        off: Floats = mechanism.knob_mm(_joined(whole(some), present)) - target
        return off

    def slopes(some: Floats) -> Floats:
        split = whole(some)
        chain = mechanism.slopes(_joined(split, present)) @ _parts_by_split(split)
        held: Floats = chain[:, free] / costs[free]
        return held

    weights = (free != _TOWARDS).astype(float)
    found = _least_of(
        lambda some: (float(weights @ some), weights),
        (first * costs)[free],
        (low * costs)[free],
        (high * costs)[free],
        _held(rest, slopes, short_mm),
    )
    change = _inside(_joined(whole(found), present), bounds)
    return change if short_mm else _landed(mechanism, change, target, bounds)


def _held(
    rest: Callable[[Floats], Floats], slopes: Callable[[Floats], Floats], short_mm: float
) -> dict[str, Any]:
    """The knob on the target, or no farther off it than it must be."""
    if not short_mm:
        return {"type": "eq", "fun": rest, "jac": slopes}
    most = short_mm + _AS_NEAR_MM
    return {
        "type": "ineq",
        "fun": lambda some: (most - float(rest(some) @ rest(some)) / most) / 2,
        "jac": lambda some: -(slopes(some).T @ rest(some)) / most,
    }


def _split_bounds(present: Floats, bounds: Bounds) -> tuple[Floats, Floats]:
    up, down = (bounds.high - present)[_PARTS], (present - bounds.low)[_PARTS]
    most = bounds.bend_most_deg
    bend, towards = bend_deg(present), np.arctan2(present[BEND_RIGHT], present[BEND_REARWARD])
    low_bend, high_bend = ([0.0, -2 * np.pi], [most, 2 * np.pi]) if most else ([bend, towards],) * 2
    low = np.array([*np.maximum(-down, 0), *np.maximum(-up, 0), *low_bend])
    high = np.array([*np.maximum(up, 0), *np.maximum(down, 0), *high_bend])
    return low, high


def _joined(split: Floats, present: Floats) -> Floats:
    change = present.copy()
    change[_PARTS] += split[_PLUS] - split[_MINUS]
    change[BEND_REARWARD] = split[_BEND] * np.cos(split[_TOWARDS])
    change[BEND_RIGHT] = split[_BEND] * np.sin(split[_TOWARDS])
    return change


def _parts_by_split(split: Floats) -> Floats:
    """How the parts of a change (7,) go with the split variables, (7, 12)."""
    chain = np.zeros((7, 12))
    chain[_PARTS, range(5)] = 1.0
    chain[_PARTS, range(5, 10)] = -1.0
    cos, sin = np.cos(split[_TOWARDS]), np.sin(split[_TOWARDS])
    chain[BEND_REARWARD, [_BEND, _TOWARDS]] = cos, -split[_BEND] * sin
    chain[BEND_RIGHT, [_BEND, _TOWARDS]] = sin, split[_BEND] * cos
    return chain
