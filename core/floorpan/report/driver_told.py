"""What moving the seat did to the way to the knob, and who else reaches: for the papers, and in the card's words."""

import math
from collections.abc import Iterator

from floorpan.derive import PopulationReach
from floorpan.driver.moved_away import Cause, MovedAway
from floorpan.driver.population import Shares
from floorpan.report import driver_words as said
from floorpan.report.blocks import Block, Cell, Column, Heading, Prose, Table
from floorpan.report.naming import capital, gear_name
from floorpan.units import System, show_length, show_number

# Less than this of a cause, in mm or degrees, is rounding and no change.
_LEAST = 0.05
# Of so many bodies none or all, the share is under 3 of them with 95 % confidence: Hanley and Lippman-Hand,
# "If nothing goes wrong, is everything all right?", JAMA 249 (1983).
_RULE_OF_THREE = 3.0
_NOTHING = 1e-9


def moved_blocks(moved: MovedAway | None, system: System) -> tuple[Block, ...]:
    """The section on the old seat; nothing where no old seat was kept."""
    return tuple(_moved(moved, system)) if moved is not None else ()


def population_blocks(found: PopulationReach | None) -> tuple[Block, ...]:
    """The section on who else reaches; nothing where nobody drives or nothing is shifted."""
    return tuple(_population(found)) if found is not None else ()


def telling_causes(moved: MovedAway) -> tuple[Cause, ...]:
    """The causes that changed something, in the order in which they are counted."""
    return tuple(one for one in moved.causes if max(abs(one.amount), abs(one.share_mm)) >= _LEAST)


def cause_text(cause: Cause, system: System, *, with_unit: bool = False) -> str:
    """What changed, as `seat down 50` or `reclined 5\u00b0`."""
    forth, back = said.CAUSES[cause.kind]
    amount = abs(cause.amount)
    n = (
        f"{show_number(amount)}\u00b0"
        if cause.unit == "deg"
        else show_length(amount, system, with_unit=with_unit)
    )
    return (forth if cause.amount >= 0.0 else back).format(n=n)


def signed_text(share_mm: float, system: System) -> str:
    """A share with its sign, as `+42`, `\u221228` or `0`, in whole millimetres or sixteenths."""
    shown = show_length(share_mm, system, digits=0)
    return f"+{shown}" if share_mm > 0.0 and shown != "0" else shown


def change_text(change_mm: float, system: System) -> str:
    """`40 mm further`, `12 mm nearer`, or that nothing changed."""
    shown = show_length(abs(change_mm), system, digits=0)
    if shown == "0":
        return said.AS_FAR
    return (said.FURTHER if change_mm > 0.0 else said.NEARER).format(amount=f"{shown} {system}")


def then_now_text(moved: MovedAway, system: System) -> str:
    """`558 mm then, 598 mm now`."""
    before, after = (_whole(mm, system) for mm in (moved.before_mm, moved.after_mm))
    return said.THEN_NOW.format(before=before, after=after)


def raised_text(moved: MovedAway, system: System) -> str:
    """How much higher all that is fixed to the car stands against the elbow; "" where it does not."""
    amount = _whole(abs(moved.raised_mm), system)
    if amount == _whole(0.0, system):
        return ""
    return (said.RAISED if moved.raised_mm > 0.0 else said.LOWERED).format(amount=amount)


def share_text(share: float, error: float, drawn: int) -> str:
    """A share 0 to 1 in percent with its standard error, as `92.6 \u00b1 0.2`.

    drawn : bodies of each sex; where none of them or all reach, what that many can tell
    The share is rounded down and its error up.
    """
    bound = _stepped(_RULE_OF_THREE / drawn * 100.0, 0.01, up=True)
    if share <= _NOTHING:
        return said.UNDER.format(n=show_number(bound, 2))
    if share >= 1.0 - _NOTHING:
        return said.OVER.format(n=show_number(100.0 - bound, 2))
    digits = 2 if error < 0.0005 else 1
    step = 10.0**-digits
    told = _stepped(100.0 * share, step, up=False)
    give = max(step, _stepped(100.0 * error, step, up=True))
    return said.SHARE.format(n=f"{told:.{digits}f}", error=f"{give:.{digits}f}")


