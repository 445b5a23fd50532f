"""Groups of faces: each face once, no group too large, faces that lie together kept together."""

import numpy as np
import pytest

from floorpan.geometry import splitting as module
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.splitting import split
from made_up_sheets import tunnel_floor


def boxes_of(mesh: Mesh, groups: tuple[np.ndarray, ...]) -> np.ndarray:
    corners = [mesh.points[mesh.faces[group]].reshape(-1, 3) for group in groups]
    return np.array([np.ptp(at, axis=0) for at in corners])


@pytest.mark.parametrize("by_cells", [False, True])
@pytest.mark.parametrize("at_most", [1, 37, 400])
def test_every_face_is_in_one_group_of_the_size_asked_for(
    at_most: int, by_cells: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "_FEW_FACES", 0 if by_cells else 10**9)
    mesh = tunnel_floor(step=10.0)
    groups = split(mesh, at_most)
    assert max(len(group) for group in groups) <= at_most
    assert np.array_equal(np.sort(np.concatenate(groups)), np.arange(len(mesh.faces)))
    assert len(groups) <= 1.35 * np.ceil(len(mesh.faces) / at_most)


def test_cells_make_groups_about_as_compact_as_single_faces_do(monkeypatch: pytest.MonkeyPatch) -> None:
    mesh = tunnel_floor(step=5.0)
    by_faces = boxes_of(mesh, split(mesh, 200))
    monkeypatch.setattr(module, "_FEW_FACES", 0)
    by_cells = boxes_of(mesh, split(mesh, 200))
    assert np.linalg.norm(by_cells, axis=1).mean() < 1.3 * np.linalg.norm(by_faces, axis=1).mean()


@pytest.mark.parametrize("cells", [1, 8])
def test_a_cell_that_holds_too_many_is_halved_itself(cells: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """As where one stray point lies far out and the whole scan in one cell beside it."""
    monkeypatch.setattr(module, "_FEW_FACES", 0)
    monkeypatch.setattr(module, "_CELLS", cells)
    mesh = tunnel_floor(step=10.0)
    groups = split(mesh, 100)
    assert max(len(group) for group in groups) <= 100
    assert np.array_equal(np.sort(np.concatenate(groups)), np.arange(len(mesh.faces)))


def test_faces_all_in_one_place_are_split_too(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "_FEW_FACES", 0)
    mesh = Mesh(np.zeros((3, 3)), np.tile(np.arange(3, dtype=np.int32), (50, 1)))
    assert sorted(len(group) for group in split(mesh, 20)) == [10, 20, 20]


def test_nothing_gives_no_group() -> None:
    assert split(Mesh(np.zeros((0, 3)), np.zeros((0, 3), dtype=np.int32))) == ()
