"""Writing the sample project: the invented car, scanned by simulation and laid out."""

import tempfile
from datetime import datetime
from pathlib import Path
from typing import Literal

from floorpan.layout import ScanRef
from floorpan.progress import Step, Work
from floorpan.project.folder import create, import_scan, save
from floorpan.project.starting import all_or_nothing, forget_save_before
from floorpan.sample.files import write_ply
from floorpan.sample.placing import TITLE, sample_layout
from floorpan.sample.plan import CarSizes
from floorpan.sample.scanner import simulate_scan
from floorpan.sample.targets import picked_targets

SCAN_NAME = "sample-floor.ply"
GOOD_TO_MM = 1.5
GOOD_TO_NOTE = "Three ground bars of 500 read within 0.4 mm in three directions; the rest is drift."


def write_sample(
    folder: Path,
    *,
    seed: int = 1,
    driver_side: Literal["left", "right"] = "left",
    now: datetime | None = None,
) -> Work[Path]:
    """Write the sample project into a folder that is empty or not there yet; returns the folder.

    The same seed gives the same scan. Raises ProjectProblem where something stands there already;
    where it fails or is stopped, nothing is left.
    """
    sizes = CarSizes(driver_side=driver_side)
    with all_or_nothing(folder) as place:
        project = create(place, TITLE, now=now)
        yield Step(0.02, "Scanning the sample car")
        scan = simulate_scan(sizes, seed)
        yield Step(0.8, "Writing the scan")
        with tempfile.TemporaryDirectory(prefix="floorpan-") as temporary:
            path = Path(temporary) / SCAN_NAME
            write_ply(path, scan.points, scan.faces)
            project, held = yield from import_scan(project, path)
        yield Step(0.95, "Placing what stands in it")
        ref = ScanRef(
            id="new",
            name="Bare floor, seats in",
            sha256=held.sha256,
            suffix=held.suffix,
            original_name=SCAN_NAME,
            unit="mm",
            role="seats",
            good_to_mm=GOOD_TO_MM,
            good_to_note=GOOD_TO_NOTE,
        )
        save(project, sample_layout(sizes, ref, picked_targets(scan, sizes, seed)), now=now)
        forget_save_before(place)
        return folder
