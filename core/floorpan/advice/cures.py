"""The smallest move of one thing that clears a failing pair without making anything else worse.

Solved over the straightened gaps of all pairs that the thing takes part in, then judged exactly; where a gap says
otherwise there, it is straightened anew at that place and the programme solved again. A move that was judged clear
is tried to be made shorter in the same way. Things are moved one at a time and not turned.
"""

from dataclasses import replace

import numpy as np

from floorpan import edits
from floorpan.advice.cure_limits import Demands, goes_with, movables
from floorpan.advice.least_move import axes_of, length_mm, preferred_move
from floorpan.checks import Cure, Evaluator, Finding
from floorpan.errors import WrongStep
from floorpan.frames import Vector
from floorpan.layout import Layout, Thing
from floorpan.progress import Work, part

MOST_PAIRS = 6
_ROUNDS = 8
_SHORTER_MM = 0.75


def with_cures(
    findings: tuple[Finding, ...], layout: Layout, evaluator: Evaluator
) -> Work[tuple[Finding, ...]]:
    """The findings, those that fail with the move that cures them, where one has one.

    A cure clears every failing state of its pair and is told on each; where no move does, one that clears the worst
    state is told on that one alone.
    """
    cured: dict[str, Cure] = {}
    pairs: dict[tuple[str, ...], list[Finding]] = {}
    for finding in findings:
        if _curable(finding):
            pairs.setdefault(finding.subjects, []).append(finding)
    for number, failing in enumerate(list(pairs.values())[:MOST_PAIRS]):
        done = number / MOST_PAIRS
        cured |= yield from part(_of_pair(failing, findings, layout, evaluator), done, done)
    return tuple(replace(f, cure=cured[f.id]) if f.id in cured else f for f in findings)


def _curable(finding: Finding) -> bool:
    return finding.verdict in ("hits", "short") and finding.is_gap and finding.away is not None


def _of_pair(
    failing: list[Finding], findings: tuple[Finding, ...], layout: Layout, evaluator: Evaluator
) -> Work[dict[str, Cure]]:
    """The cure of a pair's failing states, worst first, by their ids."""
    goals = [frozenset(one.id for one in failing)]
    if len(failing) > 1:
        goals.append(frozenset({failing[0].id}))
    # What takes part in the fewest findings is tried the quickest, and what it needs the others have to beat.
    things = sorted(movables(failing[0], layout), key=lambda thing: _share(thing, findings, layout))
    for wanted in goals:
        best: tuple[Thing, Vector] | None = None
        for thing in things:
            shorter = _Search(layout, thing, findings, wanted, evaluator)
            move = yield from shorter.run(length_mm(best[1]) if best else float("inf"))
            best = best if move is None else (thing, move)
        if best is not None:
            return {id: Cure(subject=best[0].id, move_mm=best[1]) for id in wanted}
    return {}


def _share(thing: Thing, findings: tuple[Finding, ...], layout: Layout) -> int:
    """In how many findings a thing takes part."""
    return sum(any(goes_with(one, thing, layout) for one in finding.subjects) for finding in findings)


class _Search:
    """One thing, moved until what is wanted is clear."""

    def __init__(
        self,
        layout: Layout,
        thing: Thing,
        findings: tuple[Finding, ...],
        wanted: frozenset[str],
        evaluator: Evaluator,
    ) -> None:
        self._layout, self._thing, self._findings = layout, thing, findings
        self._wanted, self._evaluator = wanted, evaluator
        self._demands = Demands(layout, thing, findings, wanted)
        self._barred: set[tuple[int, ...]] = set()

    def run(self, below_mm: float) -> Work[Vector | None]:
        """The shortest move found that is shorter than below_mm; None where none was."""
        best: Vector | None = None
        tried: set[Vector] = set()
        for _ in range(_ROUNDS):
            move = preferred_move(self._demands.limits(), frozenset(self._barred))
            if move is None and not tried:
                # Straightened where it stands nothing may seem to do: what harm the way does is seen once there.
                move = preferred_move(self._demands.limits(self._wanted), frozenset(self._barred))
            if move is None or move in tried or length_mm(move) > below_mm - _SHORTER_MM:
                break
            tried.add(move)
            if (yield from self._holds(move)):
                best, below_mm = move, length_mm(move)
        return best

    def _holds(self, move: Vector) -> Work[bool]:
        """Whether a move cures and harms nothing, judged exactly; what was seen on the way is learnt."""
        try:
            moved = edits.shift(self._layout, self._thing.id, move)
        except WrongStep:
            self._barred.add(axes_of(move))
            return False
        tried = yield from self._evaluator.tried(moved, self._findings, self._wanted)
        self._demands.learn(tried.seen, move)
        for finding in tried.against:
            if not self._demands.learn_around(finding, move, self._evaluator):
                self._barred.add(axes_of(move))
        # A gap that failed before may fail as it did, but no deeper.
        kept = self._demands.limits().kept(np.array([move]))
        return not tried.against and bool(kept[0])
