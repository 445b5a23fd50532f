"""Driver: the seats, this person's tape measurements, how the car is shown, and the reach of every gear."""

from functools import partial

from PySide6.QtWidgets import QApplication, QGridLayout, QWidget

from floorpan import edits
from floorpan.checks import Finding
from floorpan.checks.finding import rank
from floorpan.driver import BELTS_AXIS, LINKS, Person
from floorpan.driver.measuring import SKETCHED
from floorpan.items import Seat, Shifter
from floorpan.layout import Step
from floorpan.report.gate_card import GearLine, gear_lines
from floorpan.report.naming import capital
from floorpan.report.sentences import give_or_take_text, sentence, value_text
from floorpan_app.cards import sizes_words, words
from floorpan_app.cards.blocks import PartTitle, Rule, at_left, pressed, px, show_all, told
from floorpan_app.cards.card import Card, Need, Offer
from floorpan_app.cards.form import FIELD_WIDTH, Form
from floorpan_app.cards.knob_part import KnobPart
from floorpan_app.cards.moved_part import MovedPart
from floorpan_app.cards.notice import Notice
from floorpan_app.cards.points_part import PointsPart, PositionPart
from floorpan_app.cards.population_part import PopulationPart
from floorpan_app.cards.quiet_combo import QuietCombo
from floorpan_app.cards.rows import Row, Rows
from floorpan_app.cards.scans import need_axes
from floorpan_app.cards.segments import Segments
from floorpan_app.cards.setting_down import offers, set_down
from floorpan_app.cards.sizes_part import SizesPart
from floorpan_app.cards.thing_form import ThingForm
from floorpan_app.cards.tried import tried
from floorpan_app.person_in_hand import take_person
from floorpan_app.standing import standing
from floorpan_app.widgets.measure_sketch import MeasureSketch

_SEAT = ("name", "back_deg", "notches", "notch_mm", "notch_here")
_SEAT_MORE = (
    "for_whom", "stands_on", "foam_mm", "stand_mm", "rail_deg", "cushion_deg", "cushion_length_mm", "cushion_width_mm",
    "cushion_thick_mm", "cushion_drop_mm", "back_length_mm", "back_width_mm", "back_thick_mm", "back_behind_mm",
    "side_bolster_mm", "back_bolster_mm", "bolster_width_mm", "bulge_mm",
    "recline_less_deg", "recline_more_deg", "pivot_behind_mm", "pivot_under_mm",
)  # fmt: skip
_PERSON = ("name", "seat_id", "notches_used")
_PERSON_MORE = (
    "tape_u_mm", "glove_mm", "jacket_mm", "shoe_mm", "helmet_mm", "loose_forward_mm", "loose_turn_deg",
    "elbow_least_deg", "elbow_most_deg", "hip_back_mm", "hip_right_mm", "hip_up_mm", "lean_off_deg",
)  # fmt: skip


