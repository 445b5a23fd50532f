"""From a file to a mesh in the file's own units, with everything that was left out counted."""

import hashlib
import io
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from floorpan.errors import BadValue, NoSurface, UnreadableScan
from floorpan.geometry.mesh import Floats, Mesh
from floorpan.progress import Step, Work
from floorpan.scan.readers.e57 import METRES, read_e57
from floorpan.scan.readers.obj import read_obj
from floorpan.scan.readers.parsed import (
    CUT_OFF,
    LOOSE,
    NO_AREA,
    NOT_NUMBERS,
    TOO_FEW,
    WRONG_POINT,
    Bytes,
    Parsed,
    drop,
)
from floorpan.scan.readers.ply import read_ply
from floorpan.scan.readers.point_text import read_point_text
from floorpan.scan.readers.stl import read_stl
from floorpan.scan.readers.three_mf import read_3mf, unit_written
from floorpan.scan.unit import UnitProposal, propose_unit
from floorpan.units import mm_per, show_number

_READERS = {
    ".stl": read_stl,
    ".ply": read_ply,
    ".obj": read_obj,
    ".3mf": read_3mf,
    ".e57": read_e57,
    **dict.fromkeys((".xyz", ".csv", ".txt", ".asc", ".pts"), read_point_text),
}
# Fewer points than this make no surface worth the name; common practice, no source.
_FEWEST_POINTS = 100
SUFFIXES = tuple(_READERS)

# In any unit farther than any car; a share of points that no fault of a scanner explains. Common practice, no source.
_FARTHEST, _WILD_SHARE = 1e9, 0.01
_CHUNK = 1 << 22
# The share of the work that taking the bytes off the disk is.
_LOADED = 0.3
# A triangle flatter than this, height over longest side, has no area that can be told from rounding.
_FLAT = 1e-12
# Looked at in runs, to keep memory low and near.
_FACES_AT_ONCE = 1 << 13


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class RawScan:
    """A scan as it stands in its file.

    mesh    : points in file units; points and faces as in the file, without those that were dropped
    suffix  : of the format that was read
    sha256  : of the file's bytes
    unit_given : what the caller said, None where nothing was said
    unit_written : what the file says; its numbers are in mm then. Only a 3MF and an E57 say
    proposal : what the size says
    dropped : what was left out: how many
    notes   : what else people should know, one sentence each
    colours : (N, 3) uint8 along the points, or None
    """

    mesh: Mesh
    suffix: str
    sha256: str
    unit_given: str | None
    proposal: UnitProposal
    dropped: dict[str, int]
    notes: tuple[str, ...]
    colours: Bytes | None
    unit_written: str | None = None

    @property
    def points_only(self) -> bool:
        """Whether it holds points without triangles: a surface is laid over them when it is made ready."""
        return not len(self.mesh.faces)


def read_scan(path: Path | str, unit: str | None = None) -> Work[RawScan]:
    """Read an STL, PLY, OBJ or 3MF, or points without triangles as E57, PLY or text.

    Raises UnreadableScan where nothing certain can be read, NoSurface where there are too few points to lay a surface
    over, BadValue for an unknown unit or one against what the file says.
    """
    path = Path(path)
    if unit is not None:
        mm_per(unit)
    digest = hashlib.sha256()
    data = yield from _load(path, digest)
    suffix = _suffix(path, data)
    reading = _READERS[suffix](data)
    parsed = yield from _later(reading)
    del data
    yield Step(0.95, "Looking for what cannot be used")
    mesh, colours = clean(parsed)
    if not len(mesh.faces):
        mesh, colours = _points_of(parsed)
    written = unit_written(parsed.notes) if suffix == ".3mf" else METRES if suffix == ".e57" else None
    proposal = propose_unit(float(np.ptp(mesh.bounds, axis=0).max()))
    if written is not None and unit not in (None, "mm"):
        raise BadValue(
            "unit-is-written",
            f"{path.name} says its own unit, {written}, and is read in mm from that.",
            "Leave the unit out, or say mm.",
        )
    if written is not None:
        proposal = UnitProposal(unit="mm", why=parsed.notes[0], sure=True, candidates=("mm",))
    yield Step(1.0, "Read")
    return RawScan(
        mesh=mesh,
        suffix=suffix,
        sha256=digest.hexdigest(),
        unit_given=unit,
        proposal=proposal,
        dropped=dict(parsed.dropped),
        notes=tuple(parsed.notes),
        colours=colours,
        unit_written=written,
    )


