"""Pictures without a window."""

import subprocess
import sys

import numpy as np
import pytest
from PySide6.QtGui import QImage

from app.viewport import made_up_cabin as cabin
from floorpan.report.pictures import check_png
from floorpan_app.theme.record import load_theme
from floorpan_app.viewport import offscreen
from floorpan_app.viewport.colours import colours_of
from floorpan_app.viewport.offscreen import OffscreenRenderer, available
from floorpan_app.viewport.scene import Scene
from floorpan_app.viewport.thing import Manner


def fill(scene: Scene) -> None:
    scan, patches = cabin.floor_and_patches(20_000)
    scene.show_mesh("scan-1", scan, Manner(role="scan"))
    scene.show_patches("scan-1.unseen", patches)
    scene.show_body("seat-1", cabin.seat(), Manner(role="seat"))


@pytest.mark.real_view
def test_a_picture_for_the_report_holds_the_whole_car(qapp: object) -> None:
    assert available()
    theme = load_theme("light")
    data = OffscreenRenderer(colours_of(theme), fill).picture("above", 640, 360)
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


def test_a_child_that_dies_means_no_pictures(monkeypatch: pytest.MonkeyPatch) -> None:
    dead = subprocess.CompletedProcess[bytes]([], returncode=-11)
    monkeypatch.setattr(offscreen.subprocess, "run", lambda *_, **__: dead)
    offscreen._way.cache_clear()
    try:
        assert not available()
    finally:
        offscreen._way.cache_clear()


def test_a_child_that_hangs_means_no_pictures(monkeypatch: pytest.MonkeyPatch) -> None:
    def hang(*_: object, **__: object) -> None:
        raise subprocess.TimeoutExpired("trial", 1.0)

    monkeypatch.setattr(offscreen.subprocess, "run", hang)
    offscreen._way.cache_clear()
    try:
        assert not available()
    finally:
        offscreen._way.cache_clear()


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="only Linux has windows to choose from")
def test_without_a_display_the_ways_that_need_none_come_first(monkeypatch: pytest.MonkeyPatch) -> None:
    tried: list[str] = []

    def works(way: str) -> bool:
        tried.append(way)
        return way == ""

    monkeypatch.delenv("DISPLAY")
    monkeypatch.setattr(offscreen, "_works", works)
    offscreen._way.cache_clear()
    try:
        assert available()
    finally:
        offscreen._way.cache_clear()
    assert tried[-1] == ""
    assert len(tried) == 3
