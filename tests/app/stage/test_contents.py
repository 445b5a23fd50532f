"""What the picture holds is what the layout says, in the shown state; only what changed is touched."""

from dataclasses import replace

import numpy as np
import pytest
from PySide6.QtWidgets import QApplication

from app.stage.bench import Bench
from app.stage.conftest import RAW, Open
from core.small_case import small_layout
from floorpan import edits
from floorpan.frames import Pose
from floorpan.items import Shifter, gate_table
from floorpan.layout import Box, Layout
from floorpan_app.viewport.scene import height_of
from floorpan_app.viewport.thing import Thing

pytestmark = pytest.mark.real_view

STANDING = {
    "scan-1",
    "seat-1.cushion",
    "seat-1.back",
    "seat-1.bolster left",
    "seat-1.bolster right",
    "shifter-1.box",
    "shifter-1.lever",
    "shifter-1.knob",
    "cup-holder-1.well",
    "vessel-1.vessel",
    "console-1.shell",
    "driver-1.hand",
    "driver-1.forearm",
    "driver-1.upper arm",
}
SITTING = {"driver-1.thigh left", "driver-1.thigh right", "driver-1.torso"}


def things(bench: Bench) -> dict[str, Thing]:
    return dict(bench.view.scene._things)


def middle(bench: Bench, name: str) -> np.ndarray:
    points = things(bench)[name].outermost()
    return np.asarray((points.min(axis=0) + points.max(axis=0)) / 2)


def names(bench: Bench) -> set[str]:
    return {name for name in bench.view.scene.names() if not name.startswith("word.")}


def test_everything_of_a_layout_is_in_the_picture(small: Bench) -> None:
    assert names(small) == STANDING
    small.desk.go_to("driver")
    assert names(small) == STANDING | SITTING
    assert {f"word.{word}" for word in ("driver", "front")} <= small.view.scene.names()


def test_what_is_added_comes_and_what_is_removed_goes(small: Bench) -> None:
    small.desk.change("take out", lambda layout: edits.remove(layout, "vessel-1"))
    assert names(small) == STANDING - {"vessel-1.vessel"}
    small.document.undo()
    assert names(small) == STANDING


def test_a_preview_moves_only_what_moves_and_only_its_matrix(small: Bench) -> None:
    before = things(small)
    matrices = {name: np.array(thing.matrix @ thing.parts[0].pose) for name, thing in before.items()}
    small.desk.preview(lambda layout: edits.shift(layout, "cup-holder-1", (12.0, -7.0, 0.0)))
    moved = set()
    for name, thing in things(small).items():
        assert thing is before[name], f"{name} was made anew"
        step = thing.matrix @ thing.parts[0].pose - matrices[name]
        if np.abs(step).max() > 0.0:
            moved.add(name)
            assert step[:3, 3] == pytest.approx([12.0, -7.0, 0.0])
    assert moved == {"cup-holder-1.well", "vessel-1.vessel"}


def test_the_knob_stands_where_the_gate_has_the_shown_gear(small: Bench) -> None:
    shifter = small.layout.of(Shifter)[0]
    for place in gate_table(shifter):
        small.desk.show_stops({"shifter-1.gear": place.gear})
        assert middle(small, "shifter-1.knob") == pytest.approx(place.knob_mm, abs=0.3)
        assert middle(small, "driver-1.hand") == pytest.approx(place.knob_mm, abs=0.3)


def test_the_arm_joins_hand_and_shoulder(small: Bench) -> None:
    """The forearm ends a wrist from the grip; both limbs meet in the elbow."""
    driver = small.stage._writing.driver
    assert driver is not None
    shoulder, elbow, wrist = (np.array(joint) for joint in driver.chain[1:4])
    limbs = dict(driver.arm)
    for name, (start, end) in (("forearm", (elbow, wrist)), ("upper arm", (shoulder, elbow))):
        ends = limbs[f"driver-1.{name}"][0].points()
        # A forearm is a disc at the elbow and a point at the wrist, an upper arm a rod.
        if name == "forearm":
            ends = np.array([ends[:16].mean(axis=0), ends[-1]])
        assert ends == pytest.approx(np.array([start, end]), abs=2e-3)


def test_a_scan_area_a_placed_thing_stands_for_is_left_out_on_the_steps_that_show_the_thing(
    open_bench: Open,
) -> None:
    layout = small_layout(RAW)
    box = Box(least_mm=(200.0, -700.0, -10.0), greatest_mm=(700.0, -100.0, 10.0))
    layout = edits.add_area(layout, "scan-1", "seat", box, "seat-1")
    bench = open_bench(layout, {RAW.sha256: RAW})
    assert height_of(bench.view.scene, "scan-1", 450.0, -400.0) is None
    assert height_of(bench.view.scene, "scan-1", 450.0, 400.0) == pytest.approx(0.0)
    assert "scan-1.seat" not in bench.view.scene.names()
    bench.desk.go_to("scan")
    bench.settle()
    assert "scan-1.seat" in bench.view.scene.names()
    assert not things(bench)["seat-1.cushion"].shown