def _points_of(parsed: Parsed) -> tuple[Mesh, Bytes | None]:
    """The points of a file that was never meant to hold a triangle; raises where it was, or where they are too few."""
    finite = np.isfinite(parsed.points).all(axis=1)
    lost = {CUT_OFF, TOO_FEW, WRONG_POINT, NO_AREA} & parsed.dropped.keys()
    if len(parsed.faces) or lost or int(finite.sum()) < _FEWEST_POINTS:
        raise _nothing_left(parsed)
    drop(parsed.dropped, NOT_NUMBERS, int((~finite).sum()) - parsed.dropped.get(NOT_NUMBERS, 0))
    parsed.notes.append(
        f"It holds {show_number(int(finite.sum()), 0)} points and no triangle: a surface is laid over them, and gaps "
        "in them stay open."
    )
    colours = parsed.colours[finite] if parsed.colours is not None else None
    return Mesh(parsed.points[finite], np.zeros((0, 3), dtype=np.int32)), colours


def _load(path: Path, digest: "hashlib._Hash") -> Work[bytes]:
    if path.exists() and not path.is_file():
        raise UnreadableScan("scan-no-file", f"{path} is no file.", "Name the scan's own file.")
    try:
        total = path.stat().st_size
        # One piece's room serves all, and the whole is handed on without a copy.
        whole, piece = io.BytesIO(), memoryview(bytearray(_CHUNK))
        with path.open("rb", buffering=0) as file:
            while count := file.readinto(piece):
                digest.update(piece[:count])
                whole.write(piece[:count])
                yield Step(_LOADED * min(whole.tell() / max(total, 1), 1.0), "Loading")
    except OSError as fault:
        raise UnreadableScan(
            "scan-not-opened",
            f"{path.name} cannot be opened: {fault.strerror}.",
            "Look whether it is still there.",
        ) from fault
    return whole.getvalue()


def _suffix(path: Path, data: bytes) -> str:
    suffix = path.suffix.lower()
    if data[:4].rstrip(b"\r\n") == b"ply":
        return ".ply"
    if suffix not in _READERS:
        raise UnreadableScan(
            "scan-format",
            f"\u201c{path.suffix or path.name}\u201d is not read here.",
            "Export the scan as STL, PLY, OBJ or 3MF, or its points as E57 or text.",
        )
    return suffix


def _later(work: Work[Parsed]) -> Work[Parsed]:
    """The reader's steps after the loading."""
    while True:
        try:
            step = next(work)
        except StopIteration as end:
            parsed: Parsed = end.value
            return parsed
        yield Step(_LOADED + (0.95 - _LOADED) * step.done, step.doing)


def _look_for_measurements(points: Floats) -> None:
    """Raise UnreadableScan where so many numbers are out of all measure that the file is no scan at all."""
    # Nearly every file is far from that, which one look at the ends tells.
    if len(points) and max(float(points.max()), -float(points.min())) <= _FARTHEST:
        return
    with np.errstate(invalid="ignore"):
        wild = np.isfinite(points) & (np.abs(points) > _FARTHEST)
    if len(points) and wild.any(axis=1).mean() > _WILD_SHARE:
        raise UnreadableScan(
            "no-measurements",
            "The numbers in this file are no measurements of anything.",
            "Look whether it is a scan at all, and export it again.",
        )


