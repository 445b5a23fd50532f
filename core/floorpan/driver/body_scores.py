"""From sizes to scores and back, so that every measure can be treated as a bell curve.

A score is how many standard deviations a size lies from the mean. A shaped measure (weight, depths, breadths) is
skewed: its score is read off the survey's percentiles, a straight line between two of them (a Gaussian copula;
Nelsen, *An Introduction to Copulas*, 2006). Beyond the 1st and the 99th, where one person more or less would bend it,
the line goes on as it rose from the 1st to the 10th and from the 90th to the 99th.
"""

import functools

import numpy as np
from scipy.special import ndtri

from floorpan.driver.body_figures import Sex, figures, measures
from floorpan.frames import Floats

# Nodes and weights to average over a bell curve; kinks at the percentiles ask for many.
_NODES, _WEIGHTS = np.polynomial.hermite_e.hermegauss(80)
_WEIGHTS = _WEIGHTS / _WEIGHTS.sum()
_FAR = 12.0


@functools.cache
def _line(sex: Sex, place: int) -> tuple[Floats, Floats]:
    """Corners of a shaped measure's line: scores and sizes, both rising."""
    held = figures(sex)
    scores, sizes = ndtri(held.percents / 100.0), held.quantiles[place, 1:-1]
    rise = (
        (sizes[2] - sizes[0]) / (scores[2] - scores[0]),
        (sizes[-1] - sizes[-3]) / (scores[-1] - scores[-3]),
    )
    ends = np.array([scores[0] - _FAR, scores[-1] + _FAR])
    beyond = np.array([sizes[0] - _FAR * rise[0], sizes[-1] + _FAR * rise[1]])
    return np.concatenate([ends[:1], scores, ends[1:]]), np.concatenate([beyond[:1], sizes, beyond[1:]])


def size_at(sex: Sex, place: int, score: Floats) -> Floats:
    """Sizes [mm, kg] of one measure (its column) at scores of any shape."""
    if measures()[place].shaped:
        scores, sizes = _line(sex, place)
        return np.interp(score, scores, sizes)
    held = figures(sex)
    size: Floats = held.mean[place] + held.sd[place] * np.asarray(score, dtype=float)
    return size


def score_at(sex: Sex, place: int, size: float) -> float:
    """The score of one size [mm, kg]: undoes `size_at`."""
    if measures()[place].shaped:
        scores, sizes = _line(sex, place)
        return float(np.interp(size, sizes, scores))
    held = figures(sex)
    return float((size - held.mean[place]) / held.sd[place])


def mean_and_sd(sex: Sex, place: int, mean_score: float, sd_score: float) -> tuple[float, float]:
    """Mean and sd of a size whose score is a bell curve of that mean and sd [mm, kg]."""
    sizes = size_at(sex, place, mean_score + sd_score * _NODES)
    mean = float(_WEIGHTS @ sizes)
    return mean, float(np.sqrt(_WEIGHTS @ (sizes - mean) ** 2))
