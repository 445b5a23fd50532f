"""Bodies worked out from a few measures: exactness, arithmetic of the arm, refusals, chance that repeats."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import norm

from floorpan.driver.bodies import Estimate, conditional, draw, percentile_body, shoulder_to_grip
from floorpan.driver.body_arm import LINKS
from floorpan.driver.body_figures import SEXES, Sex, figures, measures, place_of
from floorpan.errors import BadValue

KEYS = [one.key for one in measures()]
BELLS = [one.key for one in measures() if not one.shaped]


def means(found: dict[str, Estimate]) -> np.ndarray:
    return np.array([one.mean for one in found.values()])


@pytest.mark.parametrize("sex", SEXES)
def test_with_nothing_known_a_body_is_the_mean_one(sex: Sex) -> None:
    held, found = figures(sex), conditional(sex, {})
    assert list(found) == KEYS
    # Shaped measures are drawn through eleven percentiles: their mean is off by at most this share of an sd.
    np.testing.assert_array_less(np.abs(means(found) - held.mean) / held.sd, 0.025)
    np.testing.assert_allclose([one.sd for one in found.values()], held.sd, rtol=0.02)


@pytest.mark.parametrize("sex", SEXES)
def test_what_was_measured_comes_back_as_it_is(sex: Sex) -> None:
    known = {"stature_mm": 1702.0, "weight_kg": 71.3, "shoulder_to_grip_mm": 640.0, "belly_depth_mm": 244.0}
    found, drawn = conditional(sex, known), draw(sex, 50, 3, known)
    for key, size in known.items():
        assert found[key] == Estimate(mean=size, sd=0.0, p5=size, p50=size, p95=size)
        assert np.all(drawn[:, place_of(key)] == size)
    assert all(one.sd > 0.0 for key, one in found.items() if key not in known)


@given(
    sex=st.sampled_from(SEXES),
    keys=st.sets(st.sampled_from(KEYS), max_size=6),
    seed=st.integers(0, 1000),
)
def test_the_arm_always_adds_up(sex: Sex, keys: set[str], seed: int) -> None:
    if {"shoulder_to_grip_mm", *LINKS} <= keys:
        keys = keys - {LINKS[0]}
    someone = draw(sex, 1, seed)[0]
    known = {key: float(someone[place_of(key)]) for key in keys}
    found = conditional(sex, known)
    links = sum(found[key].mean for key in LINKS)
    assert found["shoulder_to_grip_mm"].mean == pytest.approx(links, abs=1e-9)
    drawn = draw(sex, 20, seed, known)
    columns = drawn[:, [place_of(key) for key in LINKS]]
    np.testing.assert_allclose(shoulder_to_grip(drawn), columns.sum(axis=1), atol=1e-9)


@pytest.mark.parametrize(
    ("known", "told", "size"),
    [
        ({"upper_arm_mm": 330, "elbow_to_wrist_mm": 265, "wrist_to_grip_mm": 63}, "shoulder_to_grip_mm", 658),
        ({"shoulder_to_grip_mm": 658, "upper_arm_mm": 330, "wrist_to_grip_mm": 63}, "elbow_to_wrist_mm", 265),
        ({"shoulder_to_grip_mm": 658, "elbow_to_wrist_mm": 265, "wrist_to_grip_mm": 63}, "upper_arm_mm", 330),
    ],
)
def test_the_last_length_of_an_arm_is_arithmetic(known: dict[str, float], told: str, size: float) -> None:
    found = conditional("man", known)[told]
    assert found.mean == pytest.approx(size, rel=1e-14)
    assert (found.sd, found.p5, found.p95) == (0.0, found.mean, found.mean)
    np.testing.assert_allclose(draw("man", 5, 1, known)[:, place_of(told)], size, rtol=1e-14)


@given(
    sex=st.sampled_from(SEXES),
    keys=st.sets(st.sampled_from(KEYS), min_size=1, max_size=4),
    one_more=st.sampled_from(KEYS),
)
def test_measuring_more_never_makes_the_rest_less_certain(sex: Sex, keys: set[str], one_more: str) -> None:
    """A property of the conditional normal distribution; shaped measures spread with where they lie."""
    arm = {"shoulder_to_grip_mm", *LINKS}
    if arm <= keys | {one_more}:
        return
    middle = {one.key: float(size) for one, size in zip(measures(), figures(sex).mean, strict=True)}
    before = conditional(sex, {key: middle[key] for key in keys})
    after = conditional(sex, {key: middle[key] for key in keys | {one_more}})
    for key in BELLS:
        assert after[key].sd <= before[key].sd + 1e-9


@pytest.mark.parametrize("sex", SEXES)
@pytest.mark.parametrize("percent", [1.0, 5.0, 50.0, 95.0, 99.0])
def test_a_percentile_sets_one_measure_and_draws_the_rest_along(sex: Sex, percent: float) -> None:
    held = figures(sex)
    at = list(held.percents).index(percent) + 1
    for key in ("weight_kg", "belly_depth_mm", "hip_breadth_mm", "shoulder_to_grip_mm"):
        # Shaped: the survey's own percentile.
        found = percentile_body(sex, key, percent)[key]
        assert found.mean == pytest.approx(held.quantiles[place_of(key), at], abs=1e-9)
        assert found.sd == 0.0
    tall = place_of("stature_mm")
    body = percentile_body(sex, "stature_mm", percent)
    score = float(norm.ppf(percent / 100.0))
    assert body["stature_mm"].mean == pytest.approx(held.mean[tall] + score * held.sd[tall], abs=1e-6)
    # The regression line through the survey's people, written out from the covariance.
    for key in ("sitting_height_mm", "knee_height_mm", "thumb_tip_reach_mm"):
        slope = held.covariance[place_of(key), tall] / held.covariance[tall, tall]
        wanted = held.mean[place_of(key)] + slope * score * held.sd[tall]
        assert body[key].mean == pytest.approx(wanted, abs=1e-3)
        # Nobody is at the same percentile of everything.
        if percent != 50.0:
            assert abs(body[key].mean - held.mean[place_of(key)]) < abs(score) * held.sd[place_of(key)]


@pytest.mark.parametrize("sex", SEXES)
def test_drawn_bodies_have_the_shipped_mean_and_covariance(sex: Sex) -> None:
    held, drawn = figures(sex), draw(sex, 100_000, 11)
    # Chance: 0.003 sd; the rest is what eleven percentiles leave out of a shaped measure.
    np.testing.assert_array_less(np.abs(drawn.mean(axis=0) - held.mean) / held.sd, 0.035)
    in_sd = np.cov(drawn.T) / np.outer(held.sd, held.sd)
    np.testing.assert_allclose(in_sd, held.covariance / np.outer(held.sd, held.sd), atol=0.045)
    bells = [place_of(key) for key in BELLS if key not in LINKS]
    np.testing.assert_array_less(np.abs(drawn.mean(axis=0) - held.mean)[bells] / held.sd[bells], 0.015)
    tight = np.ix_(bells, bells)
    wanted = (held.covariance / np.outer(held.sd, held.sd))[tight]
    np.testing.assert_allclose(in_sd[tight], wanted, atol=0.015)


@pytest.mark.parametrize("sex", SEXES)
def test_bodies_drawn_round_what_is_known_spread_as_told(sex: Sex) -> None:
    known = {"stature_mm": float(figures(sex).mean[0]) + 60.0, "weight_kg": 85.0}
    found, drawn = conditional(sex, known), draw(sex, 60_000, 5, known)
    for key in KEYS:
        if key in known:
            continue
        column, told = drawn[:, place_of(key)], found[key]
        assert column.mean() == pytest.approx(told.mean, abs=0.03 * told.sd), key
        # Links are stretched with the straight arm, which spreads them a little further than told.
        assert column.std() == pytest.approx(told.sd, rel=0.08 if key in LINKS else 0.03), key
        shares = [(column <= end).mean() for end in (told.p5, told.p50, told.p95)]
        assert shares == pytest.approx([0.05, 0.5, 0.95], abs=0.02 if key in LINKS else 0.012), key


def test_the_same_seed_draws_the_same_bodies() -> None:
    first = draw("woman", 200, 7)
    assert first.shape == (200, len(KEYS))
    np.testing.assert_array_equal(first, draw("woman", 200, 7))
    assert not np.array_equal(first, draw("woman", 200, 8))
    assert not np.array_equal(first, draw("man", 200, 7))


@pytest.mark.parametrize(
    ("known", "code", "words"),
    [
        ({"stature_mm": 175.0}, "body-does-not-add-up", "Height 175 mm does not go with this body"),
        ({"weight_kg": 846.0}, "body-does-not-add-up", "Weight 846 kg"),
        ({"stature_mm": 1750.0, "sitting_height_mm": 1180.0}, "body-does-not-add-up", "would"),
        ({"upper_arm_mm": 500.0, "shoulder_to_grip_mm": 660.0}, "body-does-not-add-up", "Measure again"),
        ({"stature_mm": math.nan}, "not-finite", "Type a plain number"),
        ({"stature_mm": math.inf}, "not-finite", "not a number"),
        ({"shoe_mm": 300.0}, "no-such-measure", "'shoe_mm'"),
        (
            dict.fromkeys(("shoulder_to_grip_mm", *LINKS), 300.0),
            "measured-twice",
            "follows from the rest",
        ),
    ],
)
def test_what_is_no_body_is_refused(known: dict[str, float], code: str, words: str) -> None:
    for attempt in (lambda: conditional("man", known), lambda: draw("man", 5, 1, known)):
        with pytest.raises(BadValue, match=words) as caught:
            attempt()
        assert caught.value.code == code
        assert caught.value.remedy


def test_a_refusal_names_the_one_that_stands_apart() -> None:
    known = {
        "stature_mm": 1760.0,
        "sitting_height_mm": 920.0,
        "knee_height_mm": 855.0,
        "hand_length_mm": 193.0,
    }
    with pytest.raises(BadValue) as caught:
        conditional("man", known)
    assert caught.value.facts["measure"] == "knee_height_mm"
    least, most = caught.value.facts["least"], caught.value.facts["most"]
    # What is told to go with the body does.
    for knee_mm in (float(str(least)) + 0.1, float(str(most)) - 0.1):
        assert conditional("man", known | {"knee_height_mm": knee_mm})["knee_height_mm"].mean == knee_mm


def test_tall_and_short_people_are_taken() -> None:
    """Heights of 2.15 m and 1.35 m: rare, but people."""
    assert conditional("man", {"stature_mm": 2150.0})["knee_height_mm"].mean > 690.0
    assert conditional("woman", {"stature_mm": 1350.0})["knee_height_mm"].mean < 420.0


@pytest.mark.parametrize("percent", [0.0, 100.0, -5.0, math.nan])
def test_a_percentile_outside_is_refused(percent: float) -> None:
    with pytest.raises(BadValue, match="Percentile"):
        percentile_body("man", "stature_mm", percent)


@pytest.mark.parametrize("n", [0, -1, 10_000_000])
def test_a_count_outside_is_refused(n: int) -> None:
    with pytest.raises(BadValue, match="Bodies drawn"):
        draw("man", n, 1)
