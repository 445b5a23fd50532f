"""What a crop leaves of a scan: the box first, then every outline in the order they were drawn."""

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import Polygon

from floorpan.frames import STILL, Pose
from floorpan.geometry.crop import crop_box
from floorpan.geometry.mesh import Floats, Mesh
from floorpan.geometry.outline_crop import crop_outline
from floorpan.layout import Box, ScanRef
from floorpan.scan.outlines import Outline

Bools = NDArray[np.bool_]


def is_cropped(scan: ScanRef) -> bool:
    """Whether anything of the scan is left out."""
    return scan.crop is not None or bool(scan.outlines)


def cropped(
    mesh: Mesh, scan: ScanRef, pose: Pose = STILL, *, margin_mm: float = 0.0, cut: bool = True
) -> Mesh:
    """The part of a mesh of the scan, standing at a pose, that its crop keeps.

    margin_mm : so much more all round what is kept; what an outline drops is dropped without one
    cut       : whether faces across an edge are cut along it, or kept whole
    """
    if scan.crop is not None:
        low = np.asarray(scan.crop.least_mm) - margin_mm
        high = np.asarray(scan.crop.greatest_mm) + margin_mm
        mesh = crop_box(mesh, pose.after(scan.crop.frame), low, high, cut=cut)
    for outline in scan.outlines:
        corners = np.asarray(outline.corners_mm, dtype=float)
        if outline.keep and margin_mm > 0.0:
            corners = _grown(outline, margin_mm)
        mesh = crop_outline(mesh, pose.after(outline.frame), corners, keep=outline.keep, cut=cut)
    return mesh


def kept_points(points: Floats, scan: ScanRef) -> Bools:
    """Which points (N, 3), in the scan's own coordinates, its crop keeps (N,)."""
    kept = np.ones(len(points), dtype=bool)
    if scan.crop is not None:
        kept &= within(points, scan.crop)
    for outline in scan.outlines:
        at = outline.frame.inverse().apply(points)
        inside = shapely.contains_xy(Polygon(outline.corners_mm), at[:, 0], at[:, 1])
        kept &= inside == outline.keep
    return kept


def within(points: Floats, box: Box) -> Bools:
    """Which points (N, 3), in the coordinates a box's frame leads to, lie in it (N,)."""
    at = box.frame.inverse().apply(points)
    inside: Bools = np.all((at >= box.least_mm) & (at <= box.greatest_mm), axis=1)
    return inside


def _grown(outline: Outline, by_mm: float) -> Floats:
    corners: Floats = np.asarray(Polygon(outline.corners_mm).buffer(by_mm, quad_segs=4).exterior.coords)[:-1]
    return corners
