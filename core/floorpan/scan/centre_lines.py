"""The two centre lines of a cabin, tunnel and dash: they often differ, and a console follows one of them."""

import math
from dataclasses import dataclass
from typing import Annotated, Literal

import numpy as np

from floorpan.errors import BadValue
from floorpan.fields import Choice, check_fields
from floorpan.frames import Pose, Vector
from floorpan.geometry.mesh import Floats
from floorpan.scan.axis_doubt import PICK_MM

LineKind = Literal["tunnel", "dash"]
LINE_KINDS: tuple[LineKind, ...] = ("tunnel", "dash")
# Nearer together than this, points tell a place and no direction; common practice, no source.
SHORTEST_MM = 50.0


@dataclass(frozen=True, slots=True, kw_only=True)
class CentreLine:
    """Points picked along one centre line, in the scan's own coordinates [mm]; two or more.

    Raises BadValue for fewer.
    """

    kind: Annotated[str, Choice(LINE_KINDS, "Centre line of")]
    points_mm: tuple[Vector, ...]

    def __post_init__(self) -> None:
        check_fields(self)
        if len(self.points_mm) < 2:
            raise BadValue(
                "line-too-short", "A line takes two points.", "Pick another one, far from the first."
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class LineFit:
    """A centre line in car axes, seen from above: y = y_mm + slope * (x - x_mm).

    x_mm, y_mm  : its middle
    slope       : how far it goes to the right for each mm rearward
    ends_mm     : least and greatest X of its points
    residual_mm : (N,) how far each point lies beside it
    sigma_mm    : one sigma of a point, never under what a hand picks to
    spread_mm2  : sum of the squared distances of the points' X from their middle
    """

    x_mm: float
    y_mm: float
    slope: float
    ends_mm: tuple[float, float]
    residual_mm: tuple[float, ...]
    sigma_mm: float
    spread_mm2: float

    def at(self, x_mm: float) -> float:
        """Its Y at a station [mm]."""
        return self.y_mm + self.slope * (x_mm - self.x_mm)

    def u_at(self, x_mm: float) -> float:
        """How well that Y is known, half-width at about 95 % [mm]."""
        share = 1.0 / len(self.residual_mm) + (x_mm - self.x_mm) ** 2 / self.spread_mm2
        return 2.0 * self.sigma_mm * math.sqrt(share)


def fit_line(line: CentreLine, pose: Pose) -> LineFit:
    """A centre line by least squares in Y over X, once its scan stands in car axes.

    The doubt is that of a straight line's value at x (N. R. Draper and H. Smith, Applied Regression Analysis, 3rd
    edition, 1998, section 1.4), the sigma of a point taken from the residuals and never below what a hand picks to.
    Raises BadValue where the points lie too near together along the car.
    """
    points: Floats = pose.apply(np.array(line.points_mm))
    x, y = points[:, 0], points[:, 1]
    if float(np.ptp(x)) < SHORTEST_MM:
        raise BadValue(
            "line-no-direction",
            "These points lie too near together along the car to give a line.",
            "Pick the line again, its ends far apart.",
        )
    middle = float(x.mean())
    spread = float(((x - middle) ** 2).sum())
    slope = float(((x - middle) * (y - y.mean())).sum()) / spread
    residual = y - y.mean() - slope * (x - middle)
    free = len(x) - 2
    sigma = math.sqrt(float(residual @ residual) / free) if free > 0 else 0.0
    return LineFit(
        x_mm=middle,
        y_mm=float(y.mean()),
        slope=slope,
        ends_mm=(float(x.min()), float(x.max())),
        residual_mm=tuple(float(value) for value in residual),
        sigma_mm=max(sigma, PICK_MM),
        spread_mm2=spread,
    )


def lines_apart(one: LineFit, other: LineFit, x_mm: float) -> tuple[float, float]:
    """How far `other` lies to the right of `one` at a station, and how well that is known [mm]."""
    return other.at(x_mm) - one.at(x_mm), math.hypot(one.u_at(x_mm), other.u_at(x_mm))
