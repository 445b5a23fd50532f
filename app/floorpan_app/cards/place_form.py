"""A place or a step by its three numbers, typed."""

from collections.abc import Callable, Mapping
from typing import Literal

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QWidget

from floorpan.errors import FloorpanError
from floorpan.frames import Vector
from floorpan_app.cards.blocks import fault_line, px, show_fault, told
from floorpan_app.cards.form import FIELD_WIDTH
from floorpan_app.cards.spelling import spelling_of
from floorpan_app.cards.typed import first_fault, show_held, start_again
from floorpan_app.desk import Desk
from floorpan_app.widgets.length_field import LengthField

Axis = Literal["x", "y", "z"]
AXES: tuple[Axis, ...] = ("x", "y", "z")


class PlaceForm(QWidget):
    """Three lengths. `commit` takes the changed place and answers "" or what is wrong with it."""

    def __init__(
        self,
        desk: Desk,
        labels: Mapping[Axis, str],
        commit: Callable[[Vector], str],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._desk = desk
        self._commit = commit
        self._system = desk.system
        self._place: Vector = (0.0, 0.0, 0.0)
        self._fault = fault_line()
        self.fields: dict[Axis, LengthField] = {}
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(px(8))
        grid.setVerticalSpacing(px(5))
        grid.setColumnStretch(0, 1)
        for row, axis in enumerate(AXES):
            parse, show = spelling_of("mm", desk.system)
            field = LengthField(parse, show, name=labels[axis], faults=(FloorpanError,), fault_below=False)
            field.setFixedWidth(px(FIELD_WIDTH))
            field.valueChosen.connect(lambda mm, axis=axis: self._chosen(axis, mm))
            field.faultChanged.connect(self._say)
            grid.addWidget(told(labels[axis]), row, 0)
            grid.addWidget(field, row, 1, Qt.AlignmentFlag.AlignRight)
            self.fields[axis] = field
        grid.addWidget(self._fault, len(AXES), 0, 1, 2)

    def show_place(self, place: Vector) -> None:
        """Show a place."""
        self._place = place
        for axis, held in zip(AXES, place, strict=True):
            if self._system != self._desk.system:
                self.fields[axis].set_units(*spelling_of("mm", self._desk.system))
            show_held(self.fields[axis], held)
        self._system = self._desk.system
        self._say("")

    def start_again(self) -> None:
        """Another place is about to be shown: what was typed for this one is gone."""
        start_again(self.fields.values())

    def _chosen(self, axis: Axis, mm: float) -> None:
        x, y, z = (mm if one == axis else held for one, held in zip(AXES, self._place, strict=True))
        self._say(self._commit((x, y, z)))

    def _say(self, fault: str) -> None:
        show_fault(self._fault, fault or first_fault(self.fields.values()))
