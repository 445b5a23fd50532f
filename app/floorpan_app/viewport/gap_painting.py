"""A gap in the picture: a line between two jaws like a caliper's, its give or take running on past them."""

import math
from dataclasses import dataclass

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPolygonF

from floorpan_app.theme.record import Theme
from floorpan_app.viewport.marks import GapLine
from floorpan_app.viewport.projection import Projection
from floorpan_app.viewport.strokes import DOTTED, stroke_line, stroke_path
from floorpan_app.widgets.hatch import paint_hatch

LINE_PX = 2.2
JAW_PX = 16.0
WHISKER_PX = 1.2
WHISKER_LEAST_PX, WHISKER_MOST_PX = 6.0, 24.0
RING_PX = 60.0
_STUB_PX = (8.0, 16.0)
_OVERLAP_ALPHA = 0.25


@dataclass(frozen=True, slots=True, kw_only=True)
class SeenGap:
    """A gap in pixels: its ends, the way from one to the other (unit), and the length of its give or take."""

    gap: GapLine
    a: tuple[float, float]
    b: tuple[float, float]
    way: tuple[float, float]
    u_px: float

    @property
    def middle(self) -> tuple[float, float]:
        return (self.a[0] + self.b[0]) / 2, (self.a[1] + self.b[1]) / 2


def seen_gap(gap: GapLine, projection: Projection) -> SeenGap | None:
    """A gap as it lies in the picture; None where an end is behind the eye."""
    a, b = projection.pixel(gap.a_mm), projection.pixel(gap.b_mm)
    if a is None or b is None:
        return None
    x, y = b[0] - a[0], b[1] - a[1]
    length = math.hypot(x, y)
    way = (x / length, y / length) if length > 0.5 else (1.0, 0.0)
    # True to scale along the line as it is foreshortened, but never too short to be seen.
    straight = math.dist(gap.a_mm, gap.b_mm)
    scale = length / straight if straight > 1e-6 else projection.pixels_per_mm(gap.a_mm)
    u_px = min(max(gap.u_mm * scale, WHISKER_LEAST_PX), WHISKER_MOST_PX)
    return SeenGap(gap=gap, a=a, b=b, way=way, u_px=u_px)


def is_ringed(gap: GapLine) -> bool:
    """Whether a ring marks the place."""
    return gap.ring or gap.verdict == "hits"


def paint_gap(painter: QPainter, seen: SeenGap, theme: Theme) -> None:
    """The line, its jaws and its give or take; for a hit the overlap and the ring."""
    gap, colour = seen.gap, theme.verdict(seen.gap.verdict)
    if gap.verdict == "pending":
        return
    a, b = QPointF(*seen.a), QPointF(*seen.b)
    along = QPointF(*seen.way)
    across = QPointF(-seen.way[1], seen.way[0]) * (JAW_PX / 2)
    if is_ringed(gap):
        _paint_ring(painter, seen, colour, theme)
    if gap.verdict == "hits":
        fill = QColor(colour)
        fill.setAlphaF(_OVERLAP_ALPHA)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(fill)
        painter.drawPolygon(QPolygonF([a - across, a + across, b + across, b - across]))
    unseen = gap.verdict == "unseen"
    if gap.u_mm > 0.0 and not unseen:
        # Past each jaw; a hit's jaws have crossed, so its whiskers still point outwards.
        for end, way in ((a, -1.0), (b, 1.0)):
            whisker = QLineF(end, end + along * (way * seen.u_px))
            stroke_line(painter, whisker, colour, WHISKER_PX, theme.paper)
    stroke_line(painter, QLineF(a, b), colour, LINE_PX, theme.paper, DOTTED if unseen else ())
    ends = [a] if unseen else [a, b]
    for end in ends:
        stroke_line(painter, QLineF(end - across, end + across), colour, LINE_PX, theme.paper)
    if unseen:
        _paint_stub(painter, seen, colour, theme)


def _paint_ring(painter: QPainter, seen: SeenGap, colour: str, theme: Theme) -> None:
    ring = QPainterPath()
    ring.addEllipse(QPointF(*seen.middle), RING_PX / 2, RING_PX / 2)
    stroke_path(painter, ring, colour, LINE_PX, theme.paper)


def _paint_stub(painter: QPainter, seen: SeenGap, colour: str, theme: Theme) -> None:
    """A hatched stub where the far jaw would be: nobody saw what is there."""
    painter.save()
    painter.translate(*seen.b)
    painter.rotate(math.degrees(math.atan2(seen.way[1], seen.way[0])))
    stub = QRectF(0.0, -_STUB_PX[1] / 2, *_STUB_PX)
    painter.fillRect(stub, QColor(theme.paper))
    paint_hatch(painter, stub, colour, pitch=4.0)
    painter.setPen(QColor(colour))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(stub)
    painter.restore()
