"""What may change of a lever and its box: a check box each, and how far each may go."""

from dataclasses import replace
from typing import Any, Final

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QGridLayout, QVBoxLayout, QWidget

from floorpan.advice.lever_freedom import LeverFreedom
from floorpan.errors import FloorpanError
from floorpan_app.cards import lever_words as said
from floorpan_app.cards.blocks import at_left, pressed, px, told
from floorpan_app.cards.form import Form
from floorpan_app.desk import Desk

RANGES: Final = {
    "length_free": ("length_least_mm", "length_most_mm"),
    "bend_free": ("bend_most_deg", "bend_below_boot_mm"),
    "raise_free": ("raise_most_mm",),
    "tilt_free": ("tilt_least_deg", "tilt_most_deg"),
    "move_free": ("move_forward_mm", "move_rearward_mm", "move_left_mm", "move_right_mm"),
}


class LeverFreedomForm(QWidget):
    """View state: what may change is asked, not decided.

    changed() : something else may change, or farther
    """

    changed = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._free = LeverFreedom()
        self.boxes: dict[str, QCheckBox] = {}
        self.forms: dict[str, Form] = {}
        checks = QGridLayout()
        checks.setHorizontalSpacing(px(10))
        checks.setVerticalSpacing(px(4))
        for place, (name, text) in enumerate(said.FREE.items()):
            box = self.boxes[name] = QCheckBox(text)
            box.clicked.connect(lambda on, name=name: self._let(name, on))
            checks.addWidget(box, place // 2, place % 2)
        self.fold = pressed(said.HOW_FAR, self._show, role="link")
        self.fold.setCheckable(True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(6))
        column.addWidget(told(said.MAY_CHANGE))
        column.addLayout(checks)
        column.addLayout(at_left(self.fold))
        for name, ranges in RANGES.items():
            form = self.forms[name] = Form(desk, LeverFreedom, ranges, self._commit)
            column.addWidget(form)
        self._show()

    def free(self) -> LeverFreedom:
        """What may change, and how far."""
        return self._free

    def show_free(self, free: LeverFreedom) -> None:
        """Another lever is asked about: this may change of it."""
        self._free = free
        self._show()

    def refresh(self) -> None:
        """Lengths in the shown unit."""
        self._show()

    def _let(self, name: str, on: bool) -> None:
        changes: dict[str, Any] = {name: on}
        self._free = replace(self._free, **changes)
        self._show()
        self.changed.emit()

    def _commit(self, name: str, value: object) -> str:
        changes: dict[str, Any] = {name: value}
        try:
            self._free = replace(self._free, **changes)
        except FloorpanError as fault:
            return f"{fault.what} {fault.remedy}"
        self._show()
        self.changed.emit()
        return ""

    def _show(self) -> None:
        unfolded = self.fold.isChecked()
        self.fold.setText(said.FEWER if unfolded else said.HOW_FAR)
        for name, box in self.boxes.items():
            box.setChecked(getattr(self._free, name))
            form = self.forms[name]
            form.show_value(self._free)
            form.setVisible(unfolded and box.isChecked())
