"""How far an arm on the knob went since it was posed, told without asking what stands about it.

An elbow that hangs as it would like, with room to everything about it and in every joint, goes on hanging so while
it goes no farther than that room: then the arm is posed in closed form, and no point of it goes farther than its
elbow or its hand does.
"""

import functools
import itertools
import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from functools import partial
from weakref import WeakKeyDictionary

import numpy as np

from floorpan.derive.elbow import PosedArm, elbow_in, hanging_in
from floorpan.derive.footing import shifted_mm
from floorpan.derive.people import sitting_in
from floorpan.derive.scene import Scene
from floorpan.driver import BELTS_AXIS, Person, shoulder_point
from floorpan.driver.hanging_arms import HangingArms, hanging_arms
from floorpan.driver.joints import torso_axes
from floorpan.driver.reach import wanted_swivel_deg
from floorpan.frames import Floats, Vector
from floorpan.items import Place, Seat, Shifter
from floorpan.items.seat import NOTCH
from floorpan.items.shifter import GEAR
from floorpan.items.states import State, state_of
from floorpan.layout import record_of

# How an elbow would like to hang is a whole degree, one of those that are looked at: an arc there is never missed.
_ROOM = 1e-6

_STEP_MM = 5.0


@dataclass(frozen=True, slots=True, eq=False)
class Gone:
    """How far each of several arms went [mm]; infinite where that cannot be told, None for one that is no more.

    steps : the same in coarse steps, by which what is told of them is remembered
    """

    each_mm: tuple[float | None, ...]
    steps: tuple[float | None, ...]

    @classmethod
    def of(cls, each_mm: Iterable[float | None]) -> "Gone":
        """Of each."""
        told = tuple(each_mm)
        return cls(told, tuple(None if mm is None else in_steps_mm(mm) for mm in told))

    def and_mm(self, more_mm: float) -> "Gone":
        """The same with what is met gone as well."""
        return (
            self if more_mm == 0.0 else Gone.of(None if mm is None else mm + more_mm for mm in self.each_mm)
        )


def in_steps_mm(gone_mm: float) -> float:
    """No less than gone_mm, in coarse steps, so that a finding is not written anew whenever a hand moves."""
    return _STEP_MM * math.ceil(gone_mm / _STEP_MM) if gone_mm < math.inf else gone_mm


@dataclass(frozen=True, slots=True, eq=False)
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
    _posed: list[PosedArm | None] = field(default_factory=list)
    _seen: "list[ArmFooting]" = field(default_factory=list)

    def __call__(self) -> PosedArm | None:
        """The arm as it is posed among what stands about; None where the knob is out of reach."""
        if not self._posed and not (self.room_deg >= _ROOM and self._hangs()):
            self._posed.append(self._give_way())
        return self._posed[0]

    def gone_mm(self, before: "ArmFooting") -> float:
        """No point from wrist to shoulder went farther since [mm]; infinite where that cannot be told."""
        if before is self:
            return 0.0
        if not _same(self.made_from, before.made_from):
            return math.inf
        if self.shifter is before.shifter:
            return 0.0
        if not min(self.room_deg, before.room_deg) >= _ROOM or not before._hangs_free():
            return math.inf
        gone = self._from_mm(before)
        return gone if self.hangs_since(before, gone) else math.inf

    def free_mm(self) -> float:
        """Its gap to what stands about where the elbow hangs as it would like; below nothing where it does not."""
        posed = self() if self.room_deg >= _ROOM else None
        return posed.gap_mm if posed is not None and posed.stopped_by == "nothing" else -math.inf

    def hangs_since(self, before: "ArmFooting", gone_mm: float) -> bool:
        """Whether the elbow still hangs as it would like, gone so far since it did so before."""
        if before.free_mm() - gone_mm >= _ROOM:
            return True
        # With no more room than that it is asked whether anything is in its way now; what it gives way to takes longer.
        for seen in before._seen:
            if seen.free_mm() - self._from_mm(seen) >= _ROOM:
                return True
        if self._hangs():
            before._seen[:] = [self]
        return self._hangs()

    def _from_mm(self, other: "ArmFooting") -> float:
        return max(math.dist(self.elbow_mm, other.elbow_mm), math.dist(self.wrist_mm, other.wrist_mm))

    def _hangs_free(self) -> bool:
        return self.free_mm() > -math.inf

    def _hangs(self) -> bool:
        if not self._posed and (hanging := self._hang()) is not None:
            self._posed.append(hanging)
        return bool(self._posed) and self._posed[0] is not None and self._posed[0].stopped_by == "nothing"


