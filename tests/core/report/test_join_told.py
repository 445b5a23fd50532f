"""What the papers say of scans that were brought into one frame."""

import numpy as np

from core.scan.test_joining import MOVE, two_scans
from floorpan import edits
from floorpan.frames import Pose
from floorpan.geometry.registration import LooseWay, SurfaceMatch
from floorpan.layout import Layout
from floorpan.report.join_told import join_told, way_text
from floorpan.scan.joining import fit_targets, joined_by_surfaces

SIDEWAYS = Pose.turned((0.0, 0.0, 1.0), 90.0)


def lines(layout: Layout) -> list[str]:
    return [value for _, value in join_told(layout, layout.scan("scan-2"), "mm")]


def test_a_join_by_targets_tells_what_is_left_and_what_gaps_carry() -> None:
    told = lines(edits.join_by_targets(two_scans(), "scan-2", "scan-1"))
    assert told[0] == "floor with seats"
    assert told[1].startswith("To Bare floor by 5 common targets, 0 mm left over")
    assert "mirrored" not in told[1]
    # Five targets, one sigma of 0.5 mm on each of two scans: 2 x 0.707 / sqrt 5.
    assert "carries \u00b1 0.63 mm in its middle" in told[2]
    assert told[2].endswith("at 900 mm from there.")


def test_three_targets_say_that_they_cannot_tell_a_mirror() -> None:
    layout = two_scans()
    for number in (4, 5):
        layout = edits.set_target(layout, "scan-2", f"target-{number}", None)
    told = lines(edits.join_by_targets(layout, "scan-2", "scan-1"))
    assert "cannot tell a mirrored scan" in told[1]


def test_a_way_that_surfaces_leave_open_is_told() -> None:
    layout = edits.set_axes(two_scans(), "scan-1", SIDEWAYS)
    match = SurfaceMatch(
        pose=MOVE, loose=(LooseWay(kind="slide", along=(0.0, -1.0, 0.0)),), places=4000, offered=4100, rms_mm=0.21,
        at_mm=np.zeros((0, 3)), off_mm=np.zeros(0), centre_mm=(0.0, 0.0, 0.0), u_mm=0.01, u_deg=0.001, settled=True,
    )  # fmt: skip
    fit = fit_targets(layout.scan("scan-2").targets)
    told = lines(edits.join(layout, "scan-2", joined_by_surfaces(match, "scan-1", (), fit)))
    assert (
        told[2]
        == "Laid on the surface of Bare floor at 4\u2009000 places, 0.21 mm left over (root mean square)."
    )
    # The scan's own y lies fore and aft in this car.
    assert told[3].startswith("The surfaces do not hold it fore and aft: there it stands as the targets say")


def test_a_way_before_there_are_axes_is_told_in_the_scans_own_numbers() -> None:
    assert (
        way_text(LooseWay(kind="turn", along=(0.0, 0.6, 0.8)), None)
        == "turning about (0, 0.6, 0.8) of that scan"
    )
    assert way_text(LooseWay(kind="turn", along=(0.0, 0.0, 1.0)), Pose()) == "turning seen from above"


def test_one_scan_alone_says_nothing_of_it() -> None:
    layout = edits.remove_scan(two_scans(), "scan-1")
    assert list(join_told(layout, layout.scans[0], "mm")) == []
