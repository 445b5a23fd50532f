"""A chosen finding of the way out: the vessel is drawn at the place on its way where the gap is least."""

import math

import numpy as np
import pytest

from app.stage.bench import Bench
from floorpan.checks import Finding
from floorpan.derive.lifting import Lifting
from floorpan.frames import Vector
from floorpan.items import CupHolder, Vessel
from floorpan_app.stage.on_its_way import on_its_way
from floorpan_app.standing import standing

pytestmark = pytest.mark.real_view

AT = "vessel-1.place"
_BEFORE_MM = 4.0


def of_the_way(bench: Bench, *, by_hand: bool) -> list[Finding]:
    """Findings of the way out that were measured somewhere."""
    mover = "vessel-1.hand" if by_hand else "vessel-1"
    return [
        one
        for one in bench.judging.findings
        if one.check.startswith("lift-out") and one.subjects[0] == mover and one.at_mm is not None
    ]


def base(bench: Bench) -> np.ndarray:
    """Where the base of the drawn vessel stands."""
    [body] = [one.body for name, one in bench.stage._contents.held().items() if name == "vessel-1.vessel"]
    shifts = {solid.pose.shift_mm for solid in body}
    assert len(shifts) == 1
    return np.array(shifts.pop())


def test_the_drawn_vessel_just_takes_the_finding_s_nearest_point(small: Bench) -> None:
    """Round about its axis: no farther beside it than the outline is wide at that height; a little before, it is."""
    [vessel], [holder] = small.layout.of(Vessel), small.layout.of(CupHolder)
    scene = small.stage.scene()
    way = Lifting(scene.layout, scene.memory).way(vessel, holder, "lifting")
    stood = base(small)
    found = of_the_way(small, by_hand=False)
    assert len(found) > 1
    for one in found:
        small.desk.choose_finding(one.id)
        assert dict(small.stage.state)[AT] == "lifting"
        at = base(small)
        assert one.at_mm is not None
        # Within the room of a facet, and of a step of a millimetre straight up.
        assert beside(vessel, one.at_mm[0], at) <= 1.5
        gone = at[2] - stood[2] + math.hypot(*(at - stood)[:2])
        if gone > _BEFORE_MM:
            before = way.at((gone - _BEFORE_MM) / way.length_mm)
            assert beside(vessel, one.at_mm[0], np.array([before.x_mm, before.y_mm, before.z_mm])) > 0.0
    small.desk.show_stops({AT: "in"})
    assert base(small) == pytest.approx(stood)


def beside(vessel: Vessel, point: Vector, at: np.ndarray) -> float:
    """How far a point is outside a vessel that stands at a place, level; without end above and below it."""
    heights, radii = (np.array(side) for side in zip(*vessel.profile, strict=True))
    x, y, z = np.subtract(point, at)
    if not -0.1 <= z <= heights[-1] + 0.1:
        return math.inf
    return math.hypot(x, y) - float(np.interp(z, heights, radii))


def test_the_place_is_on_the_way_and_differs_with_the_finding(small: Bench) -> None:
    [vessel], [holder] = small.layout.of(Vessel), small.layout.of(CupHolder)
    scene = small.stage.scene()
    way = Lifting(scene.layout, scene.memory).way(vessel, holder, "lifting")
    stops = set()
    for one in of_the_way(small, by_hand=False):
        small.desk.choose_finding(one.id)
        at = base(small)
        gone = np.subtract(at, (way.from_place.x_mm, way.from_place.y_mm, way.from_place.z_mm))
        level = math.hypot(gone[0], gone[1])
        assert 0.0 <= gone[2] <= way.up_mm + 1e-6
        assert level <= way.level_mm + 1e-6
        assert level < 1e-6 or gone[2] == pytest.approx(way.up_mm), "straight up first, then level"
        stops.add((round(gone[2], 1), round(level, 1)))
    assert len(stops) > 1, "not always over the well"


def test_the_hand_is_drawn_where_it_is_the_hand_s_gap(small: Bench) -> None:
    one = of_the_way(small, by_hand=True)[0]
    small.desk.choose_finding(one.id)
    assert "vessel-1.hand" in small.view.scene.names()
    small.desk.choose_finding(of_the_way(small, by_hand=False)[0].id)
    assert "vessel-1.hand" not in small.view.scene.names()


def test_of_any_other_finding_or_state_nothing_is_moved(small: Bench) -> None:
    scene = small.stage.scene()
    lifted = of_the_way(small, by_hand=False)[0]
    here = standing(small.layout, ())
    assert on_its_way(scene, here, lifted) == {}, "the car does not stand so"
    assert on_its_way(scene, here, None) == {}
    away = standing(small.layout, lifted.state)
    assert set(on_its_way(scene, away, lifted)) == {"vessel-1"}
    other = next(one for one in small.judging.findings if one.check == "reach")
    assert on_its_way(scene, away, other) == {}