def share_rows(found: PopulationReach) -> tuple[tuple[str, tuple[str, str, str]], ...]:
    """(gear, (men, women, mix)) for every gear, and last for every one of them at once."""
    groups = (found.men, found.women, found.mix)

    def texts(place: int) -> tuple[str, str, str]:
        men, women, mix = (_share(one, place, found.drawn) for one in groups)
        return men, women, mix

    each = tuple((gear_name(gear), texts(place)) for place, gear in enumerate(found.gears))
    return (*each, (said.EVERY_GEAR, texts(-1)))


def notches_text(notches: tuple[int, ...]) -> str:
    """`at notch 6`, or `each at the best of notches 5, 6, 7`."""
    if len(notches) == 1:
        return said.NOTCH_ONE.format(notch=notches[0])
    return said.NOTCHES.format(notches=", ".join(str(one) for one in notches))


def who_text(found: PopulationReach) -> str:
    """What the shares are of."""
    return said.WHO_NOTE.format(notches=notches_text(found.notches), men=show_number(found.men_percent))


def counted_text(found: PopulationReach) -> str:
    """Where the bodies come from, and what the figures are not."""
    return said.COUNTED.format(drawn=show_number(found.drawn, 0), source=said.SURVEY)


def _moved(moved: MovedAway, system: System) -> Iterator[Block]:
    yield Heading(text=said.MOVED, level=2)
    causes = telling_causes(moved)
    if not causes:
        yield Prose(text=said.NOTHING_CHANGED)
        return
    before, after = (_whole(mm, system) for mm in (moved.before_mm, moved.after_mm))
    change = change_text(moved.change_mm, system)
    yield Prose(text=said.MOVED_NOTE.format(before=before, after=after, change=change), role="second")
    yield Table(
        columns=(
            Column(title=said.COL_CAUSE, share=0.4),
            Column(title=said.COL_SHARE.format(unit=system), share=0.25, align="right"),
            Column(title=said.COL_THEN.format(unit=system), share=0.35, align="right"),
        ),
        rows=tuple(
            (
                Cell(text=capital(cause_text(cause, system, with_unit=True))),
                Cell(text=signed_text(cause.share_mm, system), bold=True),
                Cell(text=show_length(cause.distance_mm, system, digits=0)),
            )
            for cause in causes
        ),
        width=0.7,
    )
    raised = raised_text(moved, system)
    if raised:
        yield Prose(text=raised)


def _population(found: PopulationReach) -> Iterator[Block]:
    yield Heading(text=said.WHO_ELSE, level=2)
    yield Prose(text=who_text(found))
    titles = (said.COL_MEN, said.COL_WOMEN, said.COL_MIX)
    rows = share_rows(found)
    yield Table(
        columns=(
            Column(title=said.COL_GEAR, share=0.25),
            *(Column(title=title, share=0.25, align="right") for title in titles),
        ),
        rows=tuple(
            (Cell(text=capital(gear), bold=last), *(Cell(text=text, bold=last) for text in texts))
            for (gear, texts), last in ((row, row is rows[-1]) for row in rows)
        ),
        width=0.7,
    )
    yield Prose(text=counted_text(found), role="second")


def _share(shares: Shares, place: int, drawn: int) -> str:
    """The share of one gear, or of every gear where place is -1."""
    if place < 0:
        return share_text(shares.every, shares.every_error, drawn)
    return share_text(shares.each[place], shares.each_error[place], drawn)


def _stepped(value: float, step: float, *, up: bool) -> float:
    steps = value / step
    return (math.ceil(steps - 1e-6) if up else math.floor(steps + 1e-6)) * step


def _whole(mm: float, system: System) -> str:
    return show_length(mm, system, digits=0, with_unit=True)
