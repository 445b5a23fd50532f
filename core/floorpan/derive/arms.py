"""The shifting arm in a gear, asked for only where somebody judges it: where the elbow hangs costs more than a gap."""

from collections.abc import Callable, Iterator
from functools import partial

from floorpan.derive.elbow import ElbowAt, elbow_in
from floorpan.derive.people import reach_in
from floorpan.derive.scene import Scene
from floorpan.driver import BELTS_AXIS, Person, forearm, upper_arm
from floorpan.driver.arm import Arm
from floorpan.geometry.solids import Body
from floorpan.items import Seat, Shifter
from floorpan.items.seat import NOTCH
from floorpan.items.shifter import GEAR
from floorpan.items.states import State, products, state_of
from floorpan.layout import record_of

AskedArm = Callable[[], ElbowAt | None]

LIMBS: dict[str, Callable[[Arm, float], Body]] = {"forearm": forearm, "upper arm": upper_arm}
"""Parts of an arm, elbow to wrist and shoulder to elbow, by what they are called in ids: `driver-1.forearm`."""


def arms_in(scene: Scene, person: Person, seat: Seat, shifter: Shifter) -> Iterator[tuple[State, AskedArm]]:
    """The arm in neutral and every gear that is reached at every notch a driver uses, belts tight.

    The very same one to ask while neither it nor what it gives way to changed.
    """
    gears = record_of(shifter).axes(shifter)[0].stops
    axes = {f"{seat.id}.{NOTCH}": tuple(str(n) for n in person.notches_used), f"{shifter.id}.{GEAR}": gears}
    made_from = (person, shifter, *scene.layout.seats, *scene.layout.consoles, scene.hand_side())
    for state in products(axes.items()):
        full = state_of({**dict(state), f"{person.id}.{BELTS_AXIS}": "tight"})
        found = reach_in(person, seat, shifter, full, scene.hand_side())
        if found.spare_mm < 0.0 or not found.arm.bends:
            continue

        def make(full: State = full) -> AskedArm:
            return partial(elbow_in, scene, person, seat, shifter, full)

        yield full, scene.memory.get(("arm, to be asked", full), made_from, make)


def limb(asked: AskedArm, name: str, jacket_mm: float) -> Body | None:
    """Forearm or upper arm with its sleeve; None where the knob is out of reach."""
    found = asked()
    return LIMBS[name](found.posed, jacket_mm) if found is not None else None
