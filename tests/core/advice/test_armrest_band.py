"""How high an armrest may be: against the elbow's height in closed form, and against looking at every millimetre."""

from dataclasses import replace

import numpy as np
import pytest

from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.advice.armrest_band import ArmrestBand, armrest_band
from floorpan.checks import Evaluator
from floorpan.checks.armrest import CHECKS
from floorpan.checks.finding import margin
from floorpan.derive import Bench, elbow_in
from floorpan.driver import Person, forearm
from floorpan.driver.limbs import FOREARM_RADIUS_MM
from floorpan.items import Armrest, Place, Shifter
from floorpan.layout import Layout
from floorpan.progress import finish
from floorpan.report.armrest_told import armrest_blocks, armrest_texts, set_text

RAW = raw_scan(level_floor())
REST = Armrest(id="new", place=Place(x_mm=400.0, y_mm=-50.0, z_mm=100.0))
BENCH = Bench({RAW.sha256: RAW})
finish(BENCH.make_floors(small_layout(RAW)))
NAMED = ("armrest-forearm", "armrest-elbow", "hand-armrest")
LOOKED = tuple(check for check in CHECKS if check.name in NAMED)


def having(rest: Armrest = REST, notches: tuple[int, ...] = (6,)) -> Layout:
    layout = edits.change_person(small_layout(RAW), "driver-1", notches_used=notches)
    layout = edits.move(layout, "shifter-1", x_mm=100.0, y_mm=-100.0, z_mm=200.0)
    return edits.add(layout, rest)[0]


def found_in(layout: Layout) -> ArmrestBand:
    band = armrest_band(BENCH.scene(layout), layout.of(Armrest)[0])
    assert band is not None
    return band


def holds(layout: Layout, evaluator: Evaluator) -> bool:
    """Whether every gap of arm and shut pad, and every hanging elbow, is as its limit wants, whatever its doubt."""
    told = [one for one in finish(evaluator.settle(layout)) if dict(one.state).get("armrest-1.lid") != "open"]
    assert {one.check for one in told} == set(NAMED)
    return all(one.value is not None and margin(one.value, one.limit) >= 0.0 for one in told)


def elbow_mm(layout: Layout, notch: int = 6) -> tuple[float, float, float]:
    state = (("driver-1.belts", "tight"), ("seat-1.notch", str(notch)), ("shifter-1.gear", "N"))
    scene = BENCH.scene(layout)
    at = elbow_in(scene, layout.people[0], layout.seats[0], layout.of(Shifter)[0], state)
    assert at is not None
    return at.posed.elbow_mm


def test_where_the_arm_is_never_near_the_band_is_the_elbow_s_own() -> None:
    """Closed form: elbow less forearm less foot, from 30 over the pad to 10 sunk in, as the limit has it."""
    layout = having(replace(REST, width_mm=30.0, place=replace(REST.place, y_mm=600.0)))
    under = elbow_mm(layout)[2] - FOREARM_RADIUS_MM - REST.place.z_mm
    band = found_in(layout)
    assert (band.height.low, band.height.high) == pytest.approx((under - 30.0, under + 10.0))
    assert band.height.low_by is not None
    assert (band.height.low_by.what, band.height.low_by.u_mm) == ("elbow", pytest.approx(20.0, abs=0.1))
    assert band.off
    assert band.height.into == round(under - 10.0)


def test_a_forearm_over_a_flat_pad_ends_the_band_where_it_touches() -> None:
    """Closed form: a level pad far larger than the arm may rise to the lowest place of any forearm's skin."""
    layout = having(
        replace(REST, length_mm=800.0, width_mm=500.0, radius_mm=0.0, place=Place(x_mm=420.0, y_mm=-150.0))
    )
    layout = edits.set_limit(layout, "armrest-elbow", -90.0, upper=90.0)
    scene = BENCH.scene(layout)
    lows = []
    for gear in ("1", "2", "3", "4", "5", "R"):
        state = (("driver-1.belts", "tight"), ("seat-1.notch", "6"), ("shifter-1.gear", gear))
        at = elbow_in(scene, layout.people[0], layout.seats[0], layout.of(Shifter)[0], state)
        assert at is not None
        [arm] = forearm(at.posed)
        over = np.abs(arm.points()[:, :2] - [420.0, -150.0]) <= [400.0, 250.0]
        assert over.all()
        lows.append(float(arm.points()[:, 2].min()) - arm.hull.radius_mm)
    hand = min(
        float(solid.points()[:, 2].min()) - solid.hull.radius_mm - 15.0
        for gear in ("N", "1", "2", "3", "4", "5", "R")
        for solid in scene.body("driver-1.hand", (("shifter-1.gear", gear),))
    )
    band = found_in(layout).height
    assert band.high == pytest.approx(min(*lows, hand), abs=1e-4)
    assert band.high_by is not None
    assert band.high_by.what == ("forearm" if min(lows) < hand else "knuckles")