class DriverCard(Card):
    """The seats, and the design driver."""

    step: Step = "driver"

    def build(self) -> None:
        self._build_shown()
        self.seat = ThingForm(self.desk, Seat, _SEAT, _SEAT_MORE)
        self._seat_rule, self._seat_title = Rule(), PartTitle(words.SEAT)
        self.add_seat = {
            whom: pressed(text, partial(self._add_seat, whom), icon="seat")
            for whom, text in words.ADD_SEAT.items()
        }
        self._tape_rule, self._tape_title = Rule(), PartTitle(words.TAPE)
        self.who = QuietCombo((), sizes_words.WHO)
        self.who.picked.connect(partial(take_person, self.desk))
        self.add_driver = pressed(sizes_words.ADD_DRIVER, self._add_driver, icon="driver")
        self.take_driver_out = pressed("", self._take_driver_out)
        seats = {"seat_id": self._seats}
        self.person = Form(self.desk, Person, _PERSON, self._commit, offers=seats)
        self.person_more = Form(self.desk, Person, _PERSON_MORE, self._commit)
        self.fold = pressed(words.MORE_MEASURES, self._unfold, role="link")
        self.fold.setCheckable(True)
        self.sizes, self.sketch = SizesPart(self.desk), MeasureSketch()
        self.points, self.position = PointsPart(self.desk), PositionPart(self.desk)
        self._reach_rule = Rule()
        self._reach_title = PartTitle(words.REACH, words.REACH_HEAD)
        self.reach = Rows(words.REACH)
        self.reach.row_chosen.connect(self.desk.choose_finding)
        self._no_reach = told(words.REACH_NONE, second=True)
        self.worst = told("")
        self.knob, self.moved = KnobPart(self.desk), MovedPart(self.desk)
        self.population = PopulationPart(self.desk)
        self.other_side = Notice()
        self.add(
            self.other_side,
            self.shown,
            self._reach_rule,
            self._reach_title,
            self.worst,
            self.reach,
            self._no_reach,
        )
        self.add(self.knob, self.moved)
        self.add(self._tape_rule, self._tape_title, self.who, self.person, self.sizes, self.sketch)
        self.add(self.person_more, at_left(self.fold), self.points)
        self.add(self.add_driver, self.take_driver_out, self.population)
        self.add(self._seat_rule, self._seat_title, self.seat, *self.add_seat.values())
        self.add(self.position)
        self.desk.state_changed.connect(self._again_if_in_hand)
        self.desk.person_changed.connect(self._again_if_in_hand)
        app = QApplication.instance()
        if isinstance(app, QApplication):
            app.focusChanged.connect(self._show_sketch)

    def _build_shown(self) -> None:
        self.shown = QWidget()
        self.belts = Segments((("loose", words.LOOSE), ("tight", words.TIGHT)), words.BELTS)
        self.belts.chosen.connect(self._show_belts)
        self.notch = QuietCombo((), words.NOTCH)
        self.notch.picked.connect(self._show_notch)
        self.belts.setFixedWidth(px(FIELD_WIDTH + 34))
        self.notch.setFixedWidth(px(FIELD_WIDTH + 34))
        grid = QGridLayout(self.shown)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setVerticalSpacing(px(6))
        grid.setColumnStretch(0, 1)
        for row, text in enumerate((words.BELTS, words.NOTCH)):
            grid.addWidget(told(text), row, 0)
        grid.addWidget(self.belts, 0, 1)
        grid.addWidget(self.notch, 1, 1)

    def need(self) -> Need | None:
        need = need_axes(self.desk)
        if need is not None:
            return need
        if self._driver_seat() is None:
            side = -1 if self.desk.layout.driver_side == "left" else 1
            return Need(told=words.NEED_SEAT, offers=offers(self.desk, "seat", "seat", at_side=side))
        if self.desk.layout.driver() is None:
            tape = Offer(word=words.TAPE_A_DRIVER, does=self.tape_a_driver, icon="driver")
            return Need(told=words.NEED_DRIVER, offers=(tape,))
        return None

    def lacks(self) -> str:
        if self._driver_seat() is None:
            return words.NEED_SEAT
        return words.NEED_DRIVER if self.desk.layout.driver() is None else ""

    def refresh(self) -> None:
        layout = self.desk.layout
        person, seats = self._person(), layout.seats
        self.knob.refresh()
        self.moved.refresh()
        self.population.refresh()
        self.seat.show_things(seats)
        show_all(bool(seats), self._seat_rule, self._seat_title)
        posed = any(scan.pose is not None for scan in layout.scans)
        held = {seat.for_whom for seat in seats}
        for whom, button in self.add_seat.items():
            button.setVisible(posed and bool(seats) and whom not in held)
        show_all(person is not None, self.shown, self._tape_rule, self._tape_title)
        show_all(bool(seats), self._reach_rule, self._reach_title)
        self.who.offer([(one.id, one.name) for one in layout.people])
        self.who.show_key(person.id if person is not None else "")
        self.who.setVisible(len(layout.people) > 1)
        show_all(person is not None, self.fold, self.points, self.position, self.add_driver)
        self.take_driver_out.setVisible(len(layout.people) > 1)
        self.sizes.show_person(person)
        self.position.refresh()
        self.other_side.say(self._seat_on_the_other_side(), "short")
        self.person.show_value(person)
        self.person_more.show_value(person)
        self.person_more.setVisible(person is not None and self.fold.isChecked())
        if person is None:
            return
        self.take_driver_out.setText(sizes_words.TAKE_DRIVER_OUT.format(name=person.name))
        self._show_state(person)

    def follow(self) -> None:
        self.knob.follow()
        self.moved.follow()
        self.population.follow()
        for seat in self.desk.layout.seats:
            self.seat.follow(seat)

    def show_findings(self, findings: tuple[Finding, ...]) -> None:
        shifter, person = next(iter(self.desk.layout.of(Shifter)), None), self._person()
        own = tuple(one for one in findings if person is not None and one.subjects[0] == f"{person.id}.hand")
        lines = gear_lines(own, shifter) if shifter is not None else ()
        rows = [self._reach_row(line, line.reach) for line in lines if line.reach is not None]
        self.reach.show_rows(rows, self.desk.finding)
        several = sum(one.role == "driver" for one in self.desk.layout.people) > 1
        whose = (
            sizes_words.REACH_OF.format(name=person.name)
            if several and person is not None
            else words.REACH_HEAD
        )
        self._reach_title.show_second(whose if rows else "")
        self._no_reach.setVisible(not rows and bool(self.desk.layout.seats))
        # The worst is told over every driver; the rows are those of the one that is looked at.
        tight = (one for one in findings if one.check == "reach" and _is_tight(one))
        worst = min(tight, key=rank, default=None)
        self.worst.setVisible(worst is not None)
        if worst is not None:
            self.worst.setText(sentence(worst, self.desk.layout, self.desk.system))

    def tape_a_driver(self) -> None:
        """A driver of middle size in the driver's seat, to be taped."""
        seat = self._driver_seat()
        if seat is not None:
            person = Person(id="new", seat_id=seat.id, notches_used=(int(seat.notch_here),), not_taped=LINKS)
            entry = words.TAPE_ENTRY.format(name=person.name)
            tried(self.desk, entry, lambda layout: edits.add_person(layout, person)[0])

    # What is shown.

    def _person(self) -> Person | None:
        people = self.desk.layout.people
        return next((one for one in people if one.id == self.desk.person), self.desk.layout.driver())

    def _driver_seat(self) -> Seat | None:
        return next((seat for seat in self.desk.layout.seats if seat.for_whom == "driver"), None)

    def _seat_on_the_other_side(self) -> str:
        """Said where the driver's seat does not stand on the driver's side."""
        seat, side = self._driver_seat(), self.desk.layout.driver_side
        if seat is None or (seat.place.y_mm < 0.0) == (side == "left") or seat.place.y_mm == 0.0:
            return ""
        return sizes_words.OTHER_SIDE.format(side=words.LEFT if side == "left" else words.RIGHT)

    def _seats(self) -> list[tuple[str, str]]:
        return [(seat.id, seat.name) for seat in self.desk.layout.seats]

    def _show_state(self, person: Person) -> None:
        state = dict(standing(self.desk.layout, self.desk.state))
        self.belts.show_key(state.get(f"{person.id}.{BELTS_AXIS}", "tight"))
        seat = next((one for one in self.desk.layout.seats if one.id == person.seat_id), None)
        notches = range(1, int(seat.notches) + 1) if seat is not None else ()
        self.notch.offer([(str(n), words.NOTCH_OF.format(n=n, all=len(notches))) for n in notches])
        self.notch.setEnabled(len(notches) > 1)
        if seat is not None:
            shown = state.get(f"{seat.id}.notch", str(seat.notch_here))
            self.notch.show_key(shown)
            self.points.show_person(person, seat, int(shown))

    def _reach_row(self, line: GearLine, found: Finding) -> Row:
        layout, system = self.desk.layout, self.desk.system
        elbow = words.ELBOW.format(angle=value_text(line.elbow, system)) if line.elbow is not None else ""
        return Row(
            id=found.id,
            title=capital(line.title),
            mark=found.verdict,
            tail=elbow,
            value=value_text(found, system),
            trust=give_or_take_text(found, system),
            spoken=sentence(found, layout, system),
        )

    def _show_sketch(self, _before: QWidget | None, _now: QWidget | None) -> None:
        """How the field that has the keyboard is measured; it stays while the keyboard is elsewhere in the card."""
        key = self.sizes.keyboard_at() or self.points.keyboard_at() or self._link_at()
        if key:
            self.sketch.show_key(key)

    def _link_at(self) -> str:
        at = self.window().focusWidget()
        fields = self.person_more.fields.items()
        if at is None:
            return ""
        key = next((name for name, field in fields if at is field or field.isAncestorOf(at)), "")
        return key if key in SKETCHED else ""

    # What is done.

    def _add_seat(self, whom: str) -> None:
        left = (self.desk.layout.driver_side == "left") == (whom == "driver")
        set_down(self.desk, "seat", at_side=-1 if left else 1)

    def _add_driver(self) -> None:
        seat = self._driver_seat()
        if seat is None:
            return
        person = Person(
            id="new",
            name=sizes_words.SECOND_DRIVER,
            seat_id=seat.id,
            notches_used=(int(seat.notch_here),),
            not_taped=LINKS,
        )
        before = {one.id for one in self.desk.layout.people}
        if not tried(
            self.desk,
            sizes_words.ADD_DRIVER_ENTRY,
            lambda layout: edits.add_person(layout, person)[0],
        ):
            take_person(self.desk, next(one.id for one in self.desk.layout.people if one.id not in before))

    def _take_driver_out(self) -> None:
        person = self._person()
        if person is not None:
            entry = sizes_words.TAKE_DRIVER_OUT_ENTRY.format(name=person.name)
            tried(self.desk, entry, lambda layout: edits.remove_person(layout, person.id))

    def _commit(self, name: str, value: object) -> str:
        person = self._person()
        if person is None:
            return ""
        entry = words.TAPE_ENTRY.format(name=person.name)
        return tried(self.desk, entry, lambda layout: edits.change_person(layout, person.id, **{name: value}))

    def _show_belts(self, stop: str) -> None:
        person = self._person()
        if person is not None:
            self.desk.show_stops({f"{person.id}.{BELTS_AXIS}": stop})

    def _show_notch(self, stop: str) -> None:
        person = self._person()
        if person is not None:
            self.desk.show_stops({f"{person.seat_id}.notch": stop})

    def _unfold(self) -> None:
        unfolded = self.fold.isChecked()
        self.person_more.setVisible(unfolded)
        self.fold.setText(words.FEWER_MEASURES if unfolded else words.MORE_MEASURES)


def _is_tight(finding: Finding) -> bool:
    return all(stop == "tight" for axis, stop in finding.state if axis.endswith(f".{BELTS_AXIS}"))
