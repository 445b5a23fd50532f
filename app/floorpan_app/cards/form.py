"""A form made from a value's own fields: their range, label, unit and help are the model's."""

from collections.abc import Callable, Sequence
from typing import Any

from PySide6.QtWidgets import QComboBox, QGridLayout, QLabel, QLineEdit, QWidget

from floorpan.errors import FloorpanError, NotALength
from floorpan.fields import Choice, Range, Text, rules
from floorpan.units import parse_length, show_length, show_number
from floorpan_app.cards.card import told
from floorpan_app.desk import Desk
from floorpan_app.widgets.length_field import LengthField, LengthLimits

Commit = Callable[[str, object], None]


class Form(QWidget):
    """Fields of one value. What is typed is handed to `commit(field, value)`; the value shown is the layout's."""

    def __init__(
        self, desk: Desk, names: Sequence[str], commit: Commit, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._desk = desk
        self._names = tuple(names)
        self._commit = commit
        self._value: Any = None
        self.fields: dict[str, QWidget] = {}
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setVerticalSpacing(6)
        self._grid.setColumnStretch(0, 1)
        self._system = desk.system

    def show_value(self, value: Any) -> None:
        """Show a value; None empties the form."""
        again = type(value) is not type(self._value) or self._system != self._desk.system
        self._value = value
        self._system = self._desk.system
        if again:
            self._make()
        if value is not None:
            for name, field in self.fields.items():
                self._fill(name, field)

    def _make(self) -> None:
        while (item := self._grid.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.hide()
                widget.deleteLater()
        self.fields = {}
        if self._value is None:
            return
        known = rules(self._value.__class__)
        for row, name in enumerate(self._names):
            rule = known[name]
            label: QLabel = told(rule.label if rule.label else name)
            field = self._field(name, rule)
            field.setToolTip(rule.help)
            field.setAccessibleName(rule.label)
            field.setAccessibleDescription(rule.help)
            field.setFixedWidth(132)
            label.setBuddy(field)
            self._grid.addWidget(label, row, 0)
            self._grid.addWidget(field, row, 1)
            self.fields[name] = field

    def _field(self, name: str, rule: Range | Choice | Text) -> QWidget:
        if isinstance(rule, Choice):
            box = QComboBox()
            box.addItems(list(rule.words))
            box.activated.connect(lambda _, name=name, box=box: self._commit(name, box.currentText()))
            return box
        if isinstance(rule, Text):
            line = QLineEdit()
            line.setMaxLength(rule.longest)
            line.editingFinished.connect(lambda name=name, line=line: self._typed_text(name, line.text()))
            return line
        return self._number(name, rule)

    def _number(self, name: str, rule: Range) -> LengthField:
        whole = isinstance(getattr(self._value, name), int)
        parse, show = self._spelling(rule, whole)
        span = f"{rule.label} is {show(rule.least)} to {show(rule.most)}."
        field = LengthField(
            parse,
            show,
            limits=LengthLimits(least_mm=rule.least, most_mm=rule.most, told=span),
            name=rule.label,
            faults=(FloorpanError,),
        )
        field.valueChosen.connect(
            lambda value, name=name: self._commit(name, round(value) if whole else value)
        )
        return field

    def _spelling(self, rule: Range, whole: bool) -> tuple[Callable[[str], float], Callable[[float], str]]:
        """How a field reads and writes its number: lengths in the shown unit, all else plain."""
        system = self._desk.system
        if rule.unit == "mm":
            return lambda text: parse_length(text, system), lambda mm: show_length(mm, system, with_unit=True)
        suffix = "\u00b0" if rule.unit == "deg" else f" {rule.unit}" if rule.unit else ""
        return _plain, lambda value: f"{show_number(value, 0 if whole else 1)}{suffix}"

    def _typed_text(self, name: str, text: str) -> None:
        if self._value is not None and text != getattr(self._value, name):
            self._commit(name, text)

    def _fill(self, name: str, field: QWidget) -> None:
        held = getattr(self._value, name)
        if isinstance(field, QComboBox):
            field.setCurrentText(str(held))
        elif isinstance(field, QLineEdit):
            field.setText(str(held))
        elif isinstance(field, LengthField):
            field.set_value_mm(float(held))


def _plain(text: str) -> float:
    """A plain number, decimal comma or point; degrees and units behind it are passed by."""
    bare = text.strip().replace("\u2212", "-").rstrip("\u00b0% kgdem").strip().replace(",", ".")
    try:
        return float(bare)
    except ValueError:
        raise NotALength(
            "not-a-number", f"\u201c{text.strip()}\u201d is not a number.", "Type a plain number.", text=text
        ) from None
