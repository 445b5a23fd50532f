"""The shapes of the verdicts, drawn from the data in assets that the report draws from too."""

import json
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from PySide6.QtCore import QPointF, QRectF, QSize, QSizeF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from floorpan_app.theme.fonts import BODY, scaled, text_font
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.theme.record import Verdict
from floorpan_app.widgets.lettering import BOLDER, line_height, text_width, write

STALE = "stale"

_CAPS = {"butt": Qt.PenCapStyle.FlatCap, "round": Qt.PenCapStyle.RoundCap}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Part:
    """One stroke or filling of a shape, in the units of the grid."""

    path: QPainterPath
    fill: bool
    stroke_width: float
    dash: tuple[float, ...]
    cap: Qt.PenCapStyle


def _path(steps: list[list[Any]]) -> QPainterPath:
    path = QPainterPath()
    for step in steps:
        numbers = [float(number) for number in step[1:]]
        points = [QPointF(x, y) for x, y in zip(numbers[::2], numbers[1::2], strict=True)]
        if step[0] == "M":
            path.moveTo(points[0])
        elif step[0] == "L":
            path.lineTo(points[0])
        elif step[0] == "C":
            path.cubicTo(points[0], points[1], points[2])
        else:
            path.closeSubpath()
    return path


@cache
def _table() -> tuple[float, dict[str, tuple[_Part, ...]]]:
    data = json.loads(files("floorpan_assets").joinpath("verdict_shapes.json").read_text("utf-8"))
    shapes = {
        name: tuple(
            _Part(
                path=_path(part["path"]),
                fill=part["fill"],
                stroke_width=part["stroke_width"],
                dash=tuple(part["dash"]),
                cap=_CAPS[part["cap"]],
            )
            for part in parts
        )
        for name, parts in data["shapes"].items()
    }
    return float(data["grid"]), shapes


def _paint_shape(painter: QPainter, rect: QRectF, name: str, colour: str) -> None:
    grid, shapes = _table()
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(rect.topLeft())
    painter.scale(rect.width() / grid, rect.height() / grid)
    for part in shapes[name]:
        pen = QPen(Qt.PenStyle.NoPen)
        if part.stroke_width:
            pen = QPen(
                QColor(colour), part.stroke_width, Qt.PenStyle.SolidLine, part.cap, Qt.PenJoinStyle.RoundJoin
            )
            if part.dash:
                pen.setDashPattern([length / part.stroke_width for length in part.dash])
        painter.setPen(pen)
        painter.setBrush(QColor(colour) if part.fill else Qt.BrushStyle.NoBrush)
        painter.drawPath(part.path)
    painter.restore()


def paint_verdict(painter: QPainter, rect: QRectF, verdict: Verdict, colour: str | None = None) -> None:
    """Draw the shape of `verdict` into the square `rect`, in its own colour unless one is given."""
    _paint_shape(painter, rect, verdict, colour or theme_in_use().verdict(verdict))


def paint_stale(painter: QPainter, rect: QRectF, colour: str | None = None) -> None:
    """Draw the dashed clock of a stale value into the square `rect`."""
    _paint_shape(painter, rect, STALE, colour or theme_in_use().ink2)


def square(left: float, middle: float, side: float) -> QRectF:
    """A square of `side` that begins at `left` and whose centre is at height `middle`."""
    return QRectF(left, middle - side / 2, side, side)


class VerdictMark(QWidget):
    """A verdict by itself: its shape and, unless switched off, its word in its colour."""

    def __init__(self, verdict: Verdict, *, with_word: bool = True, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._verdict: Verdict = verdict
        self._with_word = with_word
        self.set_verdict(verdict)

    def verdict(self) -> Verdict:
        return self._verdict

    def set_verdict(self, verdict: Verdict) -> None:
        self._verdict = verdict
        self.setAccessibleName(verdict)
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        font = text_font(BODY, BOLDER)
        word = scaled(6) + text_width(self._verdict, font) if self._with_word else 0.0
        return QSizeF(scaled(14) + word + 1, max(scaled(16), line_height(font))).toSize()

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        middle, side = self.height() / 2, scaled(14)
        paint_verdict(painter, square(0, middle, side), self._verdict)
        if self._with_word:
            left = side + scaled(6)
            rect = QRectF(left, 0, self.width() - left, self.height())
            write(
                painter, rect, self._verdict, text_font(BODY, BOLDER), theme_in_use().verdict(self._verdict)
            )
