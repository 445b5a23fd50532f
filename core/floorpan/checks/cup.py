"""A vessel in its well, and against the car around it."""

from collections.abc import Iterator

from floorpan.checks.check import Check, Reading
from floorpan.checks.finding import Doubt, Finding, combined, verdict_of
from floorpan.checks.gaps import ToArea
from floorpan.checks.pairs import limit_for, to_area
from floorpan.derive import Scene
from floorpan.items import CupHolder, Vessel, WellFit, well_fit
from floorpan.items.states import state_of
from floorpan.limits import Limit

CALIPER_MM = 0.1
"""One sigma of a diameter read off a caliper; common practice, no source."""


def _wells(scene: Scene, limit: str) -> Iterator[Reading]:
    for vessel in scene.layout.of(Vessel):
        if not vessel.stands_in:
            continue
        holder = scene.layout.thing(vessel.stands_in)
        assert isinstance(holder, CupHolder)
        fit = scene.memory.get("well", (vessel, holder), lambda v=vessel, h=holder: well_fit(h, v))  # type: ignore[misc]
        state = state_of({f"{vessel.id}.place": "in"})
        yield Reading((vessel.id, holder.id), state, (fit, limit_for(scene, limit)))


def _judge_side(reading: Reading) -> Finding:
    fit, wanted = reading.inputs
    assert isinstance(fit, WellFit)
    assert isinstance(wanted, Limit)
    note = f"Leans up to {fit.free_tilt_deg:.1f} deg in it." if fit.enters else "Does not go in."
    return _finding("well-side", reading, wanted, fit.side_mm, note, is_gap=True)


def _judge_depth(reading: Reading) -> Finding:
    fit, wanted = reading.inputs
    assert isinstance(fit, WellFit)
    assert isinstance(wanted, Limit)
    return _finding("well-depth", reading, wanted, fit.sits_mm, "", is_gap=False)


def _finding(
    check: str, reading: Reading, wanted: Limit, value: float, note: str, *, is_gap: bool
) -> Finding:
    doubts = (Doubt("caliper, vessel", standard=CALIPER_MM), Doubt("caliper, well", standard=CALIPER_MM))
    u = combined(doubts)
    return Finding(
        check=check,
        subjects=reading.subjects,
        state=reading.state,
        verdict=verdict_of(value, u, wanted, is_gap=is_gap),
        value=value,
        uncertainty=u,
        doubts=doubts,
        limit=wanted,
        is_gap=is_gap,
        met="well",
        note=note,
    )


def _to_scan(scene: Scene) -> Iterator[Reading]:
    for vessel in scene.layout.of(Vessel):
        for area in scene.areas():
            yield from to_area(scene, vessel.id, area, "vessel-scan", moving=False)


CHECKS = (
    Check("well-side", "live", lambda scene: _wells(scene, "well-side"), _judge_side),
    Check("well-depth", "live", lambda scene: _wells(scene, "well-depth"), _judge_depth),
    Check("vessel-scan", "live", _to_scan, ToArea("vessel-scan")),
)
