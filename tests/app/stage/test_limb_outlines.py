"""A finding about a forearm: its outline is drawn where the picture shows the arm in another gear, or not at all."""

from dataclasses import dataclass

import numpy as np

from app.stage.conftest import RAW
from core.small_case import small_layout
from floorpan import edits
from floorpan.checks import Finding
from floorpan.derive import Bench, elbow_in
from floorpan.driver import forearm
from floorpan.geometry.solids import Body
from floorpan.items import Shifter
from floorpan.items.states import State, state_of
from floorpan.limits import LIMITS
from floorpan_app.stage.outlines import absent_bodies

LAYOUT = edits.shift(small_layout(RAW), "seat-1", (-200.0, 0.0, 0.0))
SCENE = Bench({RAW.sha256: RAW}).scene(LAYOUT)


@dataclass
class _Figure:
    name: str
    body: Body


@dataclass
class _Shown:
    figure: _Figure
    hidden: bool = False

    def held(self) -> dict[str, _Figure]:
        return {self.figure.name: self.figure}

    def is_hidden(self, name: str) -> bool:
        return self.hidden


def in_gear(gear: str) -> State:
    return state_of({"driver-1.belts": "tight", "seat-1.notch": "6", "shifter-1.gear": gear})


def arm_in(gear: str) -> Body:
    found = elbow_in(SCENE, LAYOUT.people[0], LAYOUT.seats[0], LAYOUT.of(Shifter)[0], in_gear(gear))
    assert found is not None
    return forearm(found.posed)


def told(gear: str) -> Finding:
    return Finding(
        check="forearm-vessel",
        subjects=("driver-1.forearm", "vessel-1"),
        state=in_gear(gear),
        verdict="hits",
        value=-1.0,
        uncertainty=1.0,
        doubts=(),
        limit=LIMITS["forearm-vessel"],
    )


def test_an_arm_shown_in_that_very_gear_needs_no_outline() -> None:
    shown = _Shown(_Figure("driver-1.forearm", arm_in("R")))
    assert absent_bodies(told("R"), SCENE, in_gear("R"), shown) == ()  # type: ignore[arg-type]


def test_an_arm_shown_in_another_gear_or_hidden_is_outlined_where_the_finding_has_it() -> None:
    for shown in (
        _Shown(_Figure("driver-1.forearm", arm_in("1"))),
        _Shown(_Figure("driver-1.forearm", arm_in("R")), hidden=True),
    ):
        [body] = absent_bodies(told("R"), SCENE, in_gear("1"), shown)  # type: ignore[arg-type]
        np.testing.assert_allclose(body[0].box(), arm_in("R")[0].box(), atol=1e-6)
