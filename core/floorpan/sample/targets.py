"""The points a builder would pick on the scan to set the car's axes."""

import numpy as np

from floorpan.sample.plan import CarSizes
from floorpan.sample.scanner import Scan, moved, undone
from floorpan.sample.shapes import Floats, Triple

PICK_SIGMA_MM = 0.3


def targets(sizes: CarSizes) -> dict[str, Triple]:
    """Named points in car axes, mm.

    The front and the rear pair of seat bolts are level and lie on either side of the car's centre plane; the two
    holes drilled in the tunnel lie on that plane, the front one at station 0; the floor plug lies at station 0
    and height 0.
    """
    side = sizes.passenger_sign
    inner = sizes.seat_bolt_y_mm[0]
    bolt_z = sizes.member_height_mm + sizes.seat_bolt_head_mm
    rear_hole = sizes.handbrake_pivot_x_mm + 165.0
    return {
        "driver seat bolt, front": (sizes.front_member_x_mm, -side * inner, bolt_z),
        "passenger seat bolt, front": (sizes.front_member_x_mm, side * inner, bolt_z),
        "driver seat bolt, rear": (sizes.rear_member_x_mm, -side * inner, bolt_z),
        "passenger seat bolt, rear": (sizes.rear_member_x_mm, side * inner, bolt_z),
        "tunnel hole, front": (0.0, 0.0, sizes.tunnel_top_z(0.0, 0.0)),
        "tunnel hole, rear": (rear_hole, 0.0, sizes.tunnel_top_z(rear_hole, 0.0)),
        "floor plug": (0.0, -side * 375.0, 0.0),
    }


def picked_targets(scan: Scan, sizes: CarSizes, seed: int) -> dict[str, Triple]:
    """The targets in the scan's frame, mm, each coordinate off by a picking error of 0.3 mm (one sigma)."""
    random = np.random.Generator(np.random.PCG64(np.random.SeedSequence((seed, 0x7A26))))
    named = targets(sizes)
    true: Floats = moved(np.array(tuple(named.values())), undone(scan.pose))
    picked = true + random.normal(scale=PICK_SIGMA_MM, size=true.shape)
    return {name: (float(x), float(y), float(z)) for name, (x, y, z) in zip(named, picked, strict=True)}
