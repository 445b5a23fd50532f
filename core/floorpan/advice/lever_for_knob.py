"""What lever a wanted knob needs: the least trouble among what the builder leaves free, and what it then gives.

The shifter's model holds a line from the pivot to the knob with one bend beside it, an upright box, and an opening
centred on the box from side to side. A knob swings about its pivot whatever the rod does in between, so for a bend
the line from pivot to knob leans. A tilted box leans its whole gate by the same angle and carries its pivot along;
the model's foot then stands under that pivot.
"""

import dataclasses
import math
from dataclasses import dataclass

import numpy as np

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
    kink_height_mm,
)
from floorpan.advice.lever_freedom import USUAL_TROUBLE, LeverFreedom, Trouble
from floorpan.advice.lever_least import Bounds, Found, least_change
from floorpan.advice.lever_sums import Bend, LeverReadings, lever_readings
from floorpan.errors import BadValue
from floorpan.fields import Range, rules
from floorpan.frames import Floats, Pose, Vector
from floorpan.items import Shifter
from floorpan.items.knob_point import KnobPoint
from floorpan.items.lever import NEUTRAL, LeverState, state_towards
from floorpan.items.placing import Place
from floorpan.items.shifter_gate import gate_table, lever_rod, lever_states, pivot_in_foot_mm, slots_of

_NOTHING_DEG = 1e-6
_STRAIGHT = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class LeverAnswer:
    """The lever a knob needs.

    shifter      : the changed shifter, which an edit can take up; in it the neutral knob is where `readings` say
    readings     : the new lever in numbers; present: the old one in the same numbers
    box_move_mm  : where the foot's centre goes, in car axes; the third is the height of the spacers
    tilt_deg     : the box about its foot, rearward; forward is a minus
    short_mm     : how far the neutral knob stays off the target, within 0.01 mm of the least; none where it is met
    stopped_by   : ends of ranges (fields of LeverFreedom; raise_least_mm: the box cannot go lower) that hold it off
    not_free     : what would bring it nearer and is not free (fields of LeverFreedom)
    trouble      : cost times change, summed; one mm of lever is the unit
    foot_off_mm  : how far the model's foot stands from the real one, where the box is tilted
    gears_off_mm : how far the model's knob in the worst gear is from that of the bent lever
    opening_off_mm : how far the model's opening stands from where it was cut, where the box moves
    """

    shifter: Shifter
    readings: LeverReadings
    present: LeverReadings
    box_move_mm: Vector
    tilt_deg: float
    met: bool
    short_mm: float
    stopped_by: tuple[str, ...]
    not_free: tuple[str, ...]
    trouble: float
    foot_off_mm: float
    gears_off_mm: float
    opening_off_mm: float

    @property
    def bend(self) -> Bend | None:
        """The bend, None for a straight lever."""
        return self.readings.bend


def lever_for_knob(
    shifter: Shifter,
    knob_target_mm: Vector,
    free: LeverFreedom,
    old_lever_mm: float | None = None,
    *,
    margin_mm: float | None = None,
    trouble: Trouble = USUAL_TROUBLE,
) -> LeverAnswer:
    """The least trouble that brings the neutral knob onto a target in car axes [mm].

    A lever that is bent already either keeps its bend or is bent anew from a straight rod, whichever is less trouble.
    Typed knobs count as typed: with a typed neutral the present lever is the
    one from the pivot to it, and each typed knob moves with the lever it was taped on. The opening stays where it
    is cut in the console.

    old_lever_mm : what effort is counted against; the present lever where none is given
    margin_mm    : beyond the sweep and the rock in an opening; the usual one where none is given

    Raises BadValue for a target that is no point, a bend for which the lever has no room, or where the answer leaves
    what a shifter can hold (a lean over 60 deg, say).
    """
    if not all(map(math.isfinite, knob_target_mm)):
        raise BadValue("not-finite", "The knob's target is no point.", "Set it again beside the shifter.")
    length = lever_states(shifter)[NEUTRAL].length_mm
    if not length:
        raise BadValue(
            "no-lever",
            "The typed neutral knob lies on the pivot.",
            "Tape the knob again, or the pivot over the foot.",
        )
    if old_lever_mm is not None and not (math.isfinite(old_lever_mm) and old_lever_mm > 0.0):
        raise BadValue("not-a-lever", "The old lever has no length.", "Tape it from the pivot to the knob.")
    if shifter.offset_mm:
        # A knob swings about its pivot whatever the rod does: the line to it is worked out, the rod keeps its offset.
        line = dataclasses.replace(shifter, offset_mm=0.0)
        held = dataclasses.replace(free, bend_free=False)
        answer = lever_for_knob(
            line, knob_target_mm, held, old_lever_mm, margin_mm=margin_mm, trouble=trouble
        )
        return _set_beside(answer, shifter, old_lever_mm or length, margin_mm)
    tried = []
    if free.bend_free:
        kink = kink_height_mm(shifter, free.bend_below_boot_mm)
        tried.append(_tried(Mechanism.of(shifter, kink), knob_target_mm, free, trouble))
    if lever_rod(shifter, lever_states(shifter)[NEUTRAL]) is not None or not tried:
        kept = dataclasses.replace(free, bend_free=False)
        tried.append(_tried(Mechanism.of(shifter, None), knob_target_mm, kept, trouble))
    mechanism, found = min(tried, key=_how_bad)
    return _answer(shifter, mechanism, found, old_lever_mm or length, margin_mm)


