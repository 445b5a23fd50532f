"""The sample car as layout and store in memory, for tests that judge it."""

import functools
import hashlib
from dataclasses import dataclass
from typing import Literal

from floorpan.derive import Bench
from floorpan.geometry.mesh import Mesh
from floorpan.layout import Layout, ScanRef
from floorpan.sample.build import build_car
from floorpan.sample.car import Car
from floorpan.sample.placing import sample_layout
from floorpan.sample.plan import CarSizes
from floorpan.sample.scanner import simulate_scan
from floorpan.sample.targets import picked_targets
from floorpan.scan import RawScan
from floorpan.scan.unit import propose_unit


@dataclass(frozen=True, slots=True, kw_only=True)
class SampleCase:
    """A sample layout, the store it needs, and the closed-form car it was scanned from."""

    layout: Layout
    store: dict[str, RawScan]
    sizes: CarSizes
    car: Car

    def bench(self) -> Bench:
        """A bench that remembers nothing yet."""
        return Bench(self.store)


@functools.lru_cache(maxsize=2)
def sample_case(seed: int, side: Literal["left", "right"] = "left") -> SampleCase:
    """The sample car of a seed and side of drive."""
    sizes = CarSizes(driver_side=side)
    scan = simulate_scan(sizes, seed)
    mesh = Mesh(scan.points, scan.faces)
    sha = hashlib.sha256(mesh.points.tobytes()).hexdigest()
    raw = RawScan(
        mesh=mesh,
        suffix=".ply",
        sha256=sha,
        unit_given="mm",
        proposal=propose_unit(1700.0),
        dropped={},
        notes=(),
        colours=None,
    )
    ref = ScanRef(
        id="new",
        name="floor",
        sha256=sha,
        suffix=".ply",
        original_name="floor.ply",
        unit="mm",
        good_to_mm=1.5,
        good_to_note="three known lengths",
    )
    layout = sample_layout(sizes, ref, picked_targets(scan, sizes, seed))
    return SampleCase(layout=layout, store={sha: raw}, sizes=sizes, car=build_car(sizes))
