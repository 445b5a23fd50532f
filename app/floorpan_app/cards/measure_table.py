"""Several values of one kind in rows, a measure a column, with a row more and a row less."""

from collections.abc import Callable, Hashable, Iterator, Sequence
from dataclasses import replace
from typing import Any, cast

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QToolButton, QWidget

from floorpan.errors import FloorpanError
from floorpan.fields import Range, rules
from floorpan.units import show_length, show_number
from floorpan_app.cards import words
from floorpan_app.cards.blocks import fault_line, px, show_fault
from floorpan_app.cards.spelling import numbers_of, spelling_of
from floorpan_app.cards.typed import first_fault, put_back, show_held, start_again
from floorpan_app.desk import Desk
from floorpan_app.theme.fonts import SECOND, text_font
from floorpan_app.theme.icons import themed_icon
from floorpan_app.widgets.length_field import LengthField, LengthLimits


class MeasureTable(QWidget):
    """A table of dataclass values. `commit` takes the changed rows and answers "" or what is wrong with them.

    columns : (field, title); named : what a row is called, for its button and its fields
    with_   : a row with another measure, where another field has to follow

    row_ended(row) : Enter in the last measure of a row that has no fault
    """

    row_ended = Signal(int)

    def __init__(
        self,
        desk: Desk,
        model: type[object],
        columns: Sequence[tuple[str, str]],
        commit: Callable[[tuple[Any, ...]], str],
        *,
        named: Callable[[Any], str],
        lead: str = "",
        fewest: int = 0,
        with_: Callable[[Any, str, float], Any] | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._desk = desk
        self._columns = tuple(columns)
        self._commit = commit
        self._named = named
        self._fewest = fewest
        self._with = with_ or _with
        self._leads = bool(lead)
        self._rules: dict[str, Range] = {
            name: rule for name, rule in rules(cast(Hashable, model)).items() if isinstance(rule, Range)
        }
        self._values: tuple[Any, ...] = ()
        self._of = ""
        self._system = desk.system
        self.cells: list[dict[str, LengthField]] = []
        self._letters: list[QLabel] = []
        self._outs: list[QToolButton] = []
        self._fault = fault_line()
        # Its own from the start: a table that never gets a row would leave it behind.
        self._fault.setParent(self)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(px(5))
        self._grid.setVerticalSpacing(px(4))
        self._head(lead)

    def show_values(self, values: Sequence[Any], of: str = "") -> None:
        """Show these rows in place of those before; `of` is the id of what they belong to."""
        if of != self._of or len(values) < len(self._values):
            start_again(self._fields())
        self._values, self._of = tuple(values), of
        while len(self.cells) < len(values):
            self._add_row()
        if self._system != self._desk.system:
            self._system = self._desk.system
            for cells in self.cells:
                for name, field in cells.items():
                    self._set_units(field, name)
        for row in range(len(self.cells)):
            self._show_row(row)
        self.say("")
        self.setVisible(bool(values))

    def say(self, fault: str) -> None:
        """Say what is wrong with the table, else what still is with a cell, else nothing."""
        show_fault(self._fault, fault or first_fault(self._fields()))

    def begin_row(self, row: int) -> QWidget:
        """The keyboard in the first measure of a row, which is answered; what is typed takes its number's place."""
        field = self.cells[row][self._columns[0][0]]
        field.setFocus(Qt.FocusReason.OtherFocusReason)
        field.line_edit().selectAll()
        return field

    def _fields(self) -> Iterator[LengthField]:
        return (field for cells in self.cells for field in cells.values())

    def _head(self, lead: str) -> None:
        if lead:
            self._grid.addWidget(self._quiet(lead), 0, 0)
        for column, (name, title) in enumerate(self._columns, self._leads):
            head = self._quiet(title)
            head.setToolTip(self._rules[name].help)
            head.setAlignment(Qt.AlignmentFlag.AlignRight)
            self._grid.addWidget(head, 0, column)
            self._grid.setColumnStretch(column, 1)

    def _quiet(self, text: str) -> QLabel:
        label = QLabel(text)
        label.setFont(text_font(SECOND))
        label.setProperty("role", "second")
        return label

    def _add_row(self) -> None:
        row = len(self.cells)
        place = row + 1
        self._grid.removeWidget(self._fault)
        if self._leads:
            letter = QLabel()
            self._letters.append(letter)
            self._grid.addWidget(letter, place, 0)
        cells: dict[str, LengthField] = {}
        for column, (name, _) in enumerate(self._columns, self._leads):
            field = LengthField(float, str, faults=(FloorpanError,), fault_below=False)
            field.valueChosen.connect(lambda value, row=row, name=name: self._chosen(row, name, value))
            field.faultChanged.connect(self.say)
            self._grid.addWidget(field, place, column, Qt.AlignmentFlag.AlignTop)
            cells[name] = field
            self._set_units(field, name)
        # After the field has settled what was typed.
        field.line_edit().returnPressed.connect(lambda row=row: self._row_entered(row))
        out = QToolButton()
        out.setIcon(themed_icon("take-out"))
        out.setIconSize(QSize(px(16), px(16)))
        out.setFixedSize(px(28), px(28))
        out.clicked.connect(lambda _=False, row=row: self._take_out(row))
        self._grid.addWidget(out, place, len(self._columns) + self._leads)
        self._outs.append(out)
        self.cells.append(cells)
        self._grid.addWidget(self._fault, place + 1, 0, 1, len(self._columns) + self._leads + 1)

    def _show_row(self, row: int) -> None:
        used = row < len(self._values)
        for widget in (*self.cells[row].values(), self._outs[row], *self._letters[row : row + 1]):
            widget.setVisible(used)
        if not used:
            return
        value = self._values[row]
        called = self._named(value)
        if self._leads:
            self._letters[row].setText(called)
        self._outs[row].setAccessibleName(words.TAKE_ROW_OUT.format(name=called))
        self._outs[row].setToolTip(words.TAKE_ROW_OUT.format(name=called))
        self._outs[row].setEnabled(len(self._values) > self._fewest)
        for name, title in self._columns:
            field = self.cells[row][name]
            field.set_name(f"{title}, {called}")
            show_held(field, getattr(value, name))

    def _set_units(self, field: LengthField, name: str) -> None:
        rule, system = self._rules[name], self._desk.system
        parse, _ = spelling_of(rule.unit, system)
        span = numbers_of(rule, system)
        field.setToolTip(f"{rule.help} {span}.".strip())
        said = words.SPAN.format(label=rule.label, span=span)
        field.set_limits(LengthLimits(least_mm=rule.least, most_mm=rule.most, told=said))
        # The unit stands over the table.
        field.set_units(parse, self._show_length if rule.unit == "mm" else show_number)

    def _show_length(self, mm: float) -> str:
        return show_length(mm, self._desk.system)

    def _chosen(self, row: int, name: str, value: float) -> None:
        before = self._values
        try:
            changed = self._with(before[row], name, value)
            fault = self._commit((*before[:row], changed, *before[row + 1 :]))
        except FloorpanError as refused:
            fault = str(refused)
        if fault:
            put_back(self.cells[row][name], getattr(before[row], name), fault)

    def _row_entered(self, row: int) -> None:
        if not first_fault(self.cells[row].values()):
            self.row_ended.emit(row)

    def _take_out(self, row: int) -> None:
        self.say(self._commit((*self._values[:row], *self._values[row + 1 :])))


def _with(row: Any, name: str, value: float) -> Any:
    return replace(row, **{name: value})
