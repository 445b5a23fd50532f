"""Pictures without a window."""

import subprocess
import sys

import numpy as np
import pytest
from PySide6.QtGui import QImage

from app.viewport import made_up_cabin as cabin
from floorpan.report.pictures import check_png
from floorpan_app.theme.record import load_theme
from floorpan_app.viewport import ways as ways_module
from floorpan_app.viewport.colours import colours_of
from floorpan_app.viewport.offscreen import OffscreenRenderer, available
from floorpan_app.viewport.scene import Scene
from floorpan_app.viewport.thing import Manner
from floorpan_app.viewport.ways import Ways


def fill(scene: Scene) -> None:
    scan, patches = cabin.floor_and_patches(20_000)
    scene.show_mesh("scan-1", scan, Manner(role="scan"))
    scene.show_patches("scan-1.unseen", patches)
    scene.show_body("seat-1", cabin.seat(), Manner(role="seat"))


@pytest.mark.real_view
def test_a_picture_for_the_report_holds_the_whole_car(qapp: object) -> None:
    assert available()
    theme = load_theme("light")
    filled: list[Scene] = []

    def fill_and_count(scene: Scene) -> None:
        filled.append(scene)
        fill(scene)

    renderer = OffscreenRenderer(colours_of(theme), fill_and_count)
    other, data = renderer.picture("driver", 640, 360), renderer.picture("above", 640, 360)
    renderer.close()
    assert len(filled) == 1, "one scene for every view"
    assert other != data
    check_png("Seen from above", data)
    image = QImage.fromData(data)
    assert (image.width(), image.height()) == (640, 360)
    pixels = np.frombuffer(image.convertToFormat(QImage.Format.Format_RGB32).constBits(), dtype=np.uint32)
    ground = pixels.reshape(360, 640) == int(theme.raised.lstrip("#"), 16) | 0xFF000000
    # Ground all round, and the car over a good part of it.
    assert ground[0].all()
    assert ground[-1].all()
    assert ground[:, 0].all()
    assert ground[:, -1].all()
    assert 0.3 < 1.0 - ground.mean() < 0.9


class Child:
    """A trial that ends with a code, or never."""

    def __init__(self, code: int | None) -> None:
        self._code = code
        self.killed = False

    def wait(self, timeout: float | None = None) -> int:
        if self._code is None and not self.killed:
            raise subprocess.TimeoutExpired("trial", timeout or 0.0)
        return self._code or 0

    def kill(self) -> None:
        self.killed = True


@pytest.mark.parametrize("code", [-11, 1, None])
def test_a_child_that_dies_or_hangs_means_no_pictures(
    monkeypatch: pytest.MonkeyPatch, code: int | None
) -> None:
    children: list[Child] = []

    def begin(*_: object, **__: object) -> Child:
        children.append(Child(code))
        return children[-1]

    monkeypatch.setattr(ways_module.subprocess, "Popen", begin)
    assert Ways().found() is None
    assert children
    assert all(child.killed for child in children)


def test_no_child_can_be_started(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object, **__: object) -> Child:
        raise OSError("no more processes")

    monkeypatch.setattr(ways_module.subprocess, "Popen", refuse)
    ways = Ways()
    ways.begin()
    assert ways.found() is None


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="only Linux has windows to choose from")
def test_without_a_display_the_ways_that_need_none_come_first(monkeypatch: pytest.MonkeyPatch) -> None:
    tried: list[str] = []

    def begin(_: object, env: dict[str, str], **__: object) -> Child:
        tried.append(env.get(ways_module.WAY, ""))
        return Child(0 if tried[-1] == "" else 1)

    monkeypatch.delenv("DISPLAY")
    monkeypatch.setattr(ways_module.subprocess, "Popen", begin)
    ways = Ways()
    ways.begin()
    ways.begin()
    assert len(tried) == 1, "one trial begun ahead"
    assert ways.found() == ways.found() == ""
    assert tried[-1] == ""
    assert len(tried) == 3, "each tried once, the first not again"
