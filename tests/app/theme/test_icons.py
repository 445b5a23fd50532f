"""Icons: whole, in the theme's colours, crisp, and safe to copy."""

import gc
import re
from importlib.resources import files

import numpy as np
import pytest
from PySide6.QtCore import QByteArray, QSize
from PySide6.QtGui import QIcon, QPixmap
from PySide6.QtSvg import QSvgRenderer
from PySide6.QtWidgets import QApplication

from floorpan_app.theme.follow import apply_theme
from floorpan_app.theme.icons import coloured_drawing, icon_names, icon_pixmap, themed_icon
from floorpan_app.theme.record import load_theme
from look.pictures import of_colour, pixels

REDRAWN = ("save", "compare", "turn", "drag", "see-from", "accept")


def ink(pixmap: QPixmap) -> np.ndarray:
    return pixels(pixmap.toImage())


@pytest.mark.parametrize("name", icon_names())
def test_a_drawing_is_whole_and_carries_no_colour_of_its_own(name: str) -> None:
    text = files("floorpan_assets").joinpath("icons", f"{name}.svg").read_text("utf-8")
    assert not re.search(r"#[0-9A-Fa-f]{3,8}|rgb\(", text)
    assert "currentColor" in text
    assert QSvgRenderer(QByteArray(coloured_drawing(name, "#123456").encode())).isValid()


@pytest.mark.parametrize("name", [name for name in icon_names() if not name.startswith("field-")])
def test_an_icon_fills_its_live_area_and_stays_inside_it(app: QApplication, name: str) -> None:
    alpha = ink(icon_pixmap(name, load_theme("light").ink, QSize(240, 240)))[:, :, 3] > 40
    rows, columns = np.nonzero(alpha.any(axis=1))[0], np.nonzero(alpha.any(axis=0))[0]
    # Live area 2 to 22 of 24, and half a stroke of 1.6 beyond it.
    assert min(rows[0], columns[0]) >= 10
    assert max(rows[-1], columns[-1]) <= 230
    assert max(rows[-1] - rows[0], columns[-1] - columns[0]) >= 140


def test_the_redrawn_icons_look_like_no_other(app: QApplication) -> None:
    shapes = {
        name: ink(icon_pixmap(name, load_theme("light").ink, QSize(48, 48)))[:, :, 3] / 255.0
        for name in icon_names()
    }
    for name in REDRAWN:
        for other in icon_names():
            if other != name:
                joint = np.maximum(shapes[name], shapes[other]).sum()
                assert np.abs(shapes[name] - shapes[other]).sum() / joint > 0.5, (name, other)


def test_an_icon_follows_theme_and_mode(app: QApplication) -> None:
    icon = themed_icon("gate")
    on_accent = themed_icon("gate", "on_accent")
    for name in ("light", "dark", "contrast"):
        theme = load_theme(name)
        apply_theme(app, theme)
        assert of_colour(ink(icon.pixmap(24, 24)), theme.ink).sum() > 20
        assert of_colour(ink(icon.pixmap(QSize(24, 24), QIcon.Mode.Disabled)), theme.off).sum() > 20
        assert of_colour(ink(on_accent.pixmap(24, 24)), theme.on_accent).sum() > 20


def test_an_icon_is_drawn_at_the_pixels_of_the_screen(app: QApplication) -> None:
    icon = themed_icon("measure")
    for scale in (1.0, 1.5, 2.0):
        pixmap = icon.pixmap(QSize(24, 24), scale)
        assert pixmap.width() == round(24 * scale)
        assert pixmap.devicePixelRatio() == pytest.approx(scale)


def test_icons_are_drawn_once_and_kept_until_the_theme_changes(app: QApplication) -> None:
    colour, size = load_theme("light").ink, QSize(20, 20)
    first = icon_pixmap("seat", colour, size)
    assert icon_pixmap("seat", colour, size).cacheKey() == first.cacheKey()
    apply_theme(app, load_theme("dark"))
    assert icon_pixmap("seat", colour, size).cacheKey() != first.cacheKey()


def test_copies_of_an_icon_outlive_the_first(app: QApplication) -> None:
    icons = [QIcon(themed_icon("cup")) for _ in range(200)]
    # Adding a picture makes the toolkit take a copy of the engine for itself.
    icons[0].addPixmap(QPixmap(4, 4))
    gc.collect()
    assert all(not icon.pixmap(16, 16).isNull() for icon in icons[1:])
