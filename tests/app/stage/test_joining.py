"""A second scan by mouse: targets clicked on both scans, joined by them, laid on the surfaces, taken apart."""

import numpy as np
import pytest
from pytestqt.qtbot import QtBot

from app.cards.hands import settle
from app.stage.bench import Bench
from app.stage.conftest import Open
from core.small_case import raw_scan
from floorpan import edits
from floorpan.frames import Pose, Vector
from floorpan.geometry.mesh import Mesh
from floorpan.layout import Layout, ScanRef
from floorpan_app.cards.scan_card import ScanCard
from made_up_sheets import tunnel_floor

pytestmark = pytest.mark.real_view

# How the second scan's own coordinates lie in the first one's.
MOVE = Pose.turned((0.1, 0.2, 1.0), 15.0).after(Pose(shift_mm=(60.0, -25.0, 10.0)))
FLOOR = tunnel_floor(step=5.0)
FIRST, SECOND = raw_scan(FLOOR), raw_scan(Mesh(MOVE.inverse().apply(FLOOR.points), FLOOR.faces))
# On the floor at both sides, and on the tunnel.
PLACES = ((-180.0, -160.0), (180.0, -170.0), (-60.0, 165.0), (120.0, 0.0))


def on_floor(x: float, y: float) -> Vector:
    row = int(np.argmin(np.hypot(FLOOR.points[:, 0] - x, FLOOR.points[:, 1] - y)))
    x, y, z = (float(value) for value in FLOOR.points[row])
    return x, y, z


def two_scans() -> Layout:
    layout = Layout(title="Two scans")
    for name, raw, role in (("Bare floor", FIRST, "bare"), ("Again", SECOND, "bare")):
        ref = ScanRef(
            id="", name=name, sha256=raw.sha256, suffix=".ply", original_name="x.ply", unit="mm", role=role
        )
        layout = edits.add_scan(layout, ref)
    return edits.set_axes(layout, "scan-1", Pose())


def begun(open_bench: Open, qtbot: QtBot) -> tuple[Bench, ScanCard]:
    bench = open_bench(two_scans(), {raw.sha256: raw for raw in (FIRST, SECOND)})
    bench.desk.go_to("scan")
    card = ScanCard(bench.desk)
    qtbot.addWidget(card)
    card.resize(344, 2400)
    card.show()
    card.scans.rows.press("scan-2")
    bench.settle()
    return bench, card


def click_at(bench: Bench, at: Vector) -> None:
    bench.settle()
    bench.look(at, heading=100.0, rise=-80.0, distance=900.0)
    bench.click(bench.at(at))


def here(at: Vector) -> Vector:
    x, y, z = (float(value) for value in MOVE.inverse().apply(np.array(at)))
    return x, y, z


def test_targets_are_clicked_on_both_scans_and_join_them(open_bench: Open, qtbot: QtBot) -> None:
    bench, card = begun(open_bench, qtbot)
    # A scan that stands nowhere yet is looked at by itself.
    assert bench.stage.ground.names() == {"scan-2"}
    card.join.pick.click()
    for number, place in enumerate(PLACES, 1):
        at = on_floor(*place)
        assert card.join.asks.said() == "Click a target on Bare floor."
        click_at(bench, at)
        assert card.join.asks.said() == "Now the same target on Again."
        bench.settle()
        assert bench.stage.ground.names() == {"scan-2"}
        click_at(bench, here(at))
        assert len(bench.layout.scan("scan-2").targets) == number
    # What the card took is drawn once, by the card's own marks.
    bench.settle()
    assert [mark.letter for mark in bench.marks.picks] == ["1", "2", "3", "4"]
    for target, place in zip(bench.layout.scan("scan-2").targets, PLACES, strict=True):
        at = on_floor(*place)
        assert target.there_mm == pytest.approx(at, abs=2.0)
        assert target.here_mm == pytest.approx(here(at), abs=2.0)
    card.join.join.click()
    bench.settle()
    assert bench.desk.tool == ""
    assert bench.document.undo_words() == "join a scan by targets"
    assert bench.stage.ground.names() == {"scan-1", "scan-2"}
    pose = bench.layout.scan("scan-2").pose
    assert pose is not None
    np.testing.assert_allclose(pose.apply(SECOND.mesh.points), FLOOR.points, atol=4.0)


