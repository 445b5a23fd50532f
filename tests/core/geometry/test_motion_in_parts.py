"""A body on its way, part by part: the same least gap as the whole body's, and pieces that are the whole."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from floorpan.frames import Pose
from floorpan.geometry.clearance import body_gap
from floorpan.geometry.motion import least_over_motion
from floorpan.geometry.motion_in_parts import least_in_parts
from floorpan.geometry.near import Near
from floorpan.geometry.solids import Body, Solid, ball, box, capsule, frustum
from floorpan.geometry.turning_pieces import pieces, turn_of

WITHIN_MM = 0.09
LID = box([0.0, -60.0, -5.0], [300.0, 60.0, 5.0], 4.0)
STAND = frustum(-80.0, -20.0, 30.0, 40.0)
HINGE = (0.0, 1.0, 0.0)


def lid(share: float, by_deg: float = -70.0) -> Body:
    """A lid on a hinge through the origin, over a stand that stays."""
    return Solid(LID, Pose.turned(HINGE, by_deg * share)), Solid(STAND)


@settings(max_examples=25, deadline=None)
@given(st.floats(-400, 400), st.floats(-150, 150), st.floats(-300, 400), st.floats(5, 40), st.floats(0, 1e3))
def test_the_least_is_that_of_the_whole_body(
    x: float, y: float, z: float, radius: float, wanted: float
) -> None:
    other = (Solid(capsule([x, y, z], [x, y, z + 40.0], radius)),)

    def measure(body: Body) -> Near:
        return body_gap(body, other)

    whole = least_over_motion(
        lambda share: measure(lid(share)).distance_mm, 310.0 * math.radians(70.0), within_mm=0.01, most=4000
    )
    found = least_in_parts(lid, wanted, WITHIN_MM, measure)
    if found is None:
        assert whole.gap_mm <= WITHIN_MM
        return
    assert found.near.distance_mm >= whole.floor_mm - 1e-6
    assert found.near.distance_mm - found.step_mm <= whole.gap_mm + 1e-6
    enough = max(WITHIN_MM, (found.near.distance_mm - wanted) / 20)
    assert found.step_mm <= enough + 1e-9
    there = body_gap(lid(found.share), other).distance_mm
    assert there == pytest.approx(found.near.distance_mm, abs=1e-6)


def test_pieces_together_are_the_solid() -> None:
    """Closed form: a ball's distance to a box, whichever piece it is nearest to; and none of them outside it."""
    turn = turn_of(lambda share: lid(share)[0])
    assert turn is not None
    assert turn.angle_rad == pytest.approx(math.radians(70.0))
    start = lid(0.0)[0]
    cut = pieces(start, turn)
    assert [piece.travel_mm for piece in cut] == sorted(piece.travel_mm for piece in cut)
    assert cut[-1].travel_mm <= 310.0 * math.radians(70.0)
    random = np.random.default_rng(3)
    for _ in range(200):
        at = random.uniform([-100, -150, -100], [400, 150, 100])
        low, high = np.array([0.0, -60.0, -5.0]) + 4.0, np.array([300.0, 60.0, 5.0]) - 4.0
        away = float(np.linalg.norm(np.maximum(np.maximum(low - at, at - high), 0.0)))
        if away > 5.0:
            there = (Solid(ball(at, 1.0)),)
            gaps = [body_gap((Solid(piece.hull),), there).distance_mm for piece in cut]
            assert min(gaps) == pytest.approx(away - 5.0, abs=1e-6)


def test_what_slides_or_wobbles_is_no_turn() -> None:
    assert turn_of(lambda share: Solid(LID, Pose(shift_mm=(share, 0.0, 0.0)))) is None
    assert turn_of(lambda share: Solid(LID, Pose.turned(HINGE, 70.0 * share**2))) is None
    screwed = turn_of(
        lambda share: Solid(LID, Pose(shift_mm=(0.0, 50.0 * share, 0.0)).after(lid(share)[0].pose))
    )
    assert screwed is None
