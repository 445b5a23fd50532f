"""Judging a whole layout, again only what changed."""

from collections.abc import Callable, Iterator
from dataclasses import replace

from floorpan.checks.catalogue import CHECKS
from floorpan.checks.check import Check, Reading, same_inputs
from floorpan.checks.finding import Finding, rank
from floorpan.derive import Bench, Scene
from floorpan.items.states import State
from floorpan.layout import Layout
from floorpan.progress import Step, Work

Key = tuple[str, tuple[str, ...], State]


class Evaluator:
    """Remembers each finding with the very things it was judged on."""

    def __init__(self, bench: Bench, checks: tuple[Check, ...] = CHECKS) -> None:
        self.bench = bench
        self._checks = checks
        self._known: dict[Key, tuple[tuple[object, ...], Finding]] = {}

    def settle(self, layout: Layout) -> Work[tuple[Finding, ...]]:
        """Every finding of a layout, fresh, worst first."""
        scan = self.bench.floor_scan(layout)
        if scan is not None:
            yield from self.bench.prepare(scan)
        scene = self.bench.scene(layout)
        yield Step(0.0, "Looking at every state")
        for area in scene.floor.areas if scene.floor is not None else ():
            while area.surface.build_next():
                yield Step(0.0, "Making the scan ready")
        readings = list(self._readings(scene))
        found: dict[Key, tuple[tuple[object, ...], Finding]] = {}
        for number, (check, reading) in enumerate(readings):
            key = _key(check, reading)
            found[key] = (reading.inputs, self._judge(check, reading))
            if number % 8 == 7:
                yield Step((number + 1) / len(readings), f"Checking {check.name}")
        self._known = found
        return _sorted(finding for _, finding in found.values())

    def live(self, layout: Layout, *, budget_s: float, clock: Callable[[], float]) -> tuple[Finding, ...]:
        """What is known of a layout while it is dragged, worst first.

        Live checks are judged again, worst of last time first, until the budget is used; what did not fit, and
        every settled check whose subject changed, is told as it was and marked stale.
        """
        if not self.bench.floor_ready(layout):
            return _sorted(replace(finding, stale=True) for _, finding in self._known.values())
        end = clock() + budget_s
        scene = self.bench.scene(layout)
        readings = sorted(self._readings(scene), key=lambda pair: self._last_rank(*pair))
        found = []
        for check, reading in readings:
            known = self._known.get(_key(check, reading))
            if known is not None and same_inputs(known[0], reading.inputs):
                found.append(known[1])
            elif check.tier == "live" and clock() < end:
                finding = self._judge(check, reading)
                self._known[_key(check, reading)] = (reading.inputs, finding)
                found.append(finding)
            elif known is not None:
                found.append(replace(known[1], stale=True))
        return _sorted(found)

    def _readings(self, scene: Scene) -> Iterator[tuple[Check, Reading]]:
        for check in self._checks:
            for reading in check.reads(scene):
                yield check, reading

    def _judge(self, check: Check, reading: Reading) -> Finding:
        known = self._known.get(_key(check, reading))
        if known is not None and same_inputs(known[0], reading.inputs):
            return known[1]
        return check.judge(reading)

    def _last_rank(self, check: Check, reading: Reading) -> tuple[int, float, str]:
        known = self._known.get(_key(check, reading))
        return rank(known[1]) if known is not None else (-1, 0.0, check.name)


def evaluate(layout: Layout, bench: Bench) -> Work[tuple[Finding, ...]]:
    """Every finding of a layout, worst first, with nothing remembered from before."""
    return Evaluator(bench).settle(layout)


def _key(check: Check, reading: Reading) -> Key:
    return check.name, reading.subjects, reading.state


def _sorted(findings: Iterator[Finding] | list[Finding]) -> tuple[Finding, ...]:
    return tuple(sorted(findings, key=rank))
