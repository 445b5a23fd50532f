"""The sample car with the driver at the right: written, opened, judged against the closed-form car, reported."""

import json
from pathlib import Path

import pytest
from pypdf import PdfReader

from core.checks.test_against_truth import gaps_hold
from core.sample_case import SampleCase
from floorpan.checks.finding import WORST_FIRST
from floorpan.cli import main
from floorpan.progress import finish
from floorpan.project.folder import open_project
from floorpan.project.store import ProjectStore
from floorpan.sample.build import build_car
from floorpan.sample.plan import CarSizes
from floorpan.sample.write import write_sample


def test_the_whole_path_with_the_driver_at_the_right(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = finish(write_sample(tmp_path / "right.floorpan", driver_side="right"))
    project = open_project(folder)
    layout, sizes = project.layout, CarSizes(driver_side="right")
    assert layout.driver_side == "right"
    across = {seat.for_whom: seat.place.y_mm for seat in layout.seats}
    assert across["driver"] == pytest.approx(sizes.driver_h_point_mm[1])
    assert across["passenger"] < 0.0 < across["driver"]
    assert main(["check", str(folder), "--json"], None) == 1
    told = json.loads(capsys.readouterr().out)
    assert {finding["verdict"] for finding in told["findings"]} == set(WORST_FIRST) - {"pending"}
    assert len([finding for finding in told["findings"] if finding["check"] == "reach"]) >= 7
    paper = tmp_path / "fit.pdf"
    assert main(["report", str(folder), "-o", str(paper)], None) == 0
    assert "Geometry check only" in PdfReader(paper).pages[0].extract_text()
    store = {scan.sha256: ProjectStore(project)[scan.sha256] for scan in layout.scans}
    gaps_hold(SampleCase(layout=layout, store=store, sizes=sizes, car=build_car(sizes)))
