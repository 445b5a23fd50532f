"""The whole way in the window, by mouse and keys: a scan file, unit, axes, crop, seat, shifter, cup, report, reopened.

The first scan is made up; the others, from the shared data folder beside the repository, are real scans of a table,
which serves as the floor, and a model of a real cabin, which is no scan.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import product
from pathlib import Path

import numpy as np
import pypdf
import pytest
from PySide6.QtCore import QPoint, QSettings, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.stage.bench import Bench
from app.window.answers import Answers
from core.small_case import level_floor
from core.test_real_input import CABIN, SCANS, table_picks
from floorpan.geometry.fit import fit_plane
from floorpan.geometry.mesh import Floats, Mesh
from floorpan.items import CupHolder, Seat, Shifter, Vessel, gate_table
from floorpan.layout import Thing
from floorpan.project.folder import open_project
from floorpan.scan.writers import write_ply
from floorpan_app.cards.axes_card import AxesCard
from floorpan_app.cards.driver_card import DriverCard
from floorpan_app.settings import Settings
from floorpan_app.stage.stage import Stage
from floorpan_app.theme.follow import ThemeFollower, apply_theme
from floorpan_app.theme.fonts import use_fonts
from floorpan_app.theme.record import load_theme
from floorpan_app.viewport.crop_painting import grip_places
from floorpan_app.viewport.view import Viewport
from floorpan_app.window.main_window import MainWindow
from floorpan_app.window.works import Works

pytestmark = pytest.mark.real_view

LEFT = Qt.MouseButton.LeftButton
Picks = list[tuple[str, tuple[float, float, float]]]


class Hand(Bench):
    """The stage's hand, on the stage of a whole window."""

    def __init__(self, works: Works) -> None:
        assert works.page is not None
        view, stage = works.page.view.picture, works.page._parts.filling
        assert isinstance(view, Viewport)
        assert isinstance(stage, Stage)
        self.works, self.page = works, works.page
        self.document, self.judging = works.session.document, works.session.judging
        self.desk, self.view, self.stage = works.session.desk, view, stage
        view.set_animated(False)

    def step(self, number: int) -> None:
        """Go to a step by its key."""
        QTest.keyClick(self.view, Qt.Key(Qt.Key.Key_0 + number), Qt.KeyboardModifier.ControlModifier)
        self.settle()

    def press_button(self, button: object) -> None:
        QTest.mouseClick(button, LEFT)  # type: ignore[call-overload]
        QApplication.processEvents()

    def look_along(self, target: Floats, direction: Floats, distance: float) -> None:
        x, y, z = direction / np.linalg.norm(direction)
        heading = float(np.degrees(np.arctan2(y, x)))
        at = (float(target[0]), float(target[1]), float(target[2]))
        self.look(at, heading, float(np.degrees(np.arcsin(z))), distance)


@dataclass(frozen=True)
class Case:
    """A scan file, what is picked on it, and where things go in car axes [mm].

    looked_along : which way the picks are looked at; None from where the scan's own origin is
    """

    file: Path
    unit: str
    looked_along: tuple[float, float, float] | None
    picks: Picks
    crop_to: float
    shifter: tuple[float, float]
    cup: tuple[float, float]
    seat: tuple[float, float]


def made_up(folder: Path, _shared: Callable[[], Path]) -> Case:
    """A level floor with a block on it; its own X is to the front, so that axes matter."""
    mesh = level_floor()
    points = mesh.points.copy()
    block = (np.abs(points[:, 0] - 550.0) < 80.0) & (np.abs(points[:, 1]) < 80.0)
    points[block, 2] = 60.0
    path = folder / "Boden \u00fc \u5e8a.ply"
    write_ply(Mesh(points, mesh.faces), path)
    picks: Picks = [
        ("level", (-400.0, -400.0, 0.0)), ("level", (400.0, -400.0, 0.0)), ("level", (0.0, 450.0, 0.0)),
        ("pair", (0.0, 500.0, 0.0)), ("pair", (0.0, -500.0, 0.0)), ("origin", (100.0, 0.0, 0.0)),
        ("front", (650.0, 200.0, 0.0)), ("above", (550.0, 0.0, 60.0)),
    ]  # fmt: skip
    return Case(path, "mm", (0.0, 0.1, -1.0), picks, 450.0, (-100.0, 30.0), (150.0, 40.0), (200.0, -350.0))


