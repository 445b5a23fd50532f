"""Vessels on their way out of their wells, with the hand that lifts them: by the driver, and by a passenger.

Ids: `vessel-1.hand` is the hand round a vessel. A vessel stands lifted, over its well, where its `place` is at
`lifting` (to the design driver) or `lifting over` (to the first passenger).
"""

import math
from dataclasses import dataclass

from floorpan.console.envelope import top_z_at
from floorpan.derive.memory import Memory
from floorpan.derive.motions import Motion
from floorpan.derive.people import sitting_in
from floorpan.driver import Person, Side
from floorpan.driver.posture import shoulder_point
from floorpan.driver.round_hand import FINGERS_MM, hand_breadth_mm, hand_round
from floorpan.errors import WrongStep
from floorpan.geometry.solids import Body
from floorpan.items import CupHolder, Place, Seat, Vessel
from floorpan.items.lift_out import (
    HeldAt,
    LiftOut,
    held_at,
    lift_out,
    stands_out_mm,
    way_of_hand,
    way_of_vessel,
)
from floorpan.items.states import State, stops_of
from floorpan.items.vessels import HANDED_OVER, IN, LIFTING, OUT, PLACE, Profile, envelope, moved, ring
from floorpan.layout import Layout, Thing

HAND = "hand"
VESSEL = "vessel-"
"""How the id of every vessel begins."""

_SOMEBODY = Person(id="nobody")


@dataclass(frozen=True, slots=True, eq=False)
class OnItsWay:
    """A vessel, or the hand on it, over the whole way out.

    motion  : where it is on the way, and all the room it takes
    way     : the vessel's way
    profile : (height over the vessel's base, radius) of what moves
    """

    motion: Motion
    way: LiftOut
    profile: Profile


