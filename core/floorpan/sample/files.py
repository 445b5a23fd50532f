"""A scan as the files scanners write: binary PLY and binary STL."""

from pathlib import Path

import numpy as np

from floorpan.sample.shapes import Floats
from floorpan.sample.surface import Faces, cross

_PLY_FACE = np.dtype([("count", "u1"), ("corners", "<i4", (3,))])
_STL_FACE = np.dtype([("normal", "<f4", (3,)), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])


def write_ply(path: Path, points: Floats, faces: Faces) -> None:
    """Write points (N, 3) in mm and faces (M, 3) as binary little-endian PLY 1.0, coordinates in float32."""
    header = (
        "ply\n"
        "format binary_little_endian 1.0\n"
        "comment simulated scan of an invented car, mm\n"
        f"element vertex {len(points)}\n"
        "property float x\nproperty float y\nproperty float z\n"
        f"element face {len(faces)}\n"
        "property list uchar int vertex_indices\n"
        "end_header\n"
    )
    records = np.empty(len(faces), dtype=_PLY_FACE)
    records["count"] = 3
    records["corners"] = faces
    path.write_bytes(header.encode("ascii") + points.astype("<f4").tobytes() + records.tobytes())


def write_stl(path: Path, points: Floats, faces: Faces) -> None:
    """Write points (N, 3) in mm and faces (M, 3) as binary STL; faces without area get a zero normal."""
    stored = points.astype("<f4")
    area = cross(stored.astype(np.float64), faces)
    length = np.sqrt(np.sum(area * area, axis=1))
    records = np.zeros(len(faces), dtype=_STL_FACE)
    records["normal"] = area / np.where(length > 0.0, length, 1.0)[:, None]
    records["corners"] = stored[faces]
    # Eighty bytes that must not begin with the word that marks a text STL.
    header = b"binary, simulated scan of an invented car, mm".ljust(80, b" ")
    path.write_bytes(header + np.array([len(faces)], dtype="<u4").tobytes() + records.tobytes())