def table(name: str) -> Callable[[Path, Callable[[], Path]], Case]:
    """A table with things on it: the same points that the core's test takes, picked by hand."""

    def case(_folder: Path, shared: Callable[[], Path]) -> Case:
        from floorpan.progress import finish
        from floorpan.scan import read_scan

        path = shared() / name
        points = finish(read_scan(path, "mm")).mesh.points
        chosen = [pick for pick in table_picks(points) if pick.role != "above"]
        plane = fit_plane(np.array([pick.at_mm for pick in chosen if pick.role == "level"]))
        to_camera = -plane.centre @ plane.normal * plane.normal
        over = (points - plane.centre) @ (to_camera / np.linalg.norm(to_camera))
        near = np.linalg.norm(points - plane.centre, axis=1) < 400.0
        # Not the very highest: that is a single stray point.
        order = np.argsort(over[near])
        highest = points[near][order[int(0.99 * len(order))]]
        picks: Picks = [(str(pick.role), pick.at_mm) for pick in chosen]
        picks.append(("above", (float(highest[0]), float(highest[1]), float(highest[2]))))
        # From where the camera stood, the origin of its file, everything it saw is in sight.
        return Case(path, "mm", None, picks, 250.0, (-40.0, 20.0), (120.0, 0.0), (190.0, -150.0))

    return case


def cabin(_folder: Path, shared: Callable[[], Path]) -> Case:
    """Looked at from above, where only a strip of the floor lies open between the cowl and the seats."""
    picks: Picks = [
        ("level", (-500.0, 310.0, 366.0)), ("level", (500.0, 310.0, 366.0)),
        ("level", (-500.0, 500.0, 364.0)), ("level", (500.0, 500.0, 364.0)),
        ("centre", (0.0, 310.0, 366.0)), ("centre", (0.0, 500.0, 364.0)),
        ("front", (0.0, 0.0, 923.0)), ("above", (200.0, 100.0, 889.0)), ("origin", (0.0, 400.0, 365.0)),
    ]  # fmt: skip
    path = shared() / CABIN
    return Case(path, "mm", (0.0, -0.01, -1.0), picks, 500.0, (-30.0, 0.0), (90.0, 60.0), (60.0, -330.0))


CASES: dict[str, Callable[[Path, Callable[[], Path]], Case]] = {
    "made up": made_up,
    "cylinders": table(SCANS[0]),
    "boxes": table(SCANS[1]),
    "cabin": cabin,
}


@pytest.fixture
def answers() -> Answers:
    return Answers()


@pytest.fixture
def window(qapp: QApplication, qtbot: QtBot, answers: Answers, tmp_path: Path) -> Iterator[MainWindow]:
    use_fonts(100)
    apply_theme(qapp, load_theme("light"))
    follower = ThemeFollower(qapp, "light")
    settings = Settings(QSettings(str(tmp_path / "settings.ini"), QSettings.Format.IniFormat))
    window = MainWindow(settings, follower, asking=answers)
    window.resize(1366, 768)
    with qtbot.waitActive(window):
        window.show()
        window.activateWindow()
    qtbot.waitUntil(lambda: window.works is not None, timeout=30_000)
    yield window
    answers.always("choose", "leave")
    window.close()
    window.deleteLater()
    follower.deleteLater()


def begun(qtbot: QtBot, window: MainWindow, case: Case, folder: Path) -> Hand:
    works = window.works
    assert works is not None
    works.flow.start_from_scan(case.file)
    dialog = works.flow.scan_start
    assert dialog is not None
    qtbot.waitUntil(lambda: dialog.pages.currentWidget() is dialog.unit, timeout=30_000)
    assert dialog.unit.chosen() == case.unit
    QTest.mouseClick(dialog.unit.take, LEFT)
    dialog.keep.use_parent(folder)
    QTest.mouseClick(dialog.keep.make, LEFT)
    qtbot.waitUntil(works.has_project, timeout=30_000)
    # There is no window manager here that would give the keys back once a dialog is gone.
    with qtbot.waitActive(window):
        window.activateWindow()
    hand = Hand(works)
    hand.settle()
    return hand


