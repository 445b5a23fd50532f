"""What else moves or must be got at: the worst that is said of each, the measures of the one in hand, another."""

from collections.abc import Mapping

from PySide6.QtWidgets import QVBoxLayout, QWidget

from floorpan import edits
from floorpan.checks import Finding
from floorpan.checks.finding import rank
from floorpan.items import Armrest, Wheel
from floorpan.layout import KINDS, Thing, record_of
from floorpan.report.sentences import give_or_take_text, pair_title, sentence, value_text
from floorpan.units import show_length
from floorpan_app.cards import fitting_words as said
from floorpan_app.cards import words
from floorpan_app.cards.armrest_part import ArmrestPart
from floorpan_app.cards.blocks import PartTitle, Rule, pressed, px, show_all, told
from floorpan_app.cards.fitting_kinds import FITTING_KINDS, fittings_of
from floorpan_app.cards.form import Offer
from floorpan_app.cards.quiet_combo import QuietCombo
from floorpan_app.cards.rows import Row, Rows
from floorpan_app.cards.setting_down import set_down
from floorpan_app.cards.thing_form import ThingForm
from floorpan_app.cards.tried import tried
from floorpan_app.desk import Desk


class FittingsPart(QWidget):
    """The list, the measures of the one in hand, and setting down another."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._title = PartTitle(said.FITTINGS)
        self._note = told(said.NONE_YET, second=True)
        self.rows = Rows(said.FITTINGS)
        self.rows.row_chosen.connect(self._choose)
        self.forms = _Forms(desk, {"seat_id": self._seats})
        labels = {record.kind: record.label for record in KINDS}
        self.kind = QuietCombo([(one.kind, labels[one.kind]) for one in FITTING_KINDS], said.KIND)
        self.add = pressed(said.ADD, lambda: desk.use_tool(f"place {self.kind.key()}"), icon="place")
        self.middle = pressed(words.WHERE_USUAL, lambda: set_down(desk, self.kind.key()), role="link")
        self.armrest = ArmrestPart(desk)
        self.wheel_off = told()
        self.as_driven = pressed(said.AS_DRIVEN, self._as_driven)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(8))
        for widget in (Rule(), self._title, self._note, self.rows, self.forms.room):
            column.addWidget(widget)
        for widget in (self.armrest, self.wheel_off, self.as_driven, self.kind, self.add, self.middle):
            column.addWidget(widget)

    def refresh(self, *, shown: bool) -> None:
        """Bring it up to date; shown where there is a floor and something to go with."""
        things = fittings_of(self._desk.layout)
        self.setVisible(shown or bool(things))
        self._title.show_second(said.WORST if things else "")
        self._note.setVisible(not things)
        show_all(bool(things), self.rows)
        show_all(shown, self.kind, self.add, self.middle)
        held = self._held()
        kind_held = record_of(held).kind if held is not None else ""
        if kind_held:
            self.forms.of(kind_held)
        for kind, form in self.forms.made.items():
            form.show_things((held,) if held is not None and kind == kind_held else ())
        self._show_wheel(held)

    def _held(self) -> Thing | None:
        things = fittings_of(self._desk.layout)
        return next((thing for thing in things if thing.id == self._desk.selection), None)

    def _show_wheel(self, held: Thing | None) -> None:
        off = edits.wheel_off_mm(self._desk.layout, held) if isinstance(held, Wheel) else None
        is_off = off is not None and off > edits.WHEEL_OFF_MM
        if off is not None:
            self.wheel_off.setText(
                said.WHEEL_OFF.format(off=show_length(off, self._desk.system, digits=0, with_unit=True))
            )
        show_all(is_off, self.wheel_off, self.as_driven)

    def _as_driven(self) -> None:
        id = self._desk.selection
        name = next((thing.name for thing in fittings_of(self._desk.layout) if thing.id == id), "")
        entry = said.AS_DRIVEN_ENTRY.format(name=name)
        tried(self._desk, entry, lambda layout: edits.set_wheel_as_driven(layout, id))

    def follow(self) -> None:
        """Only where something stands changed."""
        for thing in fittings_of(self._desk.layout):
            if (form := self.forms.made.get(record_of(thing).kind)) is not None:
                form.follow(thing)
            if thing.id == self._desk.selection:
                self._show_wheel(thing)

    def show_findings(self, findings: tuple[Finding, ...]) -> None:
        """The worst that is said of each."""
        worst: dict[str, Finding] = {}
        for finding in sorted(findings, key=rank):
            for subject in finding.subjects:
                worst.setdefault(subject.partition(".")[0], finding)
        held = self._held()
        self.armrest.refresh(held if isinstance(held, Armrest) else None)
        rows = [self._row(thing, worst.get(thing.id)) for thing in fittings_of(self._desk.layout)]
        self.rows.show_rows(rows, self._desk.selection)

    def _row(self, thing: Thing, worst: Finding | None) -> Row:
        layout, system = self._desk.layout, self._desk.system
        if worst is None:
            return Row(id=thing.id, title=thing.name, mark="pending", second=said.NOT_JUDGED)
        return Row(
            id=thing.id,
            title=thing.name,
            mark=worst.verdict,
            second=pair_title(worst, layout),
            value=value_text(worst, system),
            trust=give_or_take_text(worst, system),
            spoken=sentence(worst, layout, system),
        )

    def _seats(self) -> list[tuple[str, str]]:
        return [("", said.NO_SEAT), *((seat.id, seat.name) for seat in self._desk.layout.seats)]

    def _choose(self, id: str) -> None:
        self._desk.select("" if id == self._desk.selection else id)


class _Forms:
    """The measures of each kind, made when one of it is first taken in hand: most cars have few of them.

    room : where they stand
    made : those that were needed, by kind
    """

    def __init__(self, desk: Desk, offers: Mapping[str, Offer]) -> None:
        self._desk, self._offers = desk, offers
        self._kinds = {one.kind: one for one in FITTING_KINDS}
        self.made: dict[str, ThingForm] = {}
        self.room = QWidget()
        self._column = QVBoxLayout(self.room)
        self._column.setContentsMargins(0, 0, 0, 0)

    def of(self, kind: str) -> ThingForm:
        """The measures of a kind."""
        if kind not in self.made:
            one = self._kinds[kind]
            self.made[kind] = ThingForm(self._desk, one.model, one.first, one.more, offers=self._offers)
            self._column.addWidget(self.made[kind])
        return self.made[kind]
