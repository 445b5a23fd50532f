"""A project as it hangs on the start screen: side outline, title, worst sentence, date."""

from datetime import datetime

from PySide6.QtCore import QPointF, QRectF, QSize, QSizeF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QWidget

from floorpan_app import messages
from floorpan_app.settings import RecentProject
from floorpan_app.theme.fonts import BODY, LEAST, PART, SECOND, scaled, text_font
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.widgets.lettering import BOLDER, line_height, write
from floorpan_app.widgets.seam import paint_focus, paint_seam
from floorpan_app.widgets.verdict_shape import paint_verdict, square
from floorpan_app.window.outline_painting import paint_outline

WIDTH, HEIGHT = 258.0, 262.0
_PAD = 16.0
_WRAP = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap)


class ProjectCard(QAbstractButton):
    """A sheet on a hook; a click opens it."""

    def __init__(self, project: RecentProject, now: datetime, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.project = project
        self._when = _shown(project.when, now)
        self.setText(project.title)
        self.setToolTip(str(project.folder))
        self.setAccessibleName(f"{project.title}: {self._sentence()} {self._when}".strip())
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)

    def _sentence(self) -> str:
        return self.project.sentence or messages.NEVER_CHECKED

    def sizeHint(self) -> QSize:
        return QSizeF(scaled(WIDTH), scaled(HEIGHT)).toSize()

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter, rect = theme_in_use(), QPainter(self), QRectF(self.rect())
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(theme.edge), 1))
        painter.setBrush(QColor(theme.wash if self.isDown() or self.underMouse() else theme.raised))
        painter.drawRoundedRect(rect.adjusted(0.5, 0.5, -0.5, -0.5), 4, 4)
        painter.setBrush(QColor(theme.bench))
        painter.drawEllipse(QPointF(rect.center().x(), scaled(14)), scaled(5.5), scaled(5.5))
        pad = scaled(_PAD)
        inside = rect.adjusted(pad, 0, -pad, 0)
        seam = rect.height() - scaled(118)
        room = QRectF(inside.left(), scaled(30), inside.width(), seam - scaled(40))
        paint_outline(painter, room, self.project.outline)
        paint_seam(painter, QPointF(rect.left() + scaled(12), seam), QPointF(rect.right() - scaled(12), seam))
        self._paint_words(painter, inside, seam)
        if self.hasFocus():
            paint_focus(painter, rect)

    def _paint_words(self, painter: QPainter, inside: QRectF, seam: float) -> None:
        theme, title, small = theme_in_use(), text_font(PART, BOLDER), text_font(SECOND)
        top = seam + scaled(8)
        write(
            painter,
            QRectF(inside.left(), top, inside.width(), line_height(title)),
            self.project.title,
            title,
            theme.ink,
        )
        top += line_height(title) + scaled(4)
        left, side = inside.left(), scaled(12)
        font = text_font(BODY)
        paint_verdict(
            painter, square(left, top + line_height(font) / 2, side), self.project.verdict or "pending"
        )
        painter.setFont(font)
        painter.setPen(QColor(theme.ink))
        low = inside.width() - side - scaled(10)
        room = QRectF(left + side + scaled(10), top, low, self.height() - top - scaled(26))
        painter.drawText(room, _WRAP, _fitted(self._sentence(), QFontMetricsF(font), room))
        foot = QRectF(left, self.height() - scaled(26), inside.width(), line_height(text_font(LEAST)))
        write(painter, foot, self._when, small, theme.ink2)


def _fitted(text: str, metrics: QFontMetricsF, room: QRectF) -> str:
    """As many words as the room holds, dots where there were more."""
    words = text.split(" ")
    while len(words) > 1:
        shown = text if len(words) == len(text.split(" ")) else " ".join(words) + "\u2026"
        if metrics.boundingRect(QRectF(0, 0, room.width(), 10_000), _WRAP, shown).height() <= room.height():
            return shown
        words.pop()
    return text


def _shown(when: str, now: datetime) -> str:
    """A date as people say it; what cannot be read is left out."""
    try:
        then = datetime.fromisoformat(when).astimezone()
    except ValueError:
        return ""
    if then.date() == now.astimezone().date():
        return messages.TODAY.format(time=f"{then:%H:%M}")
    if 0 < (now.astimezone().date() - then.date()).days < 7:
        return messages.DAYS[then.weekday()]
    return messages.DATE.format(day=then.day, month=messages.MONTHS[then.month - 1], year=then.year)
