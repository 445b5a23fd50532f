"""Where what drips off a vessel falls: closed forms on a level floor."""

import math

import pytest

from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.checks import Evaluator, Finding
from floorpan.checks.drip import CHECKS
from floorpan.derive import Bench
from floorpan.derive.lifting import Lifting
from floorpan.items import Buckle, Control, Place, Shifter, vessel_of
from floorpan.layout import Layout
from floorpan.progress import finish
from floorpan.report.sentences import remark, sentence, short_title

RAW = raw_scan(level_floor())
RADIUS_MM = max(radius for _, radius in vessel_of("can-355", "any").profile)
MOUTH_MM = 40.0
WELL = (200.0, 60.0)


def judged(layout: Layout) -> dict[str, Finding]:
    found = finish(Evaluator(Bench({RAW.sha256: RAW}), CHECKS).settle(layout))
    return {finding.id: finding for finding in found}


def aside(layout: Layout) -> tuple[float, float]:
    scene = Bench({RAW.sha256: RAW}).scene(layout)
    going = Lifting(layout, scene.memory).on_its_way("vessel-1", "lifting")
    assert going is not None
    return going.way.aside_mm


def switch_at(off_mm: float, *, share: float = 1.0, z_mm: float = 100.0) -> Layout:
    """The small case with a switch so far to the left of a place on the level way, square to it."""
    layout = small_layout(RAW)
    x, y = aside(layout)
    far = math.hypot(x, y)
    at = (WELL[0] + share * x + off_mm * y / far, WELL[1] + share * y - off_mm * x / far)
    return edits.add(layout, Control(id="new", place=Place(x_mm=at[0], y_mm=at[1], z_mm=z_mm)))[0]


ID = "drip-path:vessel-1:switch-1:vessel-1.place=lifting"


def gap(layout: Layout) -> Finding:
    return next(
        one for one in judged(layout).values() if one.check == "drip-path" and "switch" in one.subjects[1]
    )


@pytest.mark.parametrize(
    ("off_mm", "verdict"), [(90.0, "clear"), (60.0, "short"), (20.0, "short"), (65.5, "close")]
)
def test_beside_the_band_a_switch_is_off_by_a_difference_of_radii(off_mm: float, verdict: str) -> None:
    """Closed form: square to the way, off the axis less the can's radius less the switch's 12."""
    finding = gap(switch_at(off_mm, share=0.7))
    assert finding.value == pytest.approx(off_mm - RADIUS_MM - 12.0, abs=1e-6)
    assert finding.verdict == verdict
    assert finding.limit.value == 20.0


def test_past_the_mouth_it_falls_as_wide_as_the_well() -> None:
    finding = gap(switch_at(100.0, share=0.0))
    assert finding.value == pytest.approx(100.0 - MOUTH_MM - 12.0, abs=1e-6)


def test_what_stands_higher_than_the_drops_fall_from_stays_dry() -> None:
    """The base ends up 10 over the mouth at 130; a ball of 12 from 141 on is all above."""
    layout = switch_at(0.0, z_mm=153.0)
    assert not any(one.check == "drip-path" and "switch-1" in one.subjects for one in judged(layout).values())


def test_under_the_way_it_is_wetted_and_the_share_is_told() -> None:
    layout = switch_at(0.0, share=0.6)
    finding = gap(layout)
    assert finding.value == pytest.approx(-RADIUS_MM - 12.0, abs=1e-3)
    assert sentence(finding, layout).startswith(
        "What drips off the can falls on the switch, 45.5 mm past its edge"
    )
    assert short_title(finding, layout) == "Can, drips \u2013 switch, on its way out"
    landed = next(one for one in judged(layout).values() if one.check == "drip-lands")
    assert landed.verdict == "short"
    # Areas: the switch's disc against the band's and the mouth's union, within a row of drops.
    assert landed.value == pytest.approx(100.0 * math.pi * 12.0**2 / _area(layout), rel=0.2)
    assert "Switch" in remark(landed)


def _area(layout: Layout) -> float:
    """Band of the way and disc of the mouth together, mm2: of the mouth what stands out over the band's round end."""
    long = math.hypot(*aside(layout))
    band = 2.0 * RADIUS_MM * long + math.pi * RADIUS_MM**2
    # Behind the axis half a ring; ahead of it the disc's two caps beside the band.
    ring = math.pi * (MOUTH_MM**2 - RADIUS_MM**2) / 2.0
    cap = MOUTH_MM**2 * math.acos(RADIUS_MM / MOUTH_MM) - RADIUS_MM * math.sqrt(MOUTH_MM**2 - RADIUS_MM**2)
    return band + ring + cap


def test_what_falls_on_the_bare_floor_is_told_and_nothing_more() -> None:
    layout = edits.move(small_layout(RAW), "console-1", x_mm=-600.0)
    finding = next(one for one in judged(layout).values() if one.check == "drip-lands")
    assert (finding.verdict, finding.value, finding.uncertainty) == ("clear", 0.0, 0.0)
    told = dict(part.rsplit(" ", 2)[:2] for part in remark(finding)[len("Drips fall on: ") : -1].split(", "))
    assert set(told) == {"floor", "its own well"}
    assert float(told["its own well"]) == pytest.approx(
        100.0 * math.pi * MOUTH_MM**2 / _area(layout), abs=3.0
    )
    carpeted = edits.set_carpet(layout, 8.0)
    assert "carpet" in remark(next(one for one in judged(carpeted).values() if one.check == "drip-lands"))


def test_the_opening_of_a_shifter_and_without_a_console_its_box() -> None:
    """Closed form: the opening ends half its length rear of the shifter; the mouth begins 40 before the well's axis."""
    layout = edits.change(small_layout(RAW), "shifter-1", opening_length_mm=150.0, opening_width_mm=200.0)
    finding = judged(layout)["drip-path:vessel-1:shifter-1.opening:vessel-1.place=lifting"]
    shifter = layout.of(Shifter)[0]
    edge = shifter.place.x_mm + shifter.opening_back_mm + 75.0
    assert finding.value == pytest.approx(WELL[0] - MOUTH_MM - edge, abs=1e-6)
    bare = judged(edits.remove(layout, "console-1"))
    assert "drip-path:vessel-1:shifter-1.box:vessel-1.place=lifting" in bare
    # A drop into the opening wets it though a console is drawn there.
    under = edits.move(layout, "shifter-1", x_mm=180.0, y_mm=60.0)
    landed = next(one for one in judged(under).values() if one.check == "drip-lands")
    assert "opening of" in remark(landed)
    assert landed.verdict == "short"


def test_a_buckle_is_kept_dry_at_every_notch() -> None:
    layout = edits.change_person(small_layout(RAW), "driver-1", notches_used=(5, 6))
    layout, _ = edits.add(
        layout,
        Buckle(id="new", seat_id="seat-1", place=Place(x_mm=300.0, y_mm=-60.0, z_mm=40.0), stalk_mm=20.0),
    )
    found = judged(layout)
    states = {one.state for one in found.values() if one.subjects == ("vessel-1", "buckle-1")}
    assert {dict(state)["seat-1.notch"] for state in states} == {"5", "6"}
