"""Skins of rounded solids against closed forms."""

import math

import numpy as np
import pytest
import trimesh

from core.geometry.test_mesh_solids import channel
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.mesh_solids import mesh_hull
from floorpan.geometry.solids import Hull, ball, box, capsule, frustum
from floorpan_app.viewport.rounded import Skin, skin_of


def volume(skin: Skin) -> float:
    """By the divergence theorem; right only for a closed skin seen from outside."""
    a, b, c = (skin.points[skin.faces[:, corner]] for corner in range(3))
    return float(np.einsum("ij,ij->", a, np.cross(b, c)) / 6.0)


def steiner(a: float, b: float, c: float, r: float) -> float:
    """Volume of an a x b x c box dilated by r (Steiner's formula)."""
    return (
        a * b * c + 2 * r * (a * b + b * c + c * a) + math.pi * r * r * (a + b + c) + 4 / 3 * math.pi * r**3
    )


@pytest.mark.parametrize(
    ("hull", "true", "short"),
    [
        (ball([5, 6, 7], 10.0), 4 / 3 * math.pi * 1000.0, 0.02),
        (
            capsule([0, 0, 0], [100, 20, 5], 12.0),
            math.pi * 144 * math.dist((0, 0, 0), (100, 20, 5)) + 4 / 3 * math.pi * 1728,
            0.01,
        ),
        (box([0, 0, 0], [100, 50, 20], 6.0), steiner(88, 38, 8, 6.0), 0.01),
        (box([0, 0, 0], [100, 50, 20]), 100_000.0, 1e-12),
        (
            Hull(np.array([[0, 0, 0], [90, 0, 0], [90, 40, 0], [0, 40, 0.0]]), 5.0),
            steiner(90, 40, 0, 5.0),
            0.02,
        ),
    ],
    ids=["ball", "rod", "rounded box", "box", "rounded sheet"],
)
def test_the_skin_holds_the_true_volume_less_what_facets_cut_off(
    hull: Hull, true: float, short: float
) -> None:
    assert true * (1 - short) <= volume(skin_of(hull)) <= true * (1 + 1e-9)


def test_a_ring_drawn_around_a_circle_holds_a_little_more_than_the_cone() -> None:
    cone = math.pi * 85.0 / 3 * (55.0**2 + 55.0 * 28.0 + 28.0**2)
    assert cone <= volume(skin_of(frustum(215.0, 300.0, 55.0, 28.0))) <= cone * 1.003


@pytest.mark.parametrize(
    "hull",
    [
        ball([5, 6, 7], 10.0),
        capsule([0, 0, 0], [0, 0, 80], 12.0),
        capsule([9, 9, 9], [9, 9, 9], 12.0),
        box([0, 0, 0], [100, 50, 20], 6.0),
    ],
    ids=["ball", "upright rod", "rod of no length", "rounded box"],
)
def test_every_point_lies_on_the_round_surface_with_its_true_normal(hull: Hull) -> None:
    skin = skin_of(hull)
    assert np.linalg.norm(skin.normals, axis=1) == pytest.approx(np.ones(len(skin.normals)))
    # Going in by the radius along the normal leads onto the hull, and nothing of the hull is nearer.
    inside = skin.points - hull.radius_mm * skin.normals
    reach = np.einsum("ij,ij->i", inside, skin.normals)
    assert reach == pytest.approx((skin.normals @ hull.points.T).max(axis=1), abs=1e-6)


def test_a_flat_side_is_shaded_flat_and_a_ring_round() -> None:
    flat = skin_of(box([0, 0, 0], [100, 50, 20]))
    assert sorted(set(np.abs(flat.normals).max(axis=1).round(9))) == [1.0]
    skin = skin_of(frustum(0.0, 100.0, 40.0, 40.0))
    side = np.abs(skin.normals[:, 2]) < 0.5
    outward = skin.points[side, :2] / np.linalg.norm(skin.points[side, :2], axis=1, keepdims=True)
    assert np.einsum("ij,ij->i", outward, skin.normals[side, :2]).min() > math.cos(math.radians(4.0))
    lids = skin.normals[~side]
    assert np.abs(lids[:, 2]) == pytest.approx(np.ones(len(lids)))


def test_a_skin_is_made_once_for_each_hull() -> None:
    hull = ball([0, 0, 0], 5.0)
    assert skin_of(hull) is skin_of(hull)


def test_a_mesh_is_drawn_as_it_is_dents_and_all() -> None:
    """A channel of 200 by 100 by 80 less 60 by 60, flat; a ball with a waist, of many triangles, smooth."""
    assert volume(skin_of(mesh_hull(channel()))) == pytest.approx(200.0 * (100.0 * 80.0 - 60.0 * 60.0))
    made = trimesh.creation.icosphere(subdivisions=5, radius=100.0)
    points = made.vertices * (1.0 - 0.5 * np.exp(-((made.vertices[:, 2:] / 30.0) ** 2)))
    skin = skin_of(mesh_hull(Mesh(points, made.faces)))
    assert volume(skin) == pytest.approx(trimesh.Trimesh(points, made.faces, process=False).volume)
    assert len(skin.points) == len(points)
    np.testing.assert_allclose(np.linalg.norm(skin.normals, axis=1), 1.0, atol=1e-5)
    poles = np.abs(points[:, 2]) > 90.0
    assert (np.einsum("ij,ij->i", skin.normals, points / 100.0)[poles] > 0.5).all()
