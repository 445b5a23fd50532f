"""Lengths in mm or inches: one switch, kept, followed everywhere."""

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from floorpan import edits
from floorpan_app.window.main_window import MainWindow
from floorpan_app.window.works import Works


def test_the_status_line_switches_the_unit(window: MainWindow, judged: Works) -> None:
    page = judged.page
    assert page is not None
    spot = page.column.spot.spot()
    assert spot is not None
    before = spot.sentence
    QTest.mouseClick(window.status.unit, Qt.MouseButton.LeftButton)
    assert judged.session.desk.system == "in"
    assert (window.settings.system(), window.status.unit.text()) == ("in", "in")
    assert window.actions_.action("unit in").isChecked()
    after = page.column.spot.spot()
    assert after is not None
    assert after.sentence != before
    QTest.mouseClick(window.status.unit, Qt.MouseButton.LeftButton)
    again = page.column.spot.spot()
    assert again is not None
    assert again.sentence == before


def test_the_unit_is_kept_before_a_project_is_open(window: MainWindow) -> None:
    window.actions_.action("unit in").trigger()
    assert (window.settings.system(), window.status.unit.text()) == ("in", "in")
    assert window.status.unit.accessibleName() == "Lengths in inches"


def test_the_status_line_names_the_scan_and_the_thing_in_hand(window: MainWindow, opened: Works) -> None:
    assert window.status.facts() == ("scan ± 2", "")
    desk = opened.session.desk
    desk.select("cup-holder-1" if "cup-holder-1" in {t.id for t in desk.layout.things()} else "holder-1")
    thing = next(t for t in desk.layout.things() if t.id == desk.selection)
    assert window.status.facts()[1] == f"{thing.name}: 200 rear, 60 passenger side, 60 up"
    desk.use_system("in")
    assert window.status.facts()[1].startswith(f"{thing.name}: 7")


def test_the_place_of_the_thing_in_hand_follows_the_drag(window: MainWindow, opened: Works) -> None:
    desk = opened.session.desk
    desk.select("shifter-1")
    before = window.status.facts()[1]
    desk.preview(lambda layout: edits.shift(layout, "shifter-1", (25.0, 0.0, 0.0)))
    assert window.status.facts()[1] != before
    assert "25 rear" in window.status.facts()[1]
    opened.session.document.drop_preview()
    assert window.status.facts()[1] == before