@pytest.mark.parametrize(
    "name",
    ["made up", "cylinders", *(pytest.param(name, marks=pytest.mark.long) for name in ("boxes", "cabin"))],
)
def test_from_a_scan_file_to_a_fit_report(
    request: pytest.FixtureRequest,
    qtbot: QtBot,
    window: MainWindow,
    answers: Answers,
    tmp_path: Path,
    name: str,
) -> None:
    case = CASES[name](tmp_path, lambda: request.getfixturevalue("shared_data"))
    hand = begun(qtbot, window, case, tmp_path)
    set_straight(hand, case)
    cropped(hand, case)
    put_in(hand, case)
    dragged(hand)
    for finding in hand.judging.findings:
        assert finding.verdict != "pending"
    assert {finding.check for finding in hand.judging.findings} >= {
        "reach",
        "hand-scan",
        "seat-scan",
        "well-side",
    }
    kept = saved_and_reopened(qtbot, window, hand)
    reported(qtbot, window, answers, kept, tmp_path / "fit report.pdf")


def set_straight(hand: Hand, case: Case) -> None:
    """Points picked on the scan, then the card's own button."""
    hand.step(2)
    card = hand.page.column.card()
    assert isinstance(card, AxesCard)
    target = np.mean([at for role, at in case.picks if role == "level"], axis=0)
    along = target if case.looked_along is None else np.array(case.looked_along)
    distance = float(np.linalg.norm(target)) if case.looked_along is None else 2600.0
    for role, at in case.picks:
        hand.look_along(target, along, distance)
        if hand.desk.tool != f"pick {role}":
            hand.press_button(card.tools[role])
        hand.click(near(hand, at))
    hand.key(Qt.Key.Key_Escape)
    picked = hand.layout.scans[0].picks
    assert [pick.role for pick in picked] == [role for role, _ in case.picks]
    for pick, (role, at) in zip(picked, case.picks, strict=True):
        # A pixel is some millimetres here, a real scan has steps; in front and above tell a direction only.
        assert role in ("front", "above") or np.linalg.norm(np.array(pick.at_mm) - at) < 60.0
    fit, fault = card.fit()
    assert fit is not None, fault
    assert fit.rms_mm < 4.0
    hand.press_button(card.set_button)
    assert hand.layout.scans[0].pose is not None
    hand.settle()


def near(hand: Hand, at: tuple[float, float, float], farthest_mm: float = 60.0) -> QPoint:
    """The pixel of a point, or the next one to it where the scan has no hole, at much the same height."""
    middle = hand.at(at)
    aside = sorted(product(range(-320, 321, 5), repeat=2), key=lambda step: step[0] ** 2 + step[1] ** 2)
    for dx, dy in aside:
        met = hand.view.pick(float(middle.x() + dx), float(middle.y() + dy))
        off = np.array(met.point_mm) - at if met is not None and met.name == "scan-1" else np.full(3, np.inf)
        if np.linalg.norm(off) < farthest_mm and abs(off[2]) < 60.0:
            return middle + QPoint(dx, dy)
    pytest.fail(f"no scan near {at}")


def cropped(hand: Hand, case: Case) -> None:
    """The rear face of the crop box, dragged by its grip; taken back and done again."""
    hand.step(1)
    hand.key(Qt.Key.Key_C)
    if hand.desk.tool != "crop box":
        hand.desk.use_tool("crop box")
        QApplication.processEvents()
    hand.look((0.0, 0.0, 0.0), heading=115.0, rise=-45.0, distance=4200.0)
    mark = hand.marks.crop_box
    assert mark is not None
    x, y = grip_places(mark, hand.view.projection())["x-greatest"]
    middle = (mark.least_mm[1] + mark.greatest_mm[1]) / 2, (mark.least_mm[2] + mark.greatest_mm[2]) / 2
    hand.drag(QPoint(round(x), round(y)), hand.at((case.crop_to, *middle)))
    crop = hand.layout.scans[0].crop
    assert crop is not None
    assert crop.greatest_mm[0] == pytest.approx(case.crop_to, abs=15.0)
    hand.key(Qt.Key.Key_Escape)
    hand.document.undo()
    assert hand.layout.scans[0].crop is None
    hand.document.redo()
    assert hand.layout.scans[0].crop == crop
    hand.settle()


def put_in(hand: Hand, case: Case) -> None:
    """A shifter, a cup holder with a can in it, a driver's seat, each by a click; then the driver."""
    set_down(hand, 5, "place shifter", Shifter, case.shifter)
    set_down(hand, 6, "place cup holder", CupHolder, case.cup)
    (holder,) = hand.layout.of(CupHolder)
    well = (holder.place.x_mm, holder.place.y_mm, holder.place.z_mm)
    hand.look(well, heading=100.0, rise=-80.0, distance=600.0)
    hand.desk.use_tool("place vessel")
    hand.click(hand.at(well))
    (vessel,) = hand.layout.of(Vessel)
    assert vessel.stands_in == holder.id
    set_down(hand, 4, "place seat", Seat, case.seat)
    card = hand.page.column.card()
    assert isinstance(card, DriverCard)
    hand.press_button(card._offers[0])
    assert hand.layout.driver() is not None
    hand.settle()


