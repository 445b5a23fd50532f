"""A scan of four million triangles, from the sample's simulator: each step beside the naive library route, one run.

    python tests/bench/bench_full_size.py [spacing in mm]

The spacing of 1.55 mm gives about four million. Seconds, the library's beside ours, and their ratio; more is better
where the naive route is divided by ours, and the outline and the thinning are told as they are aimed at.
"""

import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import shapely
import trimesh
from shapely.geometry import Polygon

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from floorpan.frames import Pose
from floorpan.geometry.crop import crop_box
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.outline_crop import crop_outline
from floorpan.geometry.solids import Solid, ball
from floorpan.geometry.surface import Surface
from floorpan.geometry.thin import thin
from floorpan.sample.plan import CarSizes
from floorpan.sample.scanner import simulate_scan

MOST = """
def most():
    # The most that this very program held [KiB]; the usage that a parent reports would count the parent's.
    return next(int(line.split()[1]) for line in open("/proc/self/status") if line.startswith("VmHWM"))
"""
LOAD = {
    "ours": MOST
    + """
import sys, time
from pathlib import Path
from floorpan.progress import finish
from floorpan.geometry.weld import weld
from floorpan.scan import read_scan
before = most()
began = time.perf_counter()
raw = finish(read_scan(Path(sys.argv[1]), "mm"))
welded = weld(raw.mesh)
took = time.perf_counter() - began
print(took, (most() - before) / 1024, len(welded.mesh.points))
""",
    "library": MOST
    + """
import sys, time
import trimesh
before = most()
began = time.perf_counter()
mesh = trimesh.load_mesh(sys.argv[1])
took = time.perf_counter() - began
print(took, (most() - before) / 1024, len(mesh.vertices))
""",
}


def timed(work: Callable[[], Any], rounds: int = 1) -> tuple[float, Any]:
    best, held = np.inf, None
    for _ in range(rounds):
        began = time.perf_counter()
        held = work()
        best = min(best, time.perf_counter() - began)
    return best, held


def told(what: str, ours: float, naive: float, wanted: str) -> None:
    print(f"{what:44} {ours:8.2f} {naive:8.2f}   ratio {naive / ours:7.2f}   {wanted}", flush=True)


def write_stl(mesh: Mesh, path: Path) -> None:
    row = np.zeros(len(mesh.faces), dtype=[("normal", "<f4", 3), ("corner", "<f4", (3, 3)), ("rest", "<u2")])
    row["corner"] = mesh.points[mesh.faces]
    with path.open("wb") as file:
        file.write(b"bench".ljust(80) + np.uint32(len(row)).tobytes())
        row.tofile(file)


def loading(mesh: Mesh, folder: Path) -> None:
    path = folder / "scan.stl"
    write_stl(mesh, path)
    seconds, extra = {}, {}
    for who, code in LOAD.items():
        done = subprocess.run(
            [sys.executable, "-c", code, str(path)], capture_output=True, text=True, check=True
        )
        seconds[who], extra[who], points = (float(word) for word in done.stdout.split())
        print(f"    {who}: {points:,.0f} points, {extra[who]:,.0f} MiB more")
    told("binary STL read and welded", seconds["ours"], seconds["library"], "4 wanted, under 1 GB more")


