"""The typeface from assets, and the scale of text and of everything measured by it.

All sizes are ratios of the text size of the system: `text_font(14)` is body text at 14 px where that is
usual, and larger where somebody asked for larger text.
"""

import sys
from importlib.resources import files

from PySide6.QtGui import QFont, QFontDatabase, QGuiApplication

FAMILY = "Source Sans Pro"
FACES = ("Regular", "It", "Semibold", "Bold")

BODY_PX = 14.0
"""Size of body text in logical pixels at 100 %."""

SHEET_TITLE, CARD_TITLE, SPOT, PART, BODY, SECOND, LEAST = 24, 18, 17, 15, 14, 13, 12
"""The scale, in logical pixels at 100 %. Nothing is smaller than LEAST."""

# A point is 1/72 inch; screens are taken as 96 pixels an inch, on macOS as 72.
_POINTS_PER_PX = 1.0 if sys.platform == "darwin" else 0.75
# What these systems call their usual text size, in points.
_USUAL_POINTS = {"darwin": 13.0, "win32": 9.0}.get(sys.platform, 10.0)
_BODY_POINTS = BODY_PX * _POINTS_PER_PX


def load_fonts() -> str:
    """Hand the shipped faces to the toolkit and name the family to use: the system's where they fail to load.

    Needs a running QGuiApplication. Asking twice does no harm.
    """
    if FAMILY not in QFontDatabase.families():
        folder = files("floorpan_assets").joinpath("fonts")
        faces = [folder.joinpath(f"SourceSansPro-{face}.ttf").read_bytes() for face in FACES]
        loaded = [QFontDatabase.addApplicationFontFromData(face) for face in faces]
        if min(loaded) < 0:
            return QFontDatabase.systemFont(QFontDatabase.SystemFont.GeneralFont).family()
    return FAMILY


def use_fonts(percent: float | None = None) -> None:
    """Set the application's font, at `percent` of the usual size or, when None, as large as the system asks.

    Call it before the first widget is made.
    """
    system = QFontDatabase.systemFont(QFontDatabase.SystemFont.GeneralFont)
    family = load_fonts()
    # A bare system reports less than its usual size; nothing is ever drawn under 12 px.
    ratio = max(1.0, system.pointSizeF() / _USUAL_POINTS) if percent is None else percent / 100.0
    font = QFont(family)
    font.setPointSizeF(_BODY_POINTS * ratio)
    if family != FAMILY:
        font.setFeature(QFont.Tag("tnum"), 1)
    QGuiApplication.setFont(font)


def text_scale() -> float:
    """How much larger than usual text is drawn, 1.0 at 100 %."""
    points = QGuiApplication.font().pointSizeF()
    return points / _BODY_POINTS if points > 0 else 1.0


def scaled(px: float) -> float:
    """A length of `px` logical pixels at 100 %, grown with the text."""
    return px * text_scale()


def text_font(px: float = BODY, weight: QFont.Weight = QFont.Weight.Normal, *, italic: bool = False) -> QFont:
    """A font of `px` logical pixels at 100 %. Italic is for cures only."""
    font = QFont(QGuiApplication.font())
    font.setPointSizeF(px * text_scale() * _POINTS_PER_PX)
    font.setWeight(weight)
    font.setItalic(italic)
    return font