def set_down(hand: Hand, step: int, tool: str, kind: type[Thing], at: tuple[float, float]) -> None:
    hand.step(step)
    hand.look((*at, 0.0), heading=100.0, rise=-75.0, distance=1500.0)
    hand.desk.use_tool(tool)
    hand.click(near(hand, (*at, 0.0), 300.0))
    assert len(hand.layout.of(kind)) == 1, tool
    hand.settle()


def dragged(hand: Hand) -> None:
    """The shifter along the floor: judged while it moves, one entry, undone and done again."""
    hand.step(5)
    (shifter,) = hand.layout.of(Shifter)
    before = hand.layout
    for word in ("driver", "seats"):
        hand.stage.show(word, False)
    x, y, z = hand.place(shifter.id)
    hand.look((x, y, z + 60.0), heading=100.0, rise=-85.0, distance=1400.0)
    knob = next(place.knob_mm for place in gate_table(shifter) if place.gear == "N")
    hand.click(hand.at(knob))
    assert hand.desk.selection == shifter.id
    at = grasp(hand, hand.at(knob))
    seen: list[object] = []
    hand.judging.findings_changed.connect(seen.append)
    hand.press(at)
    end = at + QPoint(24, 10)
    hand.glide(at, end)
    assert hand.document.previewing
    hand.release(end)
    hand.judging.findings_changed.disconnect(seen.append)
    assert len(seen) > 3
    moved = hand.layout.thing(shifter.id).place
    assert np.hypot(moved.x_mm - x, moved.y_mm - y) > 5.0
    after = hand.layout
    QTest.keyClick(hand.view, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert hand.layout == before
    QTest.keyClick(hand.view, Qt.Key.Key_Y, Qt.KeyboardModifier.ControlModifier)
    assert hand.layout == after
    hand.settle()


def grasp(hand: Hand, middle: QPoint) -> QPoint:
    """A pixel near this one where the thing in hand is met first, and nothing that is written there."""
    names = hand.view.in_hand()
    aside = sorted(product(range(-60, 61, 3), repeat=2), key=lambda step: step[0] ** 2 + step[1] ** 2)
    for dx, dy in aside:
        at = middle + QPoint(dx, dy)
        pick = hand.view.pick(float(at.x()), float(at.y()))
        if pick is not None and pick.name in names and hand.view.target(float(at.x()), float(at.y())) is None:
            return at
    pytest.fail("the thing in hand is not in the picture")


def saved_and_reopened(qtbot: QtBot, window: MainWindow, hand: Hand) -> Hand:
    layout, works = hand.layout, hand.works
    held = works.session.projects.project
    assert held is not None
    QTest.keyClick(hand.view, Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    qtbot.waitUntil(lambda: not window.actions_.action("save").isEnabled(), timeout=10_000)
    assert open_project(held.folder).layout == layout
    findings = {finding.id: (finding.verdict, finding.value) for finding in hand.judging.findings}
    window.actions_.action("close").trigger()
    qtbot.waitUntil(lambda: not works.has_project(), timeout=10_000)
    window.open(held.folder)
    qtbot.waitUntil(works.has_project, timeout=30_000)
    again = Hand(works)
    again.settle()
    assert again.layout == layout
    told = {finding.id: (finding.verdict, finding.value) for finding in again.judging.findings}
    assert told.keys() == findings.keys()
    for id, (verdict, value) in told.items():
        assert verdict == findings[id][0], id
        assert value == pytest.approx(findings[id][1], abs=1e-6), id
    return again


def reported(qtbot: QtBot, window: MainWindow, answers: Answers, hand: Hand, paper: Path) -> None:
    answers.then("paper", paper)
    answers.then("choose", "")
    window.actions_.action("report").trigger()
    qtbot.waitUntil(lambda: bool(answers.questions()), timeout=90_000)
    assert str(paper) in answers.questions()[-1].what
    pages = pypdf.PdfReader(paper).pages
    text = pages[0].extract_text()
    assert "Geometry check only" in text
    assert hand.layout.title in text
    assert sum(len(page.images) for page in pages) >= 3
