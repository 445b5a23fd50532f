"""Joints of a chain, painted as round marks on their halo."""

from collections.abc import Iterable

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor, QPainter

from floorpan_app.theme.record import Theme
from floorpan_app.viewport.mark_painting import colour_of
from floorpan_app.viewport.marks import JointMark
from floorpan_app.viewport.projection import Projection
from floorpan_app.viewport.strokes import HALO_PX, pen

_RADIUS_PX, _DOT_PX = 5.0, 2.6
_RIM_PX = 1.8


def joint_rooms(joints: Iterable[JointMark], projection: Projection) -> list[QRectF]:
    """The rooms of the joints before the eye: words and tickets keep off a joint, but not off a dot."""
    half = _RADIUS_PX + HALO_PX
    seen = (projection.pixel(joint.at_mm) for joint in joints if not joint.small)
    return [QRectF(at[0] - half, at[1] - half, 2 * half, 2 * half) for at in seen if at is not None]


def paint_joint(painter: QPainter, joint: JointMark, projection: Projection, theme: Theme) -> None:
    """A ring with paper in it, or a dot."""
    at = projection.pixel(joint.at_mm)
    if at is None:
        return
    colour, radius = colour_of(theme, joint.role), _DOT_PX if joint.small else _RADIUS_PX
    painter.setPen(pen(theme.paper, 2 * HALO_PX))
    painter.setBrush(QColor(theme.paper))
    painter.drawEllipse(QPointF(*at), radius, radius)
    painter.setPen(pen(colour, _RIM_PX))
    painter.setBrush(QColor(colour if joint.small else theme.paper))
    painter.drawEllipse(QPointF(*at), radius, radius)
