"""What is wanted of each gap, angle and fit: the measure, why, and where it comes from."""

from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from floorpan import edits
from floorpan.errors import FloorpanError
from floorpan.layout import Layout, LimitChange
from floorpan.limits import LIMITS, Limit
from floorpan.report.amounts import wanted_text
from floorpan.report.naming import capital
from floorpan_app.cards import words
from floorpan_app.cards.blocks import fault_line, pressed, px, show_fault, told
from floorpan_app.cards.form import FIELD_WIDTH
from floorpan_app.cards.line_field import LineField
from floorpan_app.cards.quiet_combo import QuietCombo
from floorpan_app.cards.spelling import spelling_of
from floorpan_app.cards.tried import tried
from floorpan_app.cards.typed import first_fault, put_back, show_held
from floorpan_app.desk import Desk
from floorpan_app.widgets.length_field import LengthField, LengthLimits

_NONE_TOLD: Final = 0.0
# What no measure of a kind goes past; common practice, no source.
_MOST: Final = {"mm": 500.0, "deg": 180.0, "percent": 100.0, "g": 2.0}


class LimitsForm(QWidget):
    """One limit at a time."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self.which = QuietCombo((), words.LIMIT)
        self.which.picked.connect(lambda _: self.refresh())
        self.value = self._field("value")
        self.upper = self._field("upper")
        self.note = LineField(words.LIMIT_WHY)
        self.note.setMaxLength(200)
        self.note.textChosen.connect(self._note_chosen)
        self._fault = fault_line()
        self._labels = {name: told() for name in ("value", "upper", "note")}
        self._source = told(second=True)
        self.back = pressed(words.BACK_TO_SHIPPED, self.as_usual)
        grid = QGridLayout()
        grid.setHorizontalSpacing(px(8))
        grid.setVerticalSpacing(px(5))
        grid.setColumnStretch(0, 1)
        rows = (("value", self.value), ("upper", self.upper))
        for row, (name, field) in enumerate(rows):
            field.setFixedWidth(px(FIELD_WIDTH))
            grid.addWidget(self._labels[name], row, 0)
            grid.addWidget(field, row, 1, Qt.AlignmentFlag.AlignRight)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(6))
        column.addWidget(self.which)
        column.addLayout(grid)
        self._labels["note"].setText(words.LIMIT_WHY)
        for widget in (self._fault, self._labels["note"], self.note, self._source, self.back):
            column.addWidget(widget)

    def refresh(self) -> None:
        """Bring it up to date with the layout."""
        changed = {change.id for change in self._desk.layout.limits}
        self.which.offer([(one.id, _called(one, one.id in changed)) for one in LIMITS.values()])
        limit, change = self._limit(), self._change()
        for name, field in (("value", self.value), ("upper", self.upper)):
            self._show_field(name, field, limit, change)
        self.note.setVisible(change is not None)
        self._labels["note"].setVisible(change is not None)
        self.back.setVisible(change is not None)
        if change is None:
            self._source.setText(words.SOURCE.format(source=limit.source))
            return
        self.note.show_text(change.note)
        usual = wanted_text(limit, self._desk.system)
        self._source.setText(words.SHIPPED.format(wanted=usual, source=limit.source))

    def as_usual(self) -> None:
        """Back to what is usually wanted."""
        limit = self._limit()
        self._set(limit.value, limit.upper, "")

    def _field(self, name: str) -> LengthField:
        parse, show = spelling_of("mm", self._desk.system)
        field = LengthField(parse, show, faults=(FloorpanError,), fault_below=False)
        field.valueChosen.connect(lambda value, name=name: self._chosen(name, value))
        field.faultChanged.connect(self._say)
        return field

    def _show_field(self, name: str, field: LengthField, limit: Limit, change: LimitChange | None) -> None:
        of = change if change is not None else limit
        held = of.value if name == "value" else of.upper
        label: QLabel = self._labels[name]
        for widget in (field, label):
            widget.setVisible(held is not None)
        if held is None:
            field.set_value_mm(None)
            return
        label.setText(_sense(limit) if name == "value" else words.TO)
        field.set_name(label.text())
        field.set_limits(LengthLimits(least_mm=_NONE_TOLD, most_mm=_MOST[limit.unit]))
        field.set_units(*spelling_of(limit.unit, self._desk.system))
        show_held(field, held)

    def _say(self, fault: str) -> None:
        show_fault(self._fault, fault or first_fault((self.value, self.upper)))

    def _limit(self) -> Limit:
        return LIMITS[self.which.key() or next(iter(LIMITS))]

    def _change(self) -> LimitChange | None:
        limit = self._limit()
        return next((one for one in self._desk.layout.limits if one.id == limit.id), None)

    def _chosen(self, name: str, value: float) -> None:
        limit, change = self._limit(), self._change()
        of = change if change is not None else limit
        low, high = (value, of.upper) if name == "value" else (of.value, value)
        field = self.value if name == "value" else self.upper
        fault = ""
        if high is not None and low >= high:
            fault = words.LIMIT_CROSSED
        else:
            fault = self._set(low, high, change.note if change is not None else "")
        if fault:
            held = of.value if name == "value" else of.upper
            put_back(field, 0.0 if held is None else held, fault)

    def _note_chosen(self, note: str) -> None:
        change = self._change()
        if change is not None:
            self.note.set_fault(self._set(change.value, change.upper, note))

    def _set(self, value: float, upper: float | None, note: str) -> str:
        limit = self._limit()

        def judged(layout: Layout) -> Layout:
            return edits.set_limit(layout, limit.id, value, upper=upper, note=note)

        return tried(self._desk, words.LIMIT_ENTRY, judged)


def _called(limit: Limit, changed: bool) -> str:
    note = capital(limit.note.partition(";")[0])
    return words.CHANGED_LIMIT.format(note=note) if changed else note


def _sense(limit: Limit) -> str:
    return {"at_least": words.AT_LEAST, "at_most": words.AT_MOST, "between": words.FROM}[limit.sense]
