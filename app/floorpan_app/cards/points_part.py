"""A driver set by points taped in the car, and the heel point and wheel."""

from PySide6.QtWidgets import QVBoxLayout, QWidget

from floorpan import edits
from floorpan.derive import sitting_in
from floorpan.driver import DrivingPosition, Person, shoulder_point
from floorpan.errors import FloorpanError
from floorpan.frames import Vector
from floorpan.items import Seat
from floorpan.report.driver_facts import plane_of
from floorpan.report.driver_page import plane_text
from floorpan_app.cards import sizes_words as words
from floorpan_app.cards.blocks import PartTitle, pressed, px, told
from floorpan_app.cards.form import Form
from floorpan_app.cards.places_form import PlacesForm
from floorpan_app.cards.tried import tried
from floorpan_app.desk import Desk

_POINTS = tuple(words.POINT_NAMES.items())


class PointsPart(QWidget):
    """Hip, shoulder, elbow and knuckle taped in the car, belted tight at the notch that is shown."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._person: Person | None = None
        self._notch = 1
        self.places = PlacesForm(desk, _POINTS)
        self.at = told("")
        self.take = pressed(words.SET_BY_POINTS, self._take)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(8))
        for piece in (
            PartTitle(words.POINTS), told(words.POINTS_NOTE, second=True), self.at, self.places, self.take,
        ):  # fmt: skip
            column.addWidget(piece)

    def show_person(self, person: Person | None, seat: Seat | None, notch: int) -> None:
        """Hip and shoulder as this person sits now; elbow and knuckle are not kept as points."""
        if person is None or seat is None or self._person is None or person.id != self._person.id:
            for key, _ in _POINTS:
                self.places.show_place(key, None)
            self.places.say("")
        self._person, self._notch = person, notch
        if person is None or seat is None:
            return
        self.at.setText(words.AT_NOTCH_N.format(n=notch))
        sitting = sitting_in(person, seat, notch)
        side = self._desk.judging.bench.scene(self._desk.layout).hand_side()
        shoulder = shoulder_point(person, sitting.h_point, sitting.back_deg, side, turn_deg=sitting.turn_deg)
        x, y, z = (float(value) for value in shoulder)
        self.places.show_hint("hip", sitting.h_point)
        self.places.show_hint("shoulder", (x, y, z))

    def keyboard_at(self) -> str:
        """The sketch of the point whose row has the keyboard, "" for none."""
        at = self.window().focusWidget()
        return next((f"{key}_point" for key, _ in _POINTS if at in self.places.fields[key]), "")

    def _take(self) -> None:
        person, notch = self._person, self._notch
        if person is None:
            return
        try:
            found = {key: self.places.place(key) for key, _ in _POINTS}
        except FloorpanError as fault:
            self.places.say(str(fault))
            return
        if all(place is None for place in found.values()):
            self.places.say(words.NO_POINTS)
            return
        said = tried(
            self._desk,
            words.SET_BY_POINTS_ENTRY.format(name=person.name),
            lambda layout: edits.set_by_points(
                layout,
                person.id,
                notch,
                hip_mm=found["hip"],
                shoulder_mm=found["shoulder"],
                elbow_mm=found["elbow"],
                knuckle_mm=found["knuckle"],
            ),
        )
        self.places.say(said)
        if not said:
            for key, _ in _POINTS:
                self.places.show_place(key, None)


class PositionPart(QWidget):
    """Heel point and wheel, where somebody took them."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.places = PlacesForm(desk, (("heel_mm", words.HEEL), ("wheel_mm", words.WHEEL)))
        self.places.typed.connect(self._take)
        self.wheel = Form(desk, DrivingPosition, ("wheel_across_mm", "rim_mm", "wheel_deg"), self._commit)
        self.plane = told("", second=True)
        self.forget = pressed(words.FORGET_POSITION, self._forget, role="link")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(8))
        for piece in (
            PartTitle(words.POSITION), told(words.POSITION_NOTE, second=True), self.places, self.wheel,
            self.plane, self.forget,
        ):  # fmt: skip
            column.addWidget(piece)

    def refresh(self) -> None:
        """Show what the layout holds."""
        position = self._desk.layout.driving_position
        self.places.show_place("heel_mm", position.heel_mm)
        self.places.show_place("wheel_mm", position.wheel_mm)
        self.wheel.show_value(position if position.wheel_mm is not None else None)
        layout = self._desk.layout
        person = layout.driver()
        seat = next((one for one in layout.seats if person is not None and one.id == person.seat_id), None)
        plane, no_plane = plane_of(layout, seat) if seat is not None else (None, "")
        said = plane_text(plane, layout, self._desk.system) if plane is not None else no_plane
        self.plane.setText(said)
        self.plane.setVisible(bool(said))
        self.forget.setVisible(position.heel_mm is not None or position.wheel_mm is not None)

    def _take(self) -> None:
        changes: dict[str, Vector | None] = {}
        held = self._desk.layout.driving_position
        try:
            for key in ("heel_mm", "wheel_mm"):
                place = self.places.place(key)
                if place != getattr(held, key):
                    changes[key] = place
        except FloorpanError as fault:
            # Whoever has typed one length goes on to the next.
            self.places.say("" if fault.code == "point-missing" else str(fault))
            return
        self.places.say("")
        if changes:
            self.places.say(
                tried(
                    self._desk,
                    words.POSITION_ENTRY,
                    lambda layout: edits.set_driving_position(layout, **changes),
                )
            )

    def _commit(self, name: str, value: object) -> str:
        return tried(
            self._desk,
            words.POSITION_ENTRY,
            lambda layout: edits.set_driving_position(layout, **{name: value}),
        )

    def _forget(self) -> None:
        tried(
            self._desk,
            words.POSITION_ENTRY,
            lambda layout: edits.set_driving_position(layout, heel_mm=None, wheel_mm=None),
        )
