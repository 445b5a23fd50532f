"""A gate from taped knob places: pivot, lever, lean, throw and planes by least squares, and what each point is off.

The knob of a place lies at

    pivot + length * (sin fore cos side, sin side, cos fore cos side)
    fore = lean + detent * swing,  side = side lean + plane * (angle between planes)

so gears that were not taped follow. How high the pivot is shows only in how the knobs' arc bulges, 5 mm in a usual
gate: the answer tells its own give or take, and a pivot that was measured can be kept.
"""

import dataclasses
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, cast

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares

from floorpan.errors import BadValue
from floorpan.fields import Range, rules
from floorpan.frames import Floats, Vector
from floorpan.items.knob_point import KnobPoint
from floorpan.items.lever import REVERSE, GateSlot
from floorpan.items.placing import point
from floorpan.items.shifter_fields import Shifter
from floorpan.items.shifter_gate import slots_of

TAPE_MM = 1.0
"""One sigma of a taped coordinate at the least; common practice, no source."""
ODD_MM = 5.0
"""A knob that is less off than this is not called odd."""

_PIVOT = ("pivot_back_mm", "pivot_right_mm", "pivot_mm")
_LINE = ("lever_mm", "lean_deg", "side_lean_deg")
# Weaker than this share of the strongest, a mix of unknowns does not show in the knobs.
_WEAK = 1e-5


@dataclass(frozen=True, slots=True, kw_only=True)
class PointOff:
    """How far a taped knob is from where the fitted gate has it [mm]."""

    gear: str
    off_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FittedKnob:
    """A knob of the fitted gate from the centre of the foot [mm], good to u_mm in its worst direction."""

    gear: str
    at_mm: Vector
    u_mm: float
    taped: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class GateFit:
    """A gate that fits taped knobs.

    shifter : with the fitted pivot, lever and angles; the taped knobs stay
    points  : each taped knob, in the order of the gate; rms_mm: root mean square of what they are off
    odd     : the gear whose knob does not go with the rest, "" where none stands out; odd_off_mm: how far it is off
              the gate that fits the others
    knobs   : every place of the gate
    u       : field to its give or take (two sigma), of everything that was fitted
    """

    shifter: Shifter
    points: tuple[PointOff, ...]
    rms_mm: float
    odd: str
    odd_off_mm: float
    knobs: tuple[FittedKnob, ...]
    u: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True, eq=False)
class _Solved:
    names: tuple[str, ...]
    values: Floats
    off: Floats
    spread: Floats

    @property
    def rms(self) -> float:
        return float(np.sqrt(np.mean(np.sum(self.off**2, axis=1))))


def fit_gate(shifter: Shifter, *, pivot_held: bool = False) -> GateFit:
    """The gate that fits the shifter's taped knobs best.

    pivot_held : the pivot was measured and stays where it is. Reverse's extra travel is fitted where the shifter has
                 one. A knob of a gear that the gate has not is left out.

    Raises BadValue where the knobs are too few, or lie so that they do not tell what is asked.
    """
    slots = {slot.gear: slot for slot in slots_of(shifter)}
    order = list(slots)
    taped = sorted((k for k in shifter.knobs if k.gear in slots), key=lambda k: order.index(k.gear))
    solved = _solved(shifter, taped, slots, pivot_held)
    changes: dict[str, Any] = dict(zip(solved.names, map(float, solved.values), strict=True))
    fitted = dataclasses.replace(shifter, **changes)
    odd, odd_off = _odd_one(shifter, taped, slots, pivot_held, solved)
    away = np.linalg.norm(solved.off, axis=1)
    return GateFit(
        shifter=fitted,
        points=tuple(
            PointOff(gear=knob.gear, off_mm=float(off)) for knob, off in zip(taped, away, strict=True)
        ),
        rms_mm=solved.rms,
        odd=odd,
        odd_off_mm=odd_off,
        knobs=tuple(
            _fitted(shifter, slot, solved, slot.gear in {k.gear for k in taped}) for slot in slots.values()
        ),
        u=tuple((name, 2.0 * float(np.sqrt(solved.spread[at, at]))) for at, name in enumerate(solved.names)),
    )


