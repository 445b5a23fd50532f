"""E57: the points of every scan in it, each put where its pose says. After ASTM E2807.

The library that unpacks it is C++ and an extra part; it works in a process of its own, on a copy of the bytes, so that
a spoilt file can end nothing but that process. What the file says of itself is looked at here before.
"""

import importlib.util
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Final

import numpy as np

from floorpan.errors import UnreadableScan
from floorpan.geometry.mesh import Floats
from floorpan.progress import Step, Work
from floorpan.scan.readers.e57_look import ScanSaid, look, not_read
from floorpan.scan.readers.parsed import Bytes, Parsed, drop

METRES: Final = "m"
MARKED: Final = "points marked as not measured"
_CHILD = Path(__file__).with_name("e57_child.py")
_LOOK_S = 0.02
_BYTES_A_POINT = 24
# The child holds pieces only. A laptop of ten years ago unpacks some 10 MB a second; measured: over 50.
_MEMORY = 1 << 30
_BASE_S, _BYTES_A_SECOND = 4, 2e6
# Without a sign of life for so long it is stopped, whatever it is doing.
_STILL_S = 60.0


def read_e57(data: bytes) -> Work[Parsed]:
    """The points of an E57, in mm: its numbers are metres by the standard. It has no faces.

    Raises UnreadableScan where the extra part is not set up, and where the file is damaged.
    """
    if importlib.util.find_spec("pye57") is None:
        raise UnreadableScan(
            "e57-not-set-up",
            "Reading E57 needs an extra part that is not set up here.",
            f'Set it up with: {_python()} -m pip install "floorpan[e57]". Or export its points as PLY or text.',
        )
    yield Step(0.0, "Looking at what it holds")
    scans = look(data)
    coloured = all(scan.coloured for scan in scans)
    with tempfile.TemporaryDirectory(prefix="floorpan-") as folder:
        place = Path(folder)
        (place / "scan.e57").write_bytes(data)
        yield from _unpacked(place, scans, len(data), coloured=coloured)
        points: Floats = np.fromfile(place / "points", dtype=np.float64).reshape(-1, 3)
        left = int((place / "left").read_text(encoding="ascii"))
        colours: Bytes | None = None
        if coloured:
            colours = np.fromfile(place / "colours", dtype=np.uint8).reshape(-1, 3)
    if not len(points):
        raise not_read("it holds no point that was measured")
    parsed = Parsed(points, np.zeros((0, 3), dtype=np.int32), colours=colours)
    parsed.notes.append("Its numbers are metres, as they are in every E57.")
    if len(scans) > 1:
        parsed.notes.append(f"It holds {len(scans)} scans, each put where the file says it stood.")
    drop(parsed.dropped, MARKED, left)
    return parsed


def _python() -> str:
    """The Python at work, as it is typed."""
    return f'"{sys.executable}"' if " " in sys.executable else sys.executable


def _unpacked(place: Path, scans: list[ScanSaid], size: int, *, coloured: bool) -> Work[None]:
    """Run the child to its end; raises UnreadableScan where that is not a good one."""
    seconds = _BASE_S + int(size / _BYTES_A_SECOND)
    whole = _BYTES_A_POINT * sum(scan.records for scan in scans)
    limits = (str(limit) for limit in (_MEMORY, seconds, whole + _BYTES_A_POINT))
    kind = "coloured" if coloured else "plain"
    command = [sys.executable, "-P", str(_CHILD), str(place), kind, *limits]
    child = subprocess.Popen(
        command, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )
    try:
        seen, since = -1, time.monotonic()
        while child.poll() is None:
            written, done = _size(place / "points"), _size(place / "progress")
            if written + done != seen:
                seen, since = written + done, time.monotonic()
            if time.monotonic() - since > _STILL_S:
                raise not_read("its unpacking does not come to an end")
            now = min(done + 1, len(scans))
            yield Step(min(written / whole, 1.0), f"Unpacking scan {now} of {len(scans)}")
            time.sleep(_LOOK_S)
    finally:
        if child.poll() is None:
            child.kill()
        child.wait()
    if child.returncode != 0:
        raise not_read("it is damaged")


def _size(path: Path) -> int:
    return path.stat().st_size if path.exists() else 0
