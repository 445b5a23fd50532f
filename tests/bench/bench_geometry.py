"""How long reading, joining, tiling, dragging, cropping, thinning and the rest take here.

    python tests/bench/bench_geometry.py [triangles]

The scan is made up: a floor of 1.6 m by 1.2 m with a tunnel, ribs and 0.4 mm of white noise. Times are medians of
three in ms unless said otherwise; the load of the machine is in them.
"""

import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from floorpan.frames import Pose
from floorpan.geometry.approach import GapMemory
from floorpan.geometry.clearance import body_gap
from floorpan.geometry.crop import crop_box
from floorpan.geometry.edges import boundary_loops, edges, islands
from floorpan.geometry.heights import HeightGrid
from floorpan.geometry.holes import unseen_patches
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.noise import noise_sigma_mm
from floorpan.geometry.rays import RayCaster, pick
from floorpan.geometry.sections import section
from floorpan.geometry.solids import Body, Solid, ball, box, capsule, frustum
from floorpan.geometry.surface import Surface
from floorpan.geometry.thin import thin
from floorpan.geometry.weld import weld
from floorpan.progress import finish
from floorpan.scan.prepare import prepare
from floorpan.scan.read import read_scan
from floorpan.scan.writers import write_ply
from made_up_sheets import grid_faces


def floor(triangles: int) -> Mesh:
    rows = round((triangles / 2 * 4 / 3) ** 0.5)
    columns = round(rows * 3 / 4)
    x, y = np.meshgrid(np.linspace(0, 1600, rows), np.linspace(-600, 600, columns), indexing="ij")
    z = 180 * np.exp(-((np.abs(y) / 140) ** 4)) + 6 * np.sin(x / 40) * (np.abs(y) > 200)
    z += np.random.default_rng(0).normal(0, 0.4, z.shape)
    return Mesh(np.column_stack([x.ravel(), y.ravel(), z.ravel()]), grid_faces(rows, columns))


def timed(name: str, work: Callable[[], Any], rounds: int = 3) -> Any:
    took, answer = [], None
    for _ in range(rounds):
        start = time.perf_counter()
        answer = work()
        took.append((time.perf_counter() - start) * 1e3)
    print(f"{name:44s} {statistics.median(took):10.1f} ms")
    return answer


def bodies() -> dict[str, Body]:
    lever = (Solid(capsule([0, 0, 0], [0, 0, 250], 7.0)), Solid(ball([0, 0, 250], 22.0)))
    cup = (Solid(frustum(0.0, 110.0, 28.0, 41.0)),)
    console = tuple(
        Solid(box([50.0 * k, y, 0], [50.0 * k + 45, y + 90, 40], 3.0))
        for k in range(6)
        for y in (-190, -90, 10, 110)
    )
    return {"lever": lever, "cup": cup, "console of 24 solids": console}


def drag(surface: Surface, body: Body, height: float, remember: bool) -> list[float]:
    random = np.random.default_rng(1)
    memory = GapMemory() if remember else None
    place, took = np.array([500.0, 20.0, height]), []
    for step in range(120):
        place = place + random.normal(0, 1.0, 3) * [1, 1, 0.3]
        place[2] = height + abs(place[2] - height)
        pose = Pose(shift_mm=tuple(place)).after(Pose.turned((0, 0, 1), 0.05 * step))
        moved = tuple(Solid(solid.hull, pose.after(solid.pose)) for solid in body)
        start = time.perf_counter()
        surface.gap(moved, memory=memory)
        took.append((time.perf_counter() - start) * 1e3)
    return took