def joined_by_hand(bench: Bench) -> None:
    for x, y in PLACES:
        at = on_floor(x, y)
        near = (at[0] + 0.5, at[1] - 0.4, at[2] + 0.3)
        bench.desk.change(
            "target",
            lambda layout, at=at, near=near: edits.add_target(
                layout, "scan-2", here_mm=here(at), there_mm=near
            ),
        )


def test_it_is_laid_on_the_surfaces_and_the_way_they_leave_open_is_told(
    open_bench: Open, qtbot: QtBot
) -> None:
    bench, card = begun(open_bench, qtbot)
    joined_by_hand(bench)
    card.join.match.click()
    qtbot.waitUntil(lambda: bench.layout.scan("scan-2").joined is not None, timeout=60_000)
    said = card.join.stands.said()
    assert said.startswith("It lies on ")
    assert "do not hold it fore and aft" in said
    assert "Pick targets that show it" in said
    bench.settle()
    card.join.left.click()
    qtbot.waitUntil(lambda: bench.desk.scans.map is not None, timeout=60_000)
    bench.settle()
    # The colours would hide behind the other surface: the scan is shown alone, with a legend.
    assert bench.stage.ground.names() == {"scan-2"}
    legend = bench.marks.legend
    assert legend is not None
    assert legend.title == "Over Bare floor (+) or in it (\u2212), mm"
    assert [share for share, _ in legend.ticks] == [0.0, 0.5, 1.0]
    card.join.left.click()
    bench.settle()
    assert bench.marks.legend is None
    card.join.apart.click()
    assert bench.layout.scan("scan-2").joined is None
    assert bench.layout.scan("scan-2").pose is None


def test_names_and_forgetting_and_the_one_that_is_off(open_bench: Open, qtbot: QtBot) -> None:
    bench, card = begun(open_bench, qtbot)
    assert "3 more to go" in card.join.told()
    for number, at in enumerate(((0.0, 0.0, 0.0), (100.0, 0.0, 0.0), (0.0, 100.0, 0.0))):
        off = (at[0] + 20.0 * number, at[1], at[2])
        bench.desk.change(
            "off",
            lambda layout, at=at, off=off: edits.add_target(layout, "scan-2", here_mm=at, there_mm=off),
        )
    assert "more than a hand picks off" in card.join.told()
    for _ in range(3):
        bench.document.undo()
    assert not card.join.join.isEnabled()
    joined_by_hand(bench)
    bench.desk.change(
        "wrong",
        lambda layout: edits.add_target(layout, "scan-2", here_mm=(0.0, 0.0, 0.0), there_mm=(99.0, 9.0, 9.0)),
    )
    assert "Target 5 is off" in card.join.told()
    card.join.rows.press("target-5")
    settle(card.join.form.fields["name"], "seat bolt")  # type: ignore[arg-type]
    assert bench.layout.scan("scan-2").targets[-1].name == "seat bolt"
    assert "seat bolt is off" in card.join.told()
    card.join.forget.click()
    assert len(bench.layout.scan("scan-2").targets) == 4
    assert "off" not in card.join.told()


def test_a_scan_is_hidden_and_taken_out(open_bench: Open, qtbot: QtBot) -> None:
    bench, card = begun(open_bench, qtbot)
    joined_by_hand(bench)
    card.join.join.click()
    bench.settle()
    card.scans.shown.click()
    bench.settle()
    assert bench.stage.ground.names() == {"scan-1"}
    assert bench.layout.scan("scan-2").pose is not None
    card.join.pick.click()
    card.scans.out.click()
    assert bench.desk.tool == "", "there is no scan left to pick targets on"
    assert [scan.id for scan in bench.layout.scans] == ["scan-1"]
    assert not card.join.isVisible()
    bench.document.undo()
    assert len(bench.layout.scans) == 2


def test_a_pick_for_the_axes_on_a_joined_scan_counts_for_the_one_that_carries_it(
    open_bench: Open, qtbot: QtBot
) -> None:
    bench, card = begun(open_bench, qtbot)
    joined_by_hand(bench)
    card.join.join.click()
    # The carrying scan is put away, so that the click meets the joined one.
    bench.desk.change("away", lambda layout: edits.change_scan(layout, "scan-1", shown=False))
    bench.desk.go_to("axes")
    bench.desk.use_tool("pick level")
    at = on_floor(*PLACES[0])
    click_at(bench, at)
    assert bench.layout.scan("scan-2").picks == ()
    (pick,) = bench.layout.scan("scan-1").picks
    assert pick.at_mm == pytest.approx(at, abs=3.0)