class ArmsFooting:
    """An arm in all its states, in neutral and every gear that is reached; each is made where somebody asks for it.

    states    : of each arm
    made_from : what they follow from but where the shifter stands, compared by identity
    """

    def __init__(
        self,
        states: tuple[State, ...],
        made_from: tuple[object, ...],
        shifter: Shifter,
        hanging: HangingArms,
        make: Callable[[int], ArmFooting],
        in_scene: Callable[[Scene], "ArmsFooting"],
    ) -> None:
        self.states, self.made_from, self.shifter = states, made_from, shifter
        self._hanging, self._make, self.again = hanging, make, in_scene
        self._arms: dict[int, ArmFooting] = {}
        self._free: Floats | None = None
        self._told: WeakKeyDictionary[ArmsFooting, Gone] = WeakKeyDictionary()

    @property
    def arms(self) -> tuple[ArmFooting, ...]:
        """Every arm, in the order of the states."""
        return tuple(self.arm(place) for place in range(len(self.states)))

    def arm(self, place: int) -> ArmFooting:
        """The one in the state at a place."""
        if place not in self._arms:
            self._arms[place] = self._make(place)
        return self._arms[place]

    def arm_in(self, state: State) -> ArmFooting:
        """The one in a state; raises ValueError where it is out of reach."""
        return self.arm(self.states.index(state))

    def gone_each_mm(self, before: "ArmsFooting") -> Gone:
        """No point of each arm that was there before went farther since [mm]."""
        # Asked again for every thing that the arm may meet.
        gone = self._told.get(before)
        if gone is None:
            gone = self._told[before] = Gone.of(self._went_mm(before))
        return gone

    def gone_mm(self, before: "ArmsFooting") -> float:
        """No point of it went farther since in any state [mm]; infinite where that cannot be told."""
        if self.states != before.states:
            return math.inf
        return max(
            (math.inf if one is None else one for one in self.gone_each_mm(before).each_mm), default=0.0
        )

    def _went_mm(self, before: "ArmsFooting") -> list[float | None]:
        if before is self:
            return [0.0] * len(self.states)
        if not self.states:
            return [None] * len(before.states)
        if not _same(self.made_from, before.made_from):
            return [math.inf] * len(before.states)
        if self.states == before.states:
            here = list(range(len(self.states)))
        else:
            places = {state: place for place, state in enumerate(self.states)}
            here = [places.get(state, -1) for state in before.states]
        now, then = self._hanging, before._hanging
        far = np.maximum(
            np.linalg.norm(now.elbows[here] - then.elbows, axis=1),
            np.linalg.norm(now.wrists[here] - then.wrists, axis=1),
        )
        free = before._free_mm()
        known = (np.minimum(now.room_deg[here], then.room_deg) >= _ROOM) & (free > -math.inf)
        still = known & (free - far >= _ROOM)
        gone: list[float | None] = np.where(still, far, math.inf).tolist()
        for was, place in enumerate(here):
            if place < 0:
                gone[was] = None
            elif known[was] and not still[was]:
                mm = float(far[was])
                gone[was] = mm if self.arm(place).hangs_since(before.arm(was), mm) else math.inf
        return gone

    def _free_mm(self) -> Floats:
        if self._free is None:
            self._free = np.array([arm.free_mm() for arm in self.arms])
        return self._free


