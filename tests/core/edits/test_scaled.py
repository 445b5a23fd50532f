"""A scan multiplied by a factor: what was picked goes along, what was measured by hand stays."""

import numpy as np
import pytest

from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.derive import Bench
from floorpan.errors import BadValue
from floorpan.frames import Pose
from floorpan.layout import Box
from floorpan.progress import finish
from floorpan.scan.area_shapes import AreaShape, Stroke
from floorpan.scan.axes import AxisPick
from floorpan.scan.known_lengths import check_lengths
from floorpan.scan.outlines import Outline

RAW = raw_scan(level_floor())
POSE = Pose.turned((0.0, 0.0, 1.0), 25.0).after(Pose(shift_mm=(40.0, -10.0, 6.0)))
FACTOR = 1.004


def everything() -> object:
    layout = small_layout(RAW, POSE)
    layout = edits.set_picks(layout, "scan-1", (AxisPick(id="A", at_mm=(100.0, 50.0, 0.0), role="origin"),))
    layout = edits.crop(
        layout, "scan-1", Box(least_mm=(-600.0, -600.0, -50.0), greatest_mm=(600.0, 600.0, 50.0))
    )
    ring = ((-500.0, -500.0), (500.0, -500.0), (0.0, 500.0))
    layout = edits.crop_along(
        layout, "scan-1", Outline(frame=Pose(shift_mm=(5.0, 0.0, 0.0)), corners_mm=ring)
    )
    stroke = Stroke(at_mm=((10.0, 20.0, 0.0),), radius_mm=30.0)
    layout = edits.add_area(layout, "scan-1", "tunnel top", shapes=(AreaShape(stroke=stroke),))
    layout = edits.add_probe(layout, "scan-1", at_mm=(10.0, 0.0, 0.0), offset_mm=(0.0, 0.0, -5.0))
    return edits.add_length(layout, "scan-1", ((0.0, 0.0, 0.0), (500.0, 0.0, 0.0)), FACTOR * 500.0)


def test_places_go_along_and_hand_measures_stay() -> None:
    before = everything()
    after = edits.scale_scan(before, "scan-1", FACTOR)  # type: ignore[arg-type]
    scan, was = after.scans[0], before.scans[0]  # type: ignore[attr-defined]
    assert scan.factor == FACTOR
    assert scan.picks[0].at_mm == pytest.approx((100.4, 50.2, 0.0))
    assert scan.crop is not None
    assert scan.crop.greatest_mm == pytest.approx((602.4, 602.4, 50.2))
    assert scan.outlines[0].frame.shift_mm == pytest.approx((5.02, 0.0, 0.0))
    assert scan.outlines[0].corners_mm[2] == pytest.approx((0.0, 502.0))
    stroke = scan.areas[0].shapes[0].stroke
    assert stroke is not None
    assert stroke.at_mm[0] == pytest.approx((10.04, 20.08, 0.0))
    assert stroke.radius_mm == 30.0
    assert scan.probes[0].offset_mm == (0.0, 0.0, -5.0)
    assert scan.probes[0].at_mm == pytest.approx((10.04, 0.0, 0.0))
    # The tape agrees now, and what was at a place of the car is there still, farther from the axes' origin.
    found = check_lengths(scan.lengths)
    assert found is not None
    assert found.lengths[0].error_mm == pytest.approx(0.0, abs=1e-9)
    own = np.array(was.picks[0].at_mm)
    assert scan.pose is not None
    assert was.pose is not None
    assert scan.pose.apply(FACTOR * own) == pytest.approx(FACTOR * was.pose.apply(own))
    assert after.items == before.items  # type: ignore[attr-defined]


def test_the_mesh_follows_the_factor() -> None:
    layout = edits.scale_scan(small_layout(RAW), "scan-1", FACTOR)
    ready = finish(Bench({RAW.sha256: RAW}).prepare(layout.scans[0]))
    assert np.ptp(ready.mesh.points[:, 0]) == pytest.approx(FACTOR * 1400.0)


def test_factors_add_up_and_a_wild_one_is_refused() -> None:
    layout = edits.scale_scan(edits.scale_scan(small_layout(RAW), "scan-1", 1.01), "scan-1", 0.99)
    assert layout.scans[0].factor == pytest.approx(0.9999)
    with pytest.raises(BadValue) as fault:
        edits.scale_scan(layout, "scan-1", 25.4)
    assert fault.value.code == "factor-too-far"
