"""What nobody foresaw: the layout is saved first, then one dialog with a report that can be copied; go on or close."""

import platform
import sys
import traceback
from collections.abc import Callable
from types import TracebackType

from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QDialog, QPlainTextEdit, QPushButton, QWidget

from floorpan.errors import FloorpanError
from floorpan_app import messages
from floorpan_app.theme.fonts import PART, SECOND, scaled, text_font
from floorpan_app.window.question import button_row, plain, sheet


class UnforeseenDialog(QDialog):
    """`closes` says whether the program is to be closed."""

    def __init__(self, saved: str, report: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.closes = False
        self._report = report
        self.setWindowTitle(messages.UNFORESEEN_TITLE)
        self.setMinimumSize(round(scaled(620)), round(scaled(400)))
        layout = sheet(self)
        layout.addWidget(plain(messages.UNFORESEEN, self, px=PART, bold=True))
        layout.addWidget(plain(saved, self))
        text = QPlainTextEdit(report, self)
        text.setReadOnly(True)
        text.setFont(text_font(SECOND))
        text.setAccessibleName(messages.COPY_REPORT)
        layout.addWidget(text, 1)
        self.go_on = QPushButton(messages.GO_ON, self)
        self.close_program = QPushButton(messages.CLOSE_PROGRAM, self)
        self.copy = QPushButton(messages.COPY_REPORT, self)
        self.go_on.clicked.connect(self.accept)
        self.close_program.clicked.connect(self._close)
        self.copy.clicked.connect(self._copy)
        layout.addLayout(button_row([self.go_on, self.close_program, self.copy]))

    def _copy(self) -> None:
        QGuiApplication.clipboard().setText(self._report)

    def _close(self) -> None:
        self.closes = True
        self.accept()


Ask = Callable[[str, str], bool]
"""Shows what was saved and the report; answers whether to close the program."""


class Unforeseen:
    """The window's last resort. One at a time: what happens while the dialog stands is only added to its report.

    keep : saves what is on the bench beside the save, answers whether a project is open; raises FloorpanError
    ask  : shows the dialog
    leave: closes the program
    """

    def __init__(self, keep: Callable[[], bool], ask: Ask, leave: Callable[[], object]) -> None:
        self._keep = keep
        self._ask = ask
        self._leave = leave
        self._open = False

    def __call__(self, kind: type[BaseException], fault: BaseException, trace: TracebackType | None) -> None:
        """In place of sys.excepthook."""
        if issubclass(kind, KeyboardInterrupt):
            self._leave()
            return
        told = report_of(kind, fault, trace)
        sys.stderr.write(told)
        if self._open:
            return
        self._open = True
        try:
            if self._ask(self._saved(), told):
                self._leave()
        finally:
            self._open = False

    def take(self, fault: object) -> None:
        """What a job ended with."""
        if isinstance(fault, BaseException):
            self(type(fault), fault, fault.__traceback__)

    def _saved(self) -> str:
        try:
            has_project = self._keep()
        except FloorpanError as fault:
            return messages.UNFORESEEN_NOT_SAVED.format(why=fault.what)
        except Exception as fault:
            # Whatever broke may break this too; that is worth a line in the dialog, not a second dialog.
            return messages.UNFORESEEN_NOT_SAVED.format(why=f"{type(fault).__name__}.")
        return messages.UNFORESEEN_SAVED if has_project else messages.UNFORESEEN_NOTHING


def report_of(kind: type[BaseException], fault: BaseException, trace: TracebackType | None) -> str:
    """Versions and where it broke; nothing of the project."""
    from importlib.metadata import version

    head = f"floorpan {version('floorpan')}, Python {platform.python_version()}, {platform.platform()}\n\n"
    return head + "".join(traceback.format_exception(kind, fault, trace))


def ask_with_dialog(saved: str, report: str) -> bool:
    """Show the dialog over whatever window is there."""
    dialog = UnforeseenDialog(saved, report, QApplication.activeWindow())
    dialog.exec()
    dialog.deleteLater()
    return dialog.closes
