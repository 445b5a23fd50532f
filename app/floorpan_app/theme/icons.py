"""Icons from assets in the theme's colours: the engine puts a colour where a drawing says currentColor."""

from functools import cache
from importlib.resources import files
from typing import Literal

from PySide6.QtCore import QByteArray, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QIcon, QIconEngine, QPainter, QPixmap
from PySide6.QtSvg import QSvgRenderer

from floorpan_app.theme.in_use import theme_in_use

IconRole = Literal["ink", "ink2", "accent", "on_accent"]
"""Which of the theme's colours an icon takes; on a filled button on_accent, or it cannot be read."""

_drawn: dict[tuple[str, str, int, int], QPixmap] = {}


@cache
def icon_names() -> tuple[str, ...]:
    """Every icon there is, by name."""
    folder = files("floorpan_assets").joinpath("icons")
    return tuple(
        sorted(entry.name.removesuffix(".svg") for entry in folder.iterdir() if entry.name.endswith(".svg"))
    )


@cache
def _drawing(name: str) -> str:
    return files("floorpan_assets").joinpath("icons", f"{name}.svg").read_text("utf-8")


@cache
def _renderer(name: str, colour: str) -> QSvgRenderer:
    return QSvgRenderer(QByteArray(coloured_drawing(name, colour).encode()))


def coloured_drawing(name: str, colour: str) -> str:
    """The drawing of icon `name` as SVG text, all of it in `colour`."""
    return _drawing(name).replace("currentColor", colour)


def paint_icon(painter: QPainter, rect: QRectF, name: str, colour: str) -> None:
    """Draw icon `name` into `rect` in `colour`."""
    _renderer(name, colour).render(painter, rect)


def icon_pixmap(name: str, colour: str, size: QSize) -> QPixmap:
    """Icon `name` in `colour` at `size` device pixels, drawn once and kept."""
    key = (name, colour, size.width(), size.height())
    if key not in _drawn:
        pixmap = QPixmap(size)
        pixmap.fill(Qt.GlobalColor.transparent)
        painter = QPainter(pixmap)
        paint_icon(painter, QRectF(0, 0, size.width(), size.height()), name, colour)
        painter.end()
        _drawn[key] = pixmap
    return _drawn[key]


def forget_drawn_icons() -> None:
    """Drop what was drawn; called when the theme changes."""
    _drawn.clear()


class ThemedIconEngine(QIconEngine):
    """Draws one icon in the colour that the theme of the moment has for its role."""

    def __init__(self, name: str, role: IconRole) -> None:
        super().__init__()
        self._name = name
        self._role = role

    def _colour(self, mode: QIcon.Mode) -> str:
        theme = theme_in_use()
        return theme.off if mode == QIcon.Mode.Disabled else str(getattr(theme, self._role))

    def paint(self, painter: QPainter, rect: QRect, mode: QIcon.Mode, state: QIcon.State) -> None:
        paint_icon(painter, QRectF(rect), self._name, self._colour(mode))

    def pixmap(self, size: QSize, mode: QIcon.Mode, state: QIcon.State) -> QPixmap:
        return icon_pixmap(self._name, self._colour(mode), size)

    def clone(self) -> QIconEngine:
        return ThemedIconEngine(self._name, self._role)

    def key(self) -> str:
        return "floorpan"


def themed_icon(name: str, role: IconRole = "ink") -> QIcon:
    """Icon `name`; it follows the theme by itself."""
    return QIcon(ThemedIconEngine(name, role))
