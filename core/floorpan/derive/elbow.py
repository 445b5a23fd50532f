"""Where the elbow goes over all gears: within the joints, and clear of bolsters and console where that can be."""

from dataclasses import dataclass
from typing import cast

import numpy as np

from floorpan.console import Envelope
from floorpan.derive.people import reach_from, sitting_in
from floorpan.derive.scene import Scene
from floorpan.driver import BELTS_AXIS, Arm, Belts, Person, arm
from floorpan.driver.joints import torso_axes
from floorpan.driver.obstacles import NOTHING_IN_THE_WAY, Obstacles
from floorpan.driver.person import lean_deg_of
from floorpan.driver.reach import wanted_swivel_deg
from floorpan.driver.swivel import Arc, StoppedBy, comfortable_swivel, swivel_circle
from floorpan.driver.thick_arm import ThickArm
from floorpan.frames import Floats, Vector, vector_of
from floorpan.geometry.solids import Body
from floorpan.geometry.wires import Wires, wires
from floorpan.items import Seat, Shifter
from floorpan.items.shifter import GEAR
from floorpan.items.states import State, stops_of
from floorpan.layout import record_of

# An arm as thick as a forearm dips 1.6 mm between two wires at most.
_SPACING_MM = 25.0
_ROUNDING_MM = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class PosedArm:
    """The arm in one state, its elbow where joints and things about let it be.

    posed      : the arm; where nothing is allowed as it would like to hang
    gap_mm     : arm to the nearest bolster or console there, give or take 2 mm too large; infinite where there is none
    stopped_by : what keeps the elbow from hanging as it would like
    """

    posed: Arm
    gap_mm: float
    stopped_by: StoppedBy


@dataclass(frozen=True, slots=True, kw_only=True)
class ElbowAt(PosedArm):
    """The same with all that is left to the elbow.

    clear_deg : arcs of its circle that are left to the elbow; none where nothing is
    """

    gear: str
    clear_deg: tuple[Arc, ...]


def elbow_in(scene: Scene, person: Person, seat: Seat, shifter: Shifter, state: State) -> ElbowAt | None:
    """The arm of a driver in a state (gear, belts, notch); None where the arm does not reach or bend so far."""
    gear = stops_of(state, shifter.id)["gear"]
    return scene.memory.get(
        ("elbow", state),
        (person, shifter, *scene.layout.seats, *scene.layout.consoles, scene.hand_side()),
        lambda: _elbow(scene, person, seat, shifter, state, gear),
    )


def hanging_in(scene: Scene, person: Person, shoulder: Floats, grip: Vector, state: State) -> PosedArm | None:
    """The arm of somebody sitting back, elbow hanging as it would like; None where anything is in its way.

    The same as `elbow_in` tells where the joints allow it, without looking for all that is left to the elbow.
    """
    upper, lower = person.upper_arm_mm, person.forearm_mm()
    wanted = wanted_swivel_deg(scene.hand_side())
    thick = ThickArm(
        shoulder=shoulder,
        grip=np.asarray(grip, dtype=float),
        elbows=swivel_circle(vector_of(shoulder), grip, upper, lower).elbows,
        swing_mm=0.0,
        wrist_share=person.wrist_to_grip_mm / lower,
    )
    about = _about(scene, state, shoulder, person.shoulder_to_grip_mm)
    gap = float(thick.gaps(np.array([wanted]), about)[0]) - person.jacket_mm
    if gap < _ROUNDING_MM:
        return None
    posed = arm(vector_of(shoulder), grip, upper, lower, wanted, person.wrist_to_grip_mm)
    return PosedArm(posed=posed, gap_mm=gap, stopped_by="nothing")


def elbow_locus(
    scene: Scene, person: Person, seat: Seat, shifter: Shifter, state: State
) -> tuple[ElbowAt, ...]:
    """The elbow in neutral and every gear, in gate order, belts and notch as in the state; none out of reach."""
    others = {axis: stop for axis, stop in state if axis != f"{shifter.id}.{GEAR}"}
    stops = record_of(shifter).axes(shifter)[0].stops
    found = (
        elbow_in(scene, person, seat, shifter, _state({**others, f"{shifter.id}.{GEAR}": gear}))
        for gear in stops
    )
    return tuple(one for one in found if one is not None)


def _state(stops: dict[str, str]) -> State:
    return tuple(sorted(stops.items()))


def _elbow(
    scene: Scene, person: Person, seat: Seat, shifter: Shifter, state: State, gear: str
) -> ElbowAt | None:
    side = scene.hand_side()
    sitting = sitting_in(person, seat, int(stops_of(state, seat.id)["notch"]))
    belts = cast(Belts, stops_of(state, person.id)[BELTS_AXIS])
    grip = record_of(shifter).grips(shifter, {GEAR: gear})[0].at_mm
    found = reach_from(sitting, belts, side, grip)
    if found.spare_mm < 0.0 or not found.arm.bends:
        return None
    share = min(found.shoulder_off_mm / person.loose_forward_mm, 1.0) if person.loose_forward_mm else 0.0
    torso = torso_axes(
        sitting.back_deg - share * lean_deg_of(person.loose_forward_mm, person.shoulder_mm),
        side,
        sitting.turn_deg,
        share * person.loose_turn_deg,
    )
    swivel = comfortable_swivel(
        found.shoulder_mm,
        grip,
        person.upper_arm_mm,
        person.forearm_mm(),
        torso,
        obstacles=_about(scene, state, np.array(found.shoulder_mm), person.shoulder_to_grip_mm),
        clear_mm=person.jacket_mm,
        wrist_to_grip_mm=person.wrist_to_grip_mm,
        wanted_deg=wanted_swivel_deg(side),
    )
    posed = found.arm
    if swivel.swivel_deg is not None:
        posed = arm(
            found.shoulder_mm,
            grip,
            person.upper_arm_mm,
            person.forearm_mm(),
            swivel.swivel_deg,
            person.wrist_to_grip_mm,
        )
    return ElbowAt(
        gear=gear,
        posed=posed,
        clear_deg=swivel.clear_deg,
        gap_mm=swivel.gap_mm - person.jacket_mm,
        stopped_by=swivel.stopped_by,
    )


def _about(scene: Scene, state: State, shoulder: Floats, reach_mm: float) -> Obstacles:
    """Bolsters and consoles within the arm's reach, as rounded segments."""
    bodies = [
        scene.body(f"{seat.id}.{bolster}", state)
        for seat in scene.layout.seats
        for bolster in ("bolster left", "bolster right")
    ]
    bodies += [scene.body(console.id, state) for console in scene.layout.of(Envelope)]
    parts = [_wires(scene, body) for body in bodies]
    if not parts:
        return NOTHING_IN_THE_WAY
    starts, ends, radii = (np.concatenate(column) for column in zip(*parts, strict=True))
    near = _distances(shoulder, starts, ends) <= reach_mm + radii
    return Obstacles(starts=starts[near], ends=ends[near], radii=radii[near])


def _wires(scene: Scene, body: Body) -> Wires:
    return scene.memory.get("wires", (body,), lambda: wires(body, _SPACING_MM))


def _distances(point: Floats, starts: Floats, ends: Floats) -> Floats:
    along = ends - starts
    share = np.einsum("ki,ki->k", point - starts, along) / np.maximum(
        np.einsum("ki,ki->k", along, along), 1e-9
    )
    nearest = starts + np.clip(share, 0.0, 1.0)[:, None] * along
    away: Floats = np.linalg.norm(nearest - point, axis=1)
    return away