def _set_beside(
    answer: LeverAnswer, shifter: Shifter, old_lever_mm: float, margin_mm: float | None
) -> LeverAnswer:
    """The answer for the line from the pivot to the knob, its rod set beside the knob as it was."""
    beside = dataclasses.replace(
        answer.shifter, offset_mm=shifter.offset_mm, offset_turn_deg=shifter.offset_turn_deg
    )
    return dataclasses.replace(
        answer,
        shifter=beside,
        readings=lever_readings(beside, old_lever_mm=old_lever_mm, margin_mm=margin_mm),
        present=lever_readings(shifter, old_lever_mm=old_lever_mm, margin_mm=margin_mm),
    )


def _tried(
    mechanism: Mechanism, target_mm: Vector, free: LeverFreedom, trouble: Trouble
) -> tuple[Mechanism, Found]:
    return mechanism, least_change(mechanism, target_mm, Bounds.of(mechanism, free, trouble))


def _how_bad(tried: tuple[Mechanism, Found]) -> tuple[float, float]:
    """Nearest first, to a tenth of a mm; then least trouble."""
    return round(tried[1].short_mm, 1), tried[1].trouble


def _answer(
    shifter: Shifter, mechanism: Mechanism, found: Found, old_lever_mm: float, margin_mm: float | None
) -> LeverAnswer:
    change = np.array(found.change)
    state, bend = _new_lever(shifter, mechanism, change)
    adopted, opening_off = _adopted(shifter, mechanism, change, state, bend)
    pivot_now = np.array(pivot_in_foot_mm(shifter))
    met = not found.stopped_by and not found.not_free and found.short_mm < 1e-6
    return LeverAnswer(
        shifter=adopted,
        readings=lever_readings(adopted, old_lever_mm=old_lever_mm, margin_mm=margin_mm),
        present=lever_readings(shifter, old_lever_mm=old_lever_mm, margin_mm=margin_mm),
        box_move_mm=(float(change[REARWARD]), float(change[RIGHT]), float(change[RAISE])),
        tilt_deg=float(change[TILT]),
        met=met,
        short_mm=0.0 if met else found.short_mm,
        stopped_by=found.stopped_by,
        not_free=found.not_free,
        trouble=found.trouble,
        foot_off_mm=abs(float((_tilted(change).apply(pivot_now) - pivot_now)[0])),
        gears_off_mm=_gears_off_mm(shifter, adopted, mechanism, change) if bend[0] else 0.0,
        opening_off_mm=opening_off,
    )


def _new_lever(
    shifter: Shifter, mechanism: Mechanism, change: Floats
) -> tuple[LeverState, tuple[float, float, float]]:
    """The line from the pivot to the knob in neutral, box tilted; how the rod is bent, towards where and how high."""
    by = change - mechanism.present()
    if mechanism.as_it_is() and not np.any(by[[ROD, BEND_REARWARD, BEND_RIGHT, TILT]]):
        return mechanism.state, (shifter.bend_deg, shifter.bend_turn_deg, shifter.bend_mm)
    into = _tilted(change).after(mechanism.lever)
    state = state_towards(into.apply(mechanism.reach_mm(change).astype(float)), 0.0)
    if bend_deg(change) < _NOTHING_DEG:
        return state, _STRAIGHT
    corner = state.turn().inverse().apply(into.apply(np.array([0.0, 0.0, mechanism.kink_mm])))
    towards = math.degrees(math.atan2(-corner[1], -corner[0]))
    return state, (bend_deg(change), towards, mechanism.kink_mm)


