"""Every question the window asks, behind one small face, so that a test can answer in its place."""

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Protocol

from PySide6.QtCore import QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QFileDialog, QWidget

from floorpan.errors import FloorpanError
from floorpan_app import messages
from floorpan_app.window.question import LineDialog, Question, QuestionDialog, ReadDialog


class Asking(Protocol):
    """What can be asked. None or "" means that it was put away."""

    def scan_file(self, start: Path) -> Path | None: ...
    def project(self, start: Path) -> Path | None: ...
    def folder(self, title: str, start: Path) -> Path | None: ...
    def checklist(self, start: Path, size: str) -> tuple[Path, str] | None: ...
    def tape_sheet(self, start: Path, size: str) -> tuple[Path, str] | None: ...
    def paper(self, start: Path) -> Path | None: ...
    def scan_copy(self, start: Path) -> Path | None: ...
    def line(self, title: str, label: str, start: str = "") -> str: ...
    def choose(self, question: Question) -> str: ...
    def read(self, title: str, paragraphs: Sequence[str]) -> None: ...
    def show_folder(self, folder: Path) -> None: ...


class Dialogs:
    """Asks with dialogs."""

    def __init__(self, parent: QWidget) -> None:
        self._parent = parent

    def scan_file(self, start: Path) -> Path | None:
        """Which scan file."""
        # What reads scans brings its own libraries, and the window is painted before them.
        from floorpan.scan.read import SUFFIXES

        kinds = messages.SCANS_FILTER.format(endings=" ".join(f"*{suffix}" for suffix in SUFFIXES))
        name, _ = QFileDialog.getOpenFileName(self._parent, messages.SCAN_DIALOG, str(start), kinds)
        return Path(name) if name else None

    def project(self, start: Path) -> Path | None:
        """Which project folder."""
        return self.folder(messages.OPEN_DIALOG, start)

    def folder(self, title: str, start: Path) -> Path | None:
        """Which folder."""
        name = QFileDialog.getExistingDirectory(self._parent, title, str(start))
        return Path(name) if name else None

    def checklist(self, start: Path, size: str) -> tuple[Path, str] | None:
        """Where the scan checklist goes, and on what paper (`A4`, `letter`): it is chosen as the kind of the file."""
        return self._paper_to_fill(messages.CHECKLIST_DIALOG, messages.CHECKLIST_PAPERS, start, size)

    def tape_sheet(self, start: Path, size: str) -> tuple[Path, str] | None:
        """Where the tape sheet goes, and on what paper (`A4`, `letter`)."""
        return self._paper_to_fill(messages.TAPE_SHEET_DIALOG, messages.TAPE_SHEET_PAPERS, start, size)

    def _paper_to_fill(
        self, title: str, kinds: Mapping[str, str], start: Path, size: str
    ) -> tuple[Path, str] | None:
        name, kind = QFileDialog.getSaveFileName(
            self._parent, title, str(start), ";;".join(kinds.values()), kinds[size]
        )
        if not name:
            return None
        path = Path(name)
        chosen = next((one for one, told in kinds.items() if told == kind), size)
        return (path if path.suffix else path.with_name(f"{path.name}.pdf")), chosen

    def paper(self, start: Path) -> Path | None:
        """Where a paper goes; a name without an ending gets that of the chosen kind."""
        name, kind = QFileDialog.getSaveFileName(
            self._parent, messages.PAPER_DIALOG, str(start), messages.PAPER_FILTER
        )
        path = Path(name) if name else None
        if path is not None and not path.suffix:
            path = path.with_name(f"{path.name}.{kind.rpartition('*.')[2].rstrip(')') or 'pdf'}")
        return path

    def scan_copy(self, start: Path) -> Path | None:
        """Where a copy of a scan goes; a name without an ending gets that of a PLY."""
        name, _ = QFileDialog.getSaveFileName(
            self._parent, messages.THIN_COPY_DIALOG, str(start), messages.THIN_COPY_FILTER
        )
        path = Path(name) if name else None
        return path.with_name(f"{path.name}.ply") if path is not None and not path.suffix else path

    def line(self, title: str, label: str, start: str = "") -> str:
        """A line of text."""
        dialog = LineDialog(title, label, start, self._parent)
        dialog.exec()
        told = dialog.field.text().strip() if dialog.result() == LineDialog.DialogCode.Accepted else ""
        dialog.deleteLater()
        return told

    def choose(self, question: Question) -> str:
        """One of a few named answers, by its id."""
        dialog = QuestionDialog(question, self._parent)
        dialog.exec()
        dialog.deleteLater()
        return dialog.answer

    def read(self, title: str, paragraphs: Sequence[str]) -> None:
        """Something to read."""
        dialog = ReadDialog(title, paragraphs, self._parent)
        dialog.exec()
        dialog.deleteLater()

    def show_folder(self, folder: Path) -> None:
        """Show a folder in the system's own way."""
        QDesktopServices.openUrl(QUrl.fromLocalFile(str(folder)))


def fault_told(fault: FloorpanError) -> Question:
    """A refusal as a question that can only be put away."""
    return Question(title=messages.PROGRAM, what=fault.what, remedy=fault.remedy, leave=messages.CLOSE)
