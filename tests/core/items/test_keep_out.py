"""Keep-outs: box, disc and tube in closed form."""

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from floorpan import edits
from floorpan.errors import BadValue
from floorpan.geometry.clearance import body_gap
from floorpan.geometry.solids import Solid, ball
from floorpan.items import KeepOut, Place
from floorpan.items.keep_out import KIND
from floorpan.layout import Layout
from floorpan.project.codec import read_layout, write_layout
from floorpan.project.typed_json import Reading

AT = Place(x_mm=200.0, y_mm=-50.0, z_mm=100.0)
DISC = KeepOut(id="keep-out-1", place=AT, form="disc", radius_mm=60.0, depth_mm=30.0)


def gap(kept: KeepOut, point: tuple[float, float, float]) -> float:
    """From a ball of 1 mm about a point."""
    body = (Solid(ball(np.array(point), 1.0)),)
    return body_gap(body, KIND.envelope(kept, "room", {})).distance_mm


def test_a_disc_is_a_cylinder_under_its_face_and_1_proud() -> None:
    [solid] = KIND.envelope(DISC, "room", {})
    assert gap(DISC, (200.0, -50.0, 110.0)) == pytest.approx(8.0)
    assert gap(DISC, (200.0, -50.0, 60.0)) == pytest.approx(9.0)
    for angle in np.linspace(0.0, 2.0 * math.pi, 37):
        away = gap(DISC, (200.0 + 100.0 * math.cos(angle), -50.0 + 100.0 * math.sin(angle), 90.0))
        assert 39.0 - solid.hull.facet_mm - 1e-9 <= away <= 39.0 + 1e-9


@pytest.mark.parametrize("rise", [0.0, 30.0, -45.0])
def test_a_tube_rises_rearward(rise: float) -> None:
    tube = replace(DISC, form="tube", length_mm=300.0, radius_mm=10.0, rise_deg=rise)
    angle = math.radians(rise)
    end = (200.0 + 150.0 * math.cos(angle), -50.0, 100.0 + 150.0 * math.sin(angle))
    beyond = (end[0] + 20.0 * math.cos(angle), -50.0, end[2] + 20.0 * math.sin(angle))
    assert gap(tube, beyond) == pytest.approx(20.0 - 10.0 - 1.0)
    assert gap(tube, (200.0, 0.0, 100.0)) == pytest.approx(50.0 - 11.0)


def test_a_box_stands_on_its_place() -> None:
    box = replace(DISC, form="box", length_mm=80.0, width_mm=40.0, height_mm=50.0)
    [solid] = KIND.envelope(box, "room", {})
    np.testing.assert_allclose(solid.box(), [[160.0, -70.0, 100.0], [240.0, -30.0, 150.0]])


def test_it_is_mirrored_and_kept_with_the_project() -> None:
    layout, id = edits.add(Layout(), replace(DISC, form="tube", what_for="pipe"))
    assert edits.mirror(layout, id).thing(id).place.y_mm == 50.0
    assert read_layout(write_layout(layout, {}), Reading("project.json")) == layout


@pytest.mark.parametrize("wrong", [{"form": "cone"}, {"what_for": "dog"}, {"radius_mm": 0.0}])
def test_what_it_does_not_take(wrong: dict[str, Any]) -> None:
    with pytest.raises(BadValue):
        KeepOut(id="keep-out-1", **wrong)
