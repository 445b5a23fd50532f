"""Words that lie on the floor, stencilled: which side is the driver's, where the front is.

A word is laid over the scan as a cloth is: lifted by every bump, broken where nothing was seen.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
import pyvista
from numpy.typing import NDArray
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QImage, QPainter, QPainterPath
from vtkmodules.vtkRenderingCore import vtkActor, vtkTexture

from floorpan_app.theme.fonts import text_font
from floorpan_app.viewport.colours import Colours, legible_on
from floorpan_app.viewport.form import Form
from floorpan_app.viewport.shade import lift
from floorpan_app.viewport.surfaces import rgb
from floorpan_app.viewport.thing import Manner, Part, Thing

Floats = NDArray[np.float64]
Vector = tuple[float, float, float]
Height = Callable[[float, float], float | None]
"""How high the floor is at x, y [mm]; None where nothing was seen."""

_FACE_PX = 96
_BRIDGES = (0.34, 0.68)
_BRIDGE_SHARE = 0.05
_CELL_MM = 8.0
_OPACITY = 0.85
# Steeper than this the cloth tears.
_STEEPEST = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class FloorWord:
    """A word to lie about a point of the floor, read along a level direction (unit), its capitals height_mm tall."""

    text: str
    at_mm: Vector
    along: Vector
    height_mm: float = 60.0


class Lettering(Thing):
    """A word on the floor, turned so that whoever looks can read it."""

    def __init__(self, word: FloorWord, floor: Height, ground_role: str) -> None:
        picture = stencilled(word.text)
        high, wide = picture.shape[:2]
        points, cells, places = draped(word, wide / high, floor)
        held: Any = cells
        shape: pyvista.PolyData = pyvista.PolyData.from_regular_faces(points, held)
        self._places = places
        self._along = np.asarray(word.along, dtype=float)
        self._turned: bool | None = None
        self._readable = True
        self._ground_role = ground_role
        self._texture = _cloth(picture)
        super().__init__([Part(Form(shape), np.eye(4))], Manner(role="ink2", pickable=False))
        self.parts[0].actor.SetTexture(self._texture)
        self.face(self._along)

    def light(self, actor: vtkActor) -> None:
        lift(actor, 2e-4)

    def colour(self, colours: Colours) -> None:
        super().colour(colours)
        look = self.parts[0].actor.GetProperty()
        look.LightingOff()
        look.SetOpacity(_OPACITY)
        look.SetAmbient(0.0)
        look.SetDiffuse(1.0)
        look.SetColor(*rgb(legible_on(colours, self._ground_role)))

    def is_drawn(self) -> bool:
        return self._readable and super().is_drawn()

    def face(self, right: Floats | None) -> None:
        """Turn the word about if it would stand on its head for an eye whose right hand is there; None hides it."""
        self._readable = right is not None
        self.set_visible()
        if right is None:
            return
        turned = bool(self._along @ right < 0.0)
        if turned == self._turned:
            return
        self._turned = turned
        held: Any = 1.0 - self._places if turned else self._places
        self.parts[0].form.shape.point_data.active_texture_coordinates = held


def _cloth(picture: NDArray[np.uint8]) -> vtkTexture:
    """A picture (rows, columns, RGBA) as a texture, its first row uppermost."""
    high, wide = picture.shape[:2]
    image = pyvista.ImageData(dimensions=(wide, high, 1))
    image.point_data["colour"] = picture[::-1].reshape(-1, 4)
    texture = vtkTexture()
    texture.SetInputData(image)
    texture.InterpolateOn()
    texture.MipmapOn()
    return texture


def stencilled(text: str) -> NDArray[np.uint8]:
    """The word in white stencil letters on nothing, cut through by two thin bridges: rows, columns, RGBA."""
    font = text_font(weight=QFont.Weight.Bold)
    font.setPixelSize(_FACE_PX)
    font.setLetterSpacing(QFont.SpacingType.PercentageSpacing, 108.0)
    metrics = QFontMetricsF(font)
    letters = QPainterPath()
    letters.addText(0.0, 0.0, font, text)
    tall, wide = metrics.capHeight(), metrics.horizontalAdvance(text)
    bridges = QPainterPath()
    for share in _BRIDGES:
        bridges.addRect(QRectF(0.0, -tall * (share + _BRIDGE_SHARE / 2), wide, tall * _BRIDGE_SHARE))
    image = QImage(math.ceil(wide) + 4, math.ceil(tall) + 4, QImage.Format.Format_RGBA8888)
    image.fill(Qt.GlobalColor.transparent)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(2.0, tall + 2.0)
    painter.fillPath(letters.subtracted(bridges), QColor(Qt.GlobalColor.white))
    painter.end()
    rows = np.frombuffer(image.constBits(), dtype=np.uint8).reshape(image.height(), image.bytesPerLine())
    return rows[:, : 4 * image.width()].reshape(image.height(), image.width(), 4).copy()


def draped(word: FloorWord, wide_to_high: float, floor: Height) -> tuple[Floats, NDArray[np.int32], Floats]:
    """A cloth over the floor: points (N, 3) [mm], triangles (M, 3), and places in the word's picture (N, 2)."""
    along = np.asarray(word.along, dtype=float)
    up = np.cross([0.0, 0.0, 1.0], along)
    wide = word.height_mm * wide_to_high
    columns, rows = max(2, math.ceil(wide / _CELL_MM)), max(2, math.ceil(word.height_mm / _CELL_MM))
    u, v = np.meshgrid(np.linspace(0, 1, columns + 1), np.linspace(0, 1, rows + 1), indexing="ij")
    spots = (
        np.asarray(word.at_mm)
        + (u[..., None] - 0.5) * wide * along
        + (v[..., None] - 0.5) * word.height_mm * up
    )
    heights = np.array(
        [np.nan if (z := floor(x, y)) is None else z for x, y, _ in spots.reshape(-1, 3).tolist()]
    )
    points = spots.reshape(-1, 3)
    points[:, 2] = heights
    here = np.arange(points.shape[0]).reshape(u.shape)
    a, b, c, d = here[:-1, :-1].ravel(), here[1:, :-1].ravel(), here[1:, 1:].ravel(), here[:-1, 1:].ravel()
    corners = heights[np.stack([a, b, c, d], axis=1)]
    # A missing height makes the spread not a number, which is not below anything.
    whole = corners.max(axis=1) - corners.min(axis=1) < _STEEPEST * _CELL_MM
    cells = np.concatenate([np.stack([a, b, c], axis=1)[whole], np.stack([a, c, d], axis=1)[whole]])
    points[~np.isfinite(points[:, 2]), 2] = word.at_mm[2]
    return points, cells.astype(np.int32), np.column_stack([u.ravel(), v.ravel()])
