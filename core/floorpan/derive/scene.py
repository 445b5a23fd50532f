"""A layout with everything that follows from it.

The same layout gives the same bodies, the very ones, so that whoever judged them before knows there is nothing to
do. A person's hand is put on the knob here, on any other grip in `beside`.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import cast

import numpy as np

from floorpan.derive.beside import HAND, Beside
from floorpan.derive.buckled import BUCKLE, Buckled
from floorpan.derive.floor import AreaSurface, Floor
from floorpan.derive.footing import Footing
from floorpan.derive.lifting import VESSEL, Lifting
from floorpan.derive.memory import Memory
from floorpan.derive.motions import Motion
from floorpan.derive.part_meshes import MESH_PART, PartMeshes, PlacedMeshes
from floorpan.driver import BELT_STOPS, BELTS_AXIS, Person, Side
from floorpan.driver.limbs import hand
from floorpan.geometry.solids import Body, Hull, Solid
from floorpan.items import CupHolder, Seat, Shifter, Vessel, vessel_in
from floorpan.items.placing import StateAxis
from floorpan.items.seat import NOTCH
from floorpan.items.states import State, stops_of
from floorpan.layout import Layout, Thing, record_of

UsedAxis = tuple[str, tuple[str, ...]]


@dataclass(frozen=True, slots=True, eq=False)
class Scene:
    """What stands where. Built by a bench, which owns the memory.

    floors : of every scan that is judged; the first is the one that things stand on
    meshes : of parts from mesh files
    """

    layout: Layout
    floors: tuple[Floor, ...]
    memory: Memory
    meshes: PartMeshes = field(default_factory=lambda: PartMeshes({}))
    _axes: dict[str, tuple[UsedAxis, ...]] = field(default_factory=dict)
    _bodies: dict[tuple[str, State], Body] = field(default_factory=dict)
    _rests: dict[str, tuple[object, ...]] = field(default_factory=dict)
    _footings: dict[str, Footing] = field(default_factory=dict)

    @property
    def floor(self) -> Floor | None:
        """The floor that things stand on; None without a scan in car axes."""
        return self.floors[0] if self.floors else None

    def areas(self) -> Iterator[AreaSurface]:
        """Every part of every scan that is judged."""
        for floor in self.floors:
            yield from floor.areas

    def floor_of(self, area: AreaSurface) -> Floor:
        """The floor that an area is a part of."""
        return next(floor for floor in self.floors if floor.scan.id == area.id.partition(".")[0])

    def drivers(self) -> tuple[Person, ...]:
        """Who drives, the design driver first."""
        return tuple(person for person in self.layout.people if person.role == "driver")

    def hands(self) -> Iterator[tuple[Person, Shifter]]:
        """Who shifts what: every driver and every shifter."""
        for person in self.drivers():
            for shifter in self.layout.of(Shifter):
                yield person, shifter

    def largest_hand(self) -> str | None:
        """The hand that gaps are judged for: the design driver's, unless another driver's glove is thicker."""
        drivers = self.drivers()
        if not drivers or not self.layout.of(Shifter):
            return None
        return f"{max(drivers, key=lambda one: one.hand_radius_mm()).id}.hand"

    def axes_of(self, id: str) -> tuple[UsedAxis, ...]:
        """(axis, stops in use) that move a thing, one of its parts, or a driver's hand."""
        if id not in self._axes:
            made_from = (*self.rests_on(id), *self.layout.of(Shifter))
            self._axes[id] = self.memory.get(("axes", id), made_from, lambda: tuple(self._find_axes(id)))
        return self._axes[id]

    def _find_axes(self, id: str) -> Iterator[UsedAxis]:
        owner, _, part = id.partition(".")
        if (apart := self._apart(id)) is not None:
            for thing, name in apart.moved_by(id):
                axis = next(one for one in record_of(thing).axes(thing) if one.name == name)
                yield f"{thing.id}.{name}", self._stops_in_use(thing, axis)
            return
        if part == "hand":
            for shifter in self.layout.of(Shifter):
                yield from self.axes_of(f"{shifter.id}.knob")
            return
        if any(person.id == owner for person in self.layout.people):
            yield f"{owner}.{BELTS_AXIS}", BELT_STOPS
            return
        thing = self.layout.thing(owner)
        record = record_of(thing)
        moved_by = {name for one in record.parts(thing) if part in ("", one.name) for name in one.moved_by}
        for axis in record.axes(thing):
            if axis.name in moved_by:
                yield f"{owner}.{axis.name}", self._stops_in_use(thing, axis)

    def _stops_in_use(self, thing: Thing, axis: StateAxis) -> tuple[str, ...]:
        if isinstance(thing, Seat) and axis.name == NOTCH:
            used = {str(n) for p in self.layout.people if p.seat_id == thing.id for n in p.notches_used}
            return tuple(stop for stop in axis.stops if stop in used) or (axis.rest,)
        if isinstance(thing, Vessel):
            return ("in",)
        return axis.stops

    def legs_of(self, axis: str) -> tuple[tuple[str, str], ...]:
        """The motions of an axis: the gate's legs, a seat's whole travel."""
        owner, _, name = axis.partition(".")
        thing = self.layout.thing(owner)
        found = next(one for one in record_of(thing).axes(thing) if one.name == name)
        if isinstance(thing, Seat) and name == NOTCH:
            return ((found.stops[0], found.stops[-1]),)
        return found.legs

    def body(self, id: str, state: State) -> Body:
        """A thing, one of its parts (`shifter-1.lever`) or a hand (`driver-1.hand`), standing in a state."""
        # Many checks ask for the same one; the memory behind it is slower to ask.
        known = self._bodies.get((id, state))
        if known is None:
            known = self._bodies[id, state] = self._body(id, state)
        return known

    def _body(self, id: str, state: State) -> Body:
        owner, _, part = id.partition(".")
        if (apart := self._apart(id)) is not None:
            return apart.body(id, state)
        if part == "hand":
            person, shifter = self._hand(owner)
            return self._hand_body(person, shifter, stops_of(state, shifter.id)["gear"])
        thing = self.placed(owner)
        if isinstance(thing, Vessel):
            thing = Lifting(self.layout, self.memory).placed(thing, state)
        stops = stops_of(state, owner)

        def make() -> Body:
            record = record_of(thing)
            return tuple(
                solid for one in self._parts(thing, part) for solid in record.envelope(thing, one, stops)
            )

        return self.memory.get(("body", part, tuple(stops.items())), (thing,), make)

    def motion(self, id: str, state: State, axis: str, leg: tuple[str, str]) -> Motion:
        """A thing, part or hand on its way along a leg of an axis, its other axes as in the state."""
        owner, _, part = id.partition(".")
        if (apart := self._apart(id)) is not None:
            return apart.motion(id, state, axis, leg)
        if part == "hand":
            return self._hand_motion(*self._hand(owner), leg)
        thing = self.placed(owner)
        name = axis.partition(".")[2]
        rest = tuple((a, s) for a, s in stops_of(state, owner).items() if a != name)

        def make() -> Motion:
            record, parts = record_of(thing), self._parts(thing, part)

            def at(share: float) -> Body:
                return tuple(
                    solid
                    for one in parts
                    for solid in record.envelope_between(thing, one, dict(rest), name, *leg, share)
                )

            return Motion(at, max(record.motion_mm(thing, one, name, *leg) for one in parts), slid(at))

        return self.memory.get(("motion", part, name, leg, rest), (thing,), make)

    def rests_on(self, id: str) -> tuple[object, ...]:
        """All that body, motions and axes of a thing, a part or a hand follow from."""
        if id not in self._rests:
            self._rests[id] = self._find_rests(id)
        return self._rests[id]

    def _find_rests(self, id: str) -> tuple[object, ...]:
        owner, _, part = id.partition(".")
        if (apart := self._apart(id)) is not None:
            return apart.rests_on(id)
        if part == "hand":
            return tuple(one for pair in self.hands() if pair[0].id == owner for one in pair)
        thing = self.layout.thing(owner)
        if isinstance(thing, Seat):
            # The notches in use are told by who sits in it.
            return (thing, *(person for person in self.layout.people if person.seat_id == thing.id))
        return thing, self.placed(owner)

    def footing(self, id: str) -> Footing:
        """What the body of a thing, a part or a hand follows from, so that it can be told how far it went."""
        if id not in self._footings:
            self._footings[id] = self._find_footing(id)
        return self._footings[id]

    def _find_footing(self, id: str) -> Footing:
        def again(scene: "Scene") -> Footing:
            return scene.footing(id)

        owner, _, part = id.partition(".")
        if (apart := self._apart(id)) is not None:
            carried = isinstance(apart, PlacedMeshes) or (isinstance(apart, Beside) and part == HAND)
            return Footing(apart.rests_on(id), carried, in_scene=again)
        if part == HAND:
            return Footing(self.rests_on(id), True, in_scene=again)
        return Footing((self.placed(owner),), True, in_scene=again)

    def placed(self, id: str) -> Thing:
        """The thing as it stands: a vessel that has a holder stands in its well."""
        thing = self.layout.thing(id)
        if isinstance(thing, Vessel) and thing.stands_in:
            holder = cast(CupHolder, self.layout.thing(thing.stands_in))
            return self.memory.get("in its well", (thing, holder), lambda: vessel_in(thing, holder))
        return thing

    def seat_of(self, person: Person) -> Seat | None:
        """The seat somebody sits in."""
        return next((seat for seat in self.layout.seats if seat.id == person.seat_id), None)

    def hand_side(self) -> Side:
        """The shifting hand is the one nearer the tunnel."""
        return "right" if self.layout.driver_side == "left" else "left"

    def _apart(self, id: str) -> Beside | Buckled | Lifting | PlacedMeshes | None:
        """Who knows a body that is not simply a thing, a part of it or the hand on the knob."""
        if id.startswith(BUCKLE):
            return Buckled(self.layout, self.memory)
        if id.startswith(MESH_PART):
            return PlacedMeshes(self.layout, self.memory, self.meshes)
        if id.startswith(VESSEL) and (lifting := Lifting(self.layout, self.memory)).has(id):
            return lifting
        beside = Beside(self.layout, self.memory)
        return beside if beside.has(id) else None

    def _parts(self, thing: Thing, part: str) -> tuple[str, ...]:
        return tuple(one.name for one in record_of(thing).parts(thing) if part in ("", one.name))

    def _hand(self, owner: str) -> tuple[Person, Shifter]:
        return next((person, shifter) for person, shifter in self.hands() if person.id == owner)

    def _hand_body(self, person: Person, shifter: Shifter, gear: str) -> Body:
        def make() -> Body:
            return hand(person, record_of(shifter).grips(shifter, {"gear": gear})[0])

        return self.memory.get(("hand", gear), (person, shifter), make)

    def _hand_motion(self, person: Person, shifter: Shifter, leg: tuple[str, str]) -> Motion:
        def make() -> Motion:
            record = record_of(shifter)

            def at(share: float) -> Body:
                return hand(person, record.grips_between(shifter, {}, "gear", *leg, share)[0])

            return Motion(at, record.grip_motion_mm(shifter, "knob", "gear", *leg))

        return self.memory.get(("hand motion", leg), (person, shifter), make)


def slid(at: Callable[[float], Body]) -> Body | None:
    """The room a body takes that slides along a straight line without turning, None where it does not.

    A convex solid that slides straight sweeps the hull of its two ends.
    """
    start, end = at(0.0), at(1.0)
    for share in (0.25, 0.5, 0.75):
        for one, first, last in zip(at(share), start, end, strict=True):
            if one.hull is not first.hull or one.pose.rotation != first.pose.rotation:
                return None
            way = np.subtract(last.pose.shift_mm, first.pose.shift_mm)
            if np.abs(first.pose.shift_mm + share * way - one.pose.shift_mm).max() > 1e-9:
                return None
    return tuple(
        Solid(Hull(np.vstack([a.points(), b.points()]), a.hull.radius_mm, a.hull.facet_mm))
        for a, b in zip(start, end, strict=True)
    )
