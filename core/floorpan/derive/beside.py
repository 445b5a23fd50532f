"""What is checked beside the parts of placed things: the hand on a thing's own grip, and thighs up to the knee.

Ids: `handbrake-1.hand` is a hand on the handbrake, as thick as the thickest driver's; `driver-1.thigh left` is a
thigh with the roundness of its knee, lying along the cushion of the seat that somebody sits in.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from floorpan.derive.memory import Memory
from floorpan.derive.motions import Motion
from floorpan.derive.people import sitting_in
from floorpan.driver import Person, Side
from floorpan.driver.limbs import hand, thigh
from floorpan.geometry.solids import Body
from floorpan.items import Seat
from floorpan.items.placing import Grip
from floorpan.items.seat import NOTCH
from floorpan.items.states import State, stops_of
from floorpan.layout import Layout, Thing, record_of

HAND = "hand"
THIGHS: dict[str, Side] = {"thigh left": "left", "thigh right": "right"}


@dataclass(frozen=True, slots=True, eq=False)
class Beside:
    """Bodies beside the parts of things, of one layout."""

    layout: Layout
    memory: Memory

    def has(self, id: str) -> bool:
        """Whether an id is one of these."""
        owner, _, part = id.partition(".")
        if part in THIGHS:
            return True
        return part == HAND and self._person(owner) is None

    def moved_by(self, id: str) -> Iterator[tuple[Thing, str]]:
        """(thing, name of its axis) that move it."""
        owner, _, part = id.partition(".")
        if part in THIGHS:
            yield self._seat(owner), NOTCH
            return
        thing = self.layout.thing(owner)
        names = {name for grip in record_of(thing).grips(thing, {}) for name in grip.moved_by}
        yield from ((thing, axis.name) for axis in record_of(thing).axes(thing) if axis.name in names)

    def rests_on(self, id: str) -> tuple[object, ...]:
        """All that its body, motions and axes follow from."""
        owner, _, part = id.partition(".")
        if part in THIGHS:
            seat = self._seat(owner)
            # The notches in use are told by everybody who sits in it.
            return (
                self._sitter(owner),
                seat,
                *(one for one in self.layout.people if one.seat_id == seat.id and one.id != owner),
            )
        return (self.layout.thing(owner), *self.layout.people)

    def body(self, id: str, state: State) -> Body:
        """It, standing in a state."""
        owner, _, part = id.partition(".")
        return self.memory.get(
            ("beside", part, state), self.rests_on(id), lambda: self._body(owner, part, state)
        )

    def motion(self, id: str, state: State, axis: str, leg: tuple[str, str]) -> Motion:
        """A hand on its way along a leg of its thing's axis, other axes as in the state."""
        owner = id.partition(".")[0]
        thing, name = self.layout.thing(owner), axis.partition(".")[2]
        rest = {one: stop for one, stop in stops_of(state, owner).items() if one != name}

        def make() -> Motion:
            record = record_of(thing)

            def at(share: float) -> Body:
                return self._hand(record.grips_between(thing, rest, name, *leg, share)[0])

            grip = record.grips(thing, {})[0]
            return Motion(at, record.grip_motion_mm(thing, grip.name, name, *leg))

        return self.memory.get(
            ("beside, moving", name, leg, tuple(rest.items())), (thing, *self.layout.people), make
        )

    def _body(self, owner: str, part: str, state: State) -> Body:
        if part in THIGHS:
            seat = self._seat(owner)
            sitting = sitting_in(self._sitter(owner), seat, int(stops_of(state, seat.id)[NOTCH]))
            return thigh(sitting.h_point, seat.cushion_deg, THIGHS[part], sitting.turn_deg)
        thing = self.layout.thing(owner)
        return self._hand(record_of(thing).grips(thing, stops_of(state, owner))[0])

    def _hand(self, grip: Grip) -> Body:
        """The thickest glove of those who drive; a bare hand where nobody does."""
        drivers = [one for one in self.layout.people if one.role == "driver"] or [_BARE]
        return hand(max(drivers, key=lambda one: one.glove_mm), grip)

    def _person(self, id: str) -> Person | None:
        return next((one for one in self.layout.people if one.id == id), None)

    def _sitter(self, id: str) -> Person:
        return next(one for one in self.layout.people if one.id == id)

    def _seat(self, person_id: str) -> Seat:
        seat = self.layout.thing(self._sitter(person_id).seat_id)
        assert isinstance(seat, Seat)
        return seat


_BARE = Person(id="nobody")