def cropping(mesh: Mesh) -> None:
    frame = Pose.turned((0.2, 0.3, 1.0), 20.0, tuple(mesh.bounds.mean(axis=0)))
    middle = frame.inverse().apply(mesh.bounds.mean(axis=0))
    reach = np.array([500.0, 350.0, 200.0])
    low, high = middle - reach, middle + reach
    turn = np.reshape(frame.rotation, (3, 3))

    def obvious() -> Mesh:
        at = (mesh.points - np.asarray(frame.shift_mm)) @ turn
        inside = ((at >= low) & (at <= high)).all(axis=1)
        return mesh.kept(inside[mesh.faces].all(axis=1))

    ours, _ = timed(lambda: crop_box(mesh, frame, low, high), 3)
    naive, _ = timed(obvious, 3)
    told("box crop, cut, against choosing by numpy", ours, naive, "2 wanted")
    library = trimesh.Trimesh(mesh.points, mesh.faces, process=False)

    def sliced() -> object:
        part = library
        for axis in range(3):
            for sign, at in ((1.0, low[axis]), (-1.0, high[axis])):
                origin = frame.apply(np.eye(3)[axis] * at)
                part = trimesh.intersections.slice_mesh_plane(part, sign * turn[:, axis], origin)
        return part

    slicing, _ = timed(sliced)
    told("box crop, cut, against slicing six times", ours, slicing, "25 wanted")
    angle = np.linspace(0.0, 2.0 * np.pi, 64, endpoint=False)
    radius = 380.0 + 70.0 * np.sin(7.0 * angle)
    ring = np.column_stack([radius * np.cos(angle), radius * np.sin(angle)])
    down = Pose(shift_mm=tuple(mesh.bounds.mean(axis=0)))

    def selected() -> Mesh:
        outline = Polygon(ring)
        shapely.prepare(outline)
        at = mesh.points - np.asarray(down.shift_mm)
        inside = shapely.contains_xy(outline, at[:, 0], at[:, 1])
        a, b, c = mesh.faces.T
        return mesh.kept(inside[a] & inside[b] & inside[c])

    chosen, _ = timed(selected, 3)
    fresh = Mesh(mesh.points, mesh.faces)
    first, _ = timed(lambda: crop_outline(fresh, down, ring))
    cut, _ = timed(lambda: crop_outline(fresh, down, ring), 3)
    what = "outline of 64 corners, selected and cut"
    print(
        f"{what:44} {cut:8.2f} {chosen:8.2f}   {cut / chosen:.2f} times the selection alone, under 2 wanted"
    )
    print(f"    the first time on a mesh {first:.2f}: how long its longest side is stays known", flush=True)


def thinning(mesh: Mesh) -> None:
    import fast_simplification

    middle = mesh.bounds.mean(axis=0)

    def bare() -> object:
        return fast_simplification.simplify(
            mesh.points - middle, np.array(mesh.faces), target_count=300_000, agg=7.0, preserve_border=True
        )

    # Before and after, since a machine that is shared slows down and speeds up meanwhile.
    before, _ = timed(bare)
    both, thinned = timed(lambda: thin(mesh, 300_000))
    after, _ = timed(bare)
    alone = (before + after) / 2.0
    off = thinned.deviation
    what = "thinned to 300k with both deviations"
    print(f"{what:44} {both:8.2f} {alone:8.2f}   {both / alone:.2f} times the thinning alone, 2.4 wanted")
    print(
        f"    {thinned.after:,} left; at {off.points:,} points, all there are: mean {off.mean_mm:.3f}, 99 % "
        f"{off.p99_mm:.2f}, worst {off.worst_mm:.2f} mm at {', '.join(f'{at:.1f}' for at in off.where_mm)}",
        flush=True,
    )


def first_gap(mesh: Mesh) -> None:
    at = mesh.points[np.abs(mesh.points - mesh.bounds.mean(axis=0)).sum(axis=1).argmin()]
    body = (Solid(ball(np.zeros(3), 30.0), Pose(shift_mm=(float(at[0]), float(at[1]), float(at[2]) + 80.0))),)
    first, near = timed(lambda: Surface(mesh).gap(body))
    what = "first exact gap beside a placed thing"
    print(f"{what:44} {first:8.2f}            under 0.8 s wanted; {near.distance_mm:.2f} mm", flush=True)


def main() -> None:
    spacing = float(sys.argv[1]) if len(sys.argv) > 1 else 1.55
    began = time.perf_counter()
    points, faces = scanned(spacing)
    mesh = Mesh(points, faces)
    print(f"{len(mesh.faces):,} triangles made in {time.perf_counter() - began:.0f} s")
    print(f"{'seconds':44} {'ours':>8} {'naive':>8}")
    with tempfile.TemporaryDirectory() as folder:
        loading(mesh, Path(folder))
    cropping(mesh)
    first_gap(mesh)
    thinning(mesh)
    print(f"most memory of this process {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 2**20:.1f} GiB")


def scanned(spacing: float) -> tuple[Any, Any]:
    scan = simulate_scan(CarSizes(), seed=1, spacing_mm=spacing)
    return scan.points, scan.faces


if __name__ == "__main__":
    main()
