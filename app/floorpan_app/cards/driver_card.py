"""Driver: seats, this person's tape measurements, and the reach of every gear."""

from floorpan import edits
from floorpan.checks import Finding
from floorpan.checks.finding import rank
from floorpan.driver import Person
from floorpan.items import Seat
from floorpan.layout import Step
from floorpan.report.sentences import give_or_take_text, value_text
from floorpan_app.cards import words
from floorpan_app.cards.card import Card, Facts, heading, pressed, told
from floorpan_app.cards.form import Form
from floorpan_app.cards.thing_form import ThingForm

_SEAT = ("name", "back_deg", "cushion_deg", "notches", "notch_mm", "notch_here")
_SEAT_MORE = ("cushion_length_mm", "cushion_width_mm", "cushion_thick_mm", "cushion_drop_mm", "back_length_mm",
              "back_width_mm", "side_bolster_mm", "back_bolster_mm", "bulge_mm", "rail_deg", "stand_mm")  # fmt: skip
_PERSON = ("name", "shoulder_to_grip_mm", "upper_arm_mm", "shoulder_mm", "shoulder_out_mm", "tape_u_mm",
           "glove_mm", "loose_forward_mm")  # fmt: skip


class DriverCard(Card):
    """The seat of the driver and the one who sits in it."""

    step: Step = "driver"

    def build(self) -> None:
        self._belts = pressed("Show the belts loose", self._toggle_belts, icon="belts")
        self.body.addWidget(self._belts)
        self.body.addWidget(heading("Seat"))
        self._seat = ThingForm(self.desk, _SEAT, _SEAT_MORE)
        self._place_seat = pressed(
            "Place the driver's seat", lambda: self.desk.use_tool("place seat"), icon="seat"
        )
        self.body.addWidget(self._seat)
        self.body.addWidget(self._place_seat)
        self.body.addWidget(heading("Tape"))
        self._person = Form(self.desk, _PERSON, self._commit)
        self._add = pressed("Tape a driver", self.add_driver, icon="driver")
        self.body.addWidget(self._person)
        self.body.addWidget(self._add)
        self.body.addWidget(heading("Reach"))
        self.body.addWidget(told(words.REACH_NOTE, second=True))
        self._reach = Facts()
        self.body.addWidget(self._reach)

    def refresh(self) -> None:
        seat, person = self._driver_seat(), self.desk.layout.driver()
        self._seat.show_thing(seat)
        self._place_seat.setVisible(seat is None)
        self._person.show_value(person)
        self._person.setVisible(person is not None)
        self._add.setVisible(person is None and seat is not None)
        loose = "loose" in dict(self.desk.state).values()
        self._belts.setText("Show the belts tight" if loose else "Show the belts loose")
        self._belts.setEnabled(person is not None)

    def show_findings(self, findings: tuple[Finding, ...]) -> None:
        worst: dict[str, Finding] = {}
        for finding in sorted(findings, key=rank):
            if finding.check == "reach" and "tight" in dict(finding.state).values():
                gear = next(stop for axis, stop in finding.state if axis.endswith(".gear"))
                worst.setdefault(gear, finding)
        system = self.desk.system
        self._reach.show_facts(
            [
                (
                    gear,
                    f"{found.verdict}: {value_text(found, system)} {give_or_take_text(found, system)} to spare",
                )
                for gear, found in sorted(worst.items())
            ]
        )

    def add_driver(self) -> None:
        """A driver of middle size in the driver's seat, to be taped."""
        seat = self._driver_seat()
        if seat is not None:
            person = Person(id="new", seat_id=seat.id, notches_used=(int(seat.notch_here),))
            self.desk.change("Tape a driver", lambda layout: edits.add_person(layout, person)[0])

    def _driver_seat(self) -> Seat | None:
        seats = self.desk.layout.seats
        return next((seat for seat in seats if seat.for_whom == "driver"), seats[0] if seats else None)

    def _commit(self, name: str, value: object) -> None:
        person = self.desk.layout.driver()
        if person is not None:
            self.desk.change(
                "Tape the driver", lambda layout: edits.change_person(layout, person.id, **{name: value})
            )

    def _toggle_belts(self) -> None:
        person = self.desk.layout.driver()
        if person is not None:
            loose = "loose" in dict(self.desk.state).values()
            self.desk.show_stops({f"{person.id}.belts": "tight" if loose else "loose"})
            self.refresh()
