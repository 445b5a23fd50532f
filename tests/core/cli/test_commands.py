import re
import shutil
import sys
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from core.cli.told import Capture, Told
from core.report import made_up
from core.scan.spoiling import made_up as made_up_files
from floorpan.checks.finding import Finding
from floorpan.cli import commands
from floorpan.project.folder import BACKUP, PROJECT, open_project
from floorpan.project.imports import IMPORTS

VERDICTS = {"clear", "close", "short", "hits", "unseen", "pending"}


# --- scan ---------------------------------------------------------------------------------------------------------


def test_scan_tells_size_unit_and_what_is_open(floor_file: Path, capsys: Capture) -> None:
    told = Told(capsys, "scan", floor_file, "--json")
    assert (told.code, told.err) == (0, "")
    found = told.document()
    assert (found["triangles"], found["points"]) == (3200, 1681)
    assert found["size_mm"] == [1400.0, 1400.0, 0.0]
    assert (found["unit"]["given"], found["unit"]["proposed"]) == (None, "mm")
    assert found["unit"]["why"]
    assert (found["islands"], found["holes"], found["dropped"]) == (1, 0, {})


def test_scan_reads_in_the_unit_that_is_given(floor_file: Path, capsys: Capture) -> None:
    found = Told(capsys, "scan", floor_file, "--unit", "in", "--json").document()
    assert found["size_mm"] == pytest.approx([1400 * 25.4, 1400 * 25.4, 0.0])
    assert found["unit"]["given"] == "in"
    lines = Told(capsys, "scan", floor_file, "--unit", "cm").out.splitlines()
    assert lines[0] == "пол и дыра.ply"
    assert "14\u2009000 × 14\u2009000 × 0 mm, read as cm" in lines[2]
    assert not any("proposed" in line for line in lines)


def test_scan_proposes_a_unit_and_says_why(floor_file: Path, capsys: Capture) -> None:
    told = Told(capsys, "scan", floor_file)
    assert (told.code, told.err) == (0, "")
    assert "mm is proposed" in told.out


def test_what_was_left_out_is_counted(shared_data: Path, capsys: Capture) -> None:
    told = Told(capsys, "scan", shared_data / "bad_meshes" / "inf_nan.obj", "--json")
    if told.code == 0:
        assert sum(told.document()["dropped"].values()) > 0
    else:
        assert (told.code, told.err.count("\n")) == (2, 1)


def test_every_broken_mesh_ends_in_an_answer_or_one_line(shared_data: Path, capsys: Capture) -> None:
    for path in sorted((shared_data / "bad_meshes").iterdir()):
        told = Told(capsys, "scan", path, "--json")
        assert told.code in (0, 2), path.name
        assert told.err.count("\n") == (told.code == 2), path.name
        assert "not foreseen" not in told.err, path.name
        if told.code == 0:
            assert told.document()["triangles"] > 0, path.name


# --- new ----------------------------------------------------------------------------------------------------------


def test_new_starts_a_project(floor_file: Path, tmp_path: Path, capsys: Capture) -> None:
    place = tmp_path / "Mein Auto.floorpan"
    told = Told(capsys, "new", place, floor_file, "--unit", "mm", "--json")
    assert (told.code, told.err) == (0, "")
    project = open_project(place)
    (scan,) = project.layout.scans
    assert (project.layout.title, scan.id, scan.unit) == ("Mein Auto", "scan-1", "mm")
    assert told.document() == {
        "format": 1,
        "project": "Mein Auto",
        "folder": str(place),
        "scan": {"id": "scan-1", "sha256": scan.sha256, "unit": "mm"},
        "dropped": {},
    }
    assert Told(capsys, "check", place).code == 0


def test_new_asks_for_the_unit_with_a_proposal(floor_file: Path, tmp_path: Path, capsys: Capture) -> None:
    told = Told(capsys, "new", tmp_path / "car", floor_file)
    assert (told.code, told.out, told.err.count("\n")) == (2, "", 1)
    assert "--unit mm" in told.err
    assert not (tmp_path / "car").exists()


