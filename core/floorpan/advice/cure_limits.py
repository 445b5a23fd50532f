"""What every finding that a thing takes part in demands of a move of that thing, near where it stands.

A gap opens by the way of the thing along the line between the nearest points: of a body that is moved without being
turned this is the gap's exact slope. Anything else that a move makes worse (a forearm that swings, a height that is
no gap) is looked at a little to every side.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np

from floorpan import edits
from floorpan.advice.least_move import Limits
from floorpan.checks import Evaluator, Finding
from floorpan.checks.finding import margin
from floorpan.derive.beside import THIGHS
from floorpan.errors import WrongStep
from floorpan.frames import Floats, Vector, vector_of
from floorpan.items import DashEdge, Door, Shifter, Vessel
from floorpan.layout import Layout, Thing

STEP_MM = 0.5
IN_HAND_MM = 0.05
"""What is to come clear gets this much more than it takes, for what the numbers lose on their way."""

# What was measured where it is in the car; nobody moves it for a gap.
_OF_THE_CAR = (DashEdge, Door)


@dataclass(frozen=True, slots=True, eq=False)
class Demand:
    """slope (3,) . move >= need [mm], for a move from where the thing stands now."""

    slope: Floats
    need: float


class Demands:
    """The demands on one thing, the latest of every finding."""

    def __init__(
        self, layout: Layout, thing: Thing, findings: Iterable[Finding], wanted: frozenset[str]
    ) -> None:
        self._layout, self._thing, self._wanted = layout, thing, wanted
        self._before = {finding.id: finding for finding in findings}
        self._held: dict[str, Demand] = {}
        self._surprised: set[str] = set()
        self._stepped: set[str] = set()
        self.learn(self._before.values(), (0.0, 0.0, 0.0))

    def limits(self, only: frozenset[str] | None = None) -> Limits:
        """All of them together, or those of some findings."""
        held = [one for id, one in self._held.items() if only is None or id in only]
        slopes = np.array([one.slope for one in held]).reshape(-1, 3)
        return Limits(slopes, np.array([one.need for one in held]))

    def learn(self, findings: Iterable[Finding], moved: Vector) -> None:
        """Take what gaps are after a move as what they demand from now on."""
        for finding in findings:
            slope = self._slope(finding)
            if slope is not None:
                self._hold(finding, slope, moved)

    def learn_around(self, finding: Finding, moved: Vector, evaluator: Evaluator) -> bool:
        """Learn by steps to every side from what spoke against a move; False where nothing can be learnt.

        A gap has its slope already and is left alone the first time. One that speaks against a second move is of
        something that bends or turns as the thing moves, and what is no gap has no slope of its own.
        """
        if finding.id not in self._surprised and self._slope(finding) is not None:
            self._surprised.add(finding.id)
            return True
        if finding.value is None or finding.id not in self._before:
            return False
        here = margin(finding.value, finding.limit)
        slope = np.zeros(3)
        for axis in range(3):
            by = np.array(moved)
            by[axis] += STEP_MM
            try:
                there = evaluator.again(edits.shift(self._layout, self._thing.id, vector_of(by)), finding)
            except WrongStep:
                return False
            if there is None or there.value is None:
                return False
            slope[axis] = (margin(there.value, there.limit) - here) / STEP_MM
        if not np.linalg.norm(slope) > 1e-9:
            return False
        self._hold(finding, slope, moved)
        # A gap that only the move brought about (an arm that now reaches) has nothing to be held to.
        if finding.id not in self._held:
            return False
        self._stepped.add(finding.id)
        return True

    def _hold(self, finding: Finding, slope: Floats, moved: Vector) -> None:
        before = self._before.get(finding.id)
        if before is None or before.value is None or finding.value is None:
            return
        kept = min(margin(before.value, before.limit), finding.uncertainty)
        enough = finding.uncertainty + IN_HAND_MM if finding.id in self._wanted else kept
        need = enough - margin(finding.value, finding.limit) + float(slope @ np.asarray(moved))
        self._held[finding.id] = Demand(slope, need)

    def _slope(self, finding: Finding) -> Floats | None:
        """How a gap opens by a move of the thing; None where it is not known without trying."""
        if finding.id in self._stepped:
            return self._held[finding.id].slope
        sign = self._sign(finding)
        if not sign or finding.away is None or finding.value is None:
            return None
        slope: Floats = sign * np.asarray(finding.away)
        return slope

    def _sign(self, finding: Finding) -> float:
        """1 where the first moves with the thing, -1 where the second does, 0 where both or none."""
        goes = [goes_with(subject, self._thing, self._layout) for subject in (*finding.subjects, "", "")[:2]]
        return float(goes[0]) - float(goes[1])


def goes_with(subject: str, thing: Thing, layout: Layout) -> bool:
    """Whether a subject moves with a thing as it is: its parts, vessels in it, the hand on it, thighs in a seat."""
    owner, _, part = subject.partition(".")
    if owner == thing.id:
        return True
    for person in layout.people:
        if person.id == owner:
            shifters = layout.of(Shifter)
            return (part == "hand" and bool(shifters) and shifters[0].id == thing.id) or (
                part in THIGHS and person.seat_id == thing.id
            )
    return any(vessel.id == owner and vessel.stands_in == thing.id for vessel in layout.of(Vessel))


def movable(subject: str, layout: Layout) -> Thing | None:
    """What a builder would move: the shifter for a hand on it, the holder for a vessel in it."""
    owner, _, part = subject.partition(".")
    thing = next((one for one in layout.things() if one.id == owner), None)
    if thing is None and part == "hand":
        thing = next(iter(layout.of(Shifter)), None)
    if isinstance(thing, Vessel) and thing.stands_in:
        thing = layout.thing(thing.stands_in)
    return None if thing is None or thing.locked or isinstance(thing, _OF_THE_CAR) else thing


def movables(finding: Finding, layout: Layout) -> Iterator[Thing]:
    """The things that could be moved to cure a finding, each once."""
    seen: set[str] = set()
    for subject in finding.subjects:
        thing = movable(subject, layout)
        if thing is not None and thing.id not in seen:
            seen.add(thing.id)
            yield thing
