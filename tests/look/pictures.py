"""Pictures of painted pieces as arrays, and where a colour is in them."""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QSize
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtWidgets import QWidget

Pixels = NDArray[np.uint8]


def pixels(image: QImage) -> Pixels:
    """Height x width x (red, green, blue, alpha)."""
    plain = image.convertToFormat(QImage.Format.Format_RGBA8888)
    flat = np.frombuffer(plain.constBits(), np.uint8)
    return flat.reshape(plain.height(), plain.bytesPerLine() // 4, 4)[:, : plain.width()].copy()


def drawn(
    size: QSize, paint: Callable[[QPainter], None], ground: str | None = None, scale: float = 1.0
) -> Pixels:
    """What `paint` puts on a sheet of `size` logical pixels; the sheet is clear unless it has a ground."""
    image = QImage(size * scale, QImage.Format.Format_ARGB32_Premultiplied)
    image.setDevicePixelRatio(scale)
    image.fill(QColor(ground) if ground else QColor(0, 0, 0, 0))
    painter = QPainter(image)
    paint(painter)
    painter.end()
    return pixels(image)


def picture(widget: QWidget, scale: float = 1.0) -> Pixels:
    """The widget as it stands, at `scale` device pixels a logical pixel."""
    image = QImage(widget.size() * scale, QImage.Format.Format_ARGB32_Premultiplied)
    image.setDevicePixelRatio(scale)
    image.fill(widget.palette().window().color())
    widget.render(image)
    return pixels(image)


def of_colour(sheet: Pixels, colour: str, within: int = 12) -> NDArray[np.bool_]:
    """Where `sheet` has `colour`, each channel `within` so many steps of 255."""
    wanted = [int(colour[i : i + 2], 16) for i in (1, 3, 5)]
    return (np.abs(sheet[:, :, :3].astype(int) - wanted) <= within).all(axis=2)
