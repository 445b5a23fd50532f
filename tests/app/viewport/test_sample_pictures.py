"""Pictures of a project as files, for a machine without a display."""

from pathlib import Path

import pytest
from PIL import Image

from app.window.conftest import kept_project as kept_project
from floorpan_app import sample_pictures


def test_four_views_are_written_and_told(
    kept_project: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert sample_pictures.main([str(kept_project), str(tmp_path)]) == 0
    told = capsys.readouterr().out.splitlines()
    names = [f"small-{view}.png" for view in ("free", "driver", "above", "rear")]
    assert told == [f"floorpan: picture: {tmp_path / name}" for name in names]
    for name in names:
        with Image.open(tmp_path / name) as picture:
            assert picture.size == sample_pictures.SIZE
            # Something stands before the ground: more than its few colours.
            assert len(picture.convert("RGB").getcolors(1 << 24) or ()) > 200


def test_where_none_can_be_drawn_it_says_so(
    kept_project: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sample_pictures.Pictures, "renderer_of", lambda *_: None)
    assert sample_pictures.main([str(kept_project), str(tmp_path)]) == 0
    assert capsys.readouterr().out.strip() == sample_pictures.CANNOT
    assert list(tmp_path.iterdir()) == []


def test_what_is_no_project_is_told_in_a_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert sample_pictures.main([str(tmp_path / "none"), str(tmp_path)]) == 2
    assert capsys.readouterr().err.count("\n") == 1
