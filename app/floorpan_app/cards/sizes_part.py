"""The sizes of a driver: taped, following from what was, or those of a percentile."""

from functools import partial

from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from floorpan import edits
from floorpan.driver import LINKS, Person, body_of, measures
from floorpan.driver.body_figures import Measure, Sex
from floorpan.driver.filling import link_u_mm
from floorpan.driver.known_sizes import PERCENT
from floorpan.errors import BadValue
from floorpan.fields import rules
from floorpan.units import show_length, show_number
from floorpan_app.cards import sizes_words as words
from floorpan_app.cards.blocks import PartTitle, pressed, px, show_all, told
from floorpan_app.cards.form import Form
from floorpan_app.cards.number_line import NumberLine
from floorpan_app.cards.quiet_combo import QuietCombo
from floorpan_app.cards.rows import Row, Rows
from floorpan_app.cards.segments import Segments
from floorpan_app.cards.spelling import spelling_of
from floorpan_app.cards.tried import tried
from floorpan_app.desk import Desk
from floorpan_app.widgets.length_field import LengthField

_STATURE = "stature_mm"
_KIND = {"mm": (20.0, 2500.0), "kg": (30.0, 250.0)}


class SizesPart(QWidget):
    """A part of the driver's card; `show_person` says whose."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._person: Person | None = None
        self._chosen = ""
        self.source = Segments((("taped", words.TAPED), ("percentile", words.PERCENTILE)), words.SIZES_FROM)
        self.source.chosen.connect(self._from)
        self.note = told("", second=True)
        self.sex = Form(desk, Person, ("sex",), self._commit, labels={"sex": words.SEX})
        choices = [(one.key, one.label) for one in measures()]
        self.percent_of = QuietCombo(choices, words.PERCENT_OF)
        self.percent_of.picked.connect(lambda _: self._set_percentile())
        self.percent = NumberLine(words.PERCENT)
        self.percent.set_unit("", "mm", PERCENT.least, PERCENT.most)
        self.percent.chosen.connect(lambda _: self._set_percentile())
        self.links = Form(desk, Person, LINKS, self._commit)
        self.follow = pressed("", self._let_follow, role="link")
        self.more_title = told(words.MORE_SIZES)
        self.sizes = Rows(words.MORE_SIZES)
        self.sizes.row_chosen.connect(self._choose_size)
        self.forget = pressed("", self._forget_size, role="link")
        self.measure = QuietCombo(choices, words.ANOTHER_SIZE)
        self.measure.picked.connect(lambda _: self._show_another())
        self.another_size = NumberLine(words.ANOTHER_SIZE_OF)
        self.another_size.chosen.connect(self._take_size)
        self.survey = told(words.SURVEY, second=True)
        for link in LINKS:
            field = self.links.fields[link]
            assert isinstance(field, LengthField)
            field.emptied.connect(partial(self._let_follow_of, link))
        self.another_size.field.emptied.connect(lambda: self._set_size(self.measure.key(), None))
        self._lay_out()
        self._link_in_hand = ""

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(8))
        column.addWidget(PartTitle(words.SIZES))
        self._of = self._labelled(words.PERCENT_OF, self.percent_of)
        self._another = self._labelled(words.ANOTHER_SIZE, self.measure)
        for piece in (
            self.source, self.note, self.sex, self._of, self.percent, self.links, self.follow,
            self.more_title, self.sizes, self.forget, self._another, self.another_size, self.survey,
        ):  # fmt: skip
            column.addWidget(piece)

    def _labelled(self, text: str, combo: QuietCombo) -> QWidget:
        holder = QWidget()
        grid = QGridLayout(holder)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setColumnStretch(1, 1)
        grid.addWidget(told(text), 0, 0)
        grid.addWidget(combo, 0, 1)
        return holder

    # What is shown.

    def show_person(self, person: Person | None) -> None:
        """Show whose sizes; None shows nothing."""
        other = person is not None and (self._person is None or self._person.id != person.id)
        self._person = person
        self.setVisible(person is not None)
        if person is None:
            return
        chosen = next((one for one in person.sizes if one.percent is not None), None)
        if other or chosen is not None:
            self.source.show_key("percentile" if chosen is not None else "taped")
        if chosen is not None:
            self.percent_of.show_key(chosen.measure)
            self.percent.field.set_value_mm(chosen.percent)
        elif other:
            self.percent_of.show_key(_STATURE)
            self.percent.field.set_value_mm(None)
            self.measure.show_key(_STATURE)
        self.sex.show_value(person)
        self.links.show_value(person)
        self._show_trust(person)
        self._show_sizes(person)
        self._show_another()
        self._show_source()

    def keyboard_at(self) -> str:
        """The link or measure whose field has the keyboard, for the sketch beside it; "" for none."""
        at: QWidget | None = self.window().focusWidget()
        if at is None or not self.isAncestorOf(at):
            return ""
        if self._another.isAncestorOf(at) or self.another_size.isAncestorOf(at):
            return self.measure.key()
        if self._of.isAncestorOf(at) or self.percent.isAncestorOf(at):
            return self.percent_of.key()
        for link in LINKS:
            field = self.links.fields[link]
            if field.isAncestorOf(at):
                self._link_in_hand = link
                self._show_follow()
                return link
        return ""

    def _show_source(self) -> None:
        by_percentile = self.source.key() == "percentile"
        self.note.setText(words.PERCENT_NOTE if by_percentile else words.TAPED_NOTE)
        show_all(by_percentile, self._of, self.percent)
        show_all(not by_percentile, self._another, self.another_size)
        person = self._person
        open_ends = person is not None and bool(person.not_taped)
        self.sex.setVisible(by_percentile or open_ends)
        self.survey.setVisible(open_ends)
        self._show_follow()

    def _show_trust(self, person: Person) -> None:
        for link in LINKS:
            by_body = link in person.not_taped
            half = float(round(link_u_mm(person, link))) if by_body else person.tape_u_mm
            said = words.BY_BODY if by_body else words.BY_TAPE
            bare, whole = (
                show_length(half, self._desk.system, parts=32, with_unit=unit) for unit in (False, True)
            )
            self.links.show_beside(link, words.SMALL.format(u=bare), said.format(u=whole))

    def _show_sizes(self, person: Person) -> None:
        taped = [one for one in person.sizes if one.percent is None]
        rows = [
            Row(id=one.measure, title=_measure(one.measure).label, value=self._spelled(one.measure, one.size))
            for one in taped
        ]
        if self._chosen not in {row.id for row in rows}:
            self._chosen = ""
        self.sizes.show_rows(rows, self._chosen)
        show_all(bool(rows), self.more_title, self.sizes)
        self.forget.setVisible(bool(self._chosen))
        if self._chosen:
            self.forget.setText(words.FORGET_SIZE.format(name=_measure(self._chosen).label.lower()))

    def _show_another(self) -> None:
        """The field for another size, with what the body makes likely where that one is not taped."""
        if self._person is None:
            return
        one = _measure(self.measure.key())
        least, most = _KIND[one.unit]
        known = next(
            (size.size for size in self._person.sizes if size.measure == one.key and size.percent is None),
            None,
        )
        self.another_size.set_unit(one.unit, self._desk.system, least, most)
        self.another_size.label.setText(words.ANOTHER_SIZE_OF if known is not None else self._likely(one))
        self.another_size.field.set_value_mm(known)
        self.another_size.field.setToolTip(one.how)

    def _likely(self, one: Measure) -> str:
        """What the body makes of a measure that was not taken; nothing where what was taken goes with nobody."""
        assert self._person is not None
        try:
            likely = body_of(self._person)[one.key]
        except BadValue as fault:
            self.another_size.say(words.UNLIKELY.format(what=fault.what))
            return words.ANOTHER_SIZE_OF
        self.another_size.say("")
        half = float(round(2.0 * likely.sd))
        u = self._spelled(one.key, half) if one.unit == "mm" else show_number(half, 0)
        return words.LIKELY.format(size=self._spelled(one.key, float(round(likely.mean))), u=u)

    def _show_follow(self) -> None:
        person, link = self._person, self._link_in_hand
        can = person is not None and bool(link) and link not in person.not_taped
        self.follow.setVisible(can and self.source.key() == "taped")
        if link:
            self.follow.setText(words.LET_FOLLOW.format(name=rules(Person)[link].label.lower()))

    def _spelled(self, measure: str, size: float) -> str:
        _, show = spelling_of(_measure(measure).unit, self._desk.system)
        return show(size)

    # What is done.

    def _commit(self, name: str, value: object) -> str:
        person = self._person
        if person is None:
            return ""
        entry = words.SIZE_ENTRY.format(name=person.name)
        if name == "sex" and self.source.key() == "percentile" and self.percent.field.value_mm() is not None:
            sex: Sex = "woman" if value == "woman" else "man"
            return self._set_percentile(sex)
        return tried(
            self._desk, entry, lambda layout: edits.change_person(layout, person.id, **{name: value})
        )

    def _from(self, key: str) -> None:
        person = self._person
        if key == "taped" and person is not None and any(one.percent is not None for one in person.sizes):
            tried(self._desk, words.LEAVE_ENTRY, lambda layout: edits.leave_percentile(layout, person.id))
            self.source.show_key("taped")
        self._show_source()

    def _let_follow(self) -> None:
        self._let_follow_of(self._link_in_hand)

    def _let_follow_of(self, link: str) -> None:
        person = self._person
        if person is not None and link:
            entry = words.LET_FOLLOW_ENTRY.format(name=rules(Person)[link].label.lower())
            tried(self._desk, entry, lambda layout: edits.not_taped(layout, person.id, link))

    def _take_size(self, size: float) -> None:
        self._set_size(self.measure.key(), size)

    def _set_size(self, key: str, size: float | None) -> None:
        person = self._person
        if person is None:
            return
        said = words.SIZE_ENTRY if size is not None else words.FORGET_SIZE_ENTRY
        fault = tried(
            self._desk,
            said.format(name=_measure(key).label.lower()),
            lambda layout: edits.set_size(layout, person.id, key, size),
        )
        self.another_size.say(fault)

    def _choose_size(self, key: str) -> None:
        self._chosen = "" if key == self._chosen else key
        self.measure.show_key(key)
        if self._person is not None:
            self._show_sizes(self._person)
            self._show_another()

    def _forget_size(self) -> None:
        self._set_size(self._chosen, None)

    def _set_percentile(self, sex: Sex | None = None) -> str:
        person, percent = self._person, self.percent.field.value_mm()
        if person is None or percent is None:
            return ""
        key, whose = self.percent_of.key(), sex or person.sex
        fault = tried(
            self._desk,
            words.PERCENT_ENTRY.format(name=_measure(key).label.lower()),
            lambda layout: edits.set_percentile(layout, person.id, whose, key, percent),
        )
        self.percent.say(fault)
        return fault


def _measure(key: str) -> Measure:
    return next(one for one in measures() if one.key == key)
