"""The plain sums of a lever: throw, cross-gate travel, effort, and the opening it needs in the console."""

import math
from dataclasses import dataclass

import numpy as np

from floorpan.checks.lever import opening_limit
from floorpan.frames import Floats, Vector
from floorpan.items import Shifter
from floorpan.items.lever import NEUTRAL, LeverState
from floorpan.items.opening import rod_cut
from floorpan.items.shifter_gate import (
    knob_at,
    lever_rod,
    lever_states,
    lever_way,
    slots_of,
    swing_deg,
)
from floorpan.limits import limit


@dataclass(frozen=True, slots=True, kw_only=True)
class Bend:
    """A bend in the rod.

    deg        : angle between the rod under the bend and the rod over it
    at_mm      : where it is, from the pivot along the rod
    towards_deg: where the rod goes, seen along the lever: 0 rearward, 90 right, -90 left, 180 forward
    corner_mm  : the corner from the pivot in axes of which Z runs from the pivot to the neutral knob
    """

    deg: float
    at_mm: float
    towards_deg: float
    corner_mm: Vector


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningNeed:
    """A rectangle the lever passes through in every gear and on the way between them, rock and margin included.

    height_mm         : over the foot
    length_mm, width_mm : along and across, in the shifter's axes
    back_mm, right_mm : its centre from the centre of the foot
    centred_width_mm  : its width where its centre must lie over the foot's from side to side
    margin_mm         : beyond the sweep and the rock
    margin_source     : where the margin comes from
    over_knob         : the height is over the knob's centre in some gear: nothing of the lever is there
    """

    height_mm: float
    length_mm: float
    width_mm: float
    back_mm: float
    right_mm: float
    centred_width_mm: float
    margin_mm: float
    margin_source: str
    over_knob: bool

    def spare_mm(self, shifter: Shifter) -> float:
        """How much the shifter's own opening has to spare over this on its worst side [mm]; negative is lacking."""
        along = abs(self.back_mm - shifter.opening_back_mm)
        return min(
            (shifter.opening_length_mm - self.length_mm) / 2 - along,
            (shifter.opening_width_mm - self.width_mm) / 2 - abs(self.right_mm),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Travel:
    """How the knob travels [mm], straight from place to place.

    forward, rearward   : neutral to the gear in front of it and behind it; level: the part along the shifter
    plain               : the trade's sum, lever times the sine of the throw
    left, right         : across, from neutral's plane to the next one; None where the gate has none there
    plain_cross         : lever times the sine of the angle between planes
    """

    forward_mm: float
    rearward_mm: float
    forward_level_mm: float
    rearward_level_mm: float
    plain_mm: float
    left_mm: float | None
    right_mm: float | None
    plain_cross_mm: float


def plain_throw_mm(lever_mm: float, half_angle_deg: float) -> float:
    """Knob travel each way: lever length times the sine of the half angle [mm]."""
    return lever_mm * math.sin(math.radians(half_angle_deg))


def effort_factor(old_lever_mm: float, new_lever_mm: float) -> float:
    """The push at the new knob over that at the old one, the same work at the box: the lengths' inverse ratio."""
    return old_lever_mm / new_lever_mm


def bend_of(shifter: Shifter) -> Bend | None:
    """How the lever is bent, None for a straight one."""
    rod = lever_rod(shifter, lever_states(shifter)[NEUTRAL])
    if rod is None or shifter.offset_mm:
        return None
    return Bend(
        deg=shifter.bend_deg, at_mm=rod.under_mm, towards_deg=shifter.bend_turn_deg, corner_mm=rod.corner_mm
    )


def usual_margin(shifter: Shifter) -> tuple[float, str]:
    """What an opening has beyond the lever's sweep [mm] and where that comes from, by what the lever stands on."""
    wanted = limit(opening_limit(shifter))
    return wanted.value, wanted.source


def knob_travel(shifter: Shifter) -> Travel:
    """The knob's travel; typed knobs count as typed."""
    states = lever_states(shifter)
    slots = slots_of(shifter)
    neutral, swing, manual = states[NEUTRAL], swing_deg(shifter), shifter.gate == "manual"
    rows = {slot.detent: states[slot.gear] for slot in slots if slot.plane == 0}
    ahead = rows.get(-1) or _swung(neutral, -swing)
    behind = rows.get(1) or _swung(neutral, swing)
    forward, rearward = (_knob(one) - _knob(neutral) for one in (ahead, behind))
    across: dict[int, list[float]] = {}
    for slot in slots:
        across.setdefault(slot.plane, []).append(float(_knob(states[slot.gear])[1]))
    middle = float(np.mean(across[0]))
    return Travel(
        forward_mm=float(np.linalg.norm(forward)),
        rearward_mm=float(np.linalg.norm(rearward)),
        forward_level_mm=-float(forward[0]),
        rearward_level_mm=float(rearward[0]),
        plain_mm=plain_throw_mm(neutral.length_mm, swing),
        left_mm=middle - float(np.mean(across[-1])) if -1 in across else None,
        right_mm=float(np.mean(across[1])) - middle if 1 in across else None,
        plain_cross_mm=plain_throw_mm(neutral.length_mm, shifter.plane_deg if manual else 0.0),
    )


def opening_need(shifter: Shifter, height_mm: float, *, margin_mm: float | None = None) -> OpeningNeed:
    """The opening the lever needs at a height over the foot [mm]; the usual margin where none is given.

    The lever goes through neutral's row from plane to plane and from there into each gear, and its skin is farthest
    out at a turn of that way.
    """
    margin, source = usual_margin(shifter) if margin_mm is None else (margin_mm, "as given")
    states = lever_states(shifter)
    on_the_way = [
        state for gear in states if gear != NEUTRAL for state in lever_way(shifter, NEUTRAL, gear).waypoints
    ]
    cuts = [rod_cut(shifter, state, height_mm) for state in on_the_way]
    low = np.min([at - reach for at, reach in cuts], axis=0) - shifter.rock_mm - margin
    high = np.max([at + reach for at, reach in cuts], axis=0) + shifter.rock_mm + margin
    return OpeningNeed(
        height_mm=height_mm,
        length_mm=float(high[0] - low[0]),
        width_mm=float(high[1] - low[1]),
        back_mm=float(high[0] + low[0]) / 2,
        right_mm=float(high[1] + low[1]) / 2,
        centred_width_mm=2 * float(max(high[1], -low[1])),
        margin_mm=margin,
        margin_source=source,
        over_knob=any(height_mm - shifter.pivot_mm > _knob(state)[2] for state in states.values()),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class LeverReadings:
    """A lever in numbers, so that two can be laid side by side.

    lever_mm          : pivot to the centre of the knob, straight
    rod_mm            : the same along the rod; more where it is bent
    lean_deg, side_lean_deg : of the line from the pivot to the knob, in neutral
    knob_mm           : neutral knob in car axes
    opening           : needed in the console at the opening's height
    boot_opening      : needed at the height of the boot's top in neutral
    spare_mm          : what the shifter's own opening has over that need; negative is lacking
    meets_opening     : the lever overlaps the edge of its own opening in some gear, rock included
    effort            : push at the knob over that with the old lever; over 1 is more
    """

    lever_mm: float
    rod_mm: float
    bend: Bend | None
    lean_deg: float
    side_lean_deg: float
    knob_mm: Vector
    knob_over_foot_mm: float
    travel: Travel
    opening: OpeningNeed
    boot_opening: OpeningNeed
    spare_mm: float
    meets_opening: bool
    effort: float


def lever_readings(
    shifter: Shifter, *, old_lever_mm: float | None = None, margin_mm: float | None = None
) -> LeverReadings:
    """What the lever of a shifter gives.

    old_lever_mm : what effort is counted against, this very lever where none is given
    margin_mm    : beyond the sweep and the rock in an opening; the usual one where none is given
    """
    neutral = lever_states(shifter)[NEUTRAL]
    knob = _knob(neutral)
    opening = opening_need(shifter, shifter.opening_mm, margin_mm=margin_mm)
    rod = lever_rod(shifter, neutral)
    boot_mm = min(shifter.boot_mm, neutral.length_mm)
    boot = np.array(rod.at(boot_mm)) if rod else np.array([0.0, 0.0, boot_mm])
    at_boot = float(neutral.turn().apply(boot)[2]) + shifter.pivot_mm
    spare = opening.spare_mm(shifter)
    return LeverReadings(
        lever_mm=neutral.length_mm,
        rod_mm=rod.length_mm if rod else neutral.length_mm,
        bend=bend_of(shifter),
        lean_deg=neutral.fore_deg,
        side_lean_deg=neutral.side_deg,
        knob_mm=knob_at(shifter, neutral),
        knob_over_foot_mm=shifter.pivot_mm + float(knob[2]),
        travel=knob_travel(shifter),
        opening=opening,
        boot_opening=opening_need(shifter, at_boot, margin_mm=margin_mm),
        spare_mm=spare,
        meets_opening=spare + opening.margin_mm < 0.0,
        effort=effort_factor(old_lever_mm or neutral.length_mm, neutral.length_mm),
    )


def _knob(state: LeverState) -> Floats:
    """The knob (3,) from the pivot in the shifter's axes [mm]."""
    knob: Floats = state.length_mm * state.stick()
    return knob


def _swung(state: LeverState, by_deg: float) -> LeverState:
    return LeverState(fore_deg=state.fore_deg + by_deg, side_deg=state.side_deg, length_mm=state.length_mm)
