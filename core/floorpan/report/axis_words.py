"""Titles of axes and of their stops, and the order they stand in."""

from floorpan.layout import Layout
from floorpan.report import words
from floorpan.report.naming import axis_name, called, capital, gear_name

_KNOWN_ORDER = (
    "N",
    "loose",
    "tight",
    "down",
    "half",
    "up",
    "shut",
    "open",
    "in",
    "lifting",
    "lifting over",
    "out",
)


def axis_title(axis: str, layout: Layout, *, several: bool) -> str:
    """`Gear`, `Seat notch`; by its owner's name where several axes are called the same, seats by that alone."""
    owner = called(axis.rpartition(".")[0], layout).first
    if several and axis_name(axis) == "notch":
        return owner
    title = words.AXIS_TITLES.get(axis_name(axis), "{axis}").format(name=owner, axis=capital(axis_name(axis)))
    return words.AXIS_OF.format(axis=title, name=owner) if several and owner != title else title


def stop_title(axis: str, stop: str) -> str:
    """A stop at the head of a column: `N`, `3`, `N\u2013R`, `tight`."""
    if "-" in stop:
        return stop.replace("-", "\u2013")
    if axis_name(axis) == "gear" and stop == "N":
        return gear_name(stop)[:1].upper()
    return words.STOP_TITLES.get(stop, stop)


def stop_rank(stop: str) -> tuple[int, int, float, str]:
    """Named stops first, then legs; numbers in order, R behind them, words as listed."""
    is_leg = int("-" in stop)
    head = stop.partition("-")[2] if is_leg else stop
    if head in _KNOWN_ORDER:
        return is_leg, 0, _KNOWN_ORDER.index(head), stop
    if head.isdigit():
        return is_leg, 1, float(head), stop
    return is_leg, 2, 0.0, stop
