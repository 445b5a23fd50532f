"""How far an arm on the knob went since it was posed, told without asking what stands about it.

An elbow that hangs as it would like, with room to everything about it and in every joint, goes on hanging so while
it goes no farther than that room: then the arm is posed in closed form, and no point of it goes farther than its
elbow or its hand does.
"""

import itertools
import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import partial
from weakref import WeakKeyDictionary

import numpy as np

from floorpan.derive.elbow import PosedArm, elbow_in, hanging_in
from floorpan.derive.people import sitting_in
from floorpan.derive.scene import Scene
from floorpan.driver import BELTS_AXIS, Person, shoulder_point
from floorpan.driver.hanging_arms import hanging_arms
from floorpan.driver.joints import torso_axes
from floorpan.driver.reach import wanted_swivel_deg
from floorpan.frames import Floats, Vector
from floorpan.items import Seat, Shifter
from floorpan.items.seat import NOTCH
from floorpan.items.shifter import GEAR
from floorpan.items.states import State, state_of
from floorpan.layout import record_of

# How an elbow would like to hang is a whole degree, one of those that are looked at: an arc there is never missed.
_ROOM = 1e-6


@dataclass(frozen=True, slots=True, eq=False, weakref_slot=True)
class ArmFooting:
    """An arm in one state, belts tight; called, it says how it is posed, which takes longer than a gap.

    made_from : what it follows from but where the shifter stands, compared by identity
    elbow_mm, wrist_mm : where they are where the elbow hangs as it would like, in car axes
    room_deg  : the least room any joint has left there
    """

    state: State
    made_from: tuple[object, ...]
    shifter: Shifter
    elbow_mm: Vector
    wrist_mm: Vector
    room_deg: float
    _hang: Callable[[], PosedArm | None]
    _give_way: Callable[[], PosedArm | None]
    _told: "WeakKeyDictionary[ArmFooting, float]" = field(default_factory=WeakKeyDictionary)
    _posed: list[PosedArm | None] = field(default_factory=list)

    def __call__(self) -> PosedArm | None:
        """The arm as it is posed among what stands about; None where the knob is out of reach."""
        if not self._posed and not (self.room_deg >= _ROOM and self._hangs()):
            self._posed.append(self._give_way())
        return self._posed[0]

    def gone_mm(self, before: "ArmFooting") -> float:
        """No point from wrist to shoulder went farther since [mm]; infinite where that cannot be told."""
        # Asked again for every thing that the arm may meet.
        gone = self._told.get(before)
        if gone is None:
            gone = self._told[before] = self._went_mm(before)
        return gone

    def _went_mm(self, before: "ArmFooting") -> float:
        if before is self:
            return 0.0
        if not _same(self.made_from, before.made_from):
            return math.inf
        if self.shifter is before.shifter:
            return 0.0
        then = before()
        if then is None or then.stopped_by != "nothing" or not min(self.room_deg, before.room_deg) >= _ROOM:
            return math.inf
        gone = max(math.dist(self.elbow_mm, before.elbow_mm), math.dist(self.wrist_mm, before.wrist_mm))
        # With no more room than that it is asked whether anything is in its way now; what it gives way to takes longer.
        return gone if then.gap_mm - gone >= _ROOM or self._hangs() else math.inf

    def _hangs(self) -> bool:
        if not self._posed and (hanging := self._hang()) is not None:
            self._posed.append(hanging)
        return bool(self._posed) and self._posed[0] is not None and self._posed[0].stopped_by == "nothing"


@dataclass(frozen=True, slots=True, eq=False)
class ArmsFooting:
    """An arm in all its states."""

    arms: tuple[ArmFooting, ...]

    def gone_mm(self, before: "ArmsFooting") -> float:
        """No point of it went farther since in any state [mm]; infinite where that cannot be told."""
        if [arm.state for arm in self.arms] != [arm.state for arm in before.arms]:
            return math.inf
        pairs = zip(self.arms, before.arms, strict=True)
        return max((arm.gone_mm(then) for arm, then in pairs), default=0.0)


def arm_footings(scene: Scene, person: Person, seat: Seat, shifter: Shifter) -> ArmsFooting:
    """The arm in neutral and every gear that is reached at every notch a driver uses, belts tight.

    The very same while neither it nor what it gives way to changed.
    """
    about = (person, seat, *scene.layout.seats, *scene.layout.consoles, scene.hand_side())

    def make() -> ArmsFooting:
        return ArmsFooting(tuple(_reached(scene, person, seat, shifter, about)))

    return scene.memory.get(("arms", seat.id), (shifter, *about), make)


def _reached(
    scene: Scene, person: Person, seat: Seat, shifter: Shifter, about: tuple[object, ...]
) -> Iterator[ArmFooting]:
    gears = record_of(shifter).axes(shifter)[0].stops
    grips = [record_of(shifter).grips(shifter, {GEAR: gear})[0].at_mm for gear in gears]
    shoulders = [_shoulder(scene, person, seat, notch) for notch in person.notches_used]
    side = scene.hand_side()
    sitting = sitting_in(person, seat, person.notches_used[0])
    arms = hanging_arms(
        np.repeat(np.array(shoulders), len(gears), axis=0),
        np.tile(np.array(grips), (len(shoulders), 1)),
        person.upper_arm_mm,
        person.forearm_mm(),
        # The backrest leans alike at every notch.
        torso_axes(sitting.back_deg, side, sitting.turn_deg),
        swivel_deg=wanted_swivel_deg(side),
        wrist_to_grip_mm=person.wrist_to_grip_mm,
    )
    rows = zip(arms.elbows.tolist(), arms.wrists.tolist(), arms.room_deg.tolist(), strict=True)
    states = itertools.product(
        zip(person.notches_used, shoulders, strict=True), zip(gears, grips, strict=True)
    )
    for ((notch, shoulder), (gear, grip)), (elbow, wrist, room) in zip(states, rows, strict=True):
        if not math.isnan(elbow[0]):
            stops = {f"{seat.id}.{NOTCH}": str(notch), f"{shifter.id}.{GEAR}": gear}
            state = state_of({**stops, f"{person.id}.{BELTS_AXIS}": "tight"})
            hang = partial(hanging_in, scene, person, shoulder, grip, state)
            give_way = partial(elbow_in, scene, person, seat, shifter, state)
            yield ArmFooting(state, about, shifter, tuple(elbow), tuple(wrist), room, hang, give_way)


def _shoulder(scene: Scene, person: Person, seat: Seat, notch: int) -> Floats:
    side, sitting = scene.hand_side(), sitting_in(person, seat, notch)
    at, back, turn = sitting.h_point, sitting.back_deg, sitting.turn_deg
    return scene.memory.get(
        ("shoulder", notch), (person, seat, side), lambda: shoulder_point(person, at, back, side, 0.0, turn)
    )


def _same(one: tuple[object, ...], other: tuple[object, ...]) -> bool:
    return len(one) == len(other) and all(a is b for a, b in zip(one, other, strict=True))
