"""Units proposed from sizes: real files whose true size is known, and floors in every unit."""

from pathlib import Path

import pytest

from floorpan.progress import finish
from floorpan.scan.read import read_scan
from floorpan.scan.unit import propose_unit
from floorpan.units import MM_PER


@pytest.mark.parametrize(
    ("name", "unit"),
    [
        ("boot_metres.obj", "m"),  # a work boot 0.307 long
        ("exhaust_part.stl", "in"),  # 12.06 long
        ("foot_reference.stl", "mm"),  # 271 long
        ("sfm_seaVase.ply", "mm"),  # 449 high
        ("sfm_birdBath.ply", "mm"),
    ],
)
def test_files_of_known_unit(shared_data: Path, name: str, unit: str) -> None:
    proposal = finish(read_scan(shared_data / "scans_mesh" / name)).proposal
    assert proposal.unit == unit
    assert proposal.candidates[0] == unit


@pytest.mark.parametrize("name", ["depthcam_three_cylinders.ply", "depthcam_stacked_boxes.ply"])
def test_room_scans_in_mm_leave_no_doubt(shared_data: Path, name: str) -> None:
    proposal = finish(read_scan(shared_data / "scans_depthcam" / name)).proposal
    assert proposal.unit == "mm"
    assert proposal.sure


@pytest.mark.parametrize("unit", ["mm", "m", "in"])
@pytest.mark.parametrize("length_mm", [900.0, 1360.0, 1800.0, 2400.0])
def test_cabin_floors(unit: str, length_mm: float) -> None:
    proposal = propose_unit(length_mm / MM_PER[unit])
    assert unit in proposal.candidates
    if unit != "in":
        assert proposal.unit == unit
    assert proposal.why.endswith(".")


def test_the_slip_of_an_inch_is_named() -> None:
    """1360 mm and 34.5 m: what the same number makes in mm and in inches."""
    proposal = propose_unit(1360.0)
    assert proposal.unit == "mm"
    assert proposal.sure
    assert "1\u2009360 mm" in proposal.why
    assert "34.5 m" in proposal.why


def test_what_could_be_two_is_not_sure() -> None:
    """60 is a floor of 1.5 m in inches, or 60 cm in centimetres."""
    proposal = propose_unit(60.0)
    assert not proposal.sure
    assert proposal.candidates[:2] == ("in", "cm")
    assert "1\u2009524 mm (read as in)" in proposal.why
    assert "600 mm (read as cm)" in proposal.why


@pytest.mark.parametrize("largest", [50_800.0, 1e9, 1e-7, 0.0])
def test_no_unit_makes_a_floor_of_it(largest: float) -> None:
    proposal = propose_unit(largest)
    assert not proposal.sure
    assert proposal.candidates == ()
    assert "Choose the unit" in proposal.why


def test_fifty_metres_are_questioned(shared_data: Path) -> None:
    """50800 file units a side: 50.8 m in mm, and more in every other unit."""
    proposal = finish(read_scan(shared_data / "bad_meshes" / "huge_units.obj")).proposal
    assert not proposal.sure
    assert proposal.candidates == ()
    assert "as mm the longest side would be 50.8 m, as m 50.8 km: neither is a floor" in proposal.why
