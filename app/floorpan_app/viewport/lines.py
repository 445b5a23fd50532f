"""Straight pieces drawn in the depth of the picture, and dashes cut from closed rims."""

import numpy as np
import pyvista
from numpy.typing import NDArray
from vtkmodules.vtkRenderingCore import vtkActor, vtkPolyDataMapper

from floorpan_app.viewport.shade import lift

Floats = NDArray[np.float64]


def line_actor(segments_mm: Floats, width_px: float) -> vtkActor:
    """An actor that draws pieces (N, 2, 3) [mm], a little before what they lie on."""
    mapper = vtkPolyDataMapper()
    mapper.ScalarVisibilityOff()
    actor = vtkActor()
    actor.SetMapper(mapper)
    actor.PickableOff()
    actor.GetProperty().SetLineWidth(width_px)
    lift(actor)
    set_segments(actor, segments_mm)
    return actor


def set_segments(actor: vtkActor, segments_mm: Floats) -> None:
    """Give a line actor other pieces."""
    pieces = np.asarray(segments_mm, dtype=float).reshape(-1, 2, 3)
    shape = pyvista.PolyData()
    shape.points = pieces.reshape(-1, 3)
    count = len(pieces)
    pairs = np.column_stack([np.full(count, 2), np.arange(2 * count).reshape(-1, 2)])
    shape.lines = pairs.ravel()
    mapper = actor.GetMapper()
    assert isinstance(mapper, vtkPolyDataMapper)
    mapper.SetInputData(shape)


def rims(faces: NDArray[np.int32]) -> list[NDArray[np.int32]]:
    """Closed loops of point numbers around faces (M, 3): the edges that only one face uses, end to end.

    Where a rim touches itself the loop is cut there; a piece that does not close is given as it is.
    """
    edges = np.concatenate([faces[:, [0, 1]], faces[:, [1, 2]], faces[:, [2, 0]]])
    low_high = np.sort(edges, axis=1)
    _, where, times = np.unique(low_high, axis=0, return_index=True, return_counts=True)
    after: dict[int, list[int]] = {}
    for start, end in edges[where[times == 1]].tolist():
        after.setdefault(start, []).append(end)
    loops = []
    while after:
        start = next(iter(after))
        loop = [start]
        while loop[-1] in after:
            following = after[loop[-1]].pop()
            if not after[loop[-1]]:
                del after[loop[-1]]
            loop.append(following)
            if following == start:
                break
        loops.append(np.array(loop, dtype=np.int32))
    return loops


def dashed(path_mm: Floats, dash_mm: float, gap_mm: float) -> Floats:
    """Dashes (K, 2, 3) along a path (N, 3) [mm]; each follows the path round its corners."""
    steps = np.linalg.norm(np.diff(path_mm, axis=0), axis=1)
    along = np.concatenate([[0.0], np.cumsum(steps)])
    if along[-1] <= 0.0:
        return np.empty((0, 2, 3))
    period = dash_mm + gap_mm
    starts = np.arange(0.0, along[-1], period)
    cuts = np.unique(np.concatenate([along, starts, np.minimum(starts + dash_mm, along[-1])]))
    middle = (cuts[:-1] + cuts[1:]) / 2
    inked = np.mod(middle, period) < dash_mm
    ends = np.stack([cuts[:-1][inked], cuts[1:][inked]], axis=1)
    pieces = np.empty((len(ends), 2, 3))
    for axis in range(3):
        pieces[..., axis] = np.interp(ends, along, path_mm[:, axis])
    return pieces
