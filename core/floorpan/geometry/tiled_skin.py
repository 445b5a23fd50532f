"""The skin of a large mesh in tiles, standing at a pose: small trees, each built when something first comes near.

What it answers is what one tree over all triangles would: pairs of tiles are asked in the order of how near their boxes
come, and the search ends where that exceeds the least distance found. The distance is the same; of several places
that are equally near one is told.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from floorpan.frames import STILL, Pose
from floorpan.geometry.mesh import Floats
from floorpan.geometry.skin_tree import Apart, Skin
from floorpan.geometry.tiles import Tile

# Bounds are worked out in floating point; nearer than this they do not rule a tile out [mm].
_SLACK_MM = 1e-9


class TiledSkin:
    """Tiles of one mesh, moved together. The trees are the tiles' own, shared by all that stand on them.

    boxes : (T, 2, 3) of the tiles in the mesh's own coordinates [mm]
    pose  : where it stands
    """

    __slots__ = ("_held", "_tiles", "boxes", "pose")

    def __init__(self, tiles: Sequence[Tile], boxes: Floats) -> None:
        self._tiles = tiles
        self._held: list[Skin | None] = [None] * len(tiles)
        self.boxes = boxes
        self.pose = STILL

    def stand(self, pose: Pose) -> None:
        """Move to a pose; each tile follows when it is asked."""
        self.pose = pose

    def tile(self, at: int) -> Skin:
        """One tile, standing there; its tree is built on first use."""
        skin = self._held[at]
        if skin is None:
            skin = self._held[at] = self._tiles[at].skin().another()
        if skin.pose is not self.pose:
            skin.stand(self.pose)
        return skin

    def face(self, at: int, face: int) -> int:
        """The number in the whole mesh of a face of one tile."""
        return int(self._tiles[at].faces[face])


Posed = Skin | TiledSkin


def apart(one: Posed, other: Posed) -> Apart:
    """Least distance between two skins; 0 where they cross."""
    if isinstance(one, Skin) and isinstance(other, Skin):
        return one.apart(other)
    bounds = _bounds(one, other)
    best: Apart | None = None
    for at in np.argsort(bounds, axis=None, kind="stable"):
        row, column = divmod(int(at), bounds.shape[1])
        if best is not None and (not best.distance_mm or bounds[row, column] > best.distance_mm + _SLACK_MM):
            break
        found = _tile(one, row).apart(_tile(other, column))
        if best is None or found.distance_mm < best.distance_mm:
            face = found.face if isinstance(other, Skin) else other.face(column, found.face)
            best = Apart(found.distance_mm, found.first, found.second, face)
    assert best is not None
    return best


def crosses(one: Posed, other: Posed) -> bool:
    """Whether two skins cross or touch."""
    if isinstance(one, Skin) and isinstance(other, Skin):
        return one.crosses(other)
    near = np.argwhere(_bounds(one, other) <= _SLACK_MM)
    return any(_tile(one, row).crosses(_tile(other, column)) for row, column in near.tolist())


def _tile(skin: Posed, at: int) -> Skin:
    return skin if isinstance(skin, Skin) else skin.tile(at)


def _bounds(one: Posed, other: Posed) -> Floats:
    """What the tiles (M,) of one are apart at least from the tiles (N,) of the other (M, N) [mm].

    By their boxes, seen along the axes of either.
    """
    own, theirs = _boxes(one), _boxes(other)
    turn, their_turn = (np.reshape(skin.pose.rotation, (3, 3)) for skin in (one, other))
    way = np.subtract(other.pose.shift_mm, one.pose.shift_mm)
    between = turn.T @ their_turn
    here = box_gaps_between(own, _turned(theirs, between, way @ turn))
    there = box_gaps_between(_turned(own, between.T, -way @ their_turn), theirs)
    bounds: Floats = np.maximum(here, there)
    return bounds


def box_bounds(skin: Posed, boxes: Floats) -> Floats:
    """What a skin is apart at least from what lies in upright boxes (T, 2, 3): (T,) [mm]."""
    turn = np.reshape(skin.pose.rotation, (3, 3))
    own, shift = _boxes(skin), np.asarray(skin.pose.shift_mm)
    gaps = box_gaps_between(_turned(own, turn, shift), boxes)
    if skin.pose.rotation != STILL.rotation:
        gaps = np.maximum(gaps, box_gaps_between(own, _turned(boxes, turn.T, -shift @ turn)))
    bounds: Floats = gaps.min(axis=0)
    return bounds


def _boxes(skin: Posed) -> Floats:
    return skin.bounds[None] if isinstance(skin, Skin) else skin.boxes


def _turned(boxes: Floats, turn: Floats, shift: Floats) -> Floats:
    """Upright boxes (T, 2, 3) about boxes that are turned and then shifted."""
    middle = (boxes[:, 0] + boxes[:, 1]) / 2.0 @ turn.T + shift
    half = (boxes[:, 1] - boxes[:, 0]) / 2.0 @ np.abs(turn.T)
    return np.stack([middle - half, middle + half], axis=1)


def box_gaps_between(own: Floats, theirs: Floats) -> NDArray[np.float64]:
    """Distances (M, N) between upright boxes (M, 2, 3) and (N, 2, 3)."""
    squared = np.zeros((len(own), len(theirs)))
    for axis in range(3):
        low, high = own[:, None, 0, axis], own[:, None, 1, axis]
        out = np.maximum(np.maximum(theirs[:, 0, axis] - high, low - theirs[:, 1, axis]), 0.0)
        squared += out * out
    return np.sqrt(squared)
