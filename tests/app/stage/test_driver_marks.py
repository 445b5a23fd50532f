"""The Driver step's picture: the chain of joints, how far it reaches, where the elbow goes, the published plane."""

import math
from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import pytest

from app.stage.bench import Bench
from floorpan import edits
from floorpan.derive import elbow_in, reach_in
from floorpan.driver import Person, reach
from floorpan.driver.sitting import sit
from floorpan.frames import Vector
from floorpan.items import Shifter, h_point
from floorpan.layout import record_of
from floorpan_app.person_in_hand import take_person
from floorpan_app.stage import words
from floorpan_app.viewport.marks import Path

HEEL: Vector = (-250.0, -400.0, 20.0)
WHEEL: Vector = (60.0, -400.0, 620.0)


@pytest.fixture
def seated(small: Bench) -> Iterator[Bench]:
    """The small car in the Driver step, its seat near enough that every gear is reached."""
    small.desk.change("nearer", lambda layout: edits.shift(layout, "seat-1", (-200.0, 0.0, 0.0)))
    small.desk.go_to("driver")
    small.settle()
    yield small
    take_person(small.desk, "")


def said(bench: Bench) -> dict[str, Vector]:
    return {word.text: word.at_mm for word in bench.marks.words}


def arcs(bench: Bench) -> dict[str, Path]:
    """Tight by its solid stroke, loose by its dashes."""
    return {path.stroke: path for path in bench.marks.paths if path.role == "accent"}


def chain(bench: Bench) -> np.ndarray:
    driver = bench.stage._writing.driver
    assert driver is not None
    return np.array(driver.chain)


def test_the_chain_is_drawn_from_the_hip_to_the_grip_and_named(seated: Bench) -> None:
    layout, shifter = seated.layout, seated.layout.of(Shifter)[0]
    grip = record_of(shifter).grips(shifter, {"gear": "N"})[0].at_mm
    hip, shoulder, elbow, wrist, end = chain(seated)
    assert end == pytest.approx(grip)
    person = layout.people[0]
    assert math.dist(shoulder, elbow) == pytest.approx(person.upper_arm_mm)
    assert math.dist(elbow, end) == pytest.approx(person.forearm_mm())
    named = said(seated)
    assert named[words.SEAT_REFERENCE_POINT] == pytest.approx(h_point(layout.seats[0], 6))
    assert named[words.SHOULDER] == pytest.approx(shoulder)
    assert named[words.WRIST] == pytest.approx(wrist)
    rings = [joint.at_mm for joint in seated.marks.joints if not joint.small]
    np.testing.assert_allclose(rings, [hip, shoulder, elbow, wrist])
    lines = [path for path in seated.marks.paths if path.points_mm.shape == (5, 3)]
    assert len(lines) == 1
    np.testing.assert_allclose(lines[0].points_mm, chain(seated))


def test_the_elbow_is_the_one_found_clear_and_its_angle_follows_the_gear(seated: Bench) -> None:
    layout, shifter = seated.layout, seated.layout.of(Shifter)[0]
    seat, person = layout.seats[0], layout.people[0]
    shown = set()
    for gear in ("N", "1", "2"):
        seated.desk.show_stops({"shifter-1.gear": gear})
        state = seated.stage.state
        found = elbow_in(seated.stage.scene(), person, seat, shifter, state)
        assert found is not None
        assert chain(seated)[2] == pytest.approx(found.posed.elbow_mm)
        told = reach_in(person, seat, shifter, state, "right")
        # By the law of cosines, from the places drawn.
        _, shoulder, elbow, _, grip = chain(seated)
        one, two = (shoulder - elbow) / person.upper_arm_mm, (grip - elbow) / person.forearm_mm()
        angle = math.degrees(math.acos(one @ two))
        text = f"elbow {round(angle)}\u00b0 \u00b1 {math.ceil(told.elbow_u_deg - 1e-6)}"
        assert said(seated)[text] == pytest.approx(elbow)
        shown.add(text)
    assert len(shown) == 3