def gaps(mesh: Mesh) -> None:
    surface = Surface(mesh)
    timed("split into tiles", lambda: (surface.tiles, surface.boxes), 1)
    timed("normals made ready", lambda: surface.facing, 1)
    timed("one tile built", lambda: surface.build_next((800.0, 0.0, 0.0)))
    for name, body in bodies().items():
        for height, words in ((200.0, "over the tunnel"), (150.0, "sunk into it")):
            first = time.perf_counter()
            drag(surface, body, height, False)[0]
            first = (time.perf_counter() - first) * 1e3
            for remember in (False, True):
                took = drag(surface, body, height, remember)
                how = "remembering" if remember else "from nothing"
                middle, high = statistics.median(took), sorted(took)[int(0.95 * len(took))]
                print(f"drag {name} {words}, {how}: median {middle:.2f}, p95 {high:.2f} ms")
    print(f"tiles built: {100 * surface.built:.0f} %")
    points = np.random.default_rng(2).uniform([200, -400, 0], [1200, 400, 300], (50_000, 3))
    timed("signed distance of 50,000 points", lambda: surface.signed(points))
    lever, cup = bodies()["lever"], bodies()["cup"]
    timed(
        "gap lever to cup",
        lambda: body_gap(lever, tuple(Solid(s.hull, Pose(shift_mm=(90, 0, 0))) for s in cup)),
    )


def reading(mesh: Mesh, folder: Path) -> None:
    write_ply(mesh, folder / "a.ply")
    raw = timed("read binary PLY", lambda: finish(read_scan(folder / "a.ply")))
    corners = mesh.points[mesh.faces].astype("<f4")
    record = np.zeros(
        len(corners), dtype=[("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("extra", "<u2")]
    )
    record["corners"] = corners
    (folder / "a.stl").write_bytes(b" " * 80 + len(corners).to_bytes(4, "little") + record.tobytes())
    soup = timed("read binary STL", lambda: finish(read_scan(folder / "a.stl")))
    with (folder / "a.obj").open("w") as file:
        np.savetxt(file, mesh.points, fmt="v %.5f %.5f %.5f")
        np.savetxt(file, mesh.faces + 1, fmt="f %d %d %d")
    timed("read OBJ", lambda: finish(read_scan(folder / "a.obj")))
    timed("weld what the STL held", lambda: weld(soup.mesh))
    timed("prepare the PLY", lambda: finish(prepare(raw, "mm")))


def rest(mesh: Mesh) -> None:
    found = timed("edges", lambda: edges(mesh))
    timed("open loops", lambda: boundary_loops(mesh, found.open_pairs))
    timed("islands", lambda: islands(mesh))
    timed("unseen", lambda: unseen_patches(mesh, found))
    timed("roughness", lambda: noise_sigma_mm(mesh))
    frame = Pose.turned((0, 0, 1), 20.0, (800.0, 0.0, 0.0))
    low, high = np.array([500.0, -200, -100]), np.array([1000.0, 200, 300])
    timed("crop, cut", lambda: crop_box(mesh, frame, low, high))
    timed("crop, whole faces", lambda: crop_box(mesh, frame, low, high, cut=False))
    timed(
        "heights, 1 mm, 500 by 1000",
        lambda: HeightGrid.over(mesh, np.array([200.0, -500]), np.array([700.0, 500]), 1.0),
    )
    caster = timed("tree for rays", lambda: RayCaster(mesh), 1)
    origin = np.random.default_rng(3).uniform([100, -500, 400], [1500, 500, 600], (1000, 3))
    way = np.random.default_rng(4).normal(size=(1000, 3)) * 0.3 + np.array([0, 0, -1.0])
    timed("1,000 rays", lambda: caster.first(origin, way))
    timed("one pick without a tree", lambda: pick(mesh, (700.0, 100.0, 900.0), (0.1, -0.2, -1.0)))
    timed("section", lambda: section(mesh, np.array([700.0, 0, 0]), np.array([1.0, 0, 0])))
    if len(mesh.faces) > 100_000:
        thinned = timed("thin to 100,000, deviation measured", lambda: thin(mesh, 100_000), 1)
        off = thinned.deviation
        print(
            f"  {thinned.after} left; mean {off.mean_mm:.3f}, p99 {off.p99_mm:.2f}, worst {off.worst_mm:.2f} mm"
        )


def main() -> None:
    mesh = floor(int(sys.argv[1]) if len(sys.argv) > 1 else 300_000)
    print(f"{len(mesh.faces)} triangles, {len(mesh.points)} points")
    with tempfile.TemporaryDirectory() as folder:
        reading(mesh, Path(folder))
    gaps(mesh)
    rest(mesh)


if __name__ == "__main__":
    main()
