"""An armrest: the pad's top and edges, its lid about either edge in closed form."""

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from floorpan.errors import BadValue
from floorpan.frames import Floats
from floorpan.items import Armrest, Place
from floorpan.items.armrest import KIND

REST = Armrest(
    id="armrest-1",
    place=Place(x_mm=400.0, y_mm=20.0, z_mm=300.0),
    length_mm=200.0,
    width_mm=100.0,
    height_mm=150.0,
    pad_mm=30.0,
    radius_mm=0.0,
    open_deg=90.0,
)


def pad(rest: Armrest, stop: str) -> Floats:
    [solid] = KIND.envelope(rest, "pad", {"lid": stop})
    return np.stack([solid.points().min(axis=0), solid.points().max(axis=0)])


def test_shut_its_top_is_where_it_is_typed() -> None:
    np.testing.assert_allclose(pad(REST, "shut"), [[300.0, -30.0, 420.0], [500.0, 70.0, 450.0]])


def test_open_it_stands_up_behind_its_hinge() -> None:
    """A quarter turn: the length stands up, the thickness lies beyond the edge it is hinged at."""
    np.testing.assert_allclose(pad(REST, "open"), [[500.0, -30.0, 420.0], [530.0, 70.0, 620.0]], atol=1e-9)
    front = pad(replace(REST, hinge="front"), "open")
    np.testing.assert_allclose(front, [[270.0, -30.0, 420.0], [300.0, 70.0, 620.0]], atol=1e-9)


@pytest.mark.parametrize("hinge", ["rear", "front"])
def test_the_far_corner_goes_its_arc_and_nothing_farther(hinge: Any) -> None:
    """Against dense sampling: many small chords come to the promised arc from below."""
    rest = replace(REST, hinge=hinge)
    shares = np.linspace(0.0, 1.0, 4001)
    at = np.array(
        [KIND.envelope_between(rest, "pad", {}, "lid", "shut", "open", share)[0].points() for share in shares]
    )
    travelled = np.linalg.norm(np.diff(at, axis=0), axis=2).sum(axis=0).max()
    promised = KIND.motion_mm(rest, "pad", "lid", "shut", "open")
    assert promised == pytest.approx(math.hypot(200.0, 30.0) * math.pi / 2)
    assert promised * (1.0 - 1e-6) <= travelled <= promised + 1e-9


def test_a_pad_as_high_as_it_is_thick_has_no_box() -> None:
    flat = replace(REST, height_mm=30.0)
    assert [part.name for part in KIND.parts(flat)] == ["pad"]
    assert [part.name for part in KIND.parts(REST)] == ["box", "pad"]
    with pytest.raises(BadValue):
        KIND.envelope(flat, "box", {})


@pytest.mark.parametrize("wrong", [{"hinge": "left"}, {"open_deg": 200.0}, {"length_mm": math.inf}])
def test_what_it_does_not_take(wrong: dict[str, Any]) -> None:
    with pytest.raises(BadValue):
        Armrest(id="armrest-1", **wrong)
