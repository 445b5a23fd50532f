"""The sample car on the stage: what it shows, and a drag through it."""

import numpy as np
import pytest
from PySide6.QtCore import QPoint

from app.stage.bench import Bench
from app.stage.conftest import Open
from core.sample_case import SampleCase
from floorpan_app.stage.turning import way_to_see

pytestmark = pytest.mark.real_view


@pytest.fixture
def car(open_bench: Open, sample: SampleCase) -> Bench:
    return open_bench(sample.layout, sample.store)


def shown(bench: Bench) -> set[str]:
    return {name for name, thing in bench.view.scene._things.items() if thing.shown}


def test_seats_stand_in_for_what_was_scanned_of_them_and_hold_the_bottle_to_its_ring(
    car: Bench, sample: SampleCase
) -> None:
    names = shown(car)
    assert {"scan-1", "scan-1.dash", "scan-1.wheel-rim", "scan-1.handbrake", "scan-1.unseen"} <= names
    assert not {"scan-1.seat", "scan-1.seat-2"} & names
    # The picture is cut to the crop, the gaps are measured on 100 mm more.
    crop = sample.layout.scans[0].crop
    assert crop is not None
    floor = car.view.scene._things["scan-1"].outermost()
    assert floor[:, 0].max() <= crop.greatest_mm[0] + 1e-6
    assert car.judging.bench.floor(car.layout).mesh.bounds[1, 0] > crop.greatest_mm[0] + 50.0  # type: ignore[union-attr]
    # The hand meets the bottle in reverse only: neutral is shown, so both are outlines where they meet.
    tight = car.marks.gaps[0]
    assert (tight.verdict, tight.ring, tight.part) == ("hits", True, "bottle")
    assert len([ghost for ghost in car.marks.ghosts if ghost.stroke == "dashed"]) == 1
    assert len(car.marks.gaps) <= 7
    car.desk.choose_finding(car.judging.findings[0].id)
    assert [ghost for ghost in car.marks.ghosts if ghost.stroke == "dashed"] == []
    assert car.marks.lit == {car.judging.findings[0].id}
    car.stage.show("cup", False)
    assert len([ghost for ghost in car.marks.ghosts if ghost.stroke == "dashed"]) == 1
    assert car.marks.gaps[0].ring


def test_turning_to_a_finding_shows_its_place(car: Bench) -> None:
    for finding in (car.judging.findings[0], *car.judging.findings[-3:]):
        car.view.camera.see_from("above")
        car.stage.turn_to(finding)
        assert finding.at_mm is not None
        a, b = finding.at_mm if finding.is_gap else (finding.at_mm[1], finding.at_mm[1])
        middle = (np.array(a) + np.array(b)) / 2
        assert car.view.camera.eye.target_mm == pytest.approx(tuple(middle), abs=1e-6)
        # Where any way shows it, the one that is taken does.
        assert way_to_see(car.view.scene, car.view.camera.eye, a, b) is None


def test_a_drag_through_the_car_is_judged_as_it_goes_and_is_one_entry(car: Bench, sample: SampleCase) -> None:
    car.stage.show("driver", False)
    car.look((330.0, 20.0, 330.0), heading=-115.0, rise=-18.0, distance=1500.0)
    bottle = np.array([405.0, 70.0, 330.0])
    at = car.at((bottle[0], bottle[1], bottle[2]))
    car.click(at)
    assert car.desk.selection == "vessel-1"
    end = at + QPoint(-60, 12)
    car.press(at)
    car.glide(at, end)
    assert car.document.previewing
    # The worst of before is judged first: the hand no longer meets it in reverse.
    reverse = next(
        f for f in car.judging.findings if f.check == "hand-vessel" and dict(f.state)["shifter-1.gear"] == "R"
    )
    assert reverse.value is not None
    assert reverse.value > 0.0
    car.release(end)
    assert car.entries() == 1
    moved = car.layout.thing("cup-holder-1").place
    stood = sample.layout.thing("cup-holder-1").place
    assert moved.x_mm - stood.x_mm > 30.0
    assert moved.z_mm == stood.z_mm
    car.document.undo()
    assert car.layout.thing("cup-holder-1").place == stood
    car.settle()
    assert car.judging.findings[0].verdict == "hits"
