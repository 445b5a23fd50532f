"""Outlines seen from a side, as a few straight lines that can be kept or drawn anywhere."""

from collections.abc import Sequence

import numpy as np
from shapely.geometry import MultiPolygon, Polygon

from floorpan.geometry.solids import Body
from floorpan.geometry.thin_line import thin_line
from floorpan.report.outlines import Side, silhouette

FlatLine = tuple[tuple[float, float], ...]


def rings(body: Body, side: Side, finest_mm: float) -> tuple[FlatLine, ...]:
    """The outer rings of what a body covers seen from a side, off by no more than finest_mm."""
    covered = silhouette(body, side).simplify(finest_mm)
    pieces = covered.geoms if isinstance(covered, MultiPolygon) else (covered,)
    return tuple(
        tuple((float(x), float(z)) for x, z in piece.exterior.coords)
        for piece in pieces
        if isinstance(piece, Polygon) and not piece.is_empty
    )


def simpler(line: Sequence[tuple[float, float]], finest_mm: float) -> FlatLine:
    """An open line with fewer points, off by no more than finest_mm."""
    return tuple((float(x), float(z)) for x, z in thin_line(np.array(line, dtype=float), finest_mm))
