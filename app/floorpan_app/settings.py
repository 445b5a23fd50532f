"""What the bench remembers between two starts: theme, unit, window, and the projects opened lately."""

import json
from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, cast, get_args

from PySide6.QtCore import QByteArray, QSettings

from floorpan.units import System
from floorpan_app.theme.follow import THEME_CHOICES, ThemeChoice
from floorpan_app.theme.record import VERDICTS, Verdict

MOST_RECENT = 12
LongLine = tuple[tuple[float, float], ...]

_SYSTEMS: tuple[System, ...] = get_args(System)


@dataclass(frozen=True, slots=True, kw_only=True)
class OutlineLine:
    """One line of a side outline, rear to the right, up upwards [mm]. role : what is drawn, as the theme names it"""

    role: str
    points: LongLine


@dataclass(frozen=True, slots=True, kw_only=True)
class RecentProject:
    """A project as it hangs on the start screen.

    verdict, sentence : the worst finding when it was last settled, empty where it never was
    when              : when it was last on the bench, ISO with its offset
    """

    folder: Path
    title: str
    when: str = ""
    verdict: Verdict | None = None
    sentence: str = ""
    outline: tuple[OutlineLine, ...] = ()


class Settings:
    """A thin face on the platform's own store; tests hand in one of a temporary file."""

    def __init__(self, store: QSettings | None = None) -> None:
        self._store = store if store is not None else QSettings("floorpan", "floorpan")

    def theme(self) -> ThemeChoice:
        """The chosen theme; as the system where nothing sensible is kept."""
        kept = self._store.value("theme")
        return cast(ThemeChoice, kept) if kept in THEME_CHOICES else "system"

    def set_theme(self, choice: ThemeChoice) -> None:
        self._store.setValue("theme", choice)

    def system(self) -> System:
        """Lengths in mm or in inches."""
        kept = self._store.value("system")
        return cast(System, kept) if kept in _SYSTEMS else "mm"

    def set_system(self, system: System) -> None:
        self._store.setValue("system", system)

    def window(self) -> QByteArray | None:
        """Where the window stood, as the toolkit keeps it."""
        kept = self._store.value("window")
        return kept if isinstance(kept, QByteArray) else None

    def set_window(self, geometry: QByteArray) -> None:
        self._store.setValue("window", geometry)

    def recent(self) -> tuple[RecentProject, ...]:
        """Projects opened lately that are still there, newest first."""
        return tuple(one for one in self._kept() if (one.folder / "project.json").is_file())

    def hang(self, project: RecentProject) -> None:
        """Put a project first. What it says no more than its title about is kept from before."""
        before = {one.folder: one for one in self._kept()}
        known = before.pop(project.folder, None)
        if known is not None and project.verdict is None:
            project = replace(
                project,
                verdict=known.verdict,
                sentence=known.sentence,
                outline=project.outline or known.outline,
            )
        self._put((project, *before.values()))

    def take_down(self, folder: Path) -> None:
        """Forget a project; its folder stays."""
        self._put(one for one in self._kept() if one.folder != folder)

    def _kept(self) -> tuple[RecentProject, ...]:
        try:
            told = json.loads(str(self._store.value("recent", "[]")))
        except ValueError:
            return ()
        read = (_read(one) for one in told) if isinstance(told, list) else ()
        return tuple(one for one in read if one is not None)

    def _put(self, projects: Iterable[RecentProject]) -> None:
        written = [_written(one) for one in projects][:MOST_RECENT]
        self._store.setValue("recent", json.dumps(written, ensure_ascii=False))


def _written(one: RecentProject) -> dict[str, Any]:
    return {
        "folder": str(one.folder),
        "title": one.title,
        "when": one.when,
        "verdict": one.verdict,
        "sentence": one.sentence,
        "outline": [[line.role, [[round(x), round(z)] for x, z in line.points]] for line in one.outline],
    }


def _read(told: Any) -> RecentProject | None:
    """A project as it was kept; None for what somebody else has written there."""
    try:
        return RecentProject(
            folder=Path(told["folder"]),
            title=str(told["title"]),
            when=str(told["when"]),
            verdict=told["verdict"] if told["verdict"] in VERDICTS else None,
            sentence=str(told["sentence"]),
            outline=tuple(
                OutlineLine(role=str(role), points=tuple((float(x), float(z)) for x, z in points))
                for role, points in told["outline"]
            ),
        )
    except (TypeError, KeyError, ValueError):
        return None
