"""What a hand does at a card: types into a field, presses a button, chooses from a list."""

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QLabel, QLineEdit, QWidget

from core.small_case import level_floor, raw_scan, small_layout
from floorpan_app.cards.form import Field
from floorpan_app.cards.quiet_combo import QuietCombo
from floorpan_app.cards.rows import Rows
from floorpan_app.widgets.length_field import LengthField

RAW = raw_scan(level_floor(cells=12))
LAYOUT = small_layout(RAW)

KEY = Qt.Key


def edit_of(field: Field | QLineEdit) -> QLineEdit:
    """The line that takes the keys."""
    if isinstance(field, LengthField):
        return field.line_edit()
    assert isinstance(field, QLineEdit)
    return field


def write(field: Field | QLineEdit, text: str) -> None:
    """Write another text in place of the one there is, and leave it at that."""
    edit = edit_of(field)
    assert edit.isVisible(), "nobody can type into what is not in sight"
    assert edit.isEnabled(), "nobody can type into what is put out of use"
    edit.setFocus()
    edit.selectAll()
    QTest.keyClicks(edit, text)


def settle(field: Field | QLineEdit, text: str) -> None:
    """Write another text and press Enter."""
    write(field, text)
    QTest.keyClick(edit_of(field), KEY.Key_Return)


def escape(field: Field | QLineEdit) -> None:
    QTest.keyClick(edit_of(field), KEY.Key_Escape)


def press(button: QAbstractButton) -> None:
    """Click a button."""
    assert button.isVisible(), f"{button.text()} is not in sight"
    assert button.isEnabled(), f"{button.text()} is put out of use"
    # A wide check box answers on its box and its words only.
    at = button.rect().center()
    at.setX(min(at.x(), 8))
    QTest.mouseClick(button, Qt.MouseButton.LeftButton, pos=at)


def press_row(rows: Rows, id: str) -> None:
    """Click a row."""
    place = [row.id for row in rows.rows()].index(id)
    press([mark for mark in rows.findChildren(QAbstractButton) if mark.isVisible()][place])


def choose(combo: QuietCombo, key: str) -> None:
    """Open the list, walk to a choice by the arrow keys, press Enter."""
    assert combo.isVisible(), "nobody can choose from what is not in sight"
    there = combo.findData(key)
    assert there >= 0, f"{key} is not among the choices"
    combo.showPopup()
    view = combo.view()
    QTest.keyClick(view, KEY.Key_Home)
    for _ in range(there):
        QTest.keyClick(view, KEY.Key_Down)
    QTest.keyClick(view, KEY.Key_Return)


def told_beside(place: QWidget) -> list[str]:
    """What is said to be wrong within a card or a form, top to bottom."""
    lines = [line for line in place.findChildren(QLabel) if line.property("role") == "fault"]
    return [line.text() for line in lines if line.isVisible()]
