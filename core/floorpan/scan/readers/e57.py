"""E57: the points of every scan in it, each put where its pose says. After ASTM E2807.

The library that unpacks it is an extra part, and C++ underneath. What the file says of itself is looked at before it
gets to that, so that it is never asked for more than the bytes can hold. It works on a copy, which nobody changes.
"""

import sys
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING, Final

import numpy as np
from scipy.spatial.transform import Rotation

from floorpan.errors import FloorpanError, UnreadableScan
from floorpan.geometry.mesh import Floats
from floorpan.progress import Step, Work
from floorpan.scan.readers.e57_look import look, not_read
from floorpan.scan.readers.parsed import Bytes, Parsed, drop

if TYPE_CHECKING:
    from pye57 import E57, ScanHeader

METRES: Final = "m"
MARKED: Final = "points marked as not measured"
_MM_PER_METRE = 1000.0
# Ten milliseconds of unpacking, during which nothing else of the program moves.
_AT_ONCE = 1 << 16
# How far a rotation's length may be from one; common practice, no source.
_FROM_ONE = 1e-2
_CARTESIAN = ["cartesianX", "cartesianY", "cartesianZ"]
_SPHERICAL = ["sphericalRange", "sphericalAzimuth", "sphericalElevation"]
_COLOUR = ["colorRed", "colorGreen", "colorBlue"]


def read_e57(data: bytes) -> Work[Parsed]:
    """The points of an E57, in mm: its numbers are metres by the standard. It has no faces.

    Raises UnreadableScan where the extra part is not set up, and where the file is damaged.
    """
    try:
        from pye57 import E57
    except ImportError as fault:
        raise UnreadableScan(
            "e57-not-set-up",
            "Reading E57 needs an extra part that is not set up here.",
            f'Set it up with: {_python()} -m pip install "floorpan[e57]". Or export its points as PLY or text.',
        ) from fault
    yield Step(0.0, "Looking at what it holds")
    said = look(data)
    unpacking = _Unpacking(sum(scan.records for scan in said), coloured=all(scan.coloured for scan in said))
    with tempfile.TemporaryDirectory(prefix="floorpan-") as folder:
        copy = Path(folder) / "scan.e57"
        copy.write_bytes(data)
        try:
            with E57(str(copy)) as file:
                yield from unpacking.all_scans(file)
        except FloorpanError:
            raise
        except MemoryError as fault:
            raise not_read("it needs more memory than there is") from fault
        except Exception as fault:
            # What the library raises for damaged files is not one kind.
            raise not_read("it is damaged") from fault
    parsed = unpacking.parsed()
    if not len(parsed.points):
        raise not_read("it holds no point that was measured")
    if len(said) > 1:
        parsed.notes.append(f"It holds {len(said)} scans, each put where the file says it stood.")
    return parsed


def _python() -> str:
    """The Python at work, as it is typed."""
    return f'"{sys.executable}"' if " " in sys.executable else sys.executable


class _Unpacking:
    """What came out of a file so far, room for all it says."""

    def __init__(self, records: int, *, coloured: bool) -> None:
        self._points: Floats = np.empty((records, 3))
        self._colours: Bytes | None = np.empty((records, 3), dtype=np.uint8) if coloured else None
        self._seen = self._kept = 0

    def all_scans(self, file: "E57") -> Work[None]:
        """Unpack scan after scan; raises whatever the library raises, ValueError for what contradicts itself."""
        for index in range(file.scan_count):
            header = file.get_header(index)
            if header.point_count:
                yield from self._scan(file, header, f"Unpacking scan {index + 1} of {file.scan_count}")
        if self._seen != len(self._points):
            raise ValueError("fewer points than said")

    def parsed(self) -> Parsed:
        """The points that were measured."""
        colours = None if self._colours is None else self._colours[: self._kept]
        parsed = Parsed(self._points[: self._kept], np.zeros((0, 3), dtype=np.int32), colours=colours)
        parsed.notes.append("Its numbers are metres, as they are in every E57.")
        drop(parsed.dropped, MARKED, self._seen - self._kept)
        return parsed

    def _scan(self, file: "E57", header: "ScanHeader", doing: str) -> Work[None]:
        held = set(header.point_fields)
        spherical = not held.issuperset(_CARTESIAN)
        names = _SPHERICAL if spherical else _CARTESIAN
        mark = "sphericalInvalidState" if spherical else "cartesianInvalidState"
        wanted = [*names, *([mark] if mark in held else []), *(_COLOUR if self._colours is not None else [])]
        turn, move = _pose(header)
        values, buffers = file.make_buffers(wanted, min(_AT_ONCE, header.point_count))
        reader = header.points.reader(buffers)
        while count := reader.read():
            if self._seen + count > len(self._points):
                raise ValueError("more points than said")
            where = np.column_stack([values[name][:count] for name in names])
            fine = values[mark][:count] == 0 if mark in values else slice(None)
            # Spoilt numbers pass here; what is no number is left out and counted later.
            with np.errstate(all="ignore"):
                placed = (_from_sphere(where) if spherical else where)[fine] @ turn.T + move
                placed *= _MM_PER_METRE
            to = slice(self._kept, self._kept + len(placed))
            self._points[to] = placed
            if self._colours is not None:
                self._colours[to] = np.column_stack([values[name][:count] for name in _COLOUR])[fine]
            self._seen, self._kept = self._seen + count, to.stop
            yield Step(self._seen / len(self._points), doing)
        reader.close()


def _from_sphere(where: Floats) -> Floats:
    """Range, azimuth and elevation [m, rad] as X, Y, Z, elevation counted from the level up: ASTM E2807."""
    far, around, up = where.T
    flat = far * np.cos(up)
    return np.column_stack([flat * np.cos(around), flat * np.sin(around), far * np.sin(up)])


def _pose(header: "ScanHeader") -> tuple[Floats, Floats]:
    """Rotation (3, 3) and move (3,) [m] of a scan: it is turned first, then moved. Raises ValueError for none."""
    turn, move = np.eye(3), np.zeros(3)
    if not header.has_pose():
        return turn, move
    pose = header["pose"]
    # By name: their order in a file is free.
    if pose.isDefined("rotation"):
        w, x, y, z = (float(pose["rotation"][name].value()) for name in "wxyz")
        if not abs(np.hypot(np.hypot(w, x), np.hypot(y, z)) - 1.0) < _FROM_ONE:
            raise ValueError("a rotation that is none")
        # Hamilton's quaternions; whatever is short of length one is brought to it.
        turn = Rotation.from_quat([x, y, z, w]).as_matrix()
    if pose.isDefined("translation"):
        move = np.array([float(pose["translation"][name].value()) for name in "xyz"])
        if not np.isfinite(move).all():
            raise ValueError("a move that is none")
    return turn, move
