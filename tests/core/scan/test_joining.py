"""Common targets, joins, and what follows when a scan moves, is scaled, or is taken out."""

import math

import numpy as np
import pytest

from floorpan import edits
from floorpan.errors import BadValue
from floorpan.frames import Pose
from floorpan.geometry.registration import LooseWay, SurfaceMatch
from floorpan.layout import Layout, ScanRef
from floorpan.scan.joining import Target, fit_targets, joined_by_surfaces

MOVE = Pose.turned((0.3, -0.2, 1.0), 25.0).after(Pose(shift_mm=(40.0, -15.0, 8.0)))
PLACES = (
    (0.0, 0.0, 0.0),
    (900.0, 20.0, 40.0),
    (450.0, 700.0, -30.0),
    (300.0, 200.0, 400.0),
    (800.0, 600.0, 200.0),
)


def targets(places=PLACES, move: Pose = MOVE, noise_mm: float = 0.0, seed: int = 1) -> tuple[Target, ...]:  # type: ignore[no-untyped-def]
    draws = np.random.default_rng(seed)
    there = move.apply(np.array(places)) + noise_mm * draws.standard_normal((len(places), 3))
    return tuple(
        Target(id=f"target-{n}", here_mm=here, there_mm=tuple(float(v) for v in other))  # type: ignore[arg-type]
        for n, (here, other) in enumerate(zip(places, there, strict=True), 1)
    )


def two_scans() -> Layout:
    layout = Layout()
    for name, letter, role in (("Bare floor", "a", "bare"), ("With seats", "b", "seats")):
        scan = ScanRef(
            id="", name=name, sha256=64 * letter, suffix=".ply", original_name="x.ply", unit="mm", role=role
        )
        layout = edits.add_scan(layout, scan)
    for target in targets():
        layout = edits.add_target(layout, "scan-2", here_mm=target.here_mm, there_mm=target.there_mm)
    return layout


def test_targets_give_the_known_move_back() -> None:
    fit = fit_targets(targets())
    assert fit is not None
    np.testing.assert_allclose(fit.pose.matrix(), MOVE.matrix(), atol=1e-9)
    assert fit.rms_mm < 1e-9
    assert not fit.mirrored
    assert fit.can_tell_mirror
    assert fit.odd == ""


def test_three_are_needed_and_not_on_one_line() -> None:
    assert fit_targets(targets()[:2]) is None
    with pytest.raises(BadValue, match="on one line"):
        fit_targets(targets(((0.0, 0.0, 0.0), (100.0, 0.0, 0.0), (300.0, 0.0, 0.0))))


def test_three_targets_cannot_tell_a_mirrored_scan_and_five_can() -> None:
    mirrored = tuple(
        Target(id=t.id, here_mm=t.here_mm, there_mm=(-t.there_mm[0], t.there_mm[1], t.there_mm[2]))
        for t in targets()
    )
    few = fit_targets(mirrored[:3])
    assert few is not None
    assert not few.can_tell_mirror
    assert few.rms_mm < 1e-9
    many = fit_targets(mirrored)
    assert many is not None
    assert many.mirrored
    layout = two_scans()
    for target in mirrored:
        layout = edits.set_target(layout, "scan-2", target.id, target)
    with pytest.raises(BadValue, match="mirror image"):
        edits.join_by_targets(layout, "scan-2", "scan-1")


def test_the_one_that_is_off_is_named() -> None:
    good = targets(noise_mm=0.2)
    off = Target(id="target-2", here_mm=good[1].here_mm, there_mm=(1.0, 2.0, 3.0))
    fit = fit_targets((good[0], off, *good[2:]))
    assert fit is not None
    assert fit.odd == "target-2"


def test_the_doubt_of_a_join_covers_its_error_as_often_as_it_says() -> None:
    """500 sets of picks with the noise of a hand: its half-width holds 95 times in 100."""
    sigma, inside = 0.5 * math.sqrt(2.0), 0
    for seed in range(500):
        fit = fit_targets(targets(noise_mm=sigma, seed=seed))
        assert fit is not None
        middle = np.array(fit.centre_mm)
        off = fit.pose.apply(MOVE.inverse().apply(middle)) - middle
        # One way of three: the half-width is of the worst single direction.
        inside += abs(off[0]) <= fit.u_mm
    assert 0.93 * 500 <= inside <= 500


def test_a_joined_scan_follows_the_axes_of_the_other() -> None:
    layout = edits.join_by_targets(two_scans(), "scan-2", "scan-1")
    assert layout.scan("scan-2").pose is None
    axes = Pose.turned((0.0, 0.0, 1.0), 90.0).after(Pose(shift_mm=(1.0, 2.0, 3.0)))
    layout = edits.set_axes(layout, "scan-1", axes)
    pose = layout.scan("scan-2").pose
    assert pose is not None
    np.testing.assert_allclose(pose.matrix(), axes.matrix() @ MOVE.matrix(), atol=1e-9)
    with pytest.raises(BadValue, match="stands as it is joined"):
        edits.set_axes(layout, "scan-2", axes)