def test_new_leaves_what_is_there_alone(
    floor_file: Path, project: Path, tmp_path: Path, capsys: Capture
) -> None:
    before = (project / PROJECT).read_bytes()
    for place in (project, floor_file, tmp_path):
        told = Told(capsys, "new", place, floor_file, "--unit", "mm")
        assert (told.code, told.err.count("\n")) == (2, 1)
    assert (project / PROJECT).read_bytes() == before


# --- sample -------------------------------------------------------------------------------------------------------


def test_sample_writes_a_project_that_opens_and_can_be_judged(tmp_path: Path, capsys: Capture) -> None:
    place = tmp_path / "sample car.floorpan"
    told = Told(capsys, "sample", place, "--json")
    assert (told.code, told.err) == (0, "")
    assert told.document() == {"format": 1, "folder": str(place)}
    project = open_project(place)
    assert (project.notes, len(project.layout.scans)) == ((), 1)
    assert Told(capsys, "check", place, "--json").code == 1
    assert Told(capsys, "sample", place).code == 2
    assert open_project(place) == project


def test_sample_adds_nothing_to_a_folder_that_holds_something(tmp_path: Path, capsys: Capture) -> None:
    (tmp_path / "notes.txt").write_text("mine")
    for place in (tmp_path, tmp_path / "notes.txt"):
        told = Told(capsys, "sample", place)
        assert (told.code, told.err.count("\n")) == (2, 1)
    assert [path.name for path in tmp_path.iterdir()] == ["notes.txt"]


# --- check --------------------------------------------------------------------------------------------------------


def test_check_tells_every_finding_worst_first(project: Path, capsys: Capture) -> None:
    told = Told(capsys, "check", project)
    lines = told.out.splitlines()
    order = ["hits", "short", "unseen", "close", "pending", "clear"]
    found = [line.split(" ")[0] for line in lines[:-1]]
    assert set(found) <= VERDICTS
    assert found == sorted(found, key=order.index)
    assert told.code == (0 if set(found) == {"clear"} else 1)
    assert all(" wanted" in line for line in lines[:-1])
    assert sum("give or take" in line for line in lines[:-1]) > 10
    assert re.search(r"clear in \d+ states of \d+ pairs\.$", lines[-1])


def test_check_json_is_as_it_is_written_down(project: Path, capsys: Capture) -> None:
    told = Told(capsys, "check", project, "--json")
    assert told.err == ""
    document = told.document()
    assert list(document) == ["format", "project", "counts", "pair_counts", "findings"]
    assert (document["format"], document["project"]) == (1, "Small")
    assert len(document["findings"]) > 10
    for found in document["findings"]:
        assert list(found) == [
            *("id", "check", "subjects", "state", "verdict"),
            *("value", "uncertainty", "bound", "unit", "limit", "at_mm", "cure"),
        ]
        assert found["verdict"] in VERDICTS
        assert (found["value"] is None) == (found["verdict"] in ("unseen", "pending"))
        assert set(found["limit"]) in ({"at_least", "source"}, {"at_most", "source"}, {"between", "source"})
        assert all(isinstance(stop, str) for stop in found["state"].values())
        assert found["at_mm"] is None or [len(point) for point in found["at_mm"]] == [3, 3]
        assert found["cure"] is None or set(found["cure"]) == {"text", "subject", "move_mm"}
    assert len({found["id"] for found in document["findings"]}) == len(document["findings"])
    assert told.out.isascii()


def test_check_writes_nothing(project: Path, capsys: Capture) -> None:
    before = {path: path.read_bytes() for path in project.rglob("*") if path.is_file()}
    Told(capsys, "check", project)
    assert {path: path.read_bytes() for path in project.rglob("*") if path.is_file()} == before