def test_the_crop_is_cut_exactly_where_it_is(small: Bench) -> None:
    box = Box(least_mm=(-333.0, -222.0, -50.0), greatest_mm=(444.0, 555.0, 50.0))
    small.desk.change("crop", lambda layout: edits.crop(layout, "scan-1", box))
    small.settle()
    bounds = np.array(things(small)["scan-1"].parts[0].form.shape.bounds).reshape(3, 2)
    assert bounds[:2] == pytest.approx(np.array([[-333.0, 444.0], [-222.0, 555.0]]))
    small.desk.go_to("scan")
    small.desk.use_tool("crop box")
    small.settle()
    outside = np.array(things(small)["scan-1.outside"].parts[0].form.shape.bounds).reshape(3, 2)
    assert outside[:2] == pytest.approx(np.array([[-700.0, 700.0], [-700.0, 700.0]]))
    small.desk.use_tool("")
    small.settle()
    assert "scan-1.outside" not in small.view.scene.names()


def test_until_a_scan_has_a_pose_it_lies_in_its_own_axes_and_nobody_speaks_of_sides(
    open_bench: Open,
) -> None:
    layout = edits.change_scan(small_layout(RAW), "scan-1", pose=None)
    bench = open_bench(layout, {RAW.sha256: RAW})
    bench.desk.go_to("scan")
    bench.settle()
    assert np.array(things(bench)["scan-1"].parts[0].form.shape.bounds).reshape(3, 2)[0] == pytest.approx(
        [-700.0, 700.0]
    )
    sides = bench.view.overlay._sides
    assert sides is not None
    assert {sides.front, sides.rear, sides.left, sides.right} == {"side A", "side B", "side C", "side D"}
    assert not {name for name in bench.view.scene.names() if name.startswith("word.")}
    assert bench.marks.gaps == ()
    pose = Pose.turned((0.0, 0.0, 1.0), 90.0)
    bench.desk.change("set axes", lambda held: edits.set_axes(held, "scan-1", pose))
    bench.settle()
    sides = bench.view.overlay._sides
    assert sides is not None
    assert sides.left == "driver side"
    assert bench.stage.ground.pose == pose


def test_another_side_of_drive_names_the_sides_the_other_way_round(small: Bench) -> None:
    small.desk.change("sit right", lambda layout: edits.set_driver_side(layout, "right"))
    sides = small.view.overlay._sides
    assert sides is not None
    assert (sides.left, sides.right) == ("passenger side", "driver side")


def test_words_put_things_out_of_sight_and_back(small: Bench) -> None:
    words = {word.id: word.on for word in small.stage.showing()}
    assert all(words.values())
    assert {"scan", "unseen", "seats", "driver", "controls", "cup", "console"} <= set(words)
    small.stage.show("driver", False)
    assert not things(small)["driver-1.hand"].shown
    assert things(small)["shifter-1.knob"].shown
    small.desk.preview(lambda layout: edits.shift(layout, "shifter-1", (5.0, 0.0, 0.0)))
    assert not things(small)["driver-1.hand"].shown
    small.desk.preview(lambda layout: edits.change(layout, "shifter-1", lever_mm=260.0))
    assert not things(small)["driver-1.hand"].shown
    small.stage.show("driver", True)
    assert things(small)["driver-1.hand"].shown


def test_on_the_steps_of_the_scan_what_is_placed_is_out_of_sight_until_asked_for(small: Bench) -> None:
    small.desk.go_to("axes")
    small.settle()
    assert not things(small)["shifter-1.box"].shown
    assert {word.id: word.on for word in small.stage.showing()}["placed"] is False
    small.stage.show("placed", True)
    small.settle()
    assert things(small)["shifter-1.box"].shown


def test_the_console_is_see_through_before_its_step_and_while_space_is_held(small: Bench) -> None:
    def opacity() -> float:
        return things(small)["console-1.shell"].manner.opacity

    assert opacity() == pytest.approx(0.3)
    small.desk.go_to("console")
    assert opacity() == 1.0
    small.stage.see_through(True)
    assert opacity() == pytest.approx(0.3)
    small.stage.see_through(False)
    assert opacity() == 1.0


def test_another_project_takes_the_place_of_the_one_before(small: Bench) -> None:
    small.desk.select("vessel-1")
    small.judging.use({})
    small.document.replace_all(Layout(title="Empty"))
    small.desk.start_over("scan", {})
    QApplication.processEvents()
    assert small.view.scene.names() == frozenset()
    assert small.marks.gaps == ()
    small.settle()


def test_a_scan_whose_file_is_gone_leaves_the_rest_standing(open_bench: Open) -> None:
    bench = open_bench(small_layout(RAW), {})
    assert names(bench) == STANDING - {"scan-1"}


def test_naming_a_scan_draws_nothing_anew(small: Bench) -> None:
    before = things(small)["scan-1"]
    small.desk.change("name", lambda layout: edits.change_scan(layout, "scan-1", name="bare floor"))
    small.settle()
    assert things(small)["scan-1"] is before


def test_a_second_driver_seat_changes_nothing_of_the_first(small: Bench) -> None:
    seat = replace(small.layout.seats[0], id="new", name="Other seat")
    small.desk.change("place", lambda layout: edits.add(layout, seat)[0])
    assert "seat-2.cushion" in names(small)
    assert names(small) >= STANDING
