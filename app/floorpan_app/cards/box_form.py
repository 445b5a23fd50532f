"""A box by its six faces, typed: how far out each face stands, the same numbers the picture writes at its grips."""

from collections.abc import Callable
from dataclasses import replace
from typing import Literal

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from floorpan.errors import FloorpanError
from floorpan.layout import Box, Side
from floorpan_app.cards import words
from floorpan_app.cards.blocks import fault_line, px, show_fault, told
from floorpan_app.cards.form import FIELD_WIDTH
from floorpan_app.cards.spelling import spelling_of
from floorpan_app.cards.typed import put_back, show_held, start_again
from floorpan_app.desk import Desk
from floorpan_app.widgets.length_field import LengthField

Face = Literal["front", "rear", "left", "right", "down", "up"]
FACES: tuple[Face, ...] = ("front", "rear", "left", "right", "down", "up")


class BoxForm(QWidget):
    """Six faces. `commit` takes the changed box and answers "" or what is wrong with it."""

    def __init__(self, desk: Desk, commit: Callable[[Box], str], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._commit = commit
        self._box: Box | None = None
        self._system = desk.system
        self.faces: dict[Face, LengthField] = {}
        self._labels: dict[Face, QLabel] = {}
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(px(8))
        grid.setVerticalSpacing(px(5))
        grid.setColumnStretch(0, 1)
        parse, show = spelling_of("mm", desk.system)
        for row, face in enumerate(FACES):
            field = LengthField(parse, show, faults=(FloorpanError,), fault_below=False)
            field.setFixedWidth(px(FIELD_WIDTH))
            label, fault = told(), fault_line()
            label.setMinimumHeight(px(28))
            field.valueChosen.connect(lambda mm, face=face: self._chosen(face, mm))
            field.faultChanged.connect(lambda text, fault=fault: show_fault(fault, text))
            grid.addWidget(label, 2 * row, 0, Qt.AlignmentFlag.AlignTop)
            grid.addWidget(field, 2 * row, 1, Qt.AlignmentFlag.AlignTop)
            grid.addWidget(fault, 2 * row + 1, 0, 1, 2)
            self.faces[face], self._labels[face] = field, label

    def show_box(self, box: Box | None, driver_side: Side, *, in_car_axes: bool) -> None:
        """Show a box; until a scan stands in car axes its sides have letters."""
        self._box = box
        self.setVisible(box is not None)
        if box is None:
            return
        called = words.FACES[driver_side] if in_car_axes else words.LETTERED_FACES
        for face, field in self.faces.items():
            self._labels[face].setText(called[face])
            field.set_name(words.FACE_NAME.format(face=called[face]))
            if self._system != self._desk.system:
                field.set_units(*spelling_of("mm", self._desk.system))
            show_held(field, _outward(box, face))
        self._system = self._desk.system

    def start_again(self) -> None:
        """Another box is about to be shown: what was typed for this one is gone."""
        start_again(self.faces.values())

    def _chosen(self, face: Face, mm: float) -> None:
        box = self._box
        if box is None:
            return
        fault = self._commit(_with_face(box, face, mm))
        if fault:
            put_back(self.faces[face], _outward(box, face), fault)


def _outward(box: Box, face: Face) -> float:
    axis, high = divmod(FACES.index(face), 2)
    return box.greatest_mm[axis] if high else -box.least_mm[axis]


def _with_face(box: Box, face: Face, mm: float) -> Box:
    axis, high = divmod(FACES.index(face), 2)
    least, greatest = list(box.least_mm), list(box.greatest_mm)
    (greatest if high else least)[axis] = mm if high else -mm
    return replace(
        box,
        least_mm=(least[0], least[1], least[2]),
        greatest_mm=(greatest[0], greatest[1], greatest[2]),
    )
