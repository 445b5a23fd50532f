"""Two scans in one car: both are measured to, each as what it is, and one vouches for what the other missed.

Level sheets at known heights, so every gap is known in closed form.
"""

import numpy as np
import pytest

from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.checks import Finding
from floorpan.checks.evaluate import evaluate
from floorpan.derive import Bench, matching
from floorpan.frames import Pose
from floorpan.geometry.mesh import Mesh
from floorpan.layout import Layout, ScanRef
from floorpan.progress import finish
from floorpan.scan.joining import Joined
from made_up_sheets import sheet, without

FLOOR = raw_scan(level_floor(cells=56))
HOLED = raw_scan(without(level_floor(cells=56), (150.0, 0.0), (300.0, 150.0)))
PATCH = raw_scan(sheet(400.0, 400.0, 20.0, low=(50.0, -100.0)))
HIGH = raw_scan(level_floor(cells=28, z_mm=20.0))
STORE = {raw.sha256: raw for raw in (FLOOR, HOLED, PATCH, HIGH)}


def with_second(
    first: object, second: object, role: str, *, carpet_mm: float = 0.0, u_mm: float = 0.0
) -> Layout:
    layout = small_layout(first, carpet_mm=carpet_mm)  # type: ignore[arg-type]
    ref = ScanRef(
        id="", name="second", sha256=second.sha256, suffix=".ply",  # type: ignore[attr-defined]
        original_name="second.ply", unit="mm", role=role,
    )  # fmt: skip
    layout = edits.add_scan(layout, ref)
    joined = Joined(
        onto="scan-1",
        pose=Pose(),
        by="targets",
        rms_mm=0.0,
        places=3,
        centre_mm=(0.0, 0.0, 0.0),
        u_mm=u_mm,
        u_deg=0.0,
    )
    return edits.join(layout, "scan-2", joined)


def found(layout: Layout, check: str, *subjects: str, store: object = STORE) -> list[Finding]:
    findings = finish(evaluate(layout, Bench(store)))  # type: ignore[arg-type]
    return [one for one in findings if one.check == check and one.subjects == subjects]


def worst(layout: Layout, *subjects: str) -> Finding:
    return found(layout, "vessel-scan", *subjects)[0]


def test_a_gap_is_told_to_each_scan() -> None:
    layout = with_second(FLOOR, HIGH, "bare")
    first, second = worst(layout, "vessel-1", "scan-1"), worst(layout, "vessel-1", "scan-2")
    assert first.value is not None
    assert second.value is not None
    # The second sheet lies 20 mm higher.
    assert first.value - second.value == pytest.approx(20.0, abs=1e-6)


def test_carpet_comes_on_top_of_bare_metal_and_not_of_carpet() -> None:
    layout = with_second(FLOOR, HIGH, "carpet", carpet_mm=12.0)
    bare = worst(with_second(FLOOR, HIGH, "carpet"), "vessel-1", "scan-1").value
    over, on = worst(layout, "vessel-1", "scan-1").value, worst(layout, "vessel-1", "scan-2").value
    assert bare is not None
    assert over == pytest.approx(bare - 12.0)
    assert on == pytest.approx(bare - 20.0)


def test_a_scan_of_other_things_is_only_looked_at() -> None:
    layout = with_second(FLOOR, HIGH, "other")
    assert found(layout, "vessel-scan", "vessel-1", "scan-2") == []
    assert worst(layout, "vessel-1", "scan-1").verdict != "unseen"


def test_the_doubt_of_the_join_is_carried_by_the_joined_scan_alone() -> None:
    layout = with_second(FLOOR, HIGH, "bare", u_mm=3.0)
    first, second = worst(layout, "vessel-1", "scan-1"), worst(layout, "vessel-1", "scan-2")
    assert [doubt.standard for doubt in second.doubts if doubt.name == "joining"] == [1.5]
    assert not [doubt for doubt in first.doubts if doubt.name == "joining"]
    assert second.uncertainty == pytest.approx(np.sqrt(first.uncertainty**2 + 3.0**2), rel=0.05)


def test_a_hole_that_another_scan_saw_is_unseen_no_more() -> None:
    alone = small_layout(HOLED)
    assert worst(alone, "vessel-1", "scan-1").verdict == "unseen"
    both = with_second(HOLED, PATCH, "bare")
    assert worst(both, "vessel-1", "scan-1").verdict != "unseen"
    # Nor does the edge of the small scan blind anything: the large one goes on there.
    assert worst(both, "vessel-1", "scan-2").verdict != "unseen"


@pytest.mark.parametrize("role", ["carpet", "seats", "other"])
def test_bare_metal_is_vouched_for_by_bare_metal_only(role: str) -> None:
    assert worst(with_second(HOLED, PATCH, role), "vessel-1", "scan-1").verdict == "unseen"


def test_a_scan_that_does_not_cover_the_whole_hole_vouches_for_none_of_it() -> None:
    part = raw_scan(sheet(150.0, 400.0, 20.0, low=(50.0, -100.0)))
    layout = with_second(HOLED, part, "bare")
    (one, *_) = found(layout, "vessel-scan", "vessel-1", "scan-1", store={**STORE, part.sha256: part})
    assert one.verdict == "unseen"


def test_where_the_file_of_a_joined_scan_is_gone_every_gap_to_it_is_unseen() -> None:
    layout = with_second(FLOOR, HIGH, "bare")
    left = {FLOOR.sha256: FLOOR}
    (gone,) = found(layout, "vessel-scan", "vessel-1", "scan-2", store=left)
    assert gone.verdict == "unseen"
    assert found(layout, "vessel-scan", "vessel-1", "scan-1", store=left)[0].verdict != "unseen"


def test_surfaces_are_matched_from_where_targets_put_them() -> None:
    """A made-up floor with tunnel and rib, its second scan moved by a known motion."""
    from made_up_sheets import tunnel_floor

    floor = tunnel_floor(step=4.0)
    motion = Pose.turned((0.1, 0.2, 1.0), 12.0).after(Pose(shift_mm=(30.0, -10.0, 5.0)))
    moved = Mesh(motion.inverse().apply(floor.points), floor.faces)
    one, two = raw_scan(floor), raw_scan(moved)
    layout = with_second(one, two, "bare")
    layout = edits.take_apart(layout, "scan-2")
    for place in ((-200.0, -150.0, 0.0), (200.0, -150.0, 0.0), (0.0, 150.0, 60.0), (100.0, 0.0, 90.0)):
        here = tuple(float(v) for v in motion.inverse().apply(np.array(place)))
        near = (place[0] + 0.4, place[1] - 0.3, place[2] + 0.2)
        layout = edits.add_target(layout, "scan-2", here_mm=here, there_mm=near)  # type: ignore[arg-type]
    bench = Bench({raw.sha256: raw for raw in (one, two)})
    joined, match = finish(matching(bench, layout, "scan-2", "scan-1"))
    assert joined.by == "surfaces"
    # The tunnel runs along x and the low rib is no wall: along x it stands as the targets say, elsewhere exactly.
    assert [way.kind for way in match.loose] == ["slide"]
    off = joined.pose.apply(motion.inverse().apply(floor.points)) - floor.points
    assert np.abs(off[:, 1:]).max() < 0.05
    assert np.abs(off[:, 0]).max() < 0.6
    assert joined.u_mm > 0.7
