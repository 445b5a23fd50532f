"""Several scans in one frame: common targets, how well they agree, and what a join is worth at a place.

Every scan keeps its own coordinates; a join says how this scan's lie in those of the scan it is joined to.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Literal

import numpy as np

from floorpan.errors import BadValue
from floorpan.fields import Choice, Text, check_fields
from floorpan.frames import Pose, Vector
from floorpan.geometry.fit import fit_plane, fit_rigid
from floorpan.geometry.mesh import Floats
from floorpan.geometry.registration import LooseWay, SurfaceMatch
from floorpan.scan.axis_doubt import ODD_MM, ODD_TIMES, PICK_MM

FEWEST_TARGETS = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Target:
    """One place that both scans show.

    here_mm : in this scan's own coordinates; there_mm : in those of the scan it is joined to
    """

    id: str
    name: Annotated[str, Text(80, "Name")] = ""
    here_mm: Vector
    there_mm: Vector

    def __post_init__(self) -> None:
        check_fields(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Joined:
    """How a scan was joined to another, and how well that is known.

    onto  : id of the other scan; pose : from this scan's own coordinates to the other's
    by    : what said so last; areas : ids of the parts that were matched, () for everything
    rms_mm : what the join leaves between both, at `places` of them
    loose : moves that the surfaces do not hold: in them it stands as the targets say
    centre_mm : in the other scan's coordinates; u_mm, u_deg : half-widths at about 95 % of the worst shift there and
            the worst turn about it
    """

    onto: str
    pose: Pose
    by: Annotated[Literal["targets", "surfaces"], Choice(("targets", "surfaces"), "Joined by")]
    areas: tuple[str, ...] = ()
    rms_mm: float
    places: int
    loose: tuple[LooseWay, ...] = ()
    centre_mm: Vector
    u_mm: float
    u_deg: float

    def __post_init__(self) -> None:
        check_fields(self)

    def doubt_mm(self, at_mm: Floats) -> float:
        """One standard uncertainty of a place (3,), in the other scan's coordinates, for the join [mm].

        Shift, turn times the arm, and what matched surfaces leave: both scans never bend alike.
        """
        arm = float(np.linalg.norm(np.asarray(at_mm) - np.asarray(self.centre_mm)))
        left = self.rms_mm if self.by == "surfaces" else 0.0
        return math.hypot(self.u_mm / 2.0, arm * math.radians(self.u_deg) / 2.0, left)


@dataclass(frozen=True, slots=True, eq=False)
class TargetFit:
    """Common targets held against each other.

    residual_mm : (N,) how far apart each target stays; odd : id of one that is off while the rest agree, "" for none
    mirrored : whether one scan is a mirror image of the other; can_tell_mirror : False where the targets lie in one
               plane, for then nothing tells
    centre_mm, u_mm, u_deg : as in Joined
    """

    pose: Pose
    residual_mm: Floats
    odd: str
    mirrored: bool
    can_tell_mirror: bool
    centre_mm: Vector
    u_mm: float
    u_deg: float

    @property
    def rms_mm(self) -> float:
        """Root mean square of the residuals [mm]."""
        return float(np.sqrt(np.mean(self.residual_mm**2)))

    def joined(self, onto: str) -> Joined:
        """The join that these targets make."""
        return Joined(
            onto=onto,
            pose=self.pose,
            by="targets",
            rms_mm=self.rms_mm,
            places=len(self.residual_mm),
            centre_mm=self.centre_mm,
            u_mm=self.u_mm,
            u_deg=self.u_deg,
        )


def fit_targets(targets: Sequence[Target]) -> TargetFit | None:
    """The rigid move of this scan onto the other by common targets; None for fewer than three.

    Least squares; the doubt is that of the fit, the sigma of a pick taken from what is left over its degrees of
    freedom and never below what a hand picks to on two scans. Raises BadValue where they lie on one line.
    """
    if len(targets) < FEWEST_TARGETS:
        return None
    here = np.array([target.here_mm for target in targets])
    there = np.array([target.there_mm for target in targets])
    if fit_plane(here).on_a_line or fit_plane(there).on_a_line:
        raise BadValue(
            "targets-on-a-line",
            "These targets lie on one line: the scan could turn about it.",
            "Pick one more, well beside the line.",
        )
    fit = fit_rigid(here, there)
    free = 3 * len(targets) - 6
    sigma = max(math.sqrt(float(fit.residual_mm @ fit.residual_mm) / free), math.sqrt(2.0) * PICK_MM)
    arms = there - there.mean(axis=0)
    # What a turn about the centre moves the targets by, summed over them: the weakest turn is known worst.
    turning = float(np.linalg.eigvalsh((arms**2).sum() * np.eye(3) - arms.T @ arms)[0])
    x, y, z = (float(value) for value in there.mean(axis=0))
    return TargetFit(
        pose=fit.pose,
        residual_mm=fit.residual_mm,
        odd=_odd(targets, here, there),
        mirrored=fit.mirrored,
        can_tell_mirror=fit.can_tell_mirror,
        centre_mm=(x, y, z),
        u_mm=2.0 * sigma / math.sqrt(len(targets)),
        u_deg=2.0 * math.degrees(sigma / math.sqrt(turning)),
    )


def _odd(targets: Sequence[Target], here: Floats, there: Floats) -> str:
    """The one target that is off while the others agree; with fewer than five any one could be the culprit."""
    if len(targets) < FEWEST_TARGETS + 2:
        return ""
    worst, found = 0.0, ""
    for row, target in enumerate(targets):
        rest = np.delete(here, row, axis=0), np.delete(there, row, axis=0)
        if fit_plane(rest[0]).on_a_line:
            continue
        fit = fit_rigid(*rest)
        off = float(np.linalg.norm(fit.pose.apply(here[row]) - there[row]))
        if off > max(ODD_MM, ODD_TIMES * fit.rms_mm, worst):
            worst, found = off, target.id
    return found


def joined_by_surfaces(
    match: SurfaceMatch, onto: str, areas: tuple[str, ...], targets: TargetFit | None
) -> Joined:
    """The join that matched surfaces make; in the moves they do not hold, the targets' doubt counts.

    Raises BadValue where they leave a move open and no targets hold it.
    """
    if match.loose and targets is None:
        raise BadValue(
            "match-loose",
            "These surfaces leave a move open, and no targets hold it.",
            "Pick three common targets, or match on parts that face other ways.",
        )
    u_mm, u_deg = match.u_mm, match.u_deg
    if targets is not None and match.loose:
        kinds = {way.kind for way in match.loose}
        # A turn about the targets' own centre shifts the middle of the surfaces too.
        arm = math.dist(match.centre_mm, targets.centre_mm) * math.radians(targets.u_deg)
        u_mm = math.hypot(u_mm, targets.u_mm, arm)
        u_deg = math.hypot(u_deg, targets.u_deg) if "turn" in kinds else u_deg
    return Joined(
        onto=onto,
        pose=match.pose,
        by="surfaces",
        areas=areas,
        rms_mm=match.rms_mm,
        places=match.places,
        loose=match.loose,
        centre_mm=match.centre_mm,
        u_mm=u_mm,
        u_deg=u_deg,
    )
