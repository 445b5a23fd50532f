"""Sides and sizes: words at the picture's edges, the bar of the parallel views, the steel rule of the free one."""

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPolygonF

from floorpan_app.theme.fonts import LEAST, SECOND, scaled, text_font
from floorpan_app.theme.record import Theme
from floorpan_app.viewport.marks import SideWords, SteelRule
from floorpan_app.viewport.projection import Projection
from floorpan_app.viewport.strokes import on_paper, paper_box, pen
from floorpan_app.widgets.lettering import BOLDER, CENTRE, line_height, write

_BAR_LEAST_PX, _BAR_MOST_PX = 70.0, 190.0
_BAR_HEIGHT = 4.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Insets:
    """Room at the picture's edges that other pieces stand on, in logical pixels."""

    top: float = 0.0
    bottom: float = 0.0


def paint_edge_words(
    painter: QPainter, words: SideWords, projection: Projection, theme: Theme, insets: Insets
) -> None:
    """What lies beyond each edge of a fixed view."""
    for text, box in edge_words(words, projection, insets):
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(theme.paper))
        painter.drawRoundedRect(box, 3, 3)
        write(painter, box, text, text_font(SECOND, BOLDER), theme.ink2, CENTRE)


def edge_words(words: SideWords, projection: Projection, insets: Insets) -> list[tuple[str, QRectF]]:
    """The word at each edge, and its room."""
    right, up, _ = projection.eye.axes()
    font = text_font(SECOND, BOLDER)
    found = []
    width, height = projection.width, projection.height
    half = line_height(font) / 2 + scaled(8)
    for direction, turn in ((right, 1.0), (-right, -1.0), (up, 0.0), (-up, 0.0)):
        text = words.along(direction)
        box = paper_box(text, font, QPointF(0.0, 0.0))
        if turn:
            x = width / 2 + turn * (width / 2 - box.width() / 2 - scaled(8))
            middle = QPointF(x, (insets.top + height - insets.bottom) / 2)
        else:
            at_top = direction is up
            middle = QPointF(width / 2, insets.top + half if at_top else height - insets.bottom - half)
        box.moveCenter(middle)
        found.append((text, box))
    return found


def bar_length_mm(pixels_per_mm: float, round_lengths_mm: tuple[float, ...]) -> float:
    """The longest of the lengths that is no longer than the bar may be; the shortest if all are."""
    fitting = [length for length in round_lengths_mm if length * pixels_per_mm <= _BAR_MOST_PX]
    return max(fitting, default=min(round_lengths_mm))


def paint_scale_bar(
    painter: QPainter,
    projection: Projection,
    theme: Theme,
    insets: Insets,
    lengths_mm: tuple[float, ...],
    text_of: Callable[[float], str],
) -> None:
    """A bar of a round length at the upper edge of a parallel view, on paper."""
    per_mm = projection.pixels_per_mm(projection.eye.target_mm)
    length_mm = bar_length_mm(per_mm, lengths_mm)
    length = length_mm * per_mm
    font = text_font(LEAST)
    text = text_of(length_mm)
    tall = line_height(font)
    sheet = scale_room(projection, insets, lengths_mm, text_of)
    left = sheet.left()
    painter.setPen(pen(theme.line, 1.0))
    painter.setBrush(QColor(theme.paper))
    painter.drawRoundedRect(sheet, 3, 3)
    start, line = left + scaled(10), sheet.bottom() - scaled(5) - _BAR_HEIGHT
    quarter = length / 4
    painter.setPen(pen(theme.ink, 1.0))
    for part in range(4):
        painter.setBrush(QColor(theme.ink if part % 2 == 0 else theme.paper))
        painter.drawRect(QRectF(start + part * quarter, line, quarter, _BAR_HEIGHT))
    for at, word in ((start, "0"), (start + length, text)):
        box = paper_box(word, font, QPointF(at, line - tall / 2))
        box.moveLeft(max(min(box.left(), sheet.right() - box.width()), left))
        write(painter, box, word, font, theme.ink, CENTRE)


def scale_room(
    projection: Projection, insets: Insets, lengths_mm: tuple[float, ...], text_of: Callable[[float], str]
) -> QRectF:
    """The bar's paper."""
    font = text_font(LEAST)
    per_mm = projection.pixels_per_mm(projection.eye.target_mm)
    length_mm = bar_length_mm(per_mm, lengths_mm)
    width = length_mm * per_mm + scaled(16) + paper_box(text_of(length_mm), font, QPointF()).width() / 2
    left = projection.width - width - scaled(10)
    return QRectF(left, insets.top + scaled(8), width, line_height(font) + _BAR_HEIGHT + scaled(10))


def paint_steel_rule(painter: QPainter, rule: SteelRule, projection: Projection, theme: Theme) -> None:
    """A rule lying in the picture, true to scale where it lies, its length written beside its end."""
    origin, along, across = (np.asarray(v, dtype=float) for v in (rule.at_mm, rule.along, rule.across))
    wide = rule.length_mm / 9.0
    corners = [origin, origin + rule.length_mm * along]
    corners += [corner + wide * across for corner in reversed(corners)]
    pixels, before = projection.pixels(np.array(corners))
    if not before.all():
        return
    body = QPolygonF([QPointF(x, y) for x, y in pixels.tolist()])
    painter.setPen(pen(theme.paper, 4.5))
    painter.drawPolygon(body)
    painter.setPen(pen(theme.ink, 1.2))
    painter.setBrush(QColor(theme.raised))
    painter.drawPolygon(body)
    count = round(rule.length_mm / rule.step_mm)
    places = np.arange(count + 1)[:, None] * rule.step_mm
    long = np.where(np.arange(count + 1) % 5 == 0, 0.62, 0.34)[:, None] * wide
    starts = origin + places * along
    ticks = projection.segments(np.stack([starts, starts + long * across], axis=1))
    painter.setPen(pen(theme.ink, 1.0))
    painter.drawLines([QLineF(QPointF(*a), QPointF(*b)) for a, b in ticks.tolist()])
    end, side = pixels[1], pixels[1] - pixels[0]
    length = math.hypot(*side.tolist())
    if length < 1.0:
        return
    font = text_font(LEAST, BOLDER)
    box = paper_box(rule.text, font, QPointF())
    step = side / length * (box.width() / 2 + 8.0)
    box.moveCenter(QPointF(*((end + pixels[2]) / 2 + step).tolist()))
    on_paper(painter, box, rule.text, font, ink=theme.ink, paper=theme.paper, border=theme.line)
