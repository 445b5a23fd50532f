"""What is kept between two starts, and what is made of a store that somebody else wrote into."""

from pathlib import Path

import pytest
from PySide6.QtCore import QSettings

from floorpan_app.settings import MOST_RECENT, OutlineLine, RecentProject, Settings


@pytest.fixture
def store(tmp_path: Path) -> QSettings:
    return QSettings(str(tmp_path / "kept.ini"), QSettings.Format.IniFormat)


def there(folder: Path) -> Path:
    folder.mkdir(exist_ok=True)
    (folder / "project.json").write_text("{}")
    return folder


def test_an_empty_store_follows_the_system_in_millimetres(store: QSettings) -> None:
    kept = Settings(store)
    assert (kept.theme(), kept.system(), kept.recent(), kept.window()) == ("system", "mm", (), None)


def test_theme_unit_and_projects_come_back(store: QSettings, tmp_path: Path) -> None:
    hung = RecentProject(
        folder=there(tmp_path / "a"),
        title="Tin coupé",
        when="2026-05-04T12:00+00:00",
        verdict="short",
        sentence="4 short of 30.",
        outline=(OutlineLine(role="console", points=((0.0, 1.0), (2.0, 3.0))),),
    )
    kept = Settings(store)
    kept.set_theme("contrast")
    kept.set_system("in")
    kept.hang(hung)
    store.sync()
    again = Settings(QSettings(store.fileName(), QSettings.Format.IniFormat))
    assert (again.theme(), again.system()) == ("contrast", "in")
    assert again.recent() == (hung,)


def test_the_newest_hangs_first_and_once(store: QSettings, tmp_path: Path) -> None:
    kept = Settings(store)
    folders = [there(tmp_path / str(number)) for number in range(MOST_RECENT + 3)]
    for folder in (*folders, folders[5]):
        kept.hang(RecentProject(folder=folder, title=folder.name))
    assert [one.folder for one in kept.recent()][:2] == [folders[5], folders[-1]]
    assert len(kept.recent()) == MOST_RECENT
    kept.take_down(folders[5])
    assert folders[5] not in [one.folder for one in kept.recent()]


def test_a_project_that_was_not_judged_again_keeps_its_sentence(store: QSettings, tmp_path: Path) -> None:
    kept, folder = Settings(store), there(tmp_path / "a")
    kept.hang(RecentProject(folder=folder, title="A", verdict="hits", sentence="They hit."))
    kept.hang(RecentProject(folder=folder, title="B"))
    [one] = kept.recent()
    assert (one.title, one.verdict, one.sentence) == ("B", "hits", "They hit.")


@pytest.mark.parametrize(
    "written", ["", "[", "7", "null", "{}", "[7]", '[{"folder": 3}]', '[{"folder": "x", "title": "y"}]']
)
def test_a_strange_store_is_an_empty_one(store: QSettings, written: str) -> None:
    store.setValue("recent", written)
    store.setValue("theme", written)
    store.setValue("system", written)
    kept = Settings(store)
    assert (kept.recent(), kept.theme(), kept.system()) == ((), "system", "mm")
