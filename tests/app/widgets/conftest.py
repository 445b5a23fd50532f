"""Pieces are tested with the shipped fonts, in the light theme at 100 % unless a test says otherwise."""

from collections.abc import Iterator

import pytest
from PySide6.QtWidgets import QApplication

from floorpan_app.theme.follow import apply_theme
from floorpan_app.theme.fonts import use_fonts
from floorpan_app.theme.record import load_theme


@pytest.fixture(autouse=True)
def app(qapp: QApplication) -> Iterator[QApplication]:
    use_fonts(100)
    apply_theme(qapp, load_theme("light"))
    yield qapp
    use_fonts(100)
    apply_theme(qapp, load_theme("light"))
