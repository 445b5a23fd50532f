"""One picked point: its name, what it is, its mate, where it lies on the scan."""

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from floorpan.errors import FloorpanError
from floorpan.frames import Vector
from floorpan.scan.axes import AxisPick
from floorpan_app.cards import points, words
from floorpan_app.cards.blocks import fault_line, pressed, px, show_fault, told
from floorpan_app.cards.form import FIELD_WIDTH
from floorpan_app.cards.line_field import LineField
from floorpan_app.cards.points import Picks
from floorpan_app.cards.quiet_combo import QuietCombo
from floorpan_app.cards.spelling import spelling_of
from floorpan_app.cards.typed import first_fault, show_held, start_again
from floorpan_app.desk import Desk
from floorpan_app.widgets.length_field import LengthField

_WIDE = 176.0


class PointForm(QWidget):
    """Edits one of the picks. `commit` takes the entry's words and the changed picks; it answers what is wrong."""

    def __init__(self, desk: Desk, commit: Callable[[str, Picks], str]) -> None:
        super().__init__()
        self._desk = desk
        self._commit = commit
        self._picks: Picks = ()
        self._pick: AxisPick | None = None
        self._system = desk.system
        self.name = LineField(words.POINT_NAME)
        self.name.setMaxLength(120)
        self.role = QuietCombo([(role, words.ROLES[role]) for role in points.ROLES], words.POINT_ROLE)
        self.side = QuietCombo([("left", words.LEFT), ("right", words.RIGHT)], words.POINT_SIDE)
        self.partner = QuietCombo((), words.POINT_PARTNER)
        self.at = {axis: self._axis(axis) for axis in "xyz"}
        self.out = pressed("", self._leave_out)
        self._fault = fault_line()
        self._labels: dict[QWidget, QLabel] = {}
        self._lay_out()
        self.name.textChosen.connect(lambda name: self._change(partial(points.with_name, name=name)))
        self.role.picked.connect(
            lambda key: self._change(partial(points.with_role, role=points.as_role(key)))
        )
        self.side.picked.connect(lambda side: self._change(partial(points.with_side, side=side)))
        self.partner.picked.connect(lambda mate: self._change(partial(points.with_partner, partner=mate)))

    def show_pick(self, picks: Picks, letter: str) -> None:
        """Show one of the picks; a letter that none carries shows nothing."""
        self._picks = picks
        before = self._pick
        pick = self._pick = next((one for one in picks if one.id == letter), None)
        self.setVisible(pick is not None)
        if pick is None:
            return
        other = before is None or before.id != pick.id
        if other:
            start_again(self.at.values())
        if other or not self.name.hasFocus() or self.name.held() != pick.name:
            self.name.show_text(pick.name)
        self.role.show_key(pick.role)
        mates = [one.id for one in picks if one.role == "pair" and one.id != letter]
        self.partner.offer([("", words.NO_MATE), *((mate, mate) for mate in mates)])
        self.partner.show_key(pick.partner)
        self.side.show_key(pick.side)
        for field in (self.side, self.partner):
            field.setVisible(pick.role == "pair")
            self._labels[field].setVisible(pick.role == "pair")
        for axis, held in zip("xyz", pick.at_mm, strict=True):
            if self._system != self._desk.system:
                self.at[axis].set_units(*spelling_of("mm", self._desk.system))
            show_held(self.at[axis], held)
        self._system = self._desk.system
        self.out.setText(words.LEAVE_POINT_OUT.format(letter=letter))
        self._say("")

    def _say(self, fault: str) -> None:
        show_fault(self._fault, fault or first_fault(self.at.values()))

    def _axis(self, axis: str) -> LengthField:
        parse, show = spelling_of("mm", self._desk.system)
        field = LengthField(
            parse, show, name=words.POINT_AT[axis], faults=(FloorpanError,), fault_below=False
        )
        field.valueChosen.connect(lambda value, axis=axis: self._move(axis, value))
        field.faultChanged.connect(self._say)
        return field

    def _lay_out(self) -> None:
        grid = QGridLayout()
        grid.setHorizontalSpacing(px(8))
        grid.setVerticalSpacing(px(5))
        grid.setColumnStretch(0, 1)
        rows: list[tuple[str, QWidget, float]] = [
            (words.POINT_NAME, self.name, _WIDE),
            (words.POINT_ROLE, self.role, _WIDE),
            (words.POINT_SIDE, self.side, _WIDE),
            (words.POINT_PARTNER, self.partner, _WIDE),
            *((words.POINT_AT[axis], self.at[axis], FIELD_WIDTH) for axis in "xyz"),
        ]
        for row, (text, field, width) in enumerate(rows):
            label = told(text)
            field.setFixedWidth(px(width))
            grid.addWidget(label, row, 0)
            grid.addWidget(field, row, 1, Qt.AlignmentFlag.AlignRight)
            self._labels[field] = label
        grid.addWidget(self._fault, len(rows), 0, 1, 2)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, px(4), 0, 0)
        column.setSpacing(px(8))
        column.addLayout(grid)
        column.addWidget(self.out)
        self.hide()

    def _change(self, change: Callable[[Picks, str], Picks]) -> None:
        pick = self._pick
        if pick is not None:
            entry = words.CHANGE_POINT_ENTRY.format(letter=pick.id)
            self._say(self._commit(entry, change(self._picks, pick.id)))

    def _move(self, axis: str, value: float) -> None:
        if self._pick is not None:
            x, y, z = (
                value if one == axis else held for one, held in zip("xyz", self._pick.at_mm, strict=True)
            )
            at: Vector = (x, y, z)
            self._change(partial(points.moved, at_mm=at))

    def _leave_out(self) -> None:
        pick = self._pick
        if pick is not None:
            entry = words.DROP_POINT_ENTRY.format(letter=pick.id)
            self._say(self._commit(entry, points.without(self._picks, pick.id)))