@pytest.mark.parametrize(
    ("values", "code", "code_allowing_close"),
    [
        ([], 0, 0),
        ([60.0], 0, 0),
        ([60.0, 15.5], 1, 0),
        ([60.0, 15.5, 5.0], 1, 1),
        ([-1.0], 1, 1),
        ([None], 1, 1),
    ],
)
def test_only_what_is_not_clear_makes_check_end_in_one(
    values: list[float | None],
    code: int,
    code_allowing_close: int,
    empty_project: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: Capture,
) -> None:
    # Wanted are 15 mm, known to 2 mm: 60 is clear, 15.5 too close to call, 5 short, -1 a hit.
    made = tuple(
        made_up.finding("hand-scan", ("driver-1.hand", "scan-1"), value, state=(("shifter-1.gear", gear),))
        for gear, value in zip(("N", "1", "2"), values, strict=False)
    )
    monkeypatch.setattr(commands, "with_cures", lambda findings, layout, evaluator: _said(made))
    assert Told(capsys, "check", empty_project).code == code
    assert Told(capsys, "check", empty_project, "--allow", "close").code == code_allowing_close


def _said(findings: tuple[Finding, ...]) -> Any:
    return findings
    yield


def test_a_missing_scan_is_told_beside_the_answer(project: Path, capsys: Capture) -> None:
    shutil.rmtree(project / IMPORTS)
    told = Told(capsys, "check", project, "--json")
    assert told.code in (0, 1)
    assert "Boden eben.ply is missing" in told.err
    assert told.err.count("\n") == 1
    assert not any(
        found["verdict"] == "clear" and "scan" in found["check"] for found in told.document()["findings"]
    )


# --- what is no project ---------------------------------------------------------------------------------------------

HOSTILE = {
    "empty": b"",
    "garbage": bytes(range(256)) * 20,
    "list": b"[1, 2, 3]",
    "deep": b'{"format": 1, "layout": ' + b'{"a": ' * 50_000,
    "huge number": b'{"format": 1, "saved": "2026-05-04", "layout": {"carpet_mm": 1' + b"0" * 5000 + b"}}",
    "not finite": b'{"format": 1, "saved": "2026-05-04", "layout": {"carpet_mm": Infinity}}',
    "newer": b'{"format": 999, "saved": "2026-05-04", "layout": {}}',
    "strange value": b'{"format": 1, "saved": "2026-05-04", "layout": {"driver_side": "up"}}',
    "escape": b'{"format": 1, "saved": "2026-05-04", "layout": {"driver_side": "\\u001b[2J\\n\\n"}}',
}


@pytest.mark.parametrize("text", list(HOSTILE.values()), ids=list(HOSTILE))
@pytest.mark.parametrize("command", ["check", "report"])
def test_a_file_that_is_no_project_ends_in_one_line(
    command: str, text: bytes, empty_project: Path, tmp_path: Path, capsys: Capture
) -> None:
    (empty_project / PROJECT).write_bytes(text)
    words = ["-o", str(tmp_path / "r.pdf")] if command == "report" else []
    told = Told(capsys, command, empty_project, *words)
    assert (told.code, told.out, told.err.count("\n")) == (2, "", 1)
    assert "project.json" in told.err
    assert "\x1b" not in told.err
    assert "not foreseen" not in told.err
    assert not (tmp_path / "r.pdf").exists()


def test_places_that_hold_nothing_end_in_one_line(tmp_path: Path, floor_file: Path, capsys: Capture) -> None:
    (tmp_path / "hollow").mkdir()
    for place in (tmp_path / "hollow", tmp_path / "none", floor_file, tmp_path / ("x" * 4000), ""):
        told = Told(capsys, "check", place)
        assert (told.code, told.err.count("\n")) == (2, 1), place
        assert "not foreseen" not in told.err, place
    for place in (tmp_path / "none.ply", tmp_path / "hollow", tmp_path / ("x" * 4000 + ".ply")):
        told = Told(capsys, "scan", place)
        assert (told.code, told.err.count("\n")) == (2, 1), place
        assert "not foreseen" not in told.err, place


