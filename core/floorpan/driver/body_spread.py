"""How far sizes that were not taped may lie from what follows from the taped ones, and how a slip of the tape adds."""

from collections.abc import Mapping

import numpy as np

from floorpan.driver.bodies import known_scores, weights
from floorpan.driver.body_figures import Sex, figures, measures
from floorpan.driver.body_scores import mean_and_sd, size_at
from floorpan.frames import Floats

# Half a standard deviation either way, where the score hardly spreads.
_STEP = 0.5


def spread(sex: Sex, known: Mapping[str, float]) -> tuple[Floats, Floats]:
    """(M, M) covariance of all sizes given the known ones, and (M, k) what a known size one larger adds to each.

    [mm, kg], in the order of `measures()`, k in that of `known`. Shaped measures are taken as straight over
    their spread: linear propagation (JCGM 100). Raises as `bodies.conditional`.
    """
    places, scores = known_scores(sex, known)
    held, rates = figures(sex).scores, weights(sex, places)
    left = held - rates @ held[places, :]
    middle = rates @ scores
    spreads = np.sqrt(np.maximum(np.diag(left), 0.0))
    grows = np.array(
        [_grows(sex, place, float(middle[place]), float(spreads[place])) for place in range(len(measures()))]
    )
    covariance: Floats = grows[:, None] * left * grows
    # What is known is known: rounding leaves nothing of it.
    covariance[places, :] = 0.0
    covariance[:, places] = 0.0
    added: Floats = grows[:, None] * rates / grows[places]
    return covariance, added


def _grows(sex: Sex, place: int, score: float, spread: float) -> float:
    """How much a size grows with its score, over as much as the score may spread."""
    if spread > _STEP:
        return mean_and_sd(sex, place, score, spread)[1] / spread
    low, high = size_at(sex, place, np.array([score - _STEP, score + _STEP]))
    return float(high - low) / (2.0 * _STEP)
