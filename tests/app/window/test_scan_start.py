"""From a scan file to a project: unit, what was left out, where it is kept, and files that cannot be used."""

import json
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from app.window.answers import Answers
from core.scan.spoiling import made_up
from core.small_case import level_floor
from floorpan.geometry.mesh import Mesh
from floorpan.project.folder import PROJECT, open_project
from floorpan.scan.writers import write_ply
from floorpan_app import messages
from floorpan_app.window.main_window import MainWindow
from floorpan_app.window.scan_start import ScanStart
from floorpan_app.window.works import Works

pytestmark = pytest.mark.usefixtures("window")


def begin(works: Works, source: Path) -> ScanStart:
    works.flow.start_from_scan(source)
    dialog = works.flow.scan_start
    assert dialog is not None
    return dialog


def reach(qtbot: QtBot, dialog: ScanStart, page: str) -> None:
    qtbot.waitUntil(lambda: dialog.pages.currentWidget() is getattr(dialog, page), timeout=15_000)


def click(button: object) -> None:
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)  # type: ignore[call-overload]


def test_a_scan_becomes_a_project_on_the_step_scan(
    qtbot: QtBot, window: MainWindow, works: Works, answers: Answers, floor_file: Path, tmp_path: Path
) -> None:
    dialog = begin(works, floor_file)
    reach(qtbot, dialog, "unit")
    # A square of 1.4 m side: as the maker of the file knows.
    assert dialog.unit.chosen() == "mm"
    assert "1 400 mm × 1 400 mm × 0 mm" in dialog.unit.choices["mm"].accessibleName().replace("\u2009", " ")
    assert "1.4 km" in dialog.unit.choices["m"].accessibleName()
    assert "floor.ply" in dialog.unit.why.text()
    click(dialog.unit.take)
    reach(qtbot, dialog, "keep")
    assert dialog.keep.name.text() == "bare floor"
    answers.then("folder", tmp_path)
    click(dialog.keep.change)
    dialog.keep.name.setText("Tin coupé")
    assert dialog.keep.folder() == tmp_path / "tin-coupe.floorpan"
    click(dialog.keep.make)
    qtbot.waitUntil(works.has_project, timeout=15_000)
    held = works.session.projects.project
    assert held is not None
    assert held.folder == tmp_path / "tin-coupe.floorpan"
    assert (held.layout.title, held.layout.scans[0].unit) == ("Tin coupé", "mm")
    assert works.session.desk.step == "scan"
    assert works.flow.scan_start is None


def test_the_builder_has_the_last_word_on_the_unit(
    qtbot: QtBot, works: Works, floor_file: Path, tmp_path: Path
) -> None:
    dialog = begin(works, floor_file)
    reach(qtbot, dialog, "unit")
    dialog.unit.choices["in"].setChecked(True)
    click(dialog.unit.take)
    dialog.keep.use_parent(tmp_path)
    click(dialog.keep.make)
    qtbot.waitUntil(works.has_project, timeout=15_000)
    assert works.session.document.layout.scans[0].unit == "in"


def test_what_was_left_out_is_told_before_it_is_used(qtbot: QtBot, works: Works, tmp_path: Path) -> None:
    mesh = level_floor(cells=4)
    flat = np.array([[0, 0, 1], [2, 2, 2]], dtype=np.int32)
    path = tmp_path / "holed.ply"
    write_ply(Mesh(mesh.points, np.vstack([mesh.faces, flat])), path)
    dialog = begin(works, path)
    reach(qtbot, dialog, "unit")
    assert dialog.unit.take.text() == messages.USE_THOSE
    assert dialog.unit.left_out.text().startswith("Left out: 2 ")
    assert f"{len(mesh.faces)} triangles were read." in dialog.unit.read.text()
    dialog.reject()


def test_a_whole_scan_says_nothing_of_it(qtbot: QtBot, works: Works, floor_file: Path) -> None:
    dialog = begin(works, floor_file)
    reach(qtbot, dialog, "unit")
    assert dialog.unit.take.text() == messages.NEXT
    assert dialog.unit.left_out.text() == ""
    dialog.reject()


@pytest.mark.parametrize("name", ["empty.stl", "inf_nan.obj"])
def test_a_bad_file_is_told_with_its_remedy_and_another_can_be_read(
    qtbot: QtBot, works: Works, answers: Answers, shared_data: Path, floor_file: Path, name: str
) -> None:
    dialog = begin(works, shared_data / "bad_meshes" / name)
    reach(qtbot, dialog, "fault")
    assert dialog.fault.file.text() == name
    assert dialog.fault.what.text().endswith(".")
    assert dialog.fault.remedy.text().endswith(".")
    answers.then("scan_file", None)
    click(dialog.fault.again)
    assert dialog.pages.currentWidget() is dialog.fault
    answers.then("scan_file", floor_file)
    click(dialog.fault.again)
    reach(qtbot, dialog, "unit")
    dialog.reject()
    assert not works.has_project()


