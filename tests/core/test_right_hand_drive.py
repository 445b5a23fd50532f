"""The sample car with the driver at the right: written, opened, judged against the closed-form car, reported."""

import json
from pathlib import Path

import pytest
from numpy.testing import assert_allclose
from pypdf import PdfReader

from core.checks.test_against_truth import gaps_hold
from core.sample_case import sample_case
from floorpan.checks.finding import WORST_FIRST
from floorpan.cli import main
from floorpan.items import Shifter
from floorpan.layout import Layout
from floorpan.progress import finish
from floorpan.project.folder import open_project
from floorpan.sample.write import write_sample


def test_the_whole_path_with_the_driver_at_the_right(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = finish(write_sample(tmp_path / "right.floorpan", driver_side="right"))
    layout = open_project(folder).layout
    left = sample_case(1).layout
    assert layout.driver_side == "right"
    assert_mirrored(layout, left)
    assert main(["check", str(folder), "--json"], None) == 1
    told = json.loads(capsys.readouterr().out)
    assert {finding["verdict"] for finding in told["findings"]} == set(WORST_FIRST) - {"pending"}
    reach = [finding for finding in told["findings"] if finding["check"] == "reach"]
    assert len(reach) >= 7
    paper = tmp_path / "fit.pdf"
    assert main(["report", str(folder), "-o", str(paper)], None) in (0, 1)
    text = "".join(page.extract_text() for page in PdfReader(paper).pages)
    assert "Geometry check only" in text
    gaps_hold(sample_case(1, "right"))


def assert_mirrored(layout: Layout, left: Layout) -> None:
    """Seats stand as in a mirror; a gate is not mirrored, first stays to the left."""
    for here, there in zip(layout.seats, left.seats, strict=True):
        one, other = here.place, there.place
        assert_allclose((one.x_mm, one.y_mm, one.z_mm), (other.x_mm, -other.y_mm, other.z_mm), atol=1e-9)
    (here_gate,), (there_gate,) = layout.of(Shifter), left.of(Shifter)
    assert here_gate.gears == there_gate.gears
