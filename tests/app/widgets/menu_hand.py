"""A mouse on a menu: moved onto a line until the menu takes notice, then pressed there."""

from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAction
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QMenu
from pytestqt.qtbot import QtBot


def press_line(qtbot: QtBot, menu: QMenu, line: QAction) -> None:
    """Press a line of a menu that is open; one that was opened a moment ago overlooks the first movements."""
    qtbot.waitUntil(menu.isVisible)
    middle = menu.actionGeometry(line).center()
    aside = [QPoint(0, 0)]

    def noticed() -> bool:
        aside.append(QPoint(len(aside) % 9, 0))
        QTest.mouseMove(menu, middle + aside[-1])
        return menu.activeAction() is line

    qtbot.waitUntil(noticed)
    QTest.mouseClick(menu, Qt.MouseButton.LeftButton, pos=middle)