@dataclass(frozen=True, slots=True, eq=False)
class Lifting:
    """Vessels of one layout that stand in a well, on their way out."""

    layout: Layout
    memory: Memory

    def stops(self) -> tuple[str, ...]:
        """To whom a vessel is lifted: the design driver, or nobody in particular, and a passenger if there is one."""
        return (LIFTING,) if self.lifter(HANDED_OVER) is None else (LIFTING, HANDED_OVER)

    def lifter(self, stop: str) -> Person | None:
        """Who lifts: the first driver or the first passenger who sits in a seat; None where nobody does."""
        role = "passenger" if stop == HANDED_OVER else "driver"
        sitting = (one for one in self.layout.people if one.role == role and self._seat(one) is not None)
        return next(sitting, None)

    def has(self, id: str) -> bool:
        """Whether an id is the hand round a vessel."""
        return id.startswith(VESSEL) and id.partition(".")[2] == HAND

    def moved_by(self, id: str) -> tuple[tuple[Thing, str], ...]:
        """The vessel's own axis."""
        return ((self._vessel(id), PLACE),)

    def rests_on(self, id: str) -> tuple[object, ...]:
        """All that its body and its way follow from."""
        vessel = self._vessel(id)
        holder = self._holder(vessel)
        people = [one for stop in (LIFTING, HANDED_OVER) if (one := self.lifter(stop)) is not None]
        seats = [self._seat(one) for one in people]
        held = () if holder is None else (holder,)
        return (vessel, *held, *people, *seats, *self.layout.consoles)

    def placed(self, vessel: Vessel, state: State) -> Vessel:
        """A vessel that stands in its well, raised over it where the state lifts it; the very same each time."""
        stop = stops_of(state, vessel.id).get(PLACE, IN)
        holder = self._holder(vessel)
        if holder is None or stop not in (LIFTING, HANDED_OVER):
            return vessel
        return self.memory.get(
            "lifted",
            (vessel, holder, *self.layout.consoles),
            lambda: moved(vessel, self.way(vessel, holder, LIFTING).over_place),
        )

    def body(self, id: str, state: State) -> Body:
        """The hand round a vessel where it stands, or lifted with it; nothing once it is out or in no well."""
        vessel = self._vessel(id)
        holder = self._holder(vessel)
        stop = stops_of(state, vessel.id).get(PLACE, IN)
        if holder is None or stop == OUT:
            return ()

        def make() -> Body:
            way, person = self.way(vessel, holder, stop), self.lifter(stop) or _SOMEBODY
            held = self._held(vessel, holder, person)
            return _round(person, held, way.from_place if stop == IN else way.over_place)

        return self.memory.get(("hand round", stop, self.layout.driver_side), self.rests_on(id), make)

    def motion(self, id: str, state: State, axis: str, leg: tuple[str, str]) -> Motion:
        """The hand round a vessel on the way to a stop; raises WrongStep for one that stands in no well."""
        going = self.on_its_way(id, leg[1])
        if going is None:
            raise WrongStep(
                "in-no-well", "This vessel stands in no well.", "Give it a cup holder to stand in."
            )
        return going.motion

    def on_its_way(self, id: str, stop: str) -> OnItsWay | None:
        """A vessel (`vessel-1`) or the hand round it (`vessel-1.hand`) on its way; None where it stands in no well.

        The very same while nothing of it changed.
        """
        vessel = self._vessel(id)
        holder = self._holder(vessel)
        if holder is None:
            return None
        make = self._hand_on_way if self.has(id) else self._vessel_on_way
        name = ("on its way", self.has(id), stop, self.layout.driver_side)
        return self.memory.get(name, self.rests_on(id), lambda: make(vessel, holder, stop))

    def way(self, vessel: Vessel, holder: CupHolder, stop: str) -> LiftOut:
        """Straight up, then level to the nearer shoulder, at the middle notch in use; only up where nobody sits."""
        person = self.lifter(stop)
        at = holder.place
        if person is None:
            return lift_out(holder, vessel, (at.x_mm, at.y_mm), around_mm=self._around_mm(holder))
        seat = self._seat(person)
        assert seat is not None
        used = sorted(person.notches_used)
        sitting = sitting_in(person, seat, int(used[len(used) // 2]))
        x, y, _ = shoulder_point(
            person, sitting.h_point, sitting.back_deg, self._side(stop), turn_deg=sitting.turn_deg
        )
        return lift_out(holder, vessel, (float(x), float(y)), around_mm=self._around_mm(holder))

    def stands_out_mm(self, vessel: Vessel) -> float | None:
        """How far a vessel's top is over the highest edge it comes up past [mm]; None where it stands in no well."""
        holder = self._holder(vessel)
        if holder is None:
            return None
        return self.memory.get(
            "stands out",
            (vessel, holder, *self.layout.consoles),
            lambda: stands_out_mm(holder, vessel, self._around_mm(holder)),
        )

    def _vessel_on_way(self, vessel: Vessel, holder: CupHolder, stop: str) -> OnItsWay:
        way = self.way(vessel, holder, stop)

        def at(share: float) -> Body:
            return envelope(moved(vessel, way.at(share)), "vessel", {})

        return OnItsWay(Motion(at, way.length_mm, way_of_vessel(way, vessel)), way, vessel.profile)

    def _hand_on_way(self, vessel: Vessel, holder: CupHolder, stop: str) -> OnItsWay:
        way = self.way(vessel, holder, stop)
        person = self.lifter(stop) or _SOMEBODY
        held = self._held(vessel, holder, person)

        def at(share: float) -> Body:
            return _round(person, held, way.at(share))

        swept = way_of_hand(way, at(0.0))
        radius = held.radius_mm + FINGERS_MM + person.glove_mm
        profile = ((held.low_mm, radius), (held.high_mm, radius))
        return OnItsWay(Motion(at, way.length_mm, swept), way, profile)

    def _held(self, vessel: Vessel, holder: CupHolder, person: Person) -> HeldAt:
        return held_at(holder, vessel, hand_breadth_mm(person), self._around_mm(holder))

    def _around_mm(self, holder: CupHolder) -> float:
        """Car Z of the highest place of a console round the well's mouth: a hole is cut in it over the well."""
        around = ((holder.place.x_mm, holder.place.y_mm), *ring(holder.place, holder.mouth_mm / 2))
        tops = (top_z_at(console, x, y) for console in self.layout.consoles for x, y in around)
        return max((top for top in tops if top is not None), default=-math.inf)

    def _side(self, stop: str) -> Side:
        """The arm nearer the tunnel: the driver's on the passenger's side, the passenger's on the driver's."""
        driver = "right" if self.layout.driver_side == "left" else "left"
        if stop == HANDED_OVER:
            return "left" if driver == "right" else "right"
        return "right" if driver == "right" else "left"

    def _vessel(self, id: str) -> Vessel:
        found = self.layout.thing(id.partition(".")[0])
        assert isinstance(found, Vessel)
        return found

    def _holder(self, vessel: Vessel) -> CupHolder | None:
        holder = self.layout.thing(vessel.stands_in) if vessel.stands_in else None
        return holder if isinstance(holder, CupHolder) else None

    def _seat(self, person: Person) -> Seat | None:
        return next((seat for seat in self.layout.seats if seat.id == person.seat_id), None)


def _round(person: Person, held: HeldAt, base: Place) -> Body:
    """The hand round a vessel whose base stands at a place."""
    middle = base.z_mm + (held.low_mm + held.high_mm) / 2
    return hand_round(person, (base.x_mm, base.y_mm, middle), held.radius_mm)
