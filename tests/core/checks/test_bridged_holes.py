"""A hole bridged on the builder's word counts as closed for gaps, and for nothing else."""

import numpy as np
import pytest

from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.checks import Finding
from floorpan.checks.console_seen import seen_share
from floorpan.checks.evaluate import evaluate
from floorpan.derive import Bench
from floorpan.frames import Pose
from floorpan.layout import Layout
from floorpan.progress import finish
from made_up_sheets import without

# A hole of 50 by 50 mm under the can.
RAW = raw_scan(without(level_floor(cells=56), (175.0, 25.0), (225.0, 75.0)))
RIM = (175.0, 50.0, 0.0)


def first(layout: Layout) -> Finding:
    findings = finish(evaluate(layout, Bench({RAW.sha256: RAW})))
    return next(
        one for one in findings if one.check == "vessel-scan" and one.subjects == ("vessel-1", "scan-1")
    )


def bridged(**fields: object) -> Layout:
    return edits.add_bridge(small_layout(RAW), "scan-1", RIM, **{"longest_mm": 80.0, **fields})


def test_the_gap_over_a_bridge_is_told_and_carries_what_the_bridge_may_be_off() -> None:
    assert first(small_layout(RAW)).verdict == "unseen"
    over = first(bridged())
    assert over.verdict != "unseen"
    # A level floor: the bridge lies at height nought, right under the can's foot.
    whole = raw_scan(level_floor(cells=56))
    known = finish(evaluate(small_layout(whole), Bench({whole.sha256: whole})))
    value = next(one.value for one in known if one.check == "vessel-scan" and one.subjects[1] == "scan-1")
    assert over.value == pytest.approx(value, abs=1e-9)
    assert [doubt.name for doubt in over.doubts if doubt.name == "bridge"] == ["bridge"]


def test_nothing_stands_on_a_bridge_and_the_console_is_not_cut_to_one() -> None:
    layout = bridged()
    bench = Bench({RAW.sha256: RAW})
    finish(bench.make_floors(layout))
    floor = bench.floor(layout)
    assert floor is not None
    assert floor.columns.heights_at(200.0, 50.0) == ()
    assert set(floor.columns.heights_at(150.0, 51.0)) == {0.0}
    plain = small_layout(RAW)
    bare = bench.floor(plain)
    assert bare is not None
    assert seen_share(layout.consoles[0], floor) == seen_share(plain.consoles[0], bare)
    assert len(floor.mesh.faces) == len(bare.mesh.faces)


def test_a_hole_wider_than_the_bridge_may_be_stays_unseen() -> None:
    assert first(bridged(longest_mm=30.0)).verdict == "unseen"


def test_a_bridge_is_taken_back() -> None:
    layout = bridged()
    (bridge,) = layout.scans[0].bridges
    assert first(edits.set_bridge(layout, "scan-1", bridge.id, None)).verdict == "unseen"


def test_a_bridge_goes_where_the_scan_goes() -> None:
    pose = Pose.turned((0.0, 0.0, 1.0), 90.0).after(Pose(shift_mm=(30.0, 20.0, 5.0)))
    layout = edits.set_axes(bridged(), "scan-1", pose)
    bench = Bench({RAW.sha256: RAW})
    finish(bench.make_floors(layout))
    floor = bench.floor(layout)
    assert floor is not None
    assert floor.bridges is not None
    (area,) = floor.areas
    at = pose.apply(np.array([[200.0, 50.0, 10.0]]))
    assert area.surface.signed(at).distance_mm[0] == pytest.approx(10.0)
    assert area.unseen is not None, "the outer rim is as it was"


def test_scaling_takes_the_bridge_along_and_a_new_unit_drops_it() -> None:
    layout = edits.scale_scan(bridged(), "scan-1", 1.01)
    assert layout.scans[0].bridges[0].at_mm == pytest.approx((176.75, 50.5, 0.0))
    assert edits.change_scan(bridged(), "scan-1", unit="cm").scans[0].bridges == ()
