"""Places typed as three lengths each, any of which may be left empty."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QWidget

from floorpan.errors import BadValue
from floorpan.frames import Vector
from floorpan.units import show_length
from floorpan_app.cards import sizes_words as words
from floorpan_app.cards.blocks import fault_line, px, show_fault, told
from floorpan_app.cards.line_field import LineField
from floorpan_app.cards.spelling import spelling_of
from floorpan_app.desk import Desk

_WIDTH = 62.0


class PlacesForm(QWidget):
    """One row of three lengths a place. A row that is empty is no place.

    typed() : somebody settled on a length
    """

    typed = Signal()

    def __init__(self, desk: Desk, places: Sequence[tuple[str, str]], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._held: dict[str, Vector | None] = {key: None for key, _ in places}
        self.fields: dict[str, tuple[LineField, LineField, LineField]] = {}
        self._names = dict(places)
        self._fault = fault_line()
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(px(6))
        grid.setVerticalSpacing(px(5))
        grid.setColumnStretch(0, 1)
        for column, axis in enumerate(words.POINT_AXES):
            grid.addWidget(told(axis, second=True), 0, column + 1, Qt.AlignmentFlag.AlignRight)
        for row, (key, name) in enumerate(places, start=1):
            grid.addWidget(told(name), row, 0)
            fields = tuple(self._field(name, axis) for axis in words.POINT_AXES)
            for column, field in enumerate(fields):
                grid.addWidget(field, row, column + 1)
            self.fields[key] = (fields[0], fields[1], fields[2])
        grid.addWidget(self._fault, len(places) + 1, 0, 1, 4)

    def show_hint(self, key: str, place: Vector | None) -> None:
        """Show a place in grey where nothing is typed: it counts for nothing."""
        for number, field in enumerate(self.fields[key]):
            field.setPlaceholderText("" if place is None else show_length(place[number], self._desk.system))

    def show_place(self, key: str, place: Vector | None) -> None:
        """Show a place, or nothing; what is being typed stays."""
        self._held[key] = place
        for number, field in enumerate(self.fields[key]):
            text = "" if place is None else show_length(place[number], self._desk.system)
            if not (field.hasFocus() and field.isModified()):
                field.show_text(text)

    def place(self, key: str) -> Vector | None:
        """What is typed for a place; None for an empty row. Raises FloorpanError for a length that is none or lacks."""
        parse, _ = spelling_of("mm", self._desk.system)
        texts = [field.text().strip() for field in self.fields[key]]
        if not any(texts):
            return None
        lengths = [parse(text) for text in texts if text]
        if len(lengths) < len(texts):
            raise BadValue("point-missing", words.HALF_A_POINT.format(name=self._names[key]), words.NO_POINTS)
        # What nobody touched keeps the digits it is shown without.
        held = self._held[key]
        if held is not None and not self.is_typed(key):
            return held
        return lengths[0], lengths[1], lengths[2]

    def is_typed(self, key: str) -> bool:
        """Whether somebody typed into a place's row since it was shown."""
        return any(field.isModified() for field in self.fields[key])

    def say(self, fault: str) -> None:
        """Say what is wrong below the rows, or nothing."""
        show_fault(self._fault, fault)

    def fault(self) -> str:
        """What is said below the rows."""
        return self._fault.text() if not self._fault.isHidden() else ""

    def _field(self, name: str, axis: str) -> LineField:
        field = LineField(words.POINT_FIELD.format(name=name, axis=axis))
        field.setAlignment(Qt.AlignmentFlag.AlignRight)
        field.setFixedWidth(px(_WIDTH))
        field.textChosen.connect(lambda _: self.typed.emit())
        return field