@pytest.mark.parametrize("x_mm", [400.0, 450.0])
def test_every_millimetre_says_the_same_by_the_checks(x_mm: float) -> None:
    """The checks' own numbers at every whole height about the band: within it all hold, beyond it one does not."""
    layout = having(replace(REST, place=Place(x_mm=x_mm, y_mm=-50.0, z_mm=100.0)))
    band = found_in(layout).height
    assert band.low is not None
    assert band.high is not None
    evaluator = Evaluator(BENCH, LOOKED)
    for height in range(int(band.low) - 4, int(band.high) + 6):
        raised = edits.change(layout, "armrest-1", height_mm=float(height))
        assert holds(raised, evaluator) is (band.low <= height <= band.high), height
        assert found_in(raised).height.low == pytest.approx(band.low, abs=1e-4)
        assert found_in(raised).height.holds is (band.low <= height <= band.high)


def test_where_it_may_stand_along_itself_says_the_same_by_the_checks() -> None:
    """A pad at the elbow's height, moved along itself by the ends of what it may."""
    layout = having(replace(REST, place=Place(x_mm=470.0, y_mm=-50.0, z_mm=100.0), height_mm=272.0))
    found = found_in(layout)
    band, evaluator = found.along, Evaluator(BENCH, LOOKED)
    assert band.low is not None
    assert band.high is not None

    def stands(by_mm: float) -> bool:
        moved = edits.shift(layout, "armrest-1", (by_mm, 0.0, 0.0))
        return holds(moved, evaluator) and not found_in(moved).off

    inside = (band.low + 0.1, (band.low + band.high) / 2, band.high - 0.1)
    assert [stands(by) for by in inside] == [True, True, True]
    assert [stands(by) for by in (band.low - 0.1, band.high + 0.1)] == [False, False]


def test_where_no_height_does_both_the_nearest_is_told_with_what_is_in_the_way() -> None:
    layout = having(replace(REST, place=Place(x_mm=450.0, y_mm=-50.0)), notches=(5, 6, 7))
    found = found_in(layout)
    band = found.height
    assert band.low is None
    assert band.nearest is not None
    assert band.because[0].what == "forearm"
    lowest = max(elbow_mm(layout, notch)[2] for notch in (5, 6, 7)) - FOREARM_RADIUS_MM - 30.0
    assert band.short == pytest.approx(lowest - band.nearest)
    for height, clear in ((band.nearest - 0.01, True), (band.nearest + 0.01, False)):
        told = finish(Evaluator(BENCH, LOOKED).settle(edits.change(layout, "armrest-1", height_mm=height)))
        gaps = [one for one in told if one.is_gap and dict(one.state).get("armrest-1.lid") != "open"]
        assert all(one.value is not None and margin(one.value, one.limit) >= 0.0 for one in gaps) is clear
    text = " ".join(armrest_texts(found, layout, "mm"))
    assert "no height does both" in text
    assert "too low to rest the elbow" in text
    assert "in 2nd" in text
    assert set_text(found, "mm") == ""


def test_two_drivers_whose_elbows_want_different_pads_are_named() -> None:
    layout, _ = edits.add_person(
        having(), Person(id="new", name="Sam", seat_id="seat-1", notches_used=(6,), hip_up_mm=80.0)
    )
    found = found_in(layout)
    assert found.height.low is None
    assert {one.arm for one in found.height.because} == {"driver-1", "driver-2"}
    assert "Sam" in " ".join(armrest_texts(found, layout, "mm"))