def test_on_the_arcs_the_arm_has_nothing_to_spare_and_their_words_say_how_long_it_is(seated: Bench) -> None:
    layout = seated.layout
    person, seat = layout.people[0], layout.seats[0]
    sitting = sit(person, h_point(seat, 6), seat.back_deg)
    drawn = arcs(seated)
    for belts, stroke in (("tight", "solid"), ("loose", "dashed")):
        for x, y, z in drawn[stroke].points_mm[::9]:
            at = (float(x), float(y), float(z))
            found = reach(person, sitting.h_point, sitting.back_deg, belts, "right", at)  # type: ignore[arg-type]
            assert found.spare_mm == pytest.approx(0.0, abs=0.01)
    assert f"belts tight, {person.shoulder_to_grip_mm:.0f} along the arm" in said(seated)
    assert any(text.startswith("belts loose, ") for text in said(seated))
    seated.desk.use_system("in")
    # 665 mm is 26 and 3/16 inches to a sixteenth.
    assert any(text.startswith("belts tight, 26") and " in along" in text for text in said(seated))


def test_every_gear_in_reach_has_a_dot_at_its_elbow(seated: Bench) -> None:
    layout, shifter = seated.layout, seated.layout.of(Shifter)[0]
    dots = [joint.at_mm for joint in seated.marks.joints if joint.small]
    found = []
    for gear in ("1", "2", "3", "4", "5", "R"):
        state = tuple(sorted({**dict(seated.stage.state), "shifter-1.gear": gear}.items()))
        one = elbow_in(seated.stage.scene(), layout.people[0], layout.seats[0], shifter, state)
        found += [] if one is None else [one.posed.elbow_mm]
    assert len(found) >= 3
    np.testing.assert_allclose(sorted(dots), sorted(found))


def test_another_driver_is_drawn_once_looked_at(seated: Bench) -> None:
    other = Person(id="new", name="Second", seat_id="seat-1", shoulder_to_grip_mm=700.0, helmet_mm=30.0)
    before = chain(seated)
    seated.desk.change("second", lambda layout: edits.add_person(layout, other)[0])
    assert chain(seated) == pytest.approx(before), "the design driver is drawn first"
    take_person(seated.desk, "driver-2")
    assert seated.stage._contents.names_of("driver-1") == frozenset()
    held = seated.stage._contents.held()
    assert "driver-2.forearm" in held
    assert "belts tight, 700 along the arm" in said(seated)
    take_person(seated.desk, "")
    assert "driver-1.forearm" in seated.stage._contents.held()


def test_out_of_reach_the_arm_is_straight_and_says_so(small: Bench) -> None:
    small.desk.change("far", lambda layout: edits.shift(layout, "seat-1", (400.0, 0.0, 0.0)))
    small.desk.go_to("driver")
    small.settle()
    assert words.ELBOW_STRAIGHT in said(small)


def test_words_put_chain_and_reach_out_of_sight(seated: Bench) -> None:
    assert {"driver", "reach"} <= {word.id for word in seated.stage.showing()}
    seated.stage.show("reach", False)
    assert arcs(seated) == {}
    assert words.SHOULDER in said(seated)
    assert not any(joint.small for joint in seated.marks.joints)
    seated.stage.show("driver", False)
    assert words.SHOULDER not in said(seated)
    assert seated.marks.joints == ()
    seated.stage.show("reach", True)
    assert set(arcs(seated)) == {"solid", "dashed"}
    seated.stage.show("driver", True)
    seated.desk.go_to("controls")
    assert words.SHOULDER not in said(seated)
    assert arcs(seated) == {}
    assert "reach" not in {word.id for word in seated.stage.showing()}


