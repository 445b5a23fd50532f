"""The page that shows the outline found in a scan of a vessel, before it is set down."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from floorpan.items.vessel_from_mesh import RoundVessel, water_kg
from floorpan.items.vessels import Profile
from floorpan.units import System, show_length, show_number
from floorpan_app import messages
from floorpan_app.theme.fonts import PART, scaled
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.window import vessel_words as said
from floorpan_app.window.question import button_row, plain

_HIGH, _WIDE = 190.0, 240.0


class OutlinePicture(QWidget):
    """A vessel's outline from the side, base down."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._profile: Profile = ()
        self.setMinimumSize(QSize(round(scaled(_WIDE)), round(scaled(_HIGH))))

    def show_profile(self, profile: Profile, spoken: str) -> None:
        """Show (height, radius) points; spoken is what is seen, in words."""
        self._profile = profile
        self.setAccessibleName(spoken)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        if not self._profile:
            return
        theme = theme_in_use()
        margin = scaled(6)
        room = QRectF(self.rect()).adjusted(margin, margin, -margin, -margin)
        tall, widest = self._profile[-1][0], max(radius for _, radius in self._profile)
        scale = min(room.height() / tall, room.width() / (2.0 * widest))
        middle, foot = room.center().x(), room.center().y() + tall * scale / 2.0
        right = [QPointF(middle + radius * scale, foot - height * scale) for height, radius in self._profile]
        left = [QPointF(2.0 * middle - at.x(), at.y()) for at in reversed(right)]
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(QColor(theme.ink), scaled(1.5)))
            painter.setBrush(QColor(theme.things.vessel))
            painter.drawPolygon(QPolygonF([*right, *left]))
            painter.setPen(QPen(QColor(theme.ink2), scaled(1.0), Qt.PenStyle.DashLine))
            painter.drawLine(QPointF(room.left(), foot), QPointF(room.right(), foot))


class FoundPage(QWidget):
    """The outline that was found: drawn, told, and to be turned over."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.found: RoundVessel | None = None
        self._system: System = "mm"
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(round(scaled(10)))
        self.head = plain("", self, px=PART, bold=True)
        self.picture = OutlinePicture(self)
        self.told = plain("", self)
        self.which_way = plain(said.WHICH_WAY, self)
        self.weight = plain("", self, role="second")
        self.take, self.over = QPushButton(messages.PLACE_IT, self), QPushButton(said.TURN_OVER, self)
        self.again, self.leave = QPushButton(messages.READ_ANOTHER, self), QPushButton(messages.CANCEL, self)
        for widget in (self.head, self.picture, self.told, self.which_way, self.weight):
            column.addWidget(widget)
        column.addStretch()
        column.addLayout(button_row((self.take, self.over, self.again, self.leave)))
        self.over.clicked.connect(self.turn_over)

    def show_found(self, found: RoundVessel, system: System) -> None:
        """What was found, lengths in the shown system."""
        self.found, self._system = found, system

        def length(mm: float) -> str:
            return show_length(mm, system, with_unit=True)

        tall, widest = found.profile[-1][0], max(radius for _, radius in found.profile)
        self.head.setText(said.FOUND.format(tall=length(tall), across=length(2.0 * widest)))
        lines = [
            said.FITS.format(
                rms=length(found.rms_mm),
                most=length(found.most_mm),
                used=show_number(100.0 * found.used_share, 0),
                seen=show_number(found.seen_deg, 0),
            ),
            said.OUTSIDE.format(n=len(found.profile), outside=length(found.outside_mm)),
            *((said.LEFT_OUT,) if found.used_share < 0.98 else ()),
        ]
        self.told.setText(" ".join(lines))
        self.which_way.setVisible(not found.base_known)
        self.weight.setText(said.WEIGHT.format(kg=show_number(water_kg(found.profile), 2)))
        self.picture.show_profile(found.profile, said.PICTURE.format(n=len(found.profile), tall=length(tall)))

    def turn_over(self) -> None:
        """The other end is the base."""
        if self.found is not None:
            self.show_found(self.found.upside_down(), self._system)
