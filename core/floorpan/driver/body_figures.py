"""What is known about bodies: for each sex the mean, covariance and percentiles of every measure.

Computed from the 2012 Anthropometric Survey of U.S. Army Personnel (Gordon et al., NATICK/TR-15/007, open data)
and kept as data beside the program: figures, no rows. Soldiers of 17 to 58 years are fitter and younger than
drivers at large.
"""

import functools
import importlib.resources
import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np

from floorpan.errors import BadValue
from floorpan.frames import Floats

Sex = Literal["man", "woman"]
SEXES: tuple[Sex, Sex] = ("man", "woman")

SHOULDER_TO_GRIP = "shoulder_to_grip_mm"
# Links that meet at the joints: lengths taken from the back of the elbow would count the elbow twice.
STRAIGHT_ARM = ("upper_arm_mm", "elbow_to_wrist_mm", "wrist_to_grip_mm")


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """One measure of a body: key with its unit (mm or kg), label, and how it is taken with a tape.

    shaped : its spread is no bell curve and follows the survey's percentiles
    """

    key: str
    label: str
    how: str
    shaped: bool

    @property
    def unit(self) -> str:
        return self.key.rpartition("_")[2]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Figures:
    """The figures of one sex over M measures, in the order of `measures()`; arrays are read-only.

    n          : people behind the figures
    mean       : (M,) [mm, kg]
    covariance : (M, M) of the sizes
    scores     : (M, M) correlation of the scores: a size less its mean over its sd, for a shaped measure the
                 normal score of its rank
    quantiles  : (M, Q) the survey's own sizes: least, those at `percents`, most
    percents   : (Q - 2,)
    """

    sex: Sex
    n: int
    mean: Floats
    covariance: Floats
    scores: Floats
    quantiles: Floats
    percents: Floats

    @property
    def sd(self) -> Floats:
        """(M,) standard deviations [mm, kg]."""
        deviations: Floats = np.sqrt(np.diag(self.covariance))
        return deviations


@functools.cache
def _shipped() -> Mapping[str, Any]:
    text = importlib.resources.files("floorpan_assets").joinpath("bodies.json").read_text(encoding="utf-8")
    read: Mapping[str, Any] = json.loads(text)
    return read


def source() -> str:
    """Where the figures come from, and their licence."""
    return f"{_shipped()['source']} {_shipped()['licence']}"


@functools.cache
def measures() -> tuple[Measure, ...]:
    """Every measure, the straight arm last: it is the sum of its links."""
    straight = Measure(
        key=SHOULDER_TO_GRIP,
        label="Shoulder to grip",
        how="Arm held straight, bony shoulder point to the middle of a rod held in the fist.",
        shaped=False,
    )
    return (*(Measure(**entry) for entry in _shipped()["measures"]), straight)


@functools.cache
def places() -> Mapping[str, int]:
    """The column of every measure's key."""
    return {one.key: place for place, one in enumerate(measures())}


def place_of(key: str) -> int:
    """The column of a measure; raises BadValue for an unknown key."""
    if key not in places():
        raise BadValue(
            "no-such-measure",
            f"Bodies have no measure {key!r}.",
            f"Use one of {', '.join(places())}.",
            key=key,
        )
    return places()[key]


@functools.cache
def figures(sex: Sex) -> Figures:
    """The figures of a sex; raises BadValue for another word."""
    if sex not in SEXES:
        raise BadValue("not-a-choice", f"Sex: {sex!r} has no figures here.", f"Use {' or '.join(SEXES)}.")
    held = _shipped()["figures"][sex]
    mean, covariance, scores, quantiles = (
        np.array(held[name], dtype=float) for name in ("mean", "covariance", "scores", "quantiles")
    )
    links = np.zeros(len(mean))
    links[[places()[key] for key in STRAIGHT_ARM]] = 1.0
    with_sum = np.vstack([np.eye(len(mean)), links])
    sd = np.sqrt(np.diag(covariance))
    # The same sum over scores, which have an sd of one.
    scored_sum = links * sd / np.sqrt(links @ covariance @ links)
    with_scored_sum = np.vstack([np.eye(len(mean)), scored_sum])
    arrays = {
        "mean": with_sum @ mean,
        "covariance": with_sum @ covariance @ with_sum.T,
        "scores": with_scored_sum @ scores @ with_scored_sum.T,
        # Nobody's straight arm is the sum of other people's percentiles: the survey's own are not kept for it.
        "quantiles": np.vstack([quantiles, np.full(quantiles.shape[1], np.nan)]),
        "percents": np.array(_shipped()["percents"], dtype=float),
    }
    for array in arrays.values():
        array.setflags(write=False)
    return Figures(sex=sex, n=int(held["n"]), **arrays)
