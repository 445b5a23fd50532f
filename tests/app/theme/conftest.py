"""The theme's tests start from the shipped fonts and the light theme, and leave them behind."""

from collections.abc import Iterator

import pytest
from PySide6.QtWidgets import QApplication

from floorpan_app.theme.follow import apply_theme
from floorpan_app.theme.fonts import use_fonts
from floorpan_app.theme.record import load_theme


@pytest.fixture
def app(qapp: QApplication) -> Iterator[QApplication]:
    use_fonts(100)
    apply_theme(qapp, load_theme("light"))
    yield qapp
    use_fonts(100)
    apply_theme(qapp, load_theme("light"))
