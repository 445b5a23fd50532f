"""Which findings belong to the state the car is shown in."""

from floorpan.items.states import State, is_leg


def agrees(state: State, shown: dict[str, str]) -> bool:
    """Whether a finding's state is the shown one, or a way that touches it; axes it does not name are free."""
    return all(_touches(stop, shown[axis]) for axis, stop in state if axis in shown)


def _touches(stop: str, shown: str) -> bool:
    if not is_leg(stop):
        return stop == shown
    first, _, last = stop.partition("-")
    if shown in (first, last):
        return True
    # A seat's travel is one leg over all its notches.
    numbers = (first, shown, last)
    return all(number.isdigit() for number in numbers) and int(first) < int(shown) < int(last)
