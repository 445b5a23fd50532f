"""A belt buckle where its seat carries it, the hand on its button, and the strap of whoever sits there.

Ids: `buckle-1`, `buckle-1.stalk`, `buckle-1.buckle`; `buckle-1.hand` is the room of the pressing hand, as thick as the
glove of who sits there; `buckle-1.strap` runs from the buckle over the lap and to the far shoulder.
"""

from dataclasses import dataclass, replace

import numpy as np

from floorpan.derive.memory import Memory
from floorpan.derive.motions import Motion
from floorpan.derive.people import sitting_in
from floorpan.driver import Person, Side
from floorpan.driver.posture import shoulder_point
from floorpan.frames import Floats, Pose
from floorpan.geometry.solids import Body, Solid, capsule
from floorpan.items import Buckle, Seat
from floorpan.items.buckle import press_zone, strap_from_mm
from floorpan.items.seat import NOTCH, slide_mm
from floorpan.items.states import State, stops_of
from floorpan.layout import Layout, Thing, record_of

HAND, STRAP = "hand", "strap"
BUCKLE = "buckle-"
"""How the id of every buckle begins."""

STRAP_RADIUS_MM = 24.0
"""Half of a strap's 47 to 48 mm: which way it lies is not known; common practice, no source."""
LAP_MM = 110.0
"""Hip joint to the strap over the lap, forward and up; common practice, no source."""

_SOMEBODY = Person(id="nobody")


@dataclass(frozen=True, slots=True, eq=False)
class Buckled:
    """Bodies of the buckles of one layout."""

    layout: Layout
    memory: Memory

    def moved_by(self, id: str) -> tuple[tuple[Thing, str], ...]:
        """The seat and its slide, where that moves it."""
        buckle = self._buckle(id)
        seat = self.seat_of(buckle)
        if seat is None or not (buckle.rides_on_seat or id.endswith(f".{STRAP}")):
            return ()
        return ((seat, NOTCH),)

    def rests_on(self, id: str) -> tuple[object, ...]:
        """All that body, motions and axes follow from."""
        buckle = self._buckle(id)
        seat = self.seat_of(buckle)
        people = (one for one in self.layout.people if seat is not None and one.seat_id == seat.id)
        return (buckle, *(() if seat is None else (seat,)), *people)

    def body(self, id: str, state: State) -> Body:
        """It, standing in a state."""
        buckle, part = self._buckle(id), id.partition(".")[2]
        seat = self.seat_of(buckle)
        notch = None if seat is None else stops_of(state, seat.id).get(NOTCH)
        return self.memory.get(
            ("buckled", part, notch),
            self.rests_on(id),
            lambda: self._body(buckle, part, None if notch is None else float(notch)),
        )

    def motion(self, id: str, state: State, axis: str, leg: tuple[str, str]) -> Motion:
        """It on its way along the slide of its seat; no end of it slides farther than the seat."""
        buckle, part = self._buckle(id), id.partition(".")[2]
        seat = self.seat_of(buckle)
        assert seat is not None
        a, b = (float(notch) for notch in leg)
        return Motion(
            lambda share: self._body(buckle, part, (1.0 - share) * a + share * b),
            abs(b - a) * seat.notch_mm,
        )

    def carried(self, buckle: Buckle, notch: float) -> Buckle:
        """The buckle where its seat carries it at a notch; the very same each time."""
        seat = self.seat_of(buckle)
        if seat is None or not buckle.rides_on_seat:
            return buckle
        x, y, z = slide_mm(seat, notch)
        if x == y == z == 0.0:
            return buckle
        at = buckle.place
        there = replace(at, x_mm=at.x_mm + x, y_mm=at.y_mm + y, z_mm=at.z_mm + z)
        return self.memory.get(("carried", notch), (buckle, seat), lambda: replace(buckle, place=there))

    def seat_of(self, buckle: Buckle) -> Seat | None:
        """The seat whose belt it holds."""
        return next((seat for seat in self.layout.seats if seat.id == buckle.seat_id), None)

    def _body(self, buckle: Buckle, part: str, notch: float | None) -> Body:
        here = buckle if notch is None else self.carried(buckle, notch)
        if part == HAND:
            return press_zone(here, self._sitter(buckle).glove_mm)
        if part == STRAP:
            return self._strap(here, notch)
        record = record_of(here)
        named = (one.name for one in record.parts(here) if part in ("", one.name))
        return tuple(solid for name in named for solid in record.envelope(here, name, {}))

    def _strap(self, buckle: Buckle, notch: float | None) -> Body:
        """From the buckle over the lap, and to the shoulder on the other side; nothing without a seat."""
        seat = self.seat_of(buckle)
        if seat is None:
            return ()
        here = min(int(seat.notch_here), int(seat.notches))
        sitting = sitting_in(self._sitter(buckle), seat, here)
        slid = np.array(slide_mm(seat, here if notch is None else notch))
        start, hip = strap_from_mm(buckle), np.array(sitting.h_point) + slid
        turn = Pose.turned((0.0, 0.0, 1.0), sitting.turn_deg)
        lap = hip + LAP_MM * turn.apply(np.array([-1.0, 0.0, 1.0])) / np.sqrt(2.0)
        # The far shoulder is the one that lies on the other side of the hip than the buckle.
        far: Side = "left" if turn.inverse().apply(start - hip)[1] > 0.0 else "right"
        shoulder = slid + shoulder_point(
            sitting.person, sitting.h_point, sitting.back_deg, far, turn_deg=sitting.turn_deg
        )
        return tuple(_rod(start, end) for end in (lap, shoulder))

    def _sitter(self, buckle: Buckle) -> Person:
        sitting = [one for one in self.layout.people if buckle.seat_id and one.seat_id == buckle.seat_id]
        return max(sitting, key=lambda one: one.glove_mm, default=_SOMEBODY)

    def _buckle(self, id: str) -> Buckle:
        found = self.layout.thing(id.partition(".")[0])
        assert isinstance(found, Buckle)
        return found


def _rod(a: Floats, b: Floats) -> Solid:
    return Solid(capsule(a, b, STRAP_RADIUS_MM))
