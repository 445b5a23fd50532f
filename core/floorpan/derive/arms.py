"""The shifting arm in a gear, asked for only where somebody judges it: where the elbow hangs costs more than a gap."""

from collections.abc import Callable

from floorpan.derive.elbow import PosedArm
from floorpan.driver import forearm, upper_arm
from floorpan.driver.arm import Arm
from floorpan.geometry.solids import Body

AskedArm = Callable[[], PosedArm | None]

LIMBS: dict[str, Callable[[Arm, float], Body]] = {"forearm": forearm, "upper arm": upper_arm}
"""Parts of an arm, elbow to wrist and shoulder to elbow, by what they are called in ids: `driver-1.forearm`."""


def limb(asked: AskedArm, name: str, jacket_mm: float) -> Body | None:
    """Forearm or upper arm with its sleeve; None where the knob is out of reach."""
    found = asked()
    return LIMBS[name](found.posed, jacket_mm) if found is not None else None