def test_points_alone_are_taken_and_said_to_be_points(qtbot: QtBot, works: Works, shared_data: Path) -> None:
    dialog = begin(works, shared_data / "bad_meshes" / "points_emptyface.ply")
    reach(qtbot, dialog, "unit")
    told = dialog.unit.read.text().replace("\u2009", " ")
    assert told.startswith("It holds 1 024 points and no triangle")
    dialog.reject()


def test_a_unit_that_the_file_says_is_not_asked_for_in_vain(
    qtbot: QtBot, works: Works, tmp_path: Path
) -> None:
    path = tmp_path / "floor.3mf"
    path.write_bytes(made_up()["packed.3mf"])
    dialog = begin(works, path)
    reach(qtbot, dialog, "unit")
    assert dialog.unit.why.text() == "Its unit is written in the file: inch."
    assert dialog.unit.chosen() == "mm"
    assert "inch" not in dialog.unit.read.text()
    dialog.reject()


def test_a_file_that_is_not_there_is_told(qtbot: QtBot, works: Works, tmp_path: Path) -> None:
    dialog = begin(works, tmp_path / "gone.stl")
    reach(qtbot, dialog, "fault")
    assert "gone.stl" in dialog.fault.what.text()
    click(dialog.fault.leave)
    assert works.flow.scan_start is None


def test_a_bad_file_leaves_the_open_project_alone(qtbot: QtBot, opened: Works, tmp_path: Path) -> None:
    layout = opened.session.document.layout
    (tmp_path / "no.stl").write_bytes(b"")
    dialog = begin(opened, tmp_path / "no.stl")
    reach(qtbot, dialog, "fault")
    dialog.reject()
    assert opened.session.document.layout is layout


def test_reading_can_be_stopped(qtbot: QtBot, works: Works, tmp_path: Path) -> None:
    path = tmp_path / "large.ply"
    write_ply(level_floor(cells=900), path)
    dialog = begin(works, path)
    assert dialog.pages.currentWidget() is dialog.wait
    click(dialog.wait.stop)
    qtbot.waitUntil(lambda: works.flow.scan_start is None, timeout=15_000)
    assert not works.has_project()


def test_a_folder_that_is_taken_is_told_beside_the_name(
    qtbot: QtBot, works: Works, floor_file: Path, tmp_path: Path
) -> None:
    taken = tmp_path / "mine.floorpan"
    taken.mkdir()
    (taken / "letter.txt").write_text("mine")
    dialog = begin(works, floor_file)
    reach(qtbot, dialog, "unit")
    click(dialog.unit.take)
    dialog.keep.use_parent(tmp_path)
    dialog.keep.name.setText("mine")
    click(dialog.keep.make)
    reach(qtbot, dialog, "keep")
    qtbot.waitUntil(lambda: "is not empty" in dialog.keep.fault.text(), timeout=15_000)
    assert dialog.keep.name.property("fault")
    assert [path.name for path in taken.iterdir()] == ["letter.txt"]
    dialog.keep.name.setText("mine too")
    assert dialog.keep.fault.text() == ""
    dialog.reject()


def test_a_project_needs_a_name(qtbot: QtBot, works: Works, floor_file: Path) -> None:
    dialog = begin(works, floor_file)
    reach(qtbot, dialog, "unit")
    click(dialog.unit.take)
    dialog.keep.name.setText("   ")
    assert not dialog.keep.make.isEnabled()
    assert dialog.keep.fault.text() == messages.NO_NAME
    click(dialog.keep.back)
    assert dialog.pages.currentWidget() is dialog.unit
    dialog.reject()


def test_starting_asks_about_changes_first(
    qtbot: QtBot, opened: Works, answers: Answers, floor_file: Path
) -> None:
    opened.session.desk.change("x", lambda layout: layout.__class__(title="changed"))
    answers.then("choose", "")
    opened.flow.start_from_scan(floor_file)
    assert opened.flow.scan_start is None


def test_the_sample_car_is_written_once_and_then_opened(
    qtbot: QtBot, works: Works, answers: Answers, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    written: list[Path] = []

    def write(folder: Path) -> object:
        from floorpan.progress import Step
        from floorpan.project.folder import create

        yield Step(0.5, "Scanning the sample car")
        written.append(folder)
        create(folder, "Sample car")
        return folder

    monkeypatch.setattr("floorpan_app.window.project_flow.write_sample", write)
    answers.always("folder", tmp_path)
    works.flow.open_sample()
    qtbot.waitUntil(works.has_project, timeout=15_000)
    assert open_project(tmp_path / "sample-car.floorpan").layout.title == "Sample car"
    works.flow.close_project()
    works.flow.open_sample()
    qtbot.waitUntil(works.has_project, timeout=15_000)
    assert written == [tmp_path / "sample-car.floorpan"]
    assert json.loads((tmp_path / "sample-car.floorpan" / PROJECT).read_text("utf-8"))["format"]
