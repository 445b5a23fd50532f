"""A stage with the real viewport: the small layout, and the sample car, with a hand to drive them."""

from collections.abc import Callable, Iterator

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.stage.bench import Bench
from core.sample_case import SampleCase, sample_case
from core.small_case import level_floor, raw_scan, small_layout
from floorpan.layout import Layout
from floorpan.scan import RawScan
from floorpan_app.theme.follow import apply_theme
from floorpan_app.theme.fonts import use_fonts
from floorpan_app.theme.record import Theme, load_theme

SIZE = (900, 640)
RAW = raw_scan(level_floor())
Open = Callable[[Layout, dict[str, RawScan]], Bench]


@pytest.fixture
def theme(qapp: QApplication) -> Theme:
    use_fonts(100)
    theme = load_theme("light")
    apply_theme(qapp, theme)
    return theme


@pytest.fixture
def open_bench(qtbot: QtBot, theme: Theme) -> Iterator[Open]:
    """Opens a layout on a shown viewport and waits until it is judged and drawn."""
    opened: list[Bench] = []

    def open_it(layout: Layout, store: dict[str, RawScan]) -> Bench:
        bench = Bench(theme, layout, store, SIZE)
        opened.append(bench)
        with qtbot.waitExposed(bench.view):
            bench.view.show()
        bench.settle()
        return bench

    yield open_it
    for bench in opened:
        bench.close()


@pytest.fixture
def small(open_bench: Open) -> Bench:
    """One of everything on a level floor at height nought."""
    return open_bench(small_layout(RAW), {RAW.sha256: RAW})


@pytest.fixture(scope="session")
def sample() -> SampleCase:
    """The sample car; scanning it takes some seconds, once."""
    return sample_case(1)