def _tilted(change: Floats) -> Pose:
    return Pose.turned((0.0, 1.0, 0.0), float(change[TILT]))


def _adopted(
    shifter: Shifter,
    mechanism: Mechanism,
    change: Floats,
    state: LeverState,
    bend: tuple[float, float, float],
) -> tuple[Shifter, float]:
    """The changed shifter, and how far its opening stands from where it was cut [mm]."""
    old_pivot = np.array(pivot_in_foot_mm(shifter))
    tilted = _tilted(change).apply(old_pivot)
    slid = float(tilted[0] - old_pivot[0])
    turn = np.asarray(mechanism.axes).reshape(3, 3)
    move = np.array([change[REARWARD], change[RIGHT], change[RAISE]]) + turn @ [slid, 0.0, 0.0]
    x, y, z = (float(v) for v in np.array(mechanism.foot_mm) + move)
    own = turn.T @ move
    back, opening = shifter.opening_back_mm - float(own[0]), shifter.opening_mm - float(own[2])
    held_back, held_opening = _held("opening_back_mm", back), _held("opening_mm", opening)
    by = LeverState(
        fore_deg=state.fore_deg - mechanism.state.fore_deg,
        side_deg=state.side_deg - mechanism.state.side_deg,
        length_mm=state.length_mm - mechanism.state.length_mm,
    )
    pivot = np.array([old_pivot[0], old_pivot[1], tilted[2]])
    changed = dataclasses.replace(
        shifter,
        place=Place(x_mm=x, y_mm=y, z_mm=z, turn_deg=shifter.place.turn_deg),
        stands_on="none" if change[RAISE] > 0.0 else shifter.stands_on,
        pivot_mm=float(pivot[2]),
        lever_mm=shifter.lever_mm + by.length_mm,
        lean_deg=shifter.lean_deg + by.fore_deg,
        side_lean_deg=shifter.side_lean_deg + by.side_deg,
        bend_deg=bend[0],
        bend_turn_deg=bend[1],
        bend_mm=bend[2],
        opening_mm=held_opening,
        opening_back_mm=held_back,
        knobs=tuple(_typed_again(knob, old_pivot, pivot, by) for knob in shifter.knobs),
    )
    return changed, math.hypot(float(own[1]), held_back - back, held_opening - opening)


def _held(field: str, value: float) -> float:
    """The nearest value the shifter's field takes."""
    rule = rules(Shifter)[field]
    return min(max(value, rule.least), rule.most) if isinstance(rule, Range) else value


def _typed_again(knob: KnobPoint, old_pivot_mm: Floats, pivot_mm: Floats, by: LeverState) -> KnobPoint:
    """A typed knob with its lever leant and lengthened as the neutral one is."""
    old = state_towards(np.array([knob.x_mm, knob.y_mm, knob.z_mm]) - old_pivot_mm, 0.0)
    leant = LeverState(
        fore_deg=old.fore_deg + by.fore_deg,
        side_deg=old.side_deg + by.side_deg,
        length_mm=old.length_mm + by.length_mm,
    )
    x, y, z = (float(v) for v in pivot_mm + leant.length_mm * leant.stick())
    return dataclasses.replace(knob, x_mm=x, y_mm=y, z_mm=z)


def _gears_off_mm(shifter: Shifter, adopted: Shifter, mechanism: Mechanism, change: Floats) -> float:
    """How far the model's knobs are from those of the bent rod on the old lever's own joint [mm].

    The joint swings the rod under the bend through the gate's angles. The model swings the line from pivot to knob
    through the same angles; the two part in the outer planes.
    """
    foot = Pose(rotation=shifter.place.pose().rotation, shift_mm=mechanism.foot_mm)
    moved = Pose(shift_mm=(float(change[REARWARD]), float(change[RIGHT]), float(change[RAISE])))
    pivot = Pose(shift_mm=pivot_in_foot_mm(shifter))
    into = moved.after(foot).after(_tilted(change)).after(pivot)
    rod = mechanism.reach_mm(change).astype(float)
    old, model = lever_states(shifter), {place.gear: place.knob_mm for place in gate_table(adopted)}
    off = [0.0]
    for slot in slots_of(shifter):
        state = old[slot.gear]
        longer = np.array([0.0, 0.0, state.length_mm - mechanism.state.length_mm])
        knob = into.apply(state.turn().after(mechanism.joint).apply(rod + longer))
        off.append(math.dist(knob, model[slot.gear]))
    return max(off)
