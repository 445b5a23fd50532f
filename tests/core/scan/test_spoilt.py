"""Spoilt files of every format: a scan, or one clear error. The long run of it is `tests/bench/fuzz_readers.py`."""

from pathlib import Path

import numpy as np
import pytest

from core.scan.spoiling import made_up, sources, spoilt
from floorpan.errors import FloorpanError, UnreadableScan
from floorpan.progress import finish
from floorpan.scan import read_scan

SHARED = Path(__file__).resolve().parents[4] / "shared" / "data"


@pytest.mark.parametrize("name", sorted(made_up()))
def test_unspoilt_they_are_read(tmp_path: Path, name: str) -> None:
    path = tmp_path / name
    path.write_bytes(made_up()[name])
    raw = finish(read_scan(path))
    assert raw.points_only or len(raw.mesh.faces) in (1, 2, 3)
    assert raw.dropped == {}


@pytest.mark.parametrize("seed", range(8))
def test_spoilt_they_give_a_scan_or_one_clear_error(tmp_path: Path, seed: int) -> None:
    for number, one in enumerate(spoilt(sources(SHARED), 80, seed)):
        path = tmp_path / f"{number}{one.suffix}"
        path.write_bytes(one.data)
        try:
            raw = finish(read_scan(path))
        except FloorpanError as fault:
            told = bool(fault.what and fault.remedy)
        except Exception as fault:
            raise AssertionError(f"{one.source}, {one.how}") from fault
        else:
            told = bool(np.isfinite(raw.mesh.points).all())
            told &= int(raw.mesh.faces.max(initial=-1)) < len(raw.mesh.points)
        assert told, (one.source, one.how)


def test_a_count_that_only_looks_like_a_number_is_refused(tmp_path: Path) -> None:
    """A small raised two is a digit to Python and no number: the fuzz of seed 5 met it."""
    data = made_up()["text.ply"]
    path = tmp_path / "raised.ply"
    path.write_bytes(data.replace(b"element vertex 4", b"element vertex 4\xb2"))
    with pytest.raises(UnreadableScan, match="cannot be followed"):
        finish(read_scan(path, "mm"))
