"""A stage with the real viewport: the small layout, and the sample car, with a hand to drive them."""

from collections.abc import Callable, Iterator

import pytest
from PySide6.QtWidgets import QApplication

from app.stage.bench import Bench
from core.sample_case import SampleCase, sample_case
from core.small_case import level_floor, raw_scan, small_layout
from floorpan.layout import Layout
from floorpan.scan import RawScan
from floorpan_app.theme.follow import apply_theme
from floorpan_app.theme.fonts import use_fonts
from floorpan_app.theme.record import load_theme

SIZE = (760, 540)
RAW = raw_scan(level_floor())
Open = Callable[[Layout, dict[str, RawScan]], Bench]


@pytest.fixture(scope="module")
def stage_bench(qapp: QApplication) -> Iterator[Bench]:
    """One shown viewport for all tests of a file: making one takes longer than most of them."""
    use_fonts(100)
    theme = load_theme("light")
    apply_theme(qapp, theme)
    bench = Bench(theme, SIZE)
    bench.view.show()
    QApplication.processEvents()
    yield bench
    bench.close()


@pytest.fixture
def open_bench(stage_bench: Bench) -> Iterator[Open]:
    """Puts a layout on the stage and waits until it is judged and drawn."""

    def open_it(layout: Layout, store: dict[str, RawScan]) -> Bench:
        stage_bench.open(layout, store)
        return stage_bench

    yield open_it
    stage_bench.rest()


@pytest.fixture
def small(open_bench: Open) -> Bench:
    """One of everything on a level floor at height nought."""
    return open_bench(small_layout(RAW), {RAW.sha256: RAW})


@pytest.fixture(scope="session")
def sample() -> SampleCase:
    """The sample car; scanning it takes some seconds, once."""
    return sample_case(1)