def test_a_join_made_after_the_axes_stands_at_once() -> None:
    layout = edits.set_axes(two_scans(), "scan-1", Pose())
    layout = edits.join_by_targets(layout, "scan-2", "scan-1")
    assert layout.scan("scan-2").pose is not None
    apart = edits.take_apart(layout, "scan-2")
    assert apart.scan("scan-2").pose is None
    assert apart.scan("scan-2").targets == layout.scan("scan-2").targets


def test_two_targets_join_nothing() -> None:
    layout = two_scans()
    for number in (3, 4, 5):
        layout = edits.set_target(layout, "scan-2", f"target-{number}", None)
    with pytest.raises(BadValue, match="takes 3 common targets"):
        edits.join_by_targets(layout, "scan-2", "scan-1")


def test_scans_are_not_joined_in_a_ring() -> None:
    layout = edits.join_by_targets(two_scans(), "scan-2", "scan-1")
    joined = layout.scan("scan-2").joined
    assert joined is not None
    with pytest.raises(BadValue, match="cannot carry"):
        edits.join(layout, "scan-1", joined)
    from dataclasses import replace

    with pytest.raises(BadValue, match="cannot carry"):
        edits.join(layout, "scan-1", replace(joined, onto="scan-2"))


@pytest.mark.parametrize("scaled", ["scan-1", "scan-2"])
def test_a_scan_that_is_scaled_is_joined_again_by_its_targets(scaled: str) -> None:
    layout = edits.set_axes(edits.join_by_targets(two_scans(), "scan-2", "scan-1"), "scan-1", Pose())
    after = edits.scale_scan(layout, scaled, 1.01)
    joined = after.scan("scan-2").joined
    assert joined is not None
    # One of both is a hundredth larger now: the targets cannot all meet, and their middles do.
    assert joined.rms_mm > 1.0
    middle = np.array([t.here_mm for t in after.scan("scan-2").targets]).mean(axis=0)
    there = np.array([t.there_mm for t in after.scan("scan-2").targets]).mean(axis=0)
    np.testing.assert_allclose(joined.pose.apply(middle), there, atol=1e-9)


def test_another_unit_takes_joins_apart() -> None:
    layout = edits.join_by_targets(two_scans(), "scan-2", "scan-1")
    after = edits.change_scan(layout, "scan-1", unit="cm")
    assert after.scan("scan-2").joined is None
    assert after.scan("scan-2").targets == ()


def test_a_scan_taken_out_leaves_those_joined_to_it_apart() -> None:
    layout = edits.set_axes(edits.join_by_targets(two_scans(), "scan-2", "scan-1"), "scan-1", Pose())
    after = edits.remove_scan(layout, "scan-1")
    assert [scan.id for scan in after.scans] == ["scan-2"]
    assert after.scan("scan-2").joined is None
    assert after.scan("scan-2").pose is None


def match_with(loose: tuple[LooseWay, ...]) -> SurfaceMatch:
    return SurfaceMatch(
        pose=MOVE, loose=loose, places=100, offered=120, rms_mm=0.3, at_mm=np.zeros((0, 3)), off_mm=np.zeros(0),
        centre_mm=(0.0, 0.0, 0.0), u_mm=0.01, u_deg=0.001, settled=True,
    )  # fmt: skip


def test_a_move_that_surfaces_leave_open_carries_the_doubt_of_the_targets() -> None:
    slide = (LooseWay(kind="slide", along=(1.0, 0.0, 0.0)),)
    fit = fit_targets(targets())
    assert fit is not None
    held = joined_by_surfaces(match_with(()), "scan-1", (), fit)
    open_ = joined_by_surfaces(match_with(slide), "scan-1", (), fit)
    assert held.u_mm == 0.01
    assert open_.u_mm >= fit.u_mm
    assert open_.u_deg == 0.001
    with pytest.raises(BadValue, match="no targets hold it"):
        joined_by_surfaces(match_with(slide), "scan-1", (), None)


def test_the_doubt_of_a_place_grows_with_its_arm() -> None:
    fit = fit_targets(targets())
    assert fit is not None
    joined = fit.joined("scan-1")
    near, far = (
        joined.doubt_mm(np.array(joined.centre_mm)),
        joined.doubt_mm(np.array(joined.centre_mm) + 1000.0),
    )
    assert near == pytest.approx(fit.u_mm / 2.0)
    arm = 1000.0 * math.sqrt(3.0)
    assert far == pytest.approx(math.hypot(fit.u_mm / 2.0, arm * math.radians(fit.u_deg) / 2.0))
