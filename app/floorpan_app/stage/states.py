"""Which findings belong to the state the car is shown in."""

from floorpan.items.states import State, touches


def agrees(state: State, shown: dict[str, str]) -> bool:
    """Whether a finding's state is the shown one, or a way that touches it; axes it does not name are free."""
    return all(touches(stop, shown[axis]) for axis, stop in state if axis in shown)
