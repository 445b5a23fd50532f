"""The carpet map: totals, areas with their own carpet, and the three surfaces."""

import numpy as np
import pytest

from floorpan.errors import BadValue
from floorpan.geometry.mesh import Mesh
from floorpan.progress import finish
from floorpan.scan.carpet import (
    BARE,
    USUAL,
    Carpet,
    CarpetMap,
    CarpetOn,
    Layer,
    carpet_surfaces,
    down_panel,
    face_thickness,
)


def test_layers_add_up() -> None:
    # Build-up of a sound-proofing article: butyl 2.0, closed-cell foam 6.35, mass-loaded vinyl 3, carpet 6.
    carpet = Carpet(
        layers=tuple(
            Layer(kind=kind, loose_mm=loose, squeezed_mm=squeezed)
            for kind, loose, squeezed in (
                ("deadening", 2.0, 2.0),
                ("insulator", 6.35, 1.5),
                ("insulator", 3.0, 3.0),
                ("carpet", 6.0, 2.0),
            )
        )
    )
    assert carpet.loose_mm == pytest.approx(17.35)
    assert carpet.squeezed_mm == pytest.approx(8.5)
    assert BARE.loose_mm == BARE.squeezed_mm == 0.0
    assert USUAL.loose_mm == 12.0


def test_nothing_is_thicker_squeezed_than_loose() -> None:
    with pytest.raises(BadValue) as refused:
        Layer(loose_mm=4.0, squeezed_mm=5.0)
    assert refused.value.code == "thicker-squeezed"
    with pytest.raises(BadValue):
        Layer(loose_mm=float("nan"), squeezed_mm=0.0)


def test_an_area_has_its_own_carpet_or_none_or_that_of_the_rest() -> None:
    thin = Carpet(layers=(Layer(loose_mm=5.0, squeezed_mm=2.0),))
    carpets = CarpetMap(on=(CarpetOn(area="scan-1.1", carpet=BARE), CarpetOn(area="scan-1.2", carpet=thin)))
    assert carpets.of("scan-1.1") is BARE
    assert carpets.of("scan-1.2") is thin
    assert carpets.of("scan-1") is USUAL
    with pytest.raises(BadValue) as refused:
        CarpetMap(on=(CarpetOn(area="a", carpet=BARE), CarpetOn(area="a", carpet=thin)))
    assert refused.value.code == "carpet-twice"
    thickness = face_thickness(np.array([0, 1, -1]), (BARE, thin), USUAL)
    assert thickness.tolist() == [[0.0, 0.0], [5.0, 2.0], [12.0, 4.0]]


def test_the_three_surfaces_over_a_level_floor() -> None:
    points = np.array([[-100.0, -50, 3], [0, -50, 3], [100, -50, 3], [-100, 50, 3], [0, 50, 3], [100, 50, 3]])
    mesh = Mesh(points, np.array([[0, 1, 4], [0, 4, 3], [1, 2, 5], [1, 5, 4]], dtype=np.int32))
    thickness = face_thickness(np.array([-1, -1, 0, 0]), (BARE,), USUAL)
    found = finish(carpet_surfaces(mesh, thickness, np.array([-90.0, -40.0]), np.array([90.0, 40.0]), 4.0))
    x, _ = found.bare.centres()
    assert found.bare.z == pytest.approx(np.full(x.shape, 3.0))
    for grid, thick in ((found.loose, 12.0), (found.squeezed, 4.0)):
        # Closed form: the cover ends over the bare half in a quarter round.
        true = np.where(x < 0.0, thick, np.sqrt(np.maximum(thick**2 - x**2, 0.0)))
        assert grid.z - 3.0 == pytest.approx(true)
    assert [len(sheet.points) for sheet in found.sheets()] == [x.size] * 3


def test_the_table_of_twelve_mm() -> None:
    # Trade table, worked out as t / cos of the slope: common practice.
    assert [f"{slope:g}: {thick:.1f}" for slope, thick in down_panel(12.0)] == [
        "0: 12.0",
        "30: 13.9",
        "45: 17.0",
        "60: 24.0",
        "70: 35.1",
    ]