def _solved(
    shifter: Shifter, taped: Sequence[KnobPoint], slots: dict[str, GateSlot], pivot_held: bool
) -> _Solved:
    """As _solve; where no pivot fits, the knob that is odd about the present pivot is named in the fault."""
    try:
        return _solve(shifter, taped, slots, pivot_held)
    except BadValue as fault:
        if pivot_held or fault.code != "gate-points-flat":
            raise
        try:
            held = _solve(shifter, taped, slots, True)
        except BadValue:
            raise fault from None
        odd, off = _odd_one(shifter, taped, slots, True, held)
        if not odd:
            raise
        raise BadValue(
            fault.code,
            fault.what,
            f"Tape {odd} again: about the present pivot it is {off:.0f} mm off the others.",
            gear=odd,
        ) from None


def _unknowns(shifter: Shifter, taped: Sequence[KnobPoint], pivot_held: bool) -> tuple[str, ...]:
    names = (*(() if pivot_held else _PIVOT), *_LINE)
    if shifter.gate == "straight":
        # One plane says nothing of how far its pivot is to the side: the side lean takes it up.
        return (*(name for name in names if name != "pivot_right_mm"), "detent_deg")
    further = shifter.reverse_extra_deg > 0.0 and any(knob.gear == REVERSE for knob in taped)
    return (*names, "throw_deg", "plane_deg", *(("reverse_extra_deg",) if further else ()))


