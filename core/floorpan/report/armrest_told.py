"""How high an armrest may be, told for the papers and in the card's words."""

from collections.abc import Iterable, Iterator

from floorpan.advice.armrest_band import ArmrestBand, Band, Bound
from floorpan.items.lever import NEUTRAL
from floorpan.items.states import State
from floorpan.layout import Layout
from floorpan.report import armrest_words as said
from floorpan.report.blocks import Block, Heading, Prose
from floorpan.report.naming import axis_name, gear_name
from floorpan.units import System, show_length

_SHOWN_MM = 0.5


def armrest_blocks(bands: Iterable[ArmrestBand], layout: Layout, system: System) -> Iterator[Block]:
    """The section on armrests; nothing where there are none."""
    told = tuple(bands)
    if not told:
        return
    yield Heading(text=said.TITLE, level=2)
    for band in told:
        yield Prose(text=" ".join(armrest_texts(band, layout, system)))
    yield Prose(text=said.NOTE, role="second")


def armrest_texts(found: ArmrestBand, layout: Layout, system: System) -> Iterator[str]:
    """The answer in sentences: the band and what ends it, or why there is none; and where the elbow lies beside it."""
    height, name = found.height, layout.thing(found.rest_id).name
    if height.low is None or height.high is None:
        yield _none(height, name, layout, system)
    else:
        whose = _whose_all(found.on, layout) if found.off else ""
        yield (said.BAND if found.on else said.BAND_BESIDE).format(
            name=name,
            whose=whose,
            low=_length(height.low, system),
            high=_length(height.high, system),
            u=_length(_doubt(height), system),
            now=_now(height, height.low, height.high, system),
        )
        yield said.ENDS.format(
            low=_why(height.low_by, said.LOW_BY, layout), high=_why(height.high_by, said.HIGH_BY, layout)
        )
        # Nearer than what is shown they are as good as alike.
        if height.high - height.low < height.doubt_mm - _SHOWN_MM:
            wide, both = _length(height.high - height.low, system), _length(height.doubt_mm, system)
            yield said.UNSURE.format(wide=wide, both=both)
    if found.off:
        yield said.OFF.format(whose=_whose_all(found.off, layout))
    if found.off or not height.holds:
        yield _along(found, system)


def set_text(found: ArmrestBand, system: System) -> str:
    """What the button says that sets the pad into its band; "" where it is in it or there is none."""
    into = found.height.into
    if into is None or found.height.holds:
        return ""
    return said.SET.format(height=_length(into, system))


def _now(band: Band, low: float, high: float, system: System) -> str:
    now = _length(band.here, system)
    if band.holds:
        return said.HOLDS.format(now=now)
    too_low = band.here < low
    by = low - band.here if too_low else band.here - high
    return (said.TOO_LOW if too_low else said.TOO_HIGH).format(now=now, by=_length(by, system))


def _none(band: Band, name: str, layout: Layout, system: System) -> str:
    if band.nearest is None:
        return said.NOT_CLEAR.format(name=name)
    nearest, short = _length(band.nearest, system), _length(abs(band.short), system)
    if len(band.because) == 2 and all(one.what == "elbow" for one in band.because):
        one, other = (_whose(bound, layout) for bound in band.because)
        return said.CLASH.format(name=name, nearest=nearest, short=short, one=one, other=other)
    bound = band.because[0]
    return said.NONE.format(
        name=name,
        nearest=nearest,
        u=_length(max(bound.u_mm, 1.0), system),
        short=short,
        way=said.LOW if band.short > 0.0 else said.HIGH,
        because=_why(bound, said.HIGH_BY if band.short > 0.0 else said.LOW_BY, layout),
    )


def _along(found: ArmrestBand, system: System) -> str:
    band = found.along
    if band.low is None or band.high is None:
        return said.NO_ALONG
    low, high = (_moved(value, system) for value in (band.low, band.high))
    searched = any(one is not None and one.what == "pad" for one in (band.low_by, band.high_by))
    there = said.TOO_LOW_THERE if found.beside > 0.0 else said.TOO_HIGH_THERE
    return said.ALONG.format(
        low=low,
        high=high,
        further=said.FURTHER if searched else "",
        is_there=there if found.beside else said.RESTS_THERE,
    )


def _moved(by_mm: float, system: System) -> str:
    shown = _length(abs(by_mm), system)
    if shown == _length(0.0, system):
        return said.HERE.format(unit=system)
    return (said.REARWARD if by_mm > 0.0 else said.FORWARD).format(n=shown)


def _whose_all(states: tuple[State, ...], layout: Layout) -> str:
    """` of Alex at notches 5, 6 and of Sam at notch 8`; names and notches only where there are several."""
    notches: dict[str, list[str]] = {}
    for state in states:
        arm = next((axis.rpartition(".")[0] for axis, _ in state if axis_name(axis) == "belts"), "")
        notch = next((stop for axis, stop in state if axis_name(axis) == "notch"), "")
        if notch not in notches.setdefault(arm, []):
            notches[arm].append(notch)
    return said.AND.join(f"{_of(arm, layout)}{_at(own, layout)}" for arm, own in notches.items())


def _at(notches: list[str], layout: Layout) -> str:
    told = sorted((one for one in notches if one), key=int)
    if not told or not _several(layout):
        return ""
    if len(told) == 1:
        return said.AT_NOTCH.format(notch=told[0])
    return said.AT_NOTCHES.format(notches=", ".join(told))


def _why(bound: Bound | None, forms: dict[str, str], layout: Layout) -> str:
    return "" if bound is None else forms[bound.what].format(where=_where(bound.state, bound.arm, layout))


def _where(state: State, arm: str, layout: Layout) -> str:
    """` in reverse of Alex`; the gear not for a neutral one, the name only where several drive."""
    gear = next((stop for axis, stop in state if axis_name(axis) == "gear"), NEUTRAL)
    told = "" if gear == NEUTRAL else said.IN_GEAR.format(gear=gear_name(gear))
    return f"{told}{_of(arm, layout)}{_notch(state, layout)}"


def _whose(bound: Bound, layout: Layout) -> str:
    """`Alex at notch 6`."""
    name = next((person.name for person in layout.people if person.id == bound.arm), bound.arm)
    return f"{name}{_notch(bound.state, layout, always=True)}"


def _of(arm: str, layout: Layout) -> str:
    drivers = [person for person in layout.people if person.role == "driver"]
    name = next((person.name for person in drivers if person.id == arm), "")
    return said.OF_WHOM.format(name=name) if name and len(drivers) > 1 else ""


def _notch(state: State, layout: Layout, *, always: bool = False) -> str:
    """The notch, where somebody uses more than one."""
    notch = next((stop for axis, stop in state if axis_name(axis) == "notch"), "")
    return said.AT_NOTCH.format(notch=notch) if notch and (_several(layout) or always) else ""


def _several(layout: Layout) -> bool:
    return any(len(person.notches_used) > 1 for person in layout.people if person.role == "driver")


def _doubt(band: Band) -> float:
    return max((one.u_mm for one in (band.low_by, band.high_by) if one is not None), default=0.0)


def _length(mm: float, system: System) -> str:
    return show_length(mm, system, digits=0, with_unit=True)
