"""Units proposed for parts: real files whose true size is known, and numbers that several units would make a part."""

from pathlib import Path

import numpy as np
import pytest

from floorpan.items.mesh_part import COUNTS_AS
from floorpan.progress import finish
from floorpan.scan.part_unit import ANY_PART_MM, PART_MM, part_unit
from floorpan.scan.read import read_scan


@pytest.mark.parametrize(
    ("name", "unit"),
    [
        ("boot_metres.obj", "m"),  # a work boot 0.307 long
        ("exhaust_part.stl", "in"),  # 12.06 long
        ("foot_reference.stl", "mm"),  # 271 long
        ("sfm_seaVase.ply", "mm"),  # 449 high
    ],
)
def test_files_of_known_unit(shared_data: Path, name: str, unit: str) -> None:
    mesh = finish(read_scan(shared_data / "scans_mesh" / name)).mesh
    assert part_unit(float(np.ptp(mesh.bounds, axis=0).max())).unit == unit


def test_a_tie_goes_to_mm_and_is_told_as_a_proposal() -> None:
    """100 is a part of 100 mm or of 1 m; in inches it would be 2540 mm, longer than any part is."""
    proposal = part_unit(100.0)
    assert (proposal.unit, proposal.sure, proposal.candidates) == ("mm", False, ("mm", "cm"))
    assert proposal.why == "The longest side would be 100 mm (read as mm) or 1\u2009000 mm (read as cm)."


@pytest.mark.parametrize(
    ("largest", "stands_for", "candidates"),
    [
        (380.0, "steering wheel", ("mm",)),
        (0.38, "steering wheel", ("m",)),
        (15.0, "steering wheel", ("in",)),
        (38.0, "steering wheel", ("cm",)),
        (35.0, "seat", ("in", "cm")),
        (35.0, "other", ("mm", "in", "cm")),
        (1.2, "dash or trim", ("m",)),
        (9.0, "vessel", ("in", "cm")),
    ],
)
def test_what_it_stands_for_narrows_the_units(
    largest: float, stands_for: str, candidates: tuple[str, ...]
) -> None:
    """25.4 mm to the inch: 15 in are 381 mm, 35 in 889 mm, 9 in 229 mm."""
    proposal = part_unit(largest, stands_for)
    assert proposal.candidates == candidates
    assert proposal.unit == candidates[0]
    assert proposal.sure == (len(candidates) == 1)


def test_where_nothing_fits_it_says_so() -> None:
    proposal = part_unit(70_000.0, "seat")
    assert (proposal.candidates, proposal.sure) == ((), False)
    assert "neither is a seat" in proposal.why


def test_every_kind_lies_within_what_any_part_is() -> None:
    assert set(PART_MM) <= set(COUNTS_AS)
    assert all(ANY_PART_MM[0] <= least < most <= ANY_PART_MM[1] for least, most in PART_MM.values())
