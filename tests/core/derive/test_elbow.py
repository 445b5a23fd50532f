"""The elbow over all gears: on its two spheres, mirrored in a mirrored car, held out by a bolster, shut in."""

import math
from dataclasses import replace

import numpy as np
import pytest

from core.small_case import level_floor, raw_scan, small_layout
from floorpan.console import Envelope, Station
from floorpan.derive import ElbowAt, Scene, elbow, elbow_in, elbow_locus, reach_from, sitting_in
from floorpan.derive.memory import Memory
from floorpan.driver import Person, upper_arm
from floorpan.driver.limbs import FOREARM_RADIUS_MM
from floorpan.geometry.clearance import body_gap
from floorpan.geometry.solids import Solid, capsule
from floorpan.items import Place, Seat, Shifter
from floorpan.items.shifter import GEAR
from floorpan.items.states import State, state_of
from floorpan.layout import Layout, record_of

PERSON = Person(id="driver-1", seat_id="seat-1", elbow_most_deg=170.0)
SEAT = Seat(id="seat-1", place=Place(x_mm=500.0, y_mm=-330.0, z_mm=250.0), stands_on="none")
BULGED = replace(SEAT, bulge_mm=40.0, back_bolster_mm=120.0)
SHIFTER = Shifter(id="shifter-1", place=Place(x_mm=200.0, z_mm=120.0), stands_on="none")
EMPTY = replace(small_layout(raw_scan(level_floor(cells=4))), items=())


def car(*, seat: Seat = SEAT, person: Person = PERSON, console: Envelope | None = None) -> Layout:
    items = (SHIFTER,) if console is None else (SHIFTER, console)
    return replace(EMPTY, seats=(seat,), people=(person,), items=items)


def scene_of(layout: Layout) -> Scene:
    return Scene(layout=layout, floors=(), memory=Memory())


def standing(notch: str = "6", belts: str = "tight", gear: str = "N") -> State:
    return state_of({"seat-1.notch": notch, "driver-1.belts": belts, f"shifter-1.{GEAR}": gear})


def locus(layout: Layout, belts: str = "tight") -> tuple[ElbowAt, ...]:
    return elbow_locus(
        scene_of(layout), layout.people[0], layout.seats[0], layout.of(Shifter)[0], standing(belts=belts)
    )


def wall(height_mm: float, x_mm: float, length_mm: float, y_mm: float, width_mm: float) -> Envelope:
    stations = tuple(
        Station(x_mm=x, width_mm=width_mm, height_mm=height_mm, side_lean_deg=0.0) for x in (0.0, length_mm)
    )
    return Envelope(id="console-1", place=Place(x_mm=x_mm, y_mm=y_mm), stands_on="none", stations=stations)


@pytest.mark.parametrize("belts", ["tight", "loose"])
def test_every_gear_has_its_elbow_on_both_spheres(belts: str) -> None:
    found = locus(car(), belts)
    stops = record_of(SHIFTER).axes(SHIFTER)[0].stops
    assert [one.gear for one in found] == list(stops)
    for one in found:
        grip = record_of(SHIFTER).grips(SHIFTER, {GEAR: one.gear})[0].at_mm
        assert math.dist(one.posed.shoulder_mm, one.posed.elbow_mm) == pytest.approx(PERSON.upper_arm_mm)
        assert math.dist(one.posed.elbow_mm, grip) == pytest.approx(PERSON.forearm_mm())
        reached = reach_from(sitting_in(PERSON, SEAT, 6), belts, "right", grip)  # type: ignore[arg-type]
        assert one.posed.elbow_deg == pytest.approx(reached.elbow_deg), "the circle does not change the bend"


def test_gears_out_of_reach_are_left_out() -> None:
    assert locus(car(seat=replace(SEAT, place=replace(SEAT.place, x_mm=900.0)))) == ()
    some = locus(car(seat=replace(SEAT, place=replace(SEAT.place, x_mm=620.0))))
    assert [one.gear for one in some] == ["2", "4", "R"]


