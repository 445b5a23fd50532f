"""A thinned copy from the window: what is asked, what stands in the file, and what is told of it."""

from pathlib import Path

import numpy as np
import pytest
from pytestqt.qtbot import QtBot

from app.window.answers import Answers
from core.small_case import HALF_MM, level_floor
from floorpan import edits
from floorpan.frames import Pose
from floorpan.geometry.mesh import Mesh
from floorpan.layout import Box
from floorpan.progress import finish
from floorpan.scan.read import read_scan
from floorpan_app import messages
from floorpan_app.window.main_window import MainWindow
from floorpan_app.window.thin_copy import CopyWish, copy_wish
from floorpan_app.window.works import Works

AWAY = Pose(shift_mm=(100.0, 20.0, -30.0))


def ask_for(answers: Answers, target: Path | None, *, by: str, typed: str, areas: str = "") -> None:
    answers.then("choose", by)
    answers.then("line", typed)
    if areas:
        answers.then("choose", areas)
    answers.then("scan_copy", target)


def written(qtbot: QtBot, window: MainWindow, answers: Answers, target: Path) -> Mesh:
    answers.then("choose", "show")
    window.actions_.action("thin copy").trigger()
    qtbot.waitUntil(lambda: answers.asked[-1] == ("show_folder", target.parent), timeout=60_000)
    assert sorted(path.name for path in target.parent.glob(f"{target.name}*")) == [target.name]
    return finish(read_scan(target)).mesh


def test_a_copy_in_car_axes_that_strays_no_farther_than_asked(
    qtbot: QtBot, window: MainWindow, judged: Works, answers: Answers, tmp_path: Path
) -> None:
    """A level floor: all but its rim can go, which is 4 sides of 40 cells."""
    target = tmp_path / "thin.ply"
    assert judged.session.desk.change("axes", lambda layout: edits.set_axes(layout, "scan-1", AWAY))
    ask_for(answers, target, by="stray", typed="0.2")
    mesh = written(qtbot, window, answers, target)
    assert mesh.bounds == pytest.approx(AWAY.apply(level_floor().bounds), abs=1e-9)
    assert 158 <= len(mesh.faces) < 480
    told = answers.questions()[-1]
    assert str(target) in told.what
    assert f"{len(mesh.faces)} of 3\u2009200 triangles" in told.remedy
    assert "0 mm at worst" in told.remedy
    assert window.status.hint() == told.remedy


def test_areas_are_kept_and_a_crop_counts(
    qtbot: QtBot, window: MainWindow, judged: Works, answers: Answers, tmp_path: Path
) -> None:
    """A quarter of the floor is an area; what a crop leaves out is not in the copy."""
    target = tmp_path / "thin.ply"
    low, high = (-HALF_MM, -HALF_MM, -10.0), (350.0, HALF_MM, 10.0)
    quarter = Box(frame=Pose(), least_mm=low, greatest_mm=(0.0, 0.0, 10.0))
    desk = judged.session.desk
    assert desk.change("area", lambda layout: edits.add_area(layout, "scan-1", "dash", quarter))
    box = Box(frame=Pose(), least_mm=low, greatest_mm=high)
    assert desk.change("crop", lambda layout: edits.change_scan(layout, "scan-1", crop=box))
    ask_for(answers, target, by="count", typed="1\u202f100", areas="keep")
    mesh = written(qtbot, window, answers, target)
    middle = mesh.points[mesh.faces].mean(axis=1)
    assert np.count_nonzero((middle[:, 0] < 0.0) & (middle[:, 1] < 0.0)) == 3200 // 4
    assert 800 < len(mesh.faces) <= 1150
    assert mesh.bounds[1, 0] == pytest.approx(350.0)


@pytest.mark.parametrize("put_away", ["choose", "line", "scan_copy"])
def test_each_question_can_be_put_away(
    window: MainWindow, judged: Works, answers: Answers, tmp_path: Path, project: Path, put_away: str
) -> None:
    answers.then("choose", "" if put_away == "choose" else "stray")
    answers.then("line", "" if put_away == "line" else "1 mm")
    answers.then("scan_copy", None)
    window.actions_.action("thin copy").trigger()
    assert answers.asked[-1][0] == put_away
    assert put_away != "scan_copy" or answers.asked[-1][1] == project.parent / "floor-thinned.ply"


def test_it_can_be_stopped(
    qtbot: QtBot, window: MainWindow, judged: Works, answers: Answers, tmp_path: Path
) -> None:
    ask_for(answers, tmp_path / "thin.ply", by="stray", typed="0.2 mm")
    window.actions_.action("thin copy").trigger()
    window.status.stop()
    qtbot.waitUntil(lambda: window.status.hint() == messages.THIN_COPY_STOPPED, timeout=20_000)
    assert not list(tmp_path.glob("thin.ply*"))


@pytest.mark.parametrize(
    ("by", "typed", "name", "said"),
    [
        ("stray", "a bit", "thin.ply", "not a length"),
        ("stray", "0", "thin.ply", "the scan itself"),
        ("count", "many", "thin.ply", "no number of triangles"),
        ("count", "900", "thin.stl", "does not end in .ply"),
        ("count", "900", "nowhere/thin.ply", "There is no folder"),
        ("count", "700", "thin.ply", "untouched"),
    ],
)
def test_what_cannot_be_done_is_told(
    qtbot: QtBot,
    window: MainWindow,
    judged: Works,
    answers: Answers,
    tmp_path: Path,
    by: str,
    typed: str,
    name: str,
    said: str,
) -> None:
    quarter = Box(frame=Pose(), least_mm=(-HALF_MM, -HALF_MM, -10.0), greatest_mm=(0.0, 0.0, 10.0))
    if said == "untouched":
        desk = judged.session.desk
        assert desk.change("area", lambda layout: edits.add_area(layout, "scan-1", "dash", quarter))
    ask_for(answers, tmp_path / name, by=by, typed=typed, areas="keep" if said == "untouched" else "")
    answers.then("choose", "")
    window.actions_.action("thin copy").trigger()
    qtbot.waitUntil(lambda: said in answers.questions()[-1].what, timeout=20_000)
    assert not list(tmp_path.glob("thin*"))


def test_a_process_that_fails_is_told(
    qtbot: QtBot,
    window: MainWindow,
    judged: Works,
    answers: Answers,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("floorpan_app.stage.thinning.sys.executable", "false")
    ask_for(answers, tmp_path / "thin.ply", by="stray", typed="1")
    answers.then("choose", "")
    window.actions_.action("thin copy").trigger()
    qtbot.waitUntil(lambda: answers.questions()[-1].what == messages.THIN_COPY_NOT_THINNED[0], timeout=20_000)
    assert not list(tmp_path.glob("thin*"))


def test_what_is_typed_is_read_in_the_shown_lengths() -> None:
    assert copy_wish("1/16", "in", count=False, keep_areas=True) == CopyWish(worst_mm=1.5875, keep_areas=True)
    assert copy_wish("0.5 mm", "in", count=False, keep_areas=False).worst_mm == 0.5
    assert copy_wish("300\u2009000", "mm", count=True, keep_areas=False).triangles == 300_000
