"""One labelled number that is no field of a value: its name, unit and span are told to it."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QWidget

from floorpan.errors import FloorpanError
from floorpan.units import System
from floorpan_app.cards.blocks import fault_line, px, show_fault, told
from floorpan_app.cards.form import FIELD_WIDTH
from floorpan_app.cards.spelling import spelling_of
from floorpan_app.widgets.length_field import LengthField, LengthLimits


class NumberLine(QWidget):
    """chosen(value) : somebody settled on a number, in core units."""

    chosen = Signal(float)

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        parse, show = spelling_of("mm", "mm")
        self.label = told(name)
        self.field = LengthField(parse, show, name=name, faults=(FloorpanError,), fault_below=False)
        self.field.setFixedWidth(px(FIELD_WIDTH))
        self.field.valueChosen.connect(self.chosen.emit)
        self._fault = fault_line()
        self.field.faultChanged.connect(lambda said: show_fault(self._fault, said))
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(px(8))
        grid.setColumnStretch(0, 1)
        grid.addWidget(self.label, 0, 0, Qt.AlignmentFlag.AlignTop)
        grid.addWidget(self.field, 0, 1, Qt.AlignmentFlag.AlignTop)
        grid.addWidget(self._fault, 1, 0, 1, 2)

    def set_unit(self, unit: str, system: System, least: float, most: float, said: str = "") -> None:
        """What it takes from now on: a unit as in `spelling_of`, and a span in core units."""
        parse, show = spelling_of(unit, system)
        self.field.set_limits(LengthLimits(least_mm=least, most_mm=most, told=said))
        self.field.set_units(parse, show)

    def say(self, fault: str) -> None:
        """Say what is wrong with what was typed; the text stays."""
        show_fault(self._fault, fault)

    def said(self) -> str:
        """What is said to be wrong, or nothing."""
        return self._fault.text() if not self._fault.isHidden() else ""
