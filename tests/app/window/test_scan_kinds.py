"""The dialog that asks for a scan offers every kind the core reads."""

from pathlib import Path

import pytest
from PySide6.QtWidgets import QFileDialog, QWidget
from pytestqt.qtbot import QtBot

from floorpan.scan.read import SUFFIXES
from floorpan_app.window.asking import Dialogs


def test_every_kind_that_is_read_is_offered(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    offered: list[str] = []

    def asked(_parent: QWidget, _title: str, _start: str, kinds: str) -> tuple[str, str]:
        offered.append(kinds)
        return "", ""

    monkeypatch.setattr(QFileDialog, "getOpenFileName", asked)
    parent = QWidget()
    qtbot.addWidget(parent)
    assert Dialogs(parent).scan_file(Path()) is None
    first = offered[0].split(";;")[0]
    assert {".stl", ".e57"} <= set(SUFFIXES)
    assert first.rpartition("(")[2].rstrip(")").split() == [f"*{suffix}" for suffix in SUFFIXES]
