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
    """Every measure, in the order of every array of bodies."""
    return tuple(Measure(**entry) for entry in _shipped()["measures"])


@functools.cache
def _places() -> Mapping[str, int]:
    return {one.key: place for place, one in enumerate(measures())}


def place_of(key: str) -> int:
    """The column of a measure; raises BadValue for an unknown key."""
    if key not in _places():
        raise BadValue(
            "no-such-measure",
            f"Bodies have no measure {key!r}.",
            f"Use one of {', '.join(_places())}.",
            key=key,
        )
    return _places()[key]


@functools.cache
def figures(sex: Sex) -> Figures:
    """The figures of a sex; raises BadValue for another word."""
    if sex not in SEXES:
        raise BadValue("not-a-choice", f"Sex: {sex!r} has no figures here.", f"Use {' or '.join(SEXES)}.")
    held = _shipped()["figures"][sex]
    arrays = {
        name: np.array(held[name], dtype=float) for name in ("mean", "covariance", "scores", "quantiles")
    }
    arrays["percents"] = np.array(_shipped()["percents"], dtype=float)
    for array in arrays.values():
        array.setflags(write=False)
    return Figures(sex=sex, n=int(held["n"]), **arrays)
