"""The skin about a region: where and how large it is, in closed form, and that it has no stairs."""

import math

import numpy as np
import pytest
import trimesh

from floorpan_app.viewport.skins import skin

SPACING = 10.0
ORIGIN = np.array([-150.0, 20.0, 300.0])


def places() -> np.ndarray:
    return ORIGIN + SPACING * np.stack(np.meshgrid(*[np.arange(31)] * 3, indexing="ij"), axis=-1)


def about(middle: np.ndarray, radius: float) -> np.ndarray:
    """The room in a ball: its radius less the way to its middle."""
    return radius - np.linalg.norm(places() - middle, axis=-1)


def test_a_balls_skin_is_a_ball() -> None:
    """Closed form: every point a radius from the middle, the volume that of a ball, closed and facing out."""
    middle = ORIGIN + np.array([148.0, 153.0, 151.0])
    mesh = skin(ORIGIN, SPACING, about(middle, 90.0))
    assert mesh is not None
    off = np.linalg.norm(mesh.points - middle, axis=1) - 90.0
    assert np.abs(off).max() < 0.1 * SPACING
    body = trimesh.Trimesh(mesh.points, mesh.faces)
    assert body.is_watertight
    assert body.volume == pytest.approx(4.0 / 3.0 * math.pi * 90.0**3, rel=0.01)


def test_a_slanted_face_has_no_stairs() -> None:
    """Closed form: away from where two faces meet, every triangle of a slanted face lies as the face does."""
    normal = np.array([0.48, 0.36, 0.8])
    middle = ORIGIN + 150.0
    room = np.minimum(about(middle, 110.0), 20.0 - (places() - middle) @ normal)
    mesh = skin(ORIGIN, SPACING, room)
    assert mesh is not None
    faces = trimesh.Trimesh(mesh.points, mesh.faces)
    centres = faces.triangles_center - middle
    out = np.linalg.norm(centres - (centres @ normal)[:, None] * normal, axis=1)
    flat = (np.abs(centres @ normal - 20.0) < 3.0) & (out < 75.0)
    assert flat.sum() > 200
    assert np.degrees(np.arccos(np.clip(faces.face_normals[flat] @ normal, -1.0, 1.0))).max() < 3.0


def test_nothing_inside_has_no_skin() -> None:
    assert skin(ORIGIN, SPACING, np.full((5, 6, 7), -40.0)) is None