def test_a_mirrored_car_has_the_mirrored_elbow() -> None:
    layout = car(seat=BULGED)
    there = replace(layout.seats[0], place=replace(SEAT.place, y_mm=330.0))
    mirrored = replace(layout, seats=(there,), driver_side="right")
    shifter = layout.of(Shifter)[0]
    for gear in ("N", "1", "4"):
        # The gate is not mirrored with the car: the seat goes to where the knob stands as it did.
        knob = record_of(shifter).grips(shifter, {GEAR: gear})[0].at_mm
        other = replace(there, place=replace(there.place, y_mm=330.0 + 2.0 * knob[1]))
        car_there = replace(mirrored, seats=(other,))
        one = elbow_in(scene_of(layout), PERSON, layout.seats[0], shifter, standing(gear=gear))
        two = elbow_in(scene_of(car_there), PERSON, other, shifter, standing(gear=gear))
        assert one is not None
        assert two is not None
        np.testing.assert_allclose(
            np.array(two.posed.elbow_mm) - [0.0, knob[1], 0.0],
            (np.array(one.posed.elbow_mm) - [0.0, knob[1], 0.0]) * [1.0, -1.0, 1.0],
            atol=1e-4,
        )
        assert [(-b, -a) for a, b in reversed(one.clear_deg)] == [
            (pytest.approx(a, abs=1e-4), pytest.approx(b, abs=1e-4)) for a, b in two.clear_deg
        ]


def to_things(scene: Scene, one: ElbowAt, state: State) -> float:
    """The gap of the arm to bolsters and console by the exact distance of rounded solids, itself tested elsewhere."""
    names = ["seat-1.bolster left", "seat-1.bolster right", *(c.id for c in scene.layout.of(Envelope))]
    # The wires know a forearm that is full as far as the wrist.
    ends = np.array(one.posed.elbow_mm), np.array(one.posed.wrist_mm)
    arm = (Solid(capsule(*ends, FOREARM_RADIUS_MM)), *upper_arm(one.posed))
    return min(body_gap(arm, scene.body(name, state)).distance_mm for name in names)


def test_a_bolster_bulged_outward_holds_the_elbow_out() -> None:
    """It gives way as far as it must and no farther; wires may let it dip 1.6 mm at most."""
    slim, state = scene_of(car()), standing()
    seen = scene_of(car(seat=BULGED))
    free, held = (elbow_in(scene, PERSON, scene.layout.seats[0], SHIFTER, state) for scene in (slim, seen))
    assert free is not None
    assert held is not None
    assert free.stopped_by == "nothing"
    assert held.stopped_by == "something in the way"
    assert held.clear_deg
    assert held.posed.elbow_mm[1] > free.posed.elbow_mm[1], "out, to the right"
    assert held.gap_mm >= 0.0
    exact = to_things(seen, held, state)
    assert -1.6 <= exact <= 0.1, "it leans on the bolster"
    assert held.gap_mm == pytest.approx(exact, abs=1.7)


def test_a_jacket_wants_its_room_as_well() -> None:
    for jacket_mm in (0.0, 10.0):
        scene = scene_of(car(seat=BULGED, person=replace(PERSON, jacket_mm=jacket_mm)))
        state = standing()
        found = elbow_in(scene, scene.layout.people[0], BULGED, SHIFTER, state)
        assert found is not None
        assert found.clear_deg
        assert to_things(scene, found, state) >= jacket_mm - 1.7
        assert found.gap_mm == pytest.approx(0.0, abs=0.01)


def test_a_wall_between_shoulder_and_knob_leaves_no_room() -> None:
    across = wall(height_mm=900.0, x_mm=400.0, length_mm=40.0, y_mm=-100.0, width_mm=1200.0)
    layout = car(console=across)
    found = elbow_in(scene_of(layout), PERSON, SEAT, SHIFTER, standing())
    assert found is not None
    assert found.clear_deg == ()
    assert found.stopped_by == "something in the way"
    assert found.gap_mm < 0.0
    free = elbow_in(scene_of(car()), PERSON, SEAT, SHIFTER, standing())
    assert free is not None
    assert found.posed == free.posed, "it is drawn as it would like to hang"


def test_wires_are_made_once_for_all_gears(monkeypatch: pytest.MonkeyPatch) -> None:
    made: list[object] = []
    plain = elbow.wires
    monkeypatch.setattr(elbow, "wires", lambda body, spacing: made.append(body) or plain(body, spacing))
    scene = scene_of(car(console=wall(100.0, 0.0, 300.0, 0.0, 160.0)))
    assert len(elbow_locus(scene, PERSON, SEAT, SHIFTER, standing())) > 5
    assert len(made) == 3
