"""Scrolling to a piece of a card that the keyboard or a deed went to."""

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QScrollArea, QWidget

from floorpan_app.cards.blocks import px

_AROUND = 76.0


def bring_to_sight(piece: QWidget) -> None:
    """Scroll the card so far that a piece is seen, with some of what is above and below it."""
    area = piece.parentWidget()
    while area is not None and not isinstance(area, QScrollArea):
        area = area.parentWidget()
    if area is None:
        return

    def scroll() -> None:
        area.ensureWidgetVisible(piece, 0, px(_AROUND))

    inside = area.widget()
    laid = inside.layout() if inside is not None else None
    if inside is not None and laid is not None:
        # A row that is new has no place yet.
        laid.activate()
        inside.resize(inside.width(), max(inside.height(), laid.totalHeightForWidth(inside.width())))
    scroll()
    # A card that grew is given its room a moment later.
    QTimer.singleShot(0, area, scroll)
