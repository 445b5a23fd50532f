"""Meshes to files."""

from pathlib import Path

import numpy as np

from floorpan.geometry.mesh import Mesh

_FACE = np.dtype([("count", "u1"), ("corners", "<i4", 3)])


def write_ply(mesh: Mesh, path: Path | str) -> None:
    """A binary PLY with points in double precision, in the mesh's own unit."""
    head = (
        "ply\nformat binary_little_endian 1.0\n"
        f"element vertex {len(mesh.points)}\n"
        "property double x\nproperty double y\nproperty double z\n"
        f"element face {len(mesh.faces)}\n"
        "property list uchar int vertex_indices\nend_header\n"
    )
    faces = np.empty(len(mesh.faces), dtype=_FACE)
    faces["count"], faces["corners"] = 3, mesh.faces
    with Path(path).open("wb") as file:
        file.write(head.encode("ascii"))
        file.write(mesh.points.astype("<f8").tobytes())
        file.write(faces.tobytes())
