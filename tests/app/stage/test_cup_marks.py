"""The Cup step's picture: the way a vessel is lifted out and how far it leans, in closed form."""

import math

import numpy as np
import pytest

from app.stage.bench import Bench
from floorpan.items import CupHolder, Vessel, well_fit
from floorpan.items.lift_out import OVER_EDGE_MM
from floorpan.items.vessels import height_mm
from floorpan_app.stage import groups, words
from floorpan_app.viewport.marks import Path


@pytest.fixture
def cup(small: Bench) -> Bench:
    small.desk.go_to("cup")
    small.settle()
    return small


def dashed(bench: Bench, role: str) -> list[Path]:
    return [path for path in bench.marks.paths if path.stroke == "dashed" and path.role == role]


def of(bench: Bench) -> tuple[CupHolder, Vessel]:
    (vessel,) = bench.desk.layout.of(Vessel)
    (holder,) = (one for one in bench.desk.layout.of(CupHolder) if one.id == vessel.stands_in)
    return holder, vessel


def test_straight_up_until_the_base_is_over_the_mouth_then_level(cup: Bench) -> None:
    holder, vessel = of(cup)
    (way,) = dashed(cup, "accent")
    foot, over, end = way.points_mm
    sits = well_fit(holder, vessel).sits_mm
    assert over[:2] == pytest.approx(foot[:2])
    assert foot[2] == pytest.approx(holder.place.z_mm + holder.depth_mm - sits + height_mm(vessel) / 2)
    # The console's top may be the higher edge.
    assert over[2] - foot[2] >= sits + OVER_EDGE_MM - 1e-9
    assert end[2] == pytest.approx(over[2])
    assert np.linalg.norm(end - over) == pytest.approx(150.0, abs=1e-6)
    told = [word for word in cup.marks.words if word.text.startswith("lift straight up")]
    assert [word.text for word in told] == [words.LIFT_OUT["lifting"].format(n=round(over[2] - foot[2]))]


def test_it_leans_both_ways_by_its_free_tilt(cup: Bench) -> None:
    holder, vessel = of(cup)
    tilt = well_fit(holder, vessel).free_tilt_deg
    (lean,) = dashed(cup, "ink2")
    ways = lean.points_mm[:, 1] - lean.points_mm[:, 0]
    assert np.linalg.norm(ways, axis=1) == pytest.approx(height_mm(vessel))
    angles = np.degrees(np.arctan2(ways[:, 0], ways[:, 2]))
    assert sorted(angles) == pytest.approx([-tilt, tilt])
    assert any(word.text == words.LEANS.format(n=f"{tilt:.1f}") for word in cup.marks.words)
    assert math.isfinite(tilt)


def test_nothing_of_it_where_the_cup_is_hidden_or_on_another_step(cup: Bench) -> None:
    cup.stage.show(groups.CUP, False)
    cup.settle()
    assert not dashed(cup, "accent")
    cup.stage.show(groups.CUP, True)
    cup.desk.go_to("controls")
    cup.settle()
    assert not dashed(cup, "accent")