def test_heel_wheel_and_the_published_plane_are_drawn_once_typed(seated: Bench) -> None:
    assert words.HEEL_POINT not in said(seated)
    assert "wheel" not in seated.stage._contents.held()
    seated.desk.change(
        "wheel", lambda layout: edits.set_driving_position(layout, heel_mm=HEEL, wheel_mm=WHEEL)
    )
    assert said(seated)[words.HEEL_POINT] == HEEL
    rim = np.concatenate([solid.points() for solid in seated.stage._contents.held()["wheel"].body])
    np.testing.assert_allclose(np.linalg.norm(rim - WHEEL, axis=1), (360.0 - 30.0) / 2, atol=1e-9)
    top = rim[np.argmax(rim[:, 2])]
    assert top[0] < WHEEL[0], "its top leans forward"
    lean = math.degrees(math.atan2(WHEEL[0] - top[0], top[2] - WHEEL[2]))
    assert lean == pytest.approx(seated.layout.driving_position.wheel_deg, abs=1e-6)
    corner = said(seated)[words.PUBLISHED_PLANE]
    # By hand: 800 over the seat reference point, 400 outboard of it, which is left in this car.
    x, y, z = h_point(seated.layout.seats[0], 6)
    assert corner[1:] == pytest.approx((y - 400.0, z + 800.0))
    assert corner[0] <= x
    rims = [path for path in seated.marks.paths if path.role == "ink2" and path.points_mm.shape == (5, 3)]
    assert len(rims) == 1
    seated.stage.show("driver", False)
    assert seated.stage._contents.is_hidden("wheel")
    seated.stage.show("driver", True)


def test_a_wheel_that_was_set_down_is_the_only_one_that_is_drawn(seated: Bench) -> None:
    seated.desk.change("wheel", lambda layout: edits.set_driving_position(layout, wheel_mm=WHEEL))
    assert "wheel" in seated.stage._contents.held()
    taken = edits.wheel_taken(seated.layout)
    assert taken is not None
    seated.desk.change("set down", lambda layout: edits.add(layout, taken)[0])
    assert "wheel" not in seated.stage._contents.held()
    assert "wheel-1.rim" in seated.stage._contents.held()
    seated.desk.document.undo()
    assert "wheel" in seated.stage._contents.held()


def test_a_knob_outside_the_published_tables_is_not_covered(seated: Bench) -> None:
    seated.desk.change(
        "wheel", lambda layout: edits.set_driving_position(layout, heel_mm=HEEL, wheel_mm=WHEEL)
    )
    assert not any(text.startswith("knob not covered") for text in said(seated))
    seated.desk.change("aside", lambda layout: edits.shift(layout, "shifter-1", (0.0, 260.0, 0.0)))
    assert said(seated)["knob not covered: too far inboard"] == pytest.approx(chain(seated)[4])


def test_while_the_shifter_moves_chain_arcs_and_elbow_follow(seated: Bench) -> None:
    before = chain(seated)
    arc = arcs(seated)["solid"].points_mm
    seated.desk.preview(lambda layout: edits.shift(layout, "shifter-1", (15.0, -10.0, 0.0)))
    assert chain(seated)[4] - before[4] == pytest.approx([15.0, -10.0, 0.0])
    assert np.abs(chain(seated)[2] - before[2]).max() > 1.0
    assert np.abs(arcs(seated)["solid"].points_mm - arc).max() > 0.5
    seated.document.drop_preview()
    assert chain(seated) == pytest.approx(before)


def test_labels_keep_off_each_other_joints_and_tickets(seated: Bench) -> None:
    """Painted at once in each fixed view: no paper lies over another or over a joint."""
    from PySide6.QtGui import QImage, QPainter

    from floorpan_app.viewport import word_painting
    from floorpan_app.viewport.joint_painting import joint_rooms

    boxes: list = []
    plain = word_painting.on_paper
    for seen in ("passenger", "driver"):
        seated.view.camera.see_from(seen)
        boxes.clear()
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(
                word_painting, "on_paper", lambda *args, **how: (boxes.append(args[1]), plain(*args, **how))
            )
            picture = QImage(seated.view.size(), QImage.Format.Format_ARGB32)
            painter = QPainter(picture)
            seated.view.overlay.paint(painter)
            painter.end()
        assert len(boxes) == len(seated.marks.words) >= 6
        taken = [*joint_rooms(seated.marks.joints, seated.view.projection())]
        taken += list(seated.view.overlay.ticket_rooms().values())
        for number, box in enumerate(boxes):
            assert not any(box.intersects(other) for other in [*boxes[:number], *taken])


def test_a_passenger_alone_has_no_chain(seated: Bench) -> None:
    alone = (replace(seated.layout.people[0], role="passenger"),)
    seated.desk.change("nobody drives", lambda layout: replace(layout, people=alone))
    assert seated.marks.joints == ()
    assert arcs(seated) == {}