def _solve(
    shifter: Shifter, taped: Sequence[KnobPoint], slots: dict[str, GateSlot], pivot_held: bool
) -> _Solved:
    names = _unknowns(shifter, taped, pivot_held)
    if 3 * len(taped) < len(names) or len(taped) < 2:
        raise _too_few(len(taped), -(-len(names) // 3))
    wanted = np.array([[knob.x_mm, knob.y_mm, knob.z_mm] for knob in taped])
    places = [slots[knob.gear] for knob in taped]
    low, high = (np.array(ends) for ends in zip(*(_ends(name) for name in names), strict=True))

    def off(values: NDArray[Any]) -> NDArray[Any]:
        away: NDArray[Any] = _knobs(shifter, names, values, places) - wanted
        return away.ravel()

    starts = [_as_it_is(shifter, names)]
    if not pivot_held:
        starts.append(_from_ball(shifter, names, wanted, places))
    tried = [
        least_squares(
            off, np.clip(start, low + 1e-6, high - 1e-6), jac="cs", bounds=(low, high), x_scale="jac",
            ftol=1e-15, xtol=1e-15, gtol=1e-15, max_nfev=150,
        )
        for start in starts
    ]  # fmt: skip
    best = min(tried, key=lambda one: float(one.cost))
    slopes = np.asarray(best.jac, dtype=float) * _per_mm(names, best.x, names.index("lever_mm"))
    strengths = np.linalg.svd(slopes, compute_uv=False)
    if strengths[-1] < _WEAK * strengths[0] or np.any(best.active_mask):
        raise _does_not_tell(shifter, places)
    spare = max(wanted.size - len(names), 1)
    sigma = max(TAPE_MM, float(np.sqrt(2.0 * best.cost / spare)))
    jac = np.asarray(best.jac, dtype=float)
    return _Solved(
        names,
        np.asarray(best.x, dtype=float),
        np.asarray(best.fun, dtype=float).reshape(-1, 3),
        sigma**2 * np.linalg.inv(jac.T @ jac),
    )


def _knobs(
    shifter: Shifter, names: Sequence[str], values: NDArray[Any], places: Sequence[GateSlot]
) -> NDArray[Any]:
    """Knobs (K, 3) from the foot's centre; smooth in the values, complex ones too."""
    held = dict(zip(names, values, strict=True))

    def value(name: str) -> Any:
        return held.get(name, getattr(shifter, name))

    detents, planes = np.array([[slot.detent, slot.plane] for slot in places], dtype=float).T
    manual = shifter.gate == "manual"
    swing = value("throw_deg" if manual else "detent_deg") + np.zeros(len(places))
    if manual:
        swing = swing + value("reverse_extra_deg") * np.array(
            [float(slot.gear == REVERSE) for slot in places]
        )
    fore = np.pi / 180.0 * (value("lean_deg") + detents * swing)
    side = np.pi / 180.0 * (value("side_lean_deg") + planes * value("plane_deg"))
    length = value("lever_mm")
    return np.column_stack(
        [
            value("pivot_back_mm") + length * np.sin(fore) * np.cos(side),
            value("pivot_right_mm") + length * np.sin(side),
            value("pivot_mm") + length * np.cos(fore) * np.cos(side),
        ]
    )


def _as_it_is(shifter: Shifter, names: Sequence[str]) -> Floats:
    return np.array([float(getattr(shifter, name)) for name in names])


def _from_ball(shifter: Shifter, names: Sequence[str], wanted: Floats, places: Sequence[GateSlot]) -> Floats:
    """A start from the ball through the knobs: its centre, its radius, and even angles about it."""
    rows = np.column_stack([2.0 * wanted, np.ones(len(wanted))])
    found = np.linalg.lstsq(rows, np.sum(wanted**2, axis=1), rcond=None)[0]
    centre = (
        found[:3] if "pivot_right_mm" in names else np.array([found[0], shifter.pivot_right_mm, found[2]])
    )
    away = wanted - centre
    lengths = np.linalg.norm(away, axis=1)
    fore = np.degrees(np.arctan2(away[:, 0], away[:, 2]))
    side = np.degrees(np.arcsin(np.clip(away[:, 1] / lengths, -1.0, 1.0)))
    lean, swing = _even([slot.detent for slot in places], fore)
    leant, plane = _even([slot.plane for slot in places], side)
    start = {
        "pivot_back_mm": centre[0],
        "pivot_right_mm": centre[1],
        "pivot_mm": centre[2],
        "lever_mm": float(lengths.mean()),
        "lean_deg": lean,
        "side_lean_deg": leant,
        "throw_deg": swing,
        "detent_deg": swing,
        "plane_deg": plane,
        "reverse_extra_deg": shifter.reverse_extra_deg,
    }
    return np.array([float(start[name]) for name in names])


def _even(steps: Sequence[int], angles: Floats) -> tuple[float, float]:
    rows = np.column_stack([np.ones(len(steps)), np.array(steps, dtype=float)])
    first, by = np.linalg.lstsq(rows, angles, rcond=None)[0]
    return float(first), float(by)


def _per_mm(names: Sequence[str], values: Floats, lever: int) -> Floats:
    """What makes each unknown count in mm at the knob, so that their slopes can be laid side by side."""
    per_deg = np.degrees(1.0) / float(values[lever])
    return np.array([per_deg if name.endswith("_deg") else 1.0 for name in names])


def _ends(name: str) -> tuple[float, float]:
    rule = cast(Range, rules(Shifter)[name])
    return float(rule.least), float(rule.most)


def _odd_one(
    shifter: Shifter,
    taped: Sequence[KnobPoint],
    slots: dict[str, GateSlot],
    pivot_held: bool,
    whole: _Solved,
) -> tuple[str, float]:
    """The knob without which the others agree at least twice as well, and how far it is off them."""
    found: list[tuple[float, str, float]] = []
    for knob in taped:
        others = [one for one in taped if one is not knob]
        try:
            without = _solve(shifter, others, slots, pivot_held)
        except BadValue:
            continue
        at = _knobs(shifter, without.names, without.values, [slots[knob.gear]])[0].real
        off = float(np.linalg.norm(at - np.array([knob.x_mm, knob.y_mm, knob.z_mm])))
        found.append((without.rms, knob.gear, off))
    found.sort()
    if not found or found[0][0] > 0.5 * whole.rms or found[0][2] < ODD_MM:
        return "", 0.0
    return found[0][1], found[0][2]


def _fitted(shifter: Shifter, slot: GateSlot, solved: _Solved, taped: bool) -> FittedKnob:
    at = _knobs(shifter, solved.names, solved.values, [slot])[0]
    steps = 1e-20j * np.eye(len(solved.names))
    slopes = np.column_stack(
        [_knobs(shifter, solved.names, solved.values + step, [slot])[0].imag / 1e-20 for step in steps]
    )
    worst = float(np.linalg.eigvalsh(slopes @ solved.spread @ slopes.T).max())
    return FittedKnob(
        gear=slot.gear, at_mm=point(at), u_mm=2.0 * float(np.sqrt(max(worst, 0.0))), taped=taped
    )


def _too_few(count: int, needed: int) -> BadValue:
    told = "One taped knob does" if count == 1 else f"{count or 'No'} taped knobs do"
    return BadValue(
        "gate-points-few",
        f"{told} not tell the gate.",
        f"Tape {max(needed, 2)} or more: neutral, both ends of its plane, and one of another plane.",
        count=count,
    )


def _does_not_tell(shifter: Shifter, places: Sequence[GateSlot]) -> BadValue:
    if shifter.gate == "manual" and len({slot.plane for slot in places}) == 1:
        return BadValue(
            "gate-points-one-plane",
            "The taped knobs lie in one plane of the gate.",
            "Tape one gear of another plane as well.",
        )
    return BadValue(
        "gate-points-flat",
        "The taped knobs lie so flat, or so far off, that no pivot can be told from them.",
        "Tape their heights to the mm, or measure the pivot over the foot and keep it.",
    )