def clean(parsed: Parsed) -> tuple[Mesh, Bytes | None]:
    """The triangles that can be used, with the points they use; the rest is counted in `parsed.dropped`."""
    points, faces, dropped = parsed.points, parsed.faces, parsed.dropped
    named = _used(points, faces)
    if len(faces) and (faces.min() < 0 or faces.max() >= len(points)):
        there = ((faces >= 0) & (faces < len(points))).all(axis=1)
        drop(dropped, WRONG_POINT, int((~there).sum()))
        faces = faces[there]
    faces = faces.astype(np.int32, copy=False)
    _look_for_measurements(points)
    finite = _finite(points)
    if not finite.all():
        drop(dropped, NOT_NUMBERS, int((~finite).sum()))
        faces = faces[finite[faces].all(axis=1)]
    flat = without_area(points, faces)
    if flat.any():
        drop(dropped, NO_AREA, int(flat.sum()))
        faces = faces[~flat]
    drop(dropped, LOOSE, int((finite & ~named).sum()) if len(faces) else 0)
    used = _used(points, faces)
    if used.all():
        return Mesh(points, faces), parsed.colours
    rank = np.cumsum(used, dtype=np.int32) - 1
    colours = parsed.colours[used] if parsed.colours is not None else None
    return Mesh(points[used], rank[faces].astype(np.int32)), colours


def _finite(points: Floats) -> NDArray[np.bool_]:
    """Which points (N,) are numbers."""
    with np.errstate(invalid="ignore", over="ignore"):
        # A sum is a number only where every part of it is one.
        if np.isfinite(points.sum()):
            return np.ones(len(points), dtype=bool)
    finite: NDArray[np.bool_] = (
        np.isfinite(points[:, 0]) & np.isfinite(points[:, 1]) & np.isfinite(points[:, 2])
    )
    return finite


def _used(points: Floats, faces: NDArray[np.signedinteger]) -> NDArray[np.bool_]:
    flat = faces.ravel()
    if len(flat) == len(points) and np.array_equal(flat, np.arange(len(flat), dtype=flat.dtype)):
        # Every triangle with points of its own, as an STL has them.
        return np.ones(len(points), dtype=bool)
    used = np.zeros(len(points), dtype=bool)
    used[flat[(flat >= 0) & (flat < len(points))]] = True
    return used


def without_area(points: Floats, faces: NDArray[np.int32]) -> NDArray[np.bool_]:
    """Mask (M,) of the triangles whose height is nothing beside their longest side."""
    flat = np.zeros(len(faces), dtype=bool)
    for start in range(0, len(faces), _FACES_AT_ONCE):
        part = faces[start : start + _FACES_AT_ONCE]
        corner = points.take(part, axis=0).reshape(-1, 9).T.copy()
        (ux, uy, uz), (vx, vy, vz) = corner[3:6] - corner[:3], corner[6:] - corner[:3]
        x, y, z = uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx
        area2 = x * x + y * y + z * z
        long2 = np.maximum(ux * ux + uy * uy + uz * uz, vx * vx + vy * vy + vz * vz)
        flat[start : start + _FACES_AT_ONCE] = area2 <= (_FLAT * long2) ** 2
    return flat


def _nothing_left(parsed: Parsed) -> UnreadableScan | NoSurface:
    finite = int(np.isfinite(parsed.points).all(axis=1).sum())
    if finite and not len(parsed.faces) and not parsed.dropped:
        return NoSurface(
            "points-only",
            f"This file holds {show_number(finite, 0)} points without a surface.",
            "Make a surface from them in the scanner's program, or read another file.",
            points=finite,
        )
    lost = ", ".join(f"{show_number(count, 0)} {what}" for what, count in parsed.dropped.items())
    return UnreadableScan(
        "no-triangles",
        f"This file holds no triangle that can be used{': ' + lost if lost else ''}.",
        "Export the scan again.",
    )
