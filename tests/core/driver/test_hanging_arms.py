"""Many hanging arms at once: the same closed form as for one, which has its own proofs."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from floorpan.driver.arm import ELBOW_LEAST_DEG, arm
from floorpan.driver.hanging_arms import hanging_arms
from floorpan.driver.joints import Hold, JointRanges, room_left_deg, torso_axes
from floorpan.frames import vector_of

TORSO = torso_axes(24.0, "right")
UPPER_MM, LOWER_MM, WRIST_MM = 300.0, 342.0, 62.0
PLACES = st.tuples(st.floats(-700, 700), st.floats(-700, 700), st.floats(-700, 700))


@given(PLACES, st.lists(PLACES, min_size=1, max_size=6), st.floats(-60, 60))
def test_the_same_as_one_by_one(
    shoulder: tuple[float, float, float], grips: list[tuple[float, float, float]], swivel_deg: float
) -> None:
    start = np.array(shoulder)
    found = hanging_arms(
        start,
        np.array(grips),
        UPPER_MM,
        LOWER_MM,
        TORSO,
        swivel_deg=swivel_deg,
        wrist_to_grip_mm=WRIST_MM,
    )
    for row, grip in enumerate(grips):
        one = arm(shoulder, grip, UPPER_MM, LOWER_MM, swivel_deg, WRIST_MM)
        span = float(np.linalg.norm(np.array(grip) - start))
        if abs(one.spare_mm) < 1e-6 or abs(one.elbow_deg - ELBOW_LEAST_DEG) < 1e-6 or span < 1e-3:
            continue
        if one.spare_mm < 0.0 or not one.bends:
            assert np.isnan(found.elbows[row]).all()
            assert np.isnan(found.room_deg[row])
            continue
        assert found.elbows[row] == pytest.approx(one.elbow_mm, abs=1e-5)
        assert found.wrists[row] == pytest.approx(one.wrist_mm, abs=1e-5)
        elbow = np.array([one.elbow_mm])
        room = room_left_deg(
            (elbow - start) / UPPER_MM, (np.array([grip]) - elbow) / LOWER_MM, TORSO, JointRanges(), Hold()
        )
        assert found.room_deg[row] == pytest.approx(float(room.min()), abs=1e-3)
        assert vector_of(found.elbows[row]) != grip
