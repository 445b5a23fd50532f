"""Answers in the place of dialogs: what was asked is noted, what was not foreseen fails."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from floorpan_app.window.question import Question


class Answers:
    """Gives the answers put in beforehand, in their order.

    asked : (kind, what was asked) of every question so far
    """

    def __init__(self) -> None:
        self.asked: list[tuple[str, Any]] = []
        self._next: dict[str, list[Any]] = {}
        self._always: dict[str, Any] = {}

    def then(self, kind: str, answer: Any) -> None:
        """The next question of a kind gets this answer."""
        self._next.setdefault(kind, []).append(answer)

    def always(self, kind: str, answer: Any) -> None:
        """Every further question of a kind gets this answer."""
        self._always[kind] = answer

    def questions(self) -> list[Question]:
        """The questions with named answers."""
        return [told for kind, told in self.asked if kind == "choose"]

    def left(self) -> dict[str, list[Any]]:
        """Answers nobody asked for."""
        return {kind: answers for kind, answers in self._next.items() if answers}

    def _answer(self, kind: str, told: Any) -> Any:
        self.asked.append((kind, told))
        if self._next.get(kind):
            return self._next[kind].pop(0)
        assert kind in self._always, f"nobody foresaw {kind}: {told}"
        return self._always[kind]

    def scan_file(self, start: Path) -> Path | None:
        return self._answer("scan_file", start)

    def project(self, start: Path) -> Path | None:
        return self._answer("project", start)

    def folder(self, title: str, start: Path) -> Path | None:
        return self._answer("folder", (title, start))

    def checklist(self, start: Path, size: str) -> tuple[Path, str] | None:
        return self._answer("checklist", (start, size))

    def tape_sheet(self, start: Path, size: str) -> tuple[Path, str] | None:
        return self._answer("tape_sheet", (start, size))

    def paper(self, start: Path) -> Path | None:
        return self._answer("paper", start)

    def scan_copy(self, start: Path) -> Path | None:
        return self._answer("scan_copy", start)

    def line(self, title: str, label: str, start: str = "") -> str:
        return self._answer("line", (title, label, start))

    def choose(self, question: Question) -> str:
        answer = self._answer("choose", question)
        # What is not offered cannot be chosen.
        offered = {one.id for one in question.answers} | {""}
        if "choose" in self._always and answer == self._always["choose"]:
            return answer if answer in offered else ""
        assert answer in offered, f"{answer!r} is not offered by {question}"
        return answer

    def read(self, title: str, paragraphs: Sequence[str]) -> None:
        self.asked.append(("read", (title, tuple(paragraphs))))

    def show_folder(self, folder: Path) -> None:
        self.asked.append(("show_folder", folder))
