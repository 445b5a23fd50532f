"""The shifting arm judged in every gear: a rod to a plane and to a cylinder in closed form, doubt by where it is."""

import math
from typing import Any

import numpy as np
import pytest

from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.checks import Finding, evaluate
from floorpan.checks.armrest import ELBOW_U_MM
from floorpan.checks.check import Reading
from floorpan.checks.finding import combined, verdict_of
from floorpan.checks.forearm import OfArm, elbow_share
from floorpan.checks.gaps import Between
from floorpan.derive import Bench, elbow_in
from floorpan.derive.arm_footing import arm_footings
from floorpan.derive.arms import limb
from floorpan.driver.arm import Arm
from floorpan.driver.limbs import FOREARM_RADIUS_MM, UPPER_ARM_RADIUS_MM, WRIST_RADIUS_MM
from floorpan.frames import Pose
from floorpan.geometry.solids import Solid, frustum
from floorpan.items import KnobPoint
from floorpan.items.states import stops_of
from floorpan.layout import Layout
from floorpan.limits import LIMITS
from floorpan.progress import finish
from floorpan.report.sentences import sentence

RAW = raw_scan(level_floor())


def near_knob(**person: Any) -> Layout:
    """The small case with the knob where the arm bends to it."""
    layout = edits.change_person(small_layout(RAW), "driver-1", notches_used=(6,), **person)
    return edits.move(layout, "shifter-1", x_mm=100.0, y_mm=-100.0, z_mm=200.0)


def judged(layout: Layout) -> tuple[Finding, ...]:
    return finish(evaluate(layout, Bench({RAW.sha256: RAW})))


def arm_of(layout: Layout, finding: Finding) -> Arm:
    scene = Bench({RAW.sha256: RAW}).scene(layout)
    found = elbow_in(scene, layout.people[0], layout.seats[0], layout.items[0], finding.state)  # type: ignore[arg-type]
    assert found is not None
    return found.posed


@pytest.mark.parametrize("jacket", [0.0, 12.0])
def test_forearm_over_a_level_floor_is_its_lower_ends_height_less_its_radius(jacket: float) -> None:
    """Closed form: a rod over a plane. Less the jacket all round."""
    layout = near_knob(jacket_mm=jacket)
    found = [one for one in judged(layout) if one.check == "forearm-scan" and one.value is not None]
    assert found
    for finding in found:
        posed = arm_of(layout, finding)
        elbow, wrist = np.array(posed.elbow_mm), np.array(posed.wrist_mm)
        rise = (wrist - elbow)[2]
        # A disc square to the arm hangs below its middle by its radius times the cosine of the arm's slope.
        hangs = (FOREARM_RADIUS_MM - WRIST_RADIUS_MM) * math.sqrt(1.0 - (rise / math.dist(elbow, wrist)) ** 2)
        low = min(elbow[2] - hangs, elbow[2] + rise / 3.0 - hangs, wrist[2])
        assert finding.value == pytest.approx(low - WRIST_RADIUS_MM - jacket, abs=0.4)


def test_every_gear_that_is_reached_is_looked_at_and_no_other() -> None:
    near = near_knob()
    gears = {stops_of(one.state, "shifter-1")["gear"] for one in judged(near) if one.check == "forearm-seat"}
    assert gears == {"N", "1", "2", "3", "4", "5", "R"}
    # Third taped 400 mm further ahead is out of reach: reach says so, and no arm is made up for it.
    typed = KnobPoint(gear="3", x_mm=-550.0, y_mm=0.0, z_mm=280.0)
    far = judged(edits.change(near, "shifter-1", knobs=(typed,)))
    assert {one.verdict for one in far if one.check == "reach" and ("shifter-1.gear", "3") in one.state} == {
        "short"
    }
    left = {stops_of(one.state, "shifter-1")["gear"] for one in far if one.check == "forearm-seat"}
    assert left == gears - {"3"}


def test_forearm_to_an_upright_vessel_in_closed_form() -> None:
    """A rod and a cylinder's rim: the level circle's nearest point to the rod by a fine search along both."""
    layout = near_knob()
    can = frustum(0.0, 400.0, 33.0, 33.0, sides=720)
    scene = Bench({RAW.sha256: RAW}).scene(layout)
    person, seat, shifter = layout.people[0], layout.seats[0], layout.items[0]
    asked = arm_footings(scene, person, seat, shifter).arms[0]  # type: ignore[arg-type]
    state = asked.state
    found = asked()
    assert found is not None
    elbow, wrist = np.array(found.posed.elbow_mm), np.array(found.posed.wrist_mm)
    # Where the forearm is full.
    middle = elbow + (wrist - elbow) / 6
    # Set upright beside the rod, high enough that its side is what is near: two lines and two radii.
    across = np.cross(wrist - elbow, [0.0, 0.0, 1.0])
    across /= np.linalg.norm(across)
    foot = middle + 140.0 * across - np.array([0.0, 0.0, 200.0])
    stood = (Solid(can, Pose(shift_mm=(float(foot[0]), float(foot[1]), float(foot[2])))),)
    reading = Reading(
        ("driver-1.forearm", "vessel-1"), state, (asked, "forearm", 0.0, stood, LIMITS["forearm-vessel"], "")
    )
    told = OfArm(Between("forearm-vessel"))(reading)
    assert told.value == pytest.approx(140.0 - 33.0 - FOREARM_RADIUS_MM, abs=0.4)
    # A sixth or so of the way along, that much less of the elbow's doubt.
    [hangs] = [doubt for doubt in told.doubts if doubt.name == "where the elbow hangs"]
    assert ELBOW_U_MM * 0.6 < hangs.standard <= ELBOW_U_MM
    assert told.uncertainty == pytest.approx(combined(told.doubts))
    assert told.verdict == verdict_of(told.value, told.uncertainty, told.limit, is_gap=True)
    upper = limb(asked, "upper arm", 5.0)
    assert upper is not None
    assert upper[0].hull.radius_mm == UPPER_ARM_RADIUS_MM + 5.0


def test_the_elbow_is_doubted_most_at_the_elbow() -> None:
    arm = arm_of(near_knob(), next(one for one in judged(near_knob()) if one.check == "forearm-seat"))
    assert elbow_share(arm, "forearm", arm.wrist_mm) == 0.0
    assert elbow_share(arm, "forearm", arm.elbow_mm) == pytest.approx(1.0)
    assert elbow_share(arm, "upper arm", arm.elbow_mm) == pytest.approx(1.0)
    assert elbow_share(arm, "upper arm", arm.shoulder_mm) == 0.0


def test_it_is_told_in_words() -> None:
    layout = near_knob()
    found = [one for one in judged(layout) if one.check.startswith("forearm-")]
    assert {one.subjects[0] for one in found} == {"driver-1.forearm", "driver-1.upper arm"}
    for one in found:
        part = one.subjects[0].removeprefix("driver-1.").capitalize()
        assert sentence(one, layout).startswith((f"The {part.lower()}", part))