@pytest.mark.skipif(sys.platform == "win32", reason="links of a POSIX system")
def test_a_project_that_leads_out_of_its_folder_is_refused(
    project: Path, tmp_path: Path, capsys: Capture
) -> None:
    (project / PROJECT).rename(tmp_path / "elsewhere.json")
    (project / PROJECT).symlink_to(tmp_path / "elsewhere.json")
    told = Told(capsys, "check", project)
    assert (told.code, "is a link" in told.err) == (2, True)


def test_what_is_no_file_is_never_read(tmp_path: Path, capsys: Capture) -> None:
    for path in (tmp_path, Path("/dev/zero")):
        if path.exists():
            told = Told(capsys, "scan", path)
            assert (told.code, told.err.count("\n")) == (2, 1)
            assert "is no file" in told.err


def test_noise_is_no_scan(tmp_path: Path, capsys: Capture) -> None:
    path = tmp_path / "noise.stl"
    noise = np.random.default_rng(1).bytes(50 * 2000)
    path.write_bytes(bytes(80) + (2000).to_bytes(4, "little") + noise)
    told = Told(capsys, "scan", path)
    assert told.code == 2
    assert "no measurements" in told.err


def test_a_new_project_tells_what_was_left_out_and_an_unlikely_unit(
    floor_file: Path, tmp_path: Path, capsys: Capture
) -> None:
    cut = tmp_path / "cut.ply"
    whole = floor_file.read_bytes()
    cut.write_bytes(whole[: len(whole) - 1300])
    told = Told(capsys, "new", tmp_path / "cut.floorpan", cut, "--unit", "mm")
    assert "left out" in told.out
    told = Told(capsys, "new", tmp_path / "long.floorpan", floor_file, "--unit", "m", "--json")
    assert told.document()["dropped"] == {}
    told = Told(capsys, "new", tmp_path / "longer.floorpan", floor_file, "--unit", "m")
    assert "Look at the unit" in told.out
    assert "mm is likelier" in told.out
    assert not (tmp_path / "long.floorpan" / BACKUP).exists()


def test_a_scan_of_fifty_metres_is_questioned(shared_data: Path, tmp_path: Path, capsys: Capture) -> None:
    """Asked for where no unit is given, looked at again where one is, and never called likely."""
    huge = shared_data / "bad_meshes" / "huge_units.obj"
    told = Told(capsys, "new", tmp_path / "a.floorpan", huge)
    assert told.code == 2
    assert "50.8 m" in told.err
    assert "Choose the unit" in told.err
    assert not (tmp_path / "a.floorpan").exists()
    told = Told(capsys, "new", tmp_path / "b.floorpan", huge, "--unit", "mm")
    assert told.code == 0
    assert "Look at the unit: as mm its longest side is 50\u2009800 mm" in told.out
    assert "likelier" not in told.out
    assert "neither is a floor" in Told(capsys, "scan", huge).out


def test_a_project_whose_scan_is_gone_is_unseen_and_not_clear(project: Path, capsys: Capture) -> None:
    shutil.rmtree(project / IMPORTS)
    told = Told(capsys, "check", project, "--json", "--allow", "close")
    unseen = [one for one in told.document()["findings"] if one["verdict"] == "unseen"]
    assert told.code == 1
    assert {one["check"] for one in unseen} >= {"hand-scan", "lever-scan", "seat-scan", "vessel-scan"}


def test_a_unit_that_is_written_in_the_file_is_said_once(tmp_path: Path, capsys: Capture) -> None:
    path = tmp_path / "floor.3mf"
    path.write_bytes(made_up_files()["packed.3mf"])
    told = Told(capsys, "scan", path)
    assert told.code == 0
    assert told.out.count("inch") == 1
    assert "No unit" not in told.out
