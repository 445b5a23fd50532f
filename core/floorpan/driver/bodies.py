"""Bodies: what somebody's other measures are, given a few; a percentile of one measure; a whole population.

Sizes hang together: percentiles of different measures must not be added up to a person. So one measure is set
and the rest follow with their spread (conditional normal distribution over the scores of `body_scores`; Anderson,
*An Introduction to Multivariate Statistical Analysis*, section 2.5).
"""

import functools
import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from scipy.special import ndtri

from floorpan.driver.body_arm import SHOULDER_TO_GRIP, check_arm, told_by_the_arm, with_arm_added_up
from floorpan.driver.body_figures import Sex, figures, measures, place_of
from floorpan.driver.body_scores import mean_and_sd, score_at, size_at
from floorpan.errors import BadValue
from floorpan.fields import Range
from floorpan.frames import Floats

FARTHEST_SD = 7.0
"""A measure further than this from what the others say is a slip of the tape, not a body.

Among the survey's 6068 people, over hundreds of choices of what is known, nobody lies further than 6.7.
"""
_PERCENT = Range(0.1, 99.9, "percent", "Percentile")
_MOST_DRAWN = 1_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Estimate:
    """A measure that was not taken: mean, standard deviation, and the 5th, 50th and 95th percentile [mm, kg].

    A measure that was taken has an sd of zero.
    """

    mean: float
    sd: float
    p5: float
    p50: float
    p95: float


def conditional(sex: Sex, known: Mapping[str, float]) -> dict[str, Estimate]:
    """Every measure of a body of which some are known, by key in the order of `measures()`.

    known : sizes by key [mm, kg]; may be empty
    Raises BadValue for an unknown key, a size that is no number, a straight arm measured with all its links, or a
    size more than FARTHEST_SD from what the others make likely.
    """
    places, scores = known_scores(sex, known)
    rates = weights(sex, places)
    held = figures(sex).scores
    middle = rates @ scores
    spread = np.sqrt(np.maximum(np.diag(held) - np.einsum("ij,ij->i", rates, held[:, places]), 0.0))
    found = {
        one.key: _taken(known[one.key])
        if one.key in known
        else _estimate(sex, place, float(middle[place]), float(spread[place]))
        for place, one in enumerate(measures())
    }
    means = np.array([one.mean for one in found.values()])
    for key, added in zip(found, with_arm_added_up(means, known) - means, strict=True):
        if added:
            found[key] = _moved(found[key], float(added))
    told = told_by_the_arm(known)
    if told is not None:
        found[told] = _taken(found[told].mean)
    return found


def percentile_body(sex: Sex, measure: str, percent: float) -> dict[str, Estimate]:
    """The body at a percentile (0.1 to 99.9) of one measure, the rest following it with their spread.

    Raises BadValue for an unknown measure or a percentile outside.
    """
    _PERCENT.check(percent)
    place = place_of(measure)
    size = float(size_at(sex, place, ndtri(np.array(percent / 100.0))))
    return conditional(sex, {measure: size})


def draw(sex: Sex, n: int, seed: int, known: Mapping[str, float] | None = None) -> Floats:
    """(n, M) bodies drawn at random, columns in the order of `measures()` [mm, kg].

    The same seed gives the same bodies. known : sizes that every one of them has; raises as `conditional`.
    """
    if not 1 <= n <= _MOST_DRAWN:
        raise BadValue(
            "out-of-range", f"Bodies drawn: 1 to {_MOST_DRAWN}; {n} is outside.", "Draw fewer or more."
        )
    places, wanted = known_scores(sex, known or {})
    root = _root(sex)
    scores = np.random.default_rng(seed).standard_normal((n, len(root))) @ root.T
    # What is known moves every drawn body by what it says about the rest (conditioning by kriging).
    scores += (wanted - scores[:, places]) @ weights(sex, places).T
    bodies = np.empty_like(scores)
    for place in range(scores.shape[1]):
        bodies[:, place] = size_at(sex, place, scores[:, place])
    for key, size in (known or {}).items():
        bodies[:, place_of(key)] = size
    return with_arm_added_up(bodies, known or {})


def shoulder_to_grip(bodies: Floats) -> Floats:
    """(n,) straight arm, shoulder point to the middle of the fist, of (n, M) bodies [mm].

    Upper arm, forearm and wrist to grip, joint to joint: the elbow is not counted twice.
    """
    return bodies[:, place_of(SHOULDER_TO_GRIP)]


def known_scores(sex: Sex, known: Mapping[str, float]) -> tuple[list[int], Floats]:
    """Columns (k,) and scores (k,) of what is known, once it adds up to a body."""
    figures(sex)
    places = [place_of(key) for key in known]
    for place, size in zip(places, known.values(), strict=True):
        if isinstance(size, bool) or not math.isfinite(size):
            raise BadValue(
                "not-finite", f"{measures()[place].label}: {size} is not a number.", "Type a plain number."
            )
    check_arm(known)
    scores = np.array(
        [score_at(sex, place, size) for place, size in zip(places, known.values(), strict=True)], dtype=float
    )
    if places:
        _check_adds_up(sex, places, scores, list(known.values()))
    return places, scores


def _check_adds_up(sex: Sex, places: list[int], scores: Floats, sizes: list[float]) -> None:
    """Raises BadValue where a known measure lies too far from what the others say."""
    precision = np.linalg.inv(figures(sex).scores[np.ix_(places, places)])
    alone = np.diag(precision)
    # How far each lies from what the others say, in its own remaining spread.
    far = (precision @ scores) / np.sqrt(alone)
    worst = int(np.argmax(np.abs(far)))
    if abs(far[worst]) > FARTHEST_SD:
        _refuse(
            sex,
            places[worst],
            sizes[worst],
            scores[worst] - far[worst] / math.sqrt(alone[worst]),
            alone[worst],
        )


def _refuse(sex: Sex, place: int, size: float, likely_score: float, alone: float) -> None:
    one = measures()[place]
    reach = FARTHEST_SD / math.sqrt(alone) * np.array([-1.0, 1.0])
    least, most = (float(end) for end in size_at(sex, place, likely_score + reach))
    raise BadValue(
        "body-does-not-add-up",
        f"{one.label} {size:g} {one.unit} does not go with this body: {least:.0f} to {most:.0f} {one.unit} would.",
        f"Measure again: {one.how}",
        measure=one.key,
        size=size,
        least=least,
        most=most,
    )


def weights(sex: Sex, places: list[int]) -> Floats:
    """(M, k) what a known score adds to the score of every measure."""
    held = figures(sex).scores
    return np.asarray(np.linalg.solve(held[np.ix_(places, places)], held[places]).T, dtype=np.float64)


@functools.cache
def _root(sex: Sex) -> Floats:
    """(M, M) lower root of the correlation of scores."""
    return np.asarray(np.linalg.cholesky(figures(sex).scores), dtype=np.float64)


def _taken(size: float) -> Estimate:
    size = float(size)
    return Estimate(mean=size, sd=0.0, p5=size, p50=size, p95=size)


def _estimate(sex: Sex, place: int, score: float, spread: float) -> Estimate:
    mean, sd = mean_and_sd(sex, place, score, spread)
    p5, p50, p95 = (
        float(one) for one in size_at(sex, place, score + spread * ndtri(np.array([0.05, 0.5, 0.95])))
    )
    return Estimate(mean=mean, sd=sd, p5=p5, p50=p50, p95=p95)


def _moved(one: Estimate, added: float) -> Estimate:
    return Estimate(
        mean=one.mean + added, sd=one.sd, p5=one.p5 + added, p50=one.p50 + added, p95=one.p95 + added
    )
