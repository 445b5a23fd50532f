"""Steps signed off, and whether they must be looked at again."""

import dataclasses
import hashlib
from collections.abc import Callable
from dataclasses import replace

from floorpan.driver import DrivingPosition
from floorpan.items import (
    Armrest,
    Buckle,
    Control,
    CupHolder,
    DashEdge,
    Door,
    Flap,
    Handbrake,
    KeepOut,
    Shifter,
    Vessel,
    Wheel,
)
from floorpan.layout import (
    STEPS,
    Acceptance,
    Layout,
    Step,
)


def accept(layout: Layout, step: Step, *, date: str, reason: str = "") -> Layout:
    """Sign a step off as it is now. The date is handed in: the core has no clock."""
    stamp = Acceptance(step=step, date=date, reason=reason, key=step_key(layout, step))
    return replace(layout, accepted=(*(a for a in layout.accepted if a.step != step), stamp))


def open_again(layout: Layout, step: Step) -> Layout:
    """Take a step's acceptance back."""
    return replace(layout, accepted=tuple(a for a in layout.accepted if a.step != step))


def step_key(layout: Layout, step: Step) -> str:
    """A hash of everything a step rests on, so that a later change to it can be told."""
    used = _said(_INPUTS[step](layout))
    return hashlib.sha256(repr(used).encode()).hexdigest()[:16]


def _said(value: object) -> object:
    """A value without what stands at its default, so that a field added later leaves older acceptances as they are."""
    if isinstance(value, tuple | list):
        return [_said(one) for one in value]
    if not dataclasses.is_dataclass(value):
        return value
    said: list[tuple[str, object]] = [("", type(value).__name__)]
    for field in dataclasses.fields(value):
        held = getattr(value, field.name)
        if held != _default(field):
            said.append((field.name, _said(held)))
    return said


def _default(field: "dataclasses.Field[object]") -> object:
    if field.default_factory is not dataclasses.MISSING:
        return field.default_factory()
    return field.default


def step_mark(layout: Layout, step: Step) -> str:
    """`accepted`, `accepted as it is`, `look again` or `open`."""
    for stamp in layout.accepted:
        if stamp.step == step:
            if stamp.key != step_key(layout, step):
                return "look again"
            return "accepted as it is" if stamp.reason else "accepted"
    return "open"


def _scan_inputs(layout: Layout) -> object:
    return [
        (
            s.sha256,
            s.unit,
            s.flipped,
            s.factor,
            s.cleaned,
            s.crop,
            s.outlines,
            s.good_to_mm,
            s.areas,
            s.probes,
            *(s.bridges and (s.bridges,)),
            # What a scan shows, and how it is joined, counts once there are several.
            *((s.role, s.joined) if len(layout.scans) > 1 else ()),
        )
        for s in layout.scans
    ]


def _axes_inputs(layout: Layout) -> object:
    return [(s.sha256, s.unit, s.picks, s.pose) for s in layout.scans], layout.driver_side


def _driver_inputs(layout: Layout) -> object:
    position = layout.driving_position
    return layout.people, layout.seats, *((position,) if position != DrivingPosition() else ())


def _everything(layout: Layout) -> object:
    return replace(layout, accepted=(), title="")


_INPUTS: dict[Step, Callable[[Layout], object]] = {
    "scan": _scan_inputs,
    "axes": _axes_inputs,
    "floor": lambda layout: (_scan_inputs(layout), layout.carpet_mm),
    "driver": _driver_inputs,
    "controls": lambda layout: (
        _driver_inputs(layout),
        layout.of(Shifter),
        *layout.of(Control),
        *layout.of(Handbrake),
        *layout.of(Buckle),
        *layout.of(Armrest),
        *layout.of(Wheel),
        *layout.of(KeepOut),
        *layout.of(Flap),
        *layout.of(DashEdge),
        *layout.of(Door),
    ),
    "cup": lambda layout: (layout.of(CupHolder), layout.of(Vessel)),
    "console": lambda layout: (layout.consoles, layout.carpet_mm),
    "pieces": lambda layout: layout.consoles,
    "check": _everything,
    "report": _everything,
}
assert set(_INPUTS) == set(STEPS)
