"""A form made from a value's own fields: their range, label, unit and help are the model's."""

import typing
from collections.abc import Callable, Hashable, Mapping, Sequence
from typing import Any, cast

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from floorpan.errors import FloorpanError
from floorpan.fields import Choice, Range, Text, rules
from floorpan_app.cards import words
from floorpan_app.cards.blocks import fault_line, px, show_fault, told
from floorpan_app.cards.line_field import LineField
from floorpan_app.cards.quiet_combo import QuietCombo
from floorpan_app.cards.spelling import numbers_of, spelling_of, whole_numbers
from floorpan_app.cards.typed import put_back, show_held, start_again
from floorpan_app.desk import Desk
from floorpan_app.widgets.length_field import LengthField, LengthLimits

Commit = Callable[[str, object], str]
Offer = Callable[[], Sequence[tuple[str, str]]]
Field = LengthField | QuietCombo | LineField

FIELD_WIDTH = 132.0
BESIDE_WIDTH = 38.0


class Form(QWidget):
    """Fields of one kind of value, in rows.

    commit : (field, value) -> "" when it was taken, else what is wrong with it: that stands beside the field, where
             what was typed stays
    offers : for a text that names something else (a seat, a holder): what there is to choose from, as (key, words)
    labels : in place of the model's own
    wide   : fields that take the whole width, below their label
    """

    def __init__(
        self,
        desk: Desk,
        model: type[object],
        names: Sequence[str],
        commit: Commit,
        *,
        labels: Mapping[str, str] | None = None,
        offers: Mapping[str, Offer] | None = None,
        wide: Sequence[str] = (),
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._desk = desk
        self._commit = commit
        self._offers = dict(offers or {})
        self._rules = {name: rules(cast(Hashable, model))[name] for name in names}
        self._types = typing.get_type_hints(model)
        self._value: Any = None
        self._system = ""
        self.fields: dict[str, Field] = {}
        self.labels: dict[str, QLabel] = {}
        self._faults: dict[str, QLabel] = {}
        self._beside: dict[str, QLabel] = {}
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(px(8))
        self._grid.setVerticalSpacing(px(5))
        self._grid.setColumnStretch(0, 1)
        for name in names:
            self._add(name, (labels or {}).get(name, ""), wide=name in wide)

    def show_value(self, value: Any) -> None:
        """Show a value; None shows no form. What was typed for one with another id is gone."""
        if getattr(value, "id", None) != getattr(self._value, "id", None):
            self.start_again()
        self._value = value
        self.setVisible(value is not None)
        if value is None:
            return
        if self._system != self._desk.system:
            self._system = self._desk.system
            for name, field in self.fields.items():
                if isinstance(field, LengthField):
                    self._set_units(name, field)
        for name, field in self.fields.items():
            self._fill(name, field, getattr(value, name))

    def start_again(self) -> None:
        """Another value is about to be shown: what was typed for this one is gone."""
        start_again(field for field in self.fields.values() if isinstance(field, LengthField))
        for field in self.fields.values():
            if isinstance(field, LineField):
                field.show_text(field.held())

    def set_label(self, name: str, text: str) -> None:
        """Call a field something else."""
        self.labels[name].setText(text)
        self.fields[name].setAccessibleName(text)
        field = self.fields[name]
        if isinstance(field, LengthField):
            field.set_name(text)

    def show_field(self, name: str, shown: bool) -> None:
        """Whether a field that may say nothing of this value is shown."""
        for widget in (self.labels[name], self.fields[name]):
            widget.setVisible(shown)
        if not shown:
            show_fault(self._faults[name], "")

    def show_beside(self, name: str, text: str, told_as: str = "") -> None:
        """A quiet word beside a field, as its give or take; told_as is what it means, for the tip and the ear."""
        mark = self._beside.get(name)
        if mark is None:
            mark = self._beside[name] = told("", second=True)
            mark.setWordWrap(False)
            mark.setMinimumWidth(px(BESIDE_WIDTH))
            row = self._grid.getItemPosition(self._grid.indexOf(self.fields[name]))
            assert isinstance(row, tuple)
            self._grid.addWidget(mark, row[0], 2, Qt.AlignmentFlag.AlignTop)
            mark.setMinimumHeight(px(28))
        mark.setText(text)
        mark.setToolTip(told_as)
        mark.setAccessibleName(told_as or text)

    def beside(self, name: str) -> QLabel:
        """The quiet word beside a field."""
        return self._beside[name]

    def fault(self, name: str) -> str:
        """What is wrong with what was typed into a field, or nothing."""
        field = self.fields[name]
        return "" if isinstance(field, QuietCombo) else field.fault()

    # Making.

    def _add(self, name: str, label_text: str, *, wide: bool) -> None:
        rule = self._rules[name]
        text = label_text or rule.label
        label, fault = told(text), fault_line()
        label.setMinimumHeight(px(28))
        field = self._made(name, rule, text)
        if not isinstance(field, QuietCombo):
            field.faultChanged.connect(lambda told, fault=fault: show_fault(fault, told))
        help_ = self._help(name, rule)
        for widget in (field, label):
            widget.setToolTip(help_)
        row = self._grid.rowCount()
        if wide:
            self._grid.addWidget(label, row, 0, 1, 2)
            self._grid.addWidget(field, row + 1, 0, 1, 2)
        else:
            field.setFixedWidth(px(FIELD_WIDTH))
            self._grid.addWidget(label, row, 0, Qt.AlignmentFlag.AlignTop)
            self._grid.addWidget(field, row, 1, Qt.AlignmentFlag.AlignTop)
        self._grid.addWidget(fault, row + 2, 0, 1, 2)
        self.fields[name], self.labels[name], self._faults[name] = field, label, fault

    def _made(self, name: str, rule: Range | Choice | Text, text: str) -> Field:
        if name in self._offers:
            combo = QuietCombo((), text)
            combo.picked.connect(lambda key, name=name: self._take(name, key))
            return combo
        if isinstance(rule, Choice):
            combo = QuietCombo([(word, words.CHOICES.get(word, word)) for word in rule.words], text)
            combo.picked.connect(lambda key, name=name: self._take(name, key))
            return combo
        if isinstance(rule, Text):
            line = LineField(text)
            line.setMaxLength(rule.longest)
            line.textChosen.connect(lambda typed, name=name: self._take(name, typed))
            return line
        if self._is_several(name):
            line = LineField(text)
            line.setAlignment(Qt.AlignmentFlag.AlignRight)
            line.textChosen.connect(lambda typed, name=name: self._take_several(name, typed))
            return line
        return self._number(name, rule, text)

    def _number(self, name: str, rule: Range, text: str) -> LengthField:
        parse, show = spelling_of(rule.unit, "mm", whole=self._is_whole(name))
        field = LengthField(parse, show, name=text, faults=(FloorpanError,), fault_below=False)
        field.valueChosen.connect(
            lambda value, name=name: self._take(name, round(value) if self._is_whole(name) else value)
        )
        return field

    def _set_units(self, name: str, field: LengthField) -> None:
        rule = self._rules[name]
        assert isinstance(rule, Range)
        parse, show = spelling_of(rule.unit, self._desk.system, whole=self._is_whole(name))
        said = words.SPAN.format(label=rule.label, span=numbers_of(rule, self._desk.system))
        field.set_limits(LengthLimits(least_mm=rule.least, most_mm=rule.most, told=said))
        field.set_units(parse, show)
        field.setToolTip(self._help(name, rule))
        self.labels[name].setToolTip(self._help(name, rule))

    def _help(self, name: str, rule: Range | Choice | Text) -> str:
        if not isinstance(rule, Range):
            return rule.help
        return " ".join(part for part in (rule.help, f"{numbers_of(rule, self._desk.system)}.") if part)

    def _is_whole(self, name: str) -> bool:
        return self._types[name] is int

    def _is_several(self, name: str) -> bool:
        return typing.get_origin(self._types[name]) is tuple

    # Showing.

    def _fill(self, name: str, field: Field, held: Any) -> None:
        if isinstance(field, QuietCombo):
            if name in self._offers:
                field.offer(self._offers[name]())
            field.show_key(str(held))
            show_fault(self._faults[name], "")
        elif isinstance(field, LengthField):
            show_held(field, float(held))
        else:
            shown = ", ".join(str(int(one)) for one in held) if isinstance(held, tuple) else str(held)
            being_typed = field.fault() or (field.hasFocus() and field.isModified())
            if not being_typed or field.held() != shown:
                field.show_text(shown)
        self._describe(field, self._rules[name])

    def _describe(self, field: Field, rule: Range | Choice | Text) -> None:
        if isinstance(field, LengthField):
            if not field.fault():
                field.line_edit().setAccessibleDescription(rule.help)
        elif isinstance(field, QuietCombo) or not field.fault():
            field.setAccessibleDescription(rule.help)

    # Taking.

    def _take(self, name: str, value: object) -> None:
        if self._value is None:
            return
        field, before = self.fields[name], getattr(self._value, name)
        fault = self._commit(name, value)
        if not fault:
            return
        if isinstance(field, QuietCombo):
            field.show_key(str(before))
            show_fault(self._faults[name], fault)
        elif isinstance(field, LengthField):
            put_back(field, float(before), fault)
        else:
            field.set_fault(fault)

    def _take_several(self, name: str, typed: str) -> None:
        field = self.fields[name]
        assert isinstance(field, LineField)
        try:
            several = whole_numbers(typed)
        except FloorpanError as fault:
            field.set_fault(str(fault))
            return
        self._take(name, several)