def arm_footings(
    scene: Scene, person: Person, seat: Seat, shifter: Shifter, grips: tuple[Vector, ...] | None = None
) -> ArmsFooting:
    """The arm in neutral and every gear that is reached at every notch a driver uses, belts tight.

    The very same while neither it nor what it gives way to changed.

    grips : where the knob is in each gear, if that is known [mm]
    """
    about = (person, seat, *scene.layout.seats, *scene.layout.consoles, scene.hand_side())
    return scene.memory.get(
        ("arms", seat.id), (shifter, *about), lambda: _reached(scene, person, seat, shifter, about, grips)
    )


def _reached(
    scene: Scene,
    person: Person,
    seat: Seat,
    shifter: Shifter,
    about: tuple[object, ...],
    known: tuple[Vector, ...] | None,
) -> ArmsFooting:
    record = record_of(shifter)
    gears = record.axes(shifter)[0].stops
    grips = known or tuple(record.grips(shifter, {GEAR: gear})[0].at_mm for gear in gears)
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
    reached = np.flatnonzero(~np.isnan(arms.elbows[:, 0]))
    there = HangingArms(
        elbows=arms.elbows[reached], wrists=arms.wrists[reached], room_deg=arms.room_deg[reached]
    )
    every = _every_state(seat.id, person.notches_used, shifter.id, gears, person.id)
    rows = reached.tolist()
    states = every if len(rows) == len(every) else tuple(every[row] for row in rows)

    def make(place: int) -> ArmFooting:
        state, row = states[place], rows[place]
        shoulder, grip = shoulders[row // len(gears)], grips[row % len(gears)]
        hang = partial(hanging_in, scene, person, shoulder, grip, state)
        give_way = partial(elbow_in, scene, person, seat, shifter, state)
        elbow, wrist = tuple(there.elbows[place].tolist()), tuple(there.wrists[place].tolist())
        return ArmFooting(state, about, shifter, elbow, wrist, float(there.room_deg[place]), hang, give_way)

    def in_scene(other: Scene) -> ArmsFooting:
        sat_in, held = other.layout.thing(seat.id), other.layout.thing(shifter.id)
        assert isinstance(sat_in, Seat)
        assert isinstance(held, Shifter)
        # A knob goes where its shifter is shifted to.
        shifted = shifted_mm(shifter, held) < math.inf
        return arm_footings(
            other, person, sat_in, held, _along(grips, shifter.place, held.place) if shifted else None
        )

    return ArmsFooting(states, about, shifter, there, make, in_scene)


def _along(grips: tuple[Vector, ...], before: Place, now: Place) -> tuple[Vector, ...]:
    x, y, z = now.x_mm - before.x_mm, now.y_mm - before.y_mm, now.z_mm - before.z_mm
    return tuple((grip[0] + x, grip[1] + y, grip[2] + z) for grip in grips)


@functools.lru_cache(maxsize=64)
def _every_state(
    seat: str, notches: tuple[int, ...], shifter: str, gears: tuple[str, ...], person: str
) -> tuple[State, ...]:
    return tuple(
        state_of(
            {f"{seat}.{NOTCH}": str(notch), f"{shifter}.{GEAR}": gear, f"{person}.{BELTS_AXIS}": "tight"}
        )
        for notch, gear in itertools.product(notches, gears)
    )


def _shoulder(scene: Scene, person: Person, seat: Seat, notch: int) -> Floats:
    side, sitting = scene.hand_side(), sitting_in(person, seat, notch)
    at, back, turn = sitting.h_point, sitting.back_deg, sitting.turn_deg
    return scene.memory.get(
        ("shoulder", notch), (person, seat, side), lambda: shoulder_point(person, at, back, side, 0.0, turn)
    )


def _same(one: tuple[object, ...], other: tuple[object, ...]) -> bool:
    return len(one) == len(other) and all(a is b for a, b in zip(one, other, strict=True))
