"""A vessel from a scan of it by mouse: the menu, the file, its unit, its outline turned over, set down, undone."""

from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QPoint
from pytestqt.qtbot import QtBot

from app.window.answers import Answers
from app.window.test_part_from_file import click, menu_of
from core.geometry.test_mesh_solids import box_mesh
from core.items.test_vessel_from_mesh import frustum, posed, skin
from floorpan.geometry.mesh import Mesh
from floorpan.items import Vessel
from floorpan.scan.vessel_unit import vessel_unit
from floorpan.scan.writers import write_ply
from floorpan_app.window.main_window import MainWindow
from floorpan_app.window.vessel_start import VesselStart
from floorpan_app.window.works import Works

pytestmark = pytest.mark.usefixtures("window")


@pytest.fixture
def beaker(tmp_path: Path) -> Path:
    """A beaker 60 mm across at its closed base, 90 at its rim, 120 tall, lying askew, in metres."""
    mesh, _ = posed(*skin(frustum, 120.0), 3, 0.1)
    path = tmp_path / "beaker.ply"
    write_ply(Mesh(mesh.points / 1000.0, mesh.faces), path)
    return path


def asked_by_menu(qtbot: QtBot, window: MainWindow, works: Works) -> VesselStart:
    menu, head = menu_of(window, "Place")
    bar = window.menuBar()
    click(bar, bar.actionGeometry(head).center())
    qtbot.waitUntil(menu.isVisible)
    entry = next(one for one in menu.actions() if one.text() == "Vessel from a scan of it\u2026")
    click(menu, menu.actionGeometry(entry).center())
    dialog = works.flow.vessel_start
    assert dialog is not None
    qtbot.waitUntil(lambda: dialog.pages.currentWidget() in (dialog.unit, dialog.fault), timeout=15_000)
    return dialog


def test_a_beaker_is_found_in_its_scan_and_stands_in_the_holder(
    qtbot: QtBot, window: MainWindow, judged: Works, beaker: Path, answers: Answers
) -> None:
    desk = judged.session.desk
    before = {one.id for one in desk.layout.of(Vessel)}
    answers.then("scan_file", beaker)
    dialog = asked_by_menu(qtbot, window, judged)
    assert dialog.unit.chosen() == "m"
    click(dialog.unit.take)
    qtbot.waitUntil(lambda: dialog.pages.currentWidget() is dialog.outline, timeout=30_000)
    assert dialog.outline.head.text().startswith("120")
    assert "nowhere inside it" in dialog.outline.told.text()
    assert not dialog.outline.which_way.isVisible()
    narrow_end = dialog.outline.found
    assert narrow_end is not None
    click(dialog.outline.over)
    over = dialog.outline.found
    assert over is not None
    assert over.profile[0][1] > over.profile[-1][1]
    click(dialog.outline.over)
    click(dialog.outline.take)
    qtbot.waitUntil(lambda: len(desk.layout.of(Vessel)) > len(before), timeout=5_000)
    [new] = [one for one in desk.layout.of(Vessel) if one.id not in before]
    assert (new.name, new.stands_in) == ("beaker", "cup-holder-1")
    assert np.array(new.profile) == pytest.approx(np.array(narrow_end.profile))
    # A frustum of water: pi h / 3 (R2 + R r + r2), an outline a little outside it.
    assert new.full_kg == pytest.approx(np.pi * 120.0 / 3.0 * (45**2 + 45 * 30 + 30**2) * 1e-6, rel=0.03)
    assert desk.step == "cup"
    assert desk.selection == new.id
    assert dict(desk.state)[f"{new.id}.place"] == "in"
    assert all(dict(desk.state)[f"{id}.place"] == "out" for id in before)
    judged.session.document.undo()
    assert {one.id for one in desk.layout.of(Vessel)} == before


def test_a_box_is_refused_with_a_remedy_and_nothing_changes(
    qtbot: QtBot, window: MainWindow, judged: Works, tmp_path: Path, answers: Answers
) -> None:
    layout = judged.session.document.layout
    path = tmp_path / "box.ply"
    write_ply(box_mesh((0.0, 0.0, 0.0), (60.0, 60.0, 150.0)), path)
    answers.then("scan_file", path)
    dialog = asked_by_menu(qtbot, window, judged)
    click(dialog.unit.take)
    qtbot.waitUntil(lambda: dialog.pages.currentWidget() is dialog.fault, timeout=30_000)
    assert dialog.fault.what.text().startswith("No vessel was found in this scan.")
    assert "Cup card" in dialog.fault.remedy.text()
    click(dialog.fault.leave)
    assert judged.session.document.layout is layout


def test_another_unit_may_be_marked_by_hand(
    qtbot: QtBot, window: MainWindow, judged: Works, beaker: Path, answers: Answers
) -> None:
    answers.then("scan_file", beaker)
    dialog = asked_by_menu(qtbot, window, judged)
    feet = dialog.unit.choices["ft"]
    click(feet, QPoint(8, feet.height() // 2))
    click(dialog.unit.take)
    qtbot.waitUntil(lambda: dialog.pages.currentWidget() in (dialog.outline, dialog.fault), timeout=30_000)
    # 0.12 of a foot is 37 mm: small, but round.
    assert dialog.pages.currentWidget() is dialog.outline
    click(dialog.outline.leave)


@pytest.mark.parametrize(
    ("largest", "unit", "sure"),
    [(102.0, "mm", True), (0.102, "m", True), (10.2, "cm", False), (4.0, "in", True), (1500.0, "mm", False)],
)
def test_a_vessels_unit_is_the_one_that_makes_it_a_vessels_size(
    largest: float, unit: str, sure: bool
) -> None:
    found = vessel_unit(largest)
    assert (found.unit, found.sure) == (unit, sure)
    assert bool(found.candidates) == (largest < 1000.0)
