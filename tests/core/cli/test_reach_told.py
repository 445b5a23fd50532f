"""The check's written findings tell of every switch and of the cup in its well."""

from pathlib import Path

import pytest

from core.cli.told import Told
from floorpan import edits
from floorpan.items import Control, Place
from floorpan.project.folder import open_project, save


def test_the_written_check_tells_the_reach_to_a_switch(
    project: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    opened = open_project(project)
    switch = Control(id="new", name="Horn", place=Place(x_mm=-100.0, y_mm=-150.0, z_mm=420.0))
    layout, id = edits.add(opened.layout, switch)
    save(opened, layout)
    told = Told(capsys, "check", project, "--json").document()["findings"]
    found = [one for one in told if one["check"] == "reach-for"]
    assert {one["subjects"][1] for one in found} == {id, "vessel-1"}
    for one in found:
        assert one["unit"] == "mm"
        assert one["limit"]["at_least"] == 0.0
        assert one["state"]["driver-1.belts"] == "tight"
    assert open_project(project, read_only=True).layout.of(Control) == layout.of(Control)
