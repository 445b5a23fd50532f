"""Run as a program: the points of an E57 file, laid beside it as plain numbers.

The library under it is C++, and what a spoilt file does to that stays in here: this process may crash, run out of what
it is given, or be stopped. It imports nothing of floorpan, so that it starts fast.
"""

import contextlib
import sys
from pathlib import Path
from typing import TYPE_CHECKING, BinaryIO

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    from pye57 import E57, ScanHeader

Floats = NDArray[np.float64]

_AT_ONCE = 1 << 18
_MM_PER_METRE = 1000.0
_FROM_UNIT = 1e-2
_CARTESIAN = ["cartesianX", "cartesianY", "cartesianZ"]
_SPHERICAL = ["sphericalRange", "sphericalAzimuth", "sphericalElevation"]
_COLOUR = ["colorRed", "colorGreen", "colorBlue"]


def limit(memory: int, seconds: int, written: int) -> None:
    """Take no more than so much memory [bytes], work [s] and room in a file [bytes], where a process can be held so."""
    if sys.platform == "win32":
        return
    import resource

    for what, most in (
        (resource.RLIMIT_CORE, 0),
        (resource.RLIMIT_AS, memory),
        (resource.RLIMIT_CPU, seconds),
        (resource.RLIMIT_FSIZE, written),
    ):
        # Not every system has each of them; the one that started this looks at the clock besides.
        with contextlib.suppress(ValueError, OSError):
            resource.setrlimit(what, (most, most))


def main(folder: str, coloured: str, memory: str, seconds: str, written: str) -> int:
    """0 once every scan of `scan.e57` lies in `points` as (N, 3) float64 in mm; `left` tells how many were marked.

    `points` grows with every piece, `progress` by a byte with every scan.
    """
    limit(int(memory), int(seconds), int(written))
    from pye57 import E57

    place = Path(folder)
    left = 0
    with (
        E57(str(place / "scan.e57")) as file,
        (place / "points").open("wb") as points,
        (place / "colours").open("wb") as colours,
    ):
        for index in range(file.scan_count):
            left += _scan(file, index, points, colours if coloured == "coloured" else None)
            with (place / "progress").open("ab") as progress:
                progress.write(b".")
    (place / "left").write_text(str(left), encoding="ascii")
    return 0


def _scan(file: "E57", index: int, points: BinaryIO, colours: BinaryIO | None) -> int:
    """Write out a scan piece by piece; how many points of it were marked as not measured."""
    header = file.get_header(index)
    if not header.point_count:
        return 0
    held = set(header.point_fields)
    spherical = not held.issuperset(_CARTESIAN)
    names = _SPHERICAL if spherical else _CARTESIAN
    mark = "sphericalInvalidState" if spherical else "cartesianInvalidState"
    wanted = [*names, *([mark] if mark in held else []), *(_COLOUR if colours else [])]
    turn, shift = _pose(header)
    arrays, buffers = file.make_buffers(wanted, min(_AT_ONCE, header.point_count))
    reader = header.points.reader(buffers)
    left = total = 0
    while count := reader.read():
        total += count
        where = np.column_stack([arrays[name][:count] for name in names])
        fine = arrays[mark][:count] == 0 if mark in arrays else slice(None)
        where = where[fine]
        left += count - len(where)
        with np.errstate(all="ignore"):
            if spherical:
                where = _from_sphere(where)
            where = (where @ turn.T + shift) * _MM_PER_METRE
        points.write(where.tobytes())
        points.flush()
        if colours:
            colours.write(np.column_stack([arrays[name][:count] for name in _COLOUR])[fine].tobytes())
    reader.close()
    if total != header.point_count:
        raise ValueError("fewer points than said")
    return left


def _from_sphere(where: Floats) -> Floats:
    """Range, azimuth and elevation [m, rad] as X, Y, Z, elevation counted from the level up: ASTM E2807."""
    far, around, up = where.T
    flat = far * np.cos(up)
    return np.column_stack([flat * np.cos(around), flat * np.sin(around), far * np.sin(up)])


def _pose(header: "ScanHeader") -> tuple[Floats, Floats]:
    """Rotation (3, 3) and translation (3,) of a scan: it is turned first, then moved."""
    turn, shift = np.eye(3), np.zeros(3)
    if not header.has_pose():
        return turn, shift
    pose = header["pose"]
    if pose.isDefined("rotation"):
        # By name: their order in the file is free.
        w, x, y, z = (float(pose["rotation"][name].value()) for name in "wxyz")
        length = float(np.sqrt(w * w + x * x + y * y + z * z))
        if not abs(length - 1.0) < _FROM_UNIT:
            raise ValueError("a rotation that is none")
        w, x, y, z = w / length, x / length, y / length, z / length
        turn = np.array(
            [
                [1 - 2 * (y * y + z * z), 2 * (x * y - w * z), 2 * (x * z + w * y)],
                [2 * (x * y + w * z), 1 - 2 * (x * x + z * z), 2 * (y * z - w * x)],
                [2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y)],
            ]
        )
    if pose.isDefined("translation"):
        shift = np.array([float(pose["translation"][name].value()) for name in "xyz"])
        if not np.isfinite(shift).all():
            raise ValueError("a move that is none")
    return turn, shift


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
