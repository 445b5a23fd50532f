"""A vessel in its well, and against the car around it."""

from collections.abc import Iterator
from dataclasses import replace

from floorpan.checks.check import Check, Item, Reading
from floorpan.checks.doubts import tape
from floorpan.checks.finding import Doubt, Finding, combined, verdict_of
from floorpan.checks.gaps import ToArea
from floorpan.checks.pairs import limit_for, to_area
from floorpan.derive import Scene
from floorpan.derive.lifting import Lifting
from floorpan.items import CupHolder, Vessel, WellFit, well_fit
from floorpan.items.held import fingers_of
from floorpan.items.states import state_of
from floorpan.items.well_fit import at_mouth_mm
from floorpan.limits import LIMITS, Limit

CALIPER_MM = 0.1
"""One sigma of a diameter read off a caliper; common practice, no source."""

_CALIPERS = (Doubt("caliper, vessel", standard=CALIPER_MM), Doubt("caliper, well", standard=CALIPER_MM))

STIFF, WITH_FINGERS = "well-side", "well-side-fingers"


def _holders(scene: Scene) -> Iterator[tuple[Vessel, CupHolder, WellFit]]:
    for vessel in scene.layout.of(Vessel):
        if not vessel.stands_in:
            continue
        holder = scene.layout.thing(vessel.stands_in)
        assert isinstance(holder, CupHolder)
        fit = scene.memory.get("well", (vessel, holder), lambda v=vessel, h=holder: well_fit(h, v))  # type: ignore[misc]
        yield vessel, holder, fit


def _depths(scene: Scene) -> Iterator[Reading]:
    for vessel, holder, fit in _holders(scene):
        state = state_of({f"{vessel.id}.place": "in"})
        yield Reading((vessel.id, holder.id), state, (fit, limit_for(scene, "well-depth")))


def _sides(scene: Scene) -> Iterator[Reading]:
    for vessel, holder, fit in _holders(scene):
        state = state_of({f"{vessel.id}.place": "in"})
        yield Reading((vessel.id, holder.id), state, (fit, vessel, holder, _wanted(scene, holder)))


def _grips(scene: Scene) -> Iterator[Reading]:
    lifting, wanted = Lifting(scene.layout, scene.memory), limit_for(scene, "well-grip")
    for vessel, holder, fit in _holders(scene):
        out_mm = lifting.stands_out_mm(vessel)
        if fit.enters and out_mm is not None:
            yield Reading((vessel.id, holder.id), state_of({f"{vessel.id}.place": "in"}), (out_mm, wanted))


def _wanted(scene: Scene, holder: CupHolder) -> Limit:
    """The room across that is wanted: fingers or a ring take up their reach on either side; the very same each time."""
    fingers = fingers_of(holder)
    if fingers is None:
        return limit_for(scene, STIFF)
    wanted = limit_for(scene, WITH_FINGERS)
    if wanted is not LIMITS[WITH_FINGERS]:
        return wanted
    return scene.memory.get("fingers reach", (holder,), lambda: replace(wanted, upper=2.0 * fingers.reach_mm))


def _judge_side(reading: Reading) -> Finding:
    fit, vessel, holder, wanted = reading.inputs
    assert isinstance(fit, WellFit)
    assert isinstance(vessel, Vessel)
    assert isinstance(holder, CupHolder)
    assert isinstance(wanted, Limit)
    if not fit.enters:
        return _finding("well-side", reading, wanted, fit.side_mm, "Does not go in.", is_gap=True)
    if fingers_of(holder) is None:
        lean = f"Leans up to {fit.free_tilt_deg:.1f} deg in it."
        return _finding("well-side", reading, wanted, fit.side_mm, lean, is_gap=True)
    # The wall must let it by wherever it is tightest; the fingers must meet it where they are, at the mouth.
    mouth_mm = at_mouth_mm(holder, vessel)
    over = wanted.upper is not None and mouth_mm - wanted.upper > wanted.value - fit.side_mm
    note = "The fingers do not reach it." if wanted.upper is not None and mouth_mm > wanted.upper else ""
    return _finding("well-side", reading, wanted, mouth_mm if over else fit.side_mm, note, is_gap=False)


def _judge_depth(reading: Reading) -> Finding:
    fit, wanted = reading.inputs
    assert isinstance(fit, WellFit)
    assert isinstance(wanted, Limit)
    return _finding("well-depth", reading, wanted, fit.deep_mm, "", is_gap=False)


def _judge_grip(reading: Reading) -> Finding:
    """How much of a vessel there is to take hold of over the highest edge round it."""
    out_mm, wanted = reading.inputs
    assert isinstance(out_mm, float)
    assert isinstance(wanted, Limit)
    taped = (tape("taped well and vessel", 2),)
    return _finding("well-grip", reading, wanted, out_mm, "", is_gap=False, doubts=taped)


def _finding(
    check: str,
    reading: Reading,
    wanted: Limit,
    value: float,
    note: str,
    *,
    is_gap: bool,
    doubts: tuple[Doubt, ...] = _CALIPERS,
) -> Finding:
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


def _to_scan(scene: Scene) -> Iterator[Item]:
    for vessel in scene.layout.of(Vessel):
        for area in scene.areas():
            yield from to_area(scene, vessel.id, area, "vessel-scan", moving=False)


CHECKS = (
    Check("well-side", "live", _sides, _judge_side),
    Check("well-depth", "live", _depths, _judge_depth),
    Check("well-grip", "live", _grips, _judge_grip, by_place=True),
    Check("vessel-scan", "live", _to_scan, ToArea("vessel-scan")),
)
