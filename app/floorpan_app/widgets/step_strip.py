"""The step strip: the order of the work across the top, where it stands, and a way to any of it."""

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, QSizeF, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from floorpan_app.theme.fonts import BODY, LEAST, scaled, text_font
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.widgets.lettering import BOLDER, PLAIN, line_height, text_width, write
from floorpan_app.widgets.roving import RowButton, make_stop, walk
from floorpan_app.widgets.seam import paint_focus, paint_rule, paint_seam
from floorpan_app.widgets.step_mark import Mark, paint_mark


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step as the strip shows it."""

    id: str
    word: str
    mark: Mark
    in_hand: bool = False

    def state_word(self) -> str:
        return "in hand" if self.in_hand else self.mark


_HEIGHT = 44.0
_MARK = 12.0
_PAD = 10.0
_GAP = 8.0


class _StepCell(RowButton):
    """One step. Short, it shows its mark and number only."""

    def __init__(self, step: Step, number: int, of: int, parent: QWidget) -> None:
        super().__init__(parent)
        self.step = step
        self.short = False
        self._number = number
        self._of = of
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.show_step(step)

    def show_step(self, step: Step) -> None:
        self.step = step
        self.setText(step.word)
        self.setAccessibleName(f"{step.word}, {step.state_word()}, step {self._number} of {self._of}")
        self.update()

    def full_width(self) -> float:
        words = max(
            text_width(self.step.word, text_font(BODY, BOLDER)),
            text_width(self.step.state_word(), text_font(LEAST)),
        )
        return scaled(_PAD + _MARK + _GAP) + words + scaled(_PAD)

    def short_width(self) -> float:
        return scaled(_PAD + _MARK + _GAP) + text_width(str(self._number), text_font(BODY)) + scaled(_PAD)

    def set_short(self, short: bool) -> None:
        self.short = short
        self.setToolTip(f"{self.step.word}: {self.step.state_word()}" if short else "")

    def sizeHint(self) -> QSize:
        return QSizeF(self.short_width() if self.short else self.full_width(), scaled(_HEIGHT)).toSize()

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter, rect = theme_in_use(), QPainter(self), QRectF(self.rect())
        if self.step.in_hand or self.underMouse() or self.isDown():
            painter.fillRect(rect.adjusted(1, 0, 0, 0), QColor(theme.wash))
        if self.step.in_hand:
            painter.fillRect(QRectF(0, 0, rect.width(), scaled(4)), QColor(theme.accent))
        paint_seam(painter, QPointF(0.7, 6), QPointF(0.7, rect.height() - 4))
        side, left = scaled(_MARK), scaled(_PAD)
        paint_mark(painter, QRectF(left, (rect.height() - side) / 2, side, side), self.step.mark)
        left += side + scaled(_GAP)
        room = rect.width() - left
        big = text_font(BODY, BOLDER if self.step.in_hand else PLAIN)
        if self.short:
            write(painter, QRectF(left, 0, room, rect.height()), str(self._number), big, theme.ink)
        else:
            small = text_font(LEAST, BOLDER if self.step.mark == "look again" else PLAIN)
            block = line_height(big) + line_height(small) - scaled(2)
            top = (rect.height() - block) / 2 + scaled(1)
            write(painter, QRectF(left, top, room, line_height(big)), self.step.word, big, theme.ink)
            low = QRectF(left, top + line_height(big) - scaled(2), room, line_height(small))
            colour = theme.ink if self.step.mark == "look again" else theme.ink2
            write(painter, low, self.step.state_word(), small, colour)
        if self.hasFocus():
            paint_focus(painter, rect.adjusted(2, 2, -1, -1))


class StepStrip(QWidget):
    """The steps in order, with a title cell before them."""

    stepChosen = Signal(str)

    def __init__(self, steps: tuple[Step, ...] = (), parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._title = ""
        self._second = ""
        self._title_width = 0.0
        self._cells: list[_StepCell] = []
        self.setAccessibleName("Steps")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.set_steps(steps)

    def set_title(self, title: str, second: str = "") -> None:
        """The project and its version, before the first step."""
        self._title, self._second = title, second
        self._arrange()
        self.update()

    def steps(self) -> tuple[Step, ...]:
        return tuple(cell.step for cell in self._cells)

    def set_steps(self, steps: tuple[Step, ...]) -> None:
        """Show `steps`; the same ids in the same order keep the keyboard where it is."""
        if [step.id for step in steps] != [cell.step.id for cell in self._cells]:
            self._make_cells(steps)
        for cell, step in zip(self._cells, steps, strict=True):
            cell.show_step(step)
        if not any(cell.hasFocus() for cell in self._cells):
            in_hand = next((cell for cell in self._cells if cell.step.in_hand), None)
            make_stop(self._cells, in_hand or (self._cells[0] if self._cells else None))
        self._arrange()

    def _make_cells(self, steps: tuple[Step, ...]) -> None:
        for cell in self._cells:
            cell.deleteLater()
        self._cells = [_StepCell(step, number, len(steps), self) for number, step in enumerate(steps, 1)]
        for cell in self._cells:
            cell.clicked.connect(self._say_chosen)
            cell.show()

    def _say_chosen(self) -> None:
        cell = self.sender()
        if isinstance(cell, _StepCell):
            self.stepChosen.emit(cell.step.id)

    def _natural_title_width(self) -> float:
        if not self._title:
            return 0.0
        words = max(
            text_width(self._title, text_font(BODY, BOLDER)), text_width(self._second, text_font(LEAST))
        )
        return scaled(14) + words + scaled(14)

    def _arrange(self) -> None:
        """Equal cells where all words fit; else mark and number for all but the step in hand."""
        title = self._natural_title_width()
        full = sum(cell.full_width() for cell in self._cells)
        short = bool(self._cells) and title + full > self.width()
        for cell in self._cells:
            cell.set_short(short and not cell.step.in_hand)
        needed = [float(cell.sizeHint().width()) for cell in self._cells]
        # The title gives way before a step does.
        self._title_width = max(
            0.0, min(max(title, scaled(156) if title and not short else 0.0), self.width() - sum(needed))
        )
        room = self.width() - self._title_width
        even = room / max(1, len(needed))
        if needed and even >= max(needed):
            widths = [even] * len(needed)
        else:
            spare = max(0.0, room - sum(needed)) / max(1, len(needed))
            widths = [width + spare for width in needed]
        left = self._title_width
        for cell, width in zip(self._cells, widths, strict=True):
            cell.setGeometry(round(left), 0, round(left + width) - round(left), self.height() - 1)
            left += width

    def sizeHint(self) -> QSize:
        full = self._natural_title_width() + sum(cell.full_width() for cell in self._cells)
        return QSizeF(full, scaled(_HEIGHT)).toSize()

    def minimumSizeHint(self) -> QSize:
        widths = [c.full_width() if c.step.in_hand else c.short_width() for c in self._cells]
        return QSizeF(sum(widths) + 1, scaled(_HEIGHT)).toSize()

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._arrange()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not walk(self._cells, event):
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter = theme_in_use(), QPainter(self)
        paint_rule(painter, 0, self.width(), self.height() - 1)
        if self._title_width > scaled(40):
            left, room = scaled(14), self._title_width - scaled(20)
            big, small = text_font(BODY, BOLDER), text_font(LEAST)
            top = (self.height() - line_height(big) - line_height(small)) / 2 + scaled(2)
            write(painter, QRectF(left, top, room, line_height(big)), self._title, big, theme.ink)
            low = QRectF(left, top + line_height(big) - scaled(2), room, line_height(small))
            write(painter, low, self._second, small, theme.ink2)