def test_it_is_told_for_the_papers_in_either_unit() -> None:
    layout = having()
    found = found_in(layout)
    [_, answer, note] = armrest_blocks((found,), layout, "mm")
    assert f"{found.height.low:.0f} mm to {found.height.high:.0f} mm" in answer.text  # type: ignore[union-attr]
    assert "give or take 20 mm" in answer.text  # type: ignore[union-attr]
    assert "belts tight" in note.text  # type: ignore[union-attr]
    assert " in " in next(armrest_texts(found, layout, "in"))
    assert set_text(found, "mm")
    into = found.height.into
    assert into is not None
    done = found_in(edits.change(layout, "armrest-1", height_mm=into))
    assert done.height.holds
    assert set_text(done, "mm") == ""


def test_nobody_shifts_nothing_is_told() -> None:
    layout = edits.remove(having(), "shifter-1")
    assert armrest_band(BENCH.scene(layout), layout.of(Armrest)[0]) is None


def test_it_is_said_at_which_notch_the_elbow_lies_over_the_pad_and_from_where_it_may_stand() -> None:
    """A narrow pad whose edge runs between the two elbows, by the elbows' own places."""
    edge = sum(elbow_mm(having(notches=(3, 6)), notch)[1] for notch in (3, 6)) / 2
    rest = replace(REST, width_mm=30.0, place=replace(REST.place, y_mm=edge + 15.0 + FOREARM_RADIUS_MM))
    layout = having(rest, notches=(3, 6))
    found = found_in(layout)
    assert [dict(one)["seat-1.notch"] for one in found.off] == ["3"]
    assert [dict(one)["seat-1.notch"] for one in found.on] == ["6"]
    assert found.height.low is not None
    text = " ".join(armrest_texts(found, layout, "mm"))
    assert "rests the elbow at notch 6 in neutral" in text
    assert "In neutral the elbow at notch 3 does not lie over the pad." in text
    assert "of its place now" in text
    assert "too low to rest it" in text, "a pad of 180 mm stands far under the elbow"
    assert found.beside == pytest.approx(
        max(elbow_mm(layout, n)[2] for n in (3, 6)) - FOREARM_RADIUS_MM - REST.place.z_mm - 30.0
        - REST.height_mm
    )  # fmt: skip


def test_where_no_elbow_lies_over_it_it_is_not_said_to_rest_one() -> None:
    layout = having(replace(REST, width_mm=30.0, place=replace(REST.place, y_mm=600.0)))
    text = " ".join(armrest_texts(found_in(layout), layout, "mm"))
    assert "rests the elbow" not in text
    assert "the elbow does not lie over it where it stands" in text


def test_a_band_narrower_than_its_give_or_take_says_that_no_height_in_it_is_sure() -> None:
    """Each end of an elbow's own band is known to 20 mm: 40 apart leave one height that is sure, 10 apart none."""
    layout = having(replace(REST, width_mm=30.0, place=replace(REST.place, y_mm=600.0)))
    narrow = edits.set_limit(layout, "armrest-elbow", -5.0, upper=5.0)
    found = found_in(narrow)
    assert found.height.doubt_mm == pytest.approx(40.0, abs=0.2)
    told = " ".join(armrest_texts(found, narrow, "mm"))
    assert "From lowest to highest it is 10 mm" in told
    assert "no height in it is sure" in told
    assert "is sure" not in " ".join(armrest_texts(found_in(layout), layout, "mm"))


def test_of_several_drivers_each_is_named_with_the_notches() -> None:
    layout, _ = edits.add_person(
        having(notches=(5, 6)), Person(id="new", name="Sam", seat_id="seat-1", notches_used=(8,))
    )
    states = tuple(
        ((f"{who}.belts", "tight"), ("seat-1.notch", notch), ("shifter-1.gear", "N"))
        for who, notch in (("driver-1", "5"), ("driver-1", "6"), ("driver-2", "8"))
    )
    found = replace(found_in(layout), off=states, on=())
    name = layout.people[0].name
    told = " ".join(armrest_texts(found, layout, "mm"))
    assert f"the elbow of {name} at notches 5, 6 and of Sam at notch 8 does not lie over the pad." in told
