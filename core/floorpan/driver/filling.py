"""What nobody taped follows from what somebody did: the rest of a person, and how sure it is."""

import functools
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from floorpan.driver.bodies import Estimate, conditional
from floorpan.driver.body_figures import place_of
from floorpan.driver.body_spread import spread
from floorpan.driver.person import LINKS, Person
from floorpan.frames import Floats

HIP_OVER_CUSHION_MM = 95.0
"""Hip point over a loaded cushion; common practice, no source."""


@dataclass(frozen=True, slots=True)
class _Follows:
    """A link as a measure of the body: link = scale * (measure - less)."""

    measure: str
    scale: float = 1.0
    less: float = 0.0

    def link(self, size: float) -> float:
        return self.scale * (size - self.less)

    def size(self, link: float) -> float:
        return link / self.scale + self.less


_FOLLOWS: Mapping[str, _Follows] = {
    "shoulder_to_grip_mm": _Follows("shoulder_to_grip_mm"),
    "upper_arm_mm": _Follows("upper_arm_mm"),
    "wrist_to_grip_mm": _Follows("wrist_to_grip_mm"),
    "shoulder_mm": _Follows("shoulder_height_mm", less=HIP_OVER_CUSHION_MM),
    "shoulder_out_mm": _Follows("acromion_breadth_mm", scale=0.5),
}


def known_sizes(person: Person) -> dict[str, float]:
    """Everything that was taped of a person, by measure [mm, kg]; a taped link wins over the same size."""
    known = {one.measure: one.size for one in person.sizes}
    for link in LINKS:
        if link not in person.not_taped:
            known[_FOLLOWS[link].measure] = _FOLLOWS[link].size(getattr(person, link))
    return known


def body_of(person: Person) -> dict[str, Estimate]:
    """Every measure of a person, those not taped with their spread, by key [mm, kg]."""
    return conditional(person.sex, known_sizes(person))


def filled(person: Person) -> Person:
    """The same person, each link that nobody taped as the others make it likely, to 0.1 mm.

    Raises BadValue where what was taped does not go together, naming the one that is far off.
    """
    if not person.not_taped:
        return person
    body = body_of(person)
    links: dict[str, Any] = {
        link: round(_FOLLOWS[link].link(body[_FOLLOWS[link].measure].mean), 1) for link in person.not_taped
    }
    return replace(person, **links)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LinkDoubts:
    """How unsure arm and torso are.

    by_body     : (3, 3) covariance of straight arm, hip to shoulder and shoulder out as far as nobody taped them [mm]
    arm_by_tape : standard uncertainty of the straight arm from the tape [mm]
    """

    by_body: Floats
    arm_by_tape: float


_REACHING = ("shoulder_to_grip_mm", "shoulder_mm", "shoulder_out_mm")


@functools.lru_cache(maxsize=256)
def link_doubts(person: Person) -> LinkDoubts:
    """The doubts of a person's links; a tape's half-width is two of its standard uncertainties.

    A slip of the tape in any length that the straight arm follows from counts by as much as the arm follows it.
    """
    tape = person.tape_u_mm / 2.0
    if not person.not_taped:
        return LinkDoubts(by_body=np.zeros((3, 3)), arm_by_tape=tape)
    known = known_sizes(person)
    covariance, added = spread(person.sex, known)
    rows = [place_of(_FOLLOWS[link].measure) for link in _REACHING]
    scales = np.array([_FOLLOWS[link].scale for link in _REACHING])
    halved = {_FOLLOWS[link].measure: _FOLLOWS[link].scale for link in LINKS if link not in person.not_taped}
    # A weight in kilograms is not taped; what was halved before it is typed carries the tape twice.
    slips = [tape / halved.get(key, 1.0) if key.endswith("_mm") else 0.0 for key in known]
    return LinkDoubts(
        by_body=scales[:, None] * covariance[np.ix_(rows, rows)] * scales,
        arm_by_tape=float(np.linalg.norm(added[rows[0]] * np.array(slips))) if known else 0.0,
    )


def link_u_mm(person: Person, link: str) -> float:
    """Half-width at about 95 % of one of LINKS: of the tape, or of what follows from the rest [mm]."""
    if link not in person.not_taped:
        return person.tape_u_mm
    follows = _FOLLOWS[link]
    return 2.0 * follows.scale * body_of(person)[follows.measure].sd
