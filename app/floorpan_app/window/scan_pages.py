"""The pages of starting from a scan: waiting, what went wrong, the unit, where the project is kept."""

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QButtonGroup,
    QFormLayout,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QProgressBar,
    QPushButton,
    QRadioButton,
    QVBoxLayout,
    QWidget,
)

from floorpan.errors import FloorpanError
from floorpan.progress import Step
from floorpan.project.slugs import slug
from floorpan.project.starting import ENDING
from floorpan.scan.read import RawScan
from floorpan.scan.unit import size
from floorpan.units import MM_PER, mm_per, show_number
from floorpan_app import messages
from floorpan_app.theme.fonts import CARD_TITLE, PART, scaled
from floorpan_app.theme.stylesheet import restyle
from floorpan_app.window.question import button_row, plain


class _Page(QWidget):
    """A head, what stands under it, and buttons at the foot."""

    def __init__(self, parent: QWidget, head: str = "") -> None:
        super().__init__(parent)
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(0, 0, 0, 0)
        self.column.setSpacing(round(scaled(10)))
        self.head = plain(head, self, px=CARD_TITLE, bold=True)
        self.column.addWidget(self.head)

    def button(self, text: str) -> QPushButton:
        """A button of this page."""
        made = QPushButton(text, self)
        made.setAutoDefault(False)
        return made

    def end(self, *buttons: QPushButton) -> None:
        """The buttons at the foot, the usual one first."""
        self.column.addStretch()
        self.column.addLayout(button_row(buttons))


class WaitPage(_Page):
    """What is being done, how far it is, and Stop."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.bar = QProgressBar(self)
        self.bar.setTextVisible(False)
        self.bar.setRange(0, 1000)
        self._doing = plain("", self, role="second")
        self.column.addWidget(self.bar)
        self.column.addWidget(self._doing)
        self.stop = self.button("Stop")
        self.end(self.stop)

    def say(self, text: str) -> None:
        """Begin something."""
        self.head.setText(text)
        self._doing.setText("")
        self.bar.setValue(0)
        self.bar.setAccessibleName(text)

    def show_step(self, step: Step) -> None:
        self.bar.setValue(round(1000 * step.done))
        self._doing.setText(step.doing)


class FaultPage(_Page):
    """What is wrong with a file, and the remedy."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.file = plain("", self, role="second")
        self.what = plain("", self, px=PART, bold=True)
        self.remedy = plain("", self)
        for label in (self.file, self.what, self.remedy):
            self.column.addWidget(label)
        self.head.hide()
        self.again, self.leave = self.button(messages.READ_ANOTHER), self.button(messages.CANCEL)
        self.end(self.again, self.leave)

    def show_fault(self, name: str, fault: FloorpanError) -> None:
        self.file.setText(name)
        self.what.setText(fault.what)
        self.remedy.setText(fault.remedy)


class UnitPage(_Page):
    """Which unit, with the size of the scan in each; what was left out."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent, messages.UNIT_QUESTION)
        self.why = plain("", self)
        self.column.addWidget(self.why)
        self.units = QButtonGroup(self)
        self.choices: dict[str, QRadioButton] = {}
        self._sizes: dict[str, QLabel] = {}
        grid = QGridLayout()
        grid.setHorizontalSpacing(round(scaled(16)))
        grid.setVerticalSpacing(round(scaled(4)))
        for row, unit in enumerate(MM_PER):
            choice = QRadioButton(unit, self)
            choice.setMinimumHeight(round(scaled(28)))
            self.units.addButton(choice)
            self.choices[unit] = choice
            self._sizes[unit] = QLabel(self)
            grid.addWidget(choice, row, 0)
            grid.addWidget(self._sizes[unit], row, 1)
        grid.setColumnStretch(1, 1)
        self.column.addLayout(grid)
        self.read = plain("", self, role="second")
        self.left_out = plain("", self)
        self.column.addWidget(self.read)
        self.column.addWidget(self.left_out)
        self.take, self.again = self.button(messages.NEXT), self.button(messages.READ_ANOTHER)
        self.leave = self.button(messages.CANCEL)
        self.end(self.take, self.again, self.leave)

    def show_scan(self, name: str, scan: RawScan, sides: tuple[float, float, float]) -> None:
        """The scan's sides in file units, the proposal and its reason."""
        proposal = scan.proposal
        written = scan.unit_written is not None
        self.why.setText(
            proposal.why if written else messages.UNIT_PROPOSED.format(name=name, why=proposal.why)
        )
        for unit, choice in self.choices.items():
            x, y, z = (size(side * mm_per(unit)) for side in sides)
            told = messages.UNIT_SIZE.format(x=x, y=y, z=z)
            likely = unit == proposal.unit and unit in proposal.candidates
            self._sizes[unit].setText(f"{told}  ({messages.UNIT_LIKELY})" if likely else told)
            choice.setAccessibleName(f"{messages.READ_AS} {unit}: {told}")
            choice.setChecked(unit == proposal.unit)
        count = show_number(len(scan.mesh.faces), 0)
        # Points alone say so themselves, and a unit that is written was told above.
        head = () if scan.points_only else (messages.TRIANGLES_READ.format(n=count),)
        self.read.setText(" ".join((*head, *(scan.notes[1:] if written else scan.notes))))
        told = ", ".join(
            messages.DROPPED_ONE.format(n=show_number(n, 0), what=what)
            for what, n in scan.dropped.items()
            if n
        )
        self.left_out.setText(messages.DROPPED.format(told=told) if told else "")
        self.left_out.setVisible(bool(told))
        self.take.setText(messages.USE_THOSE if told else messages.NEXT)

    def chosen(self) -> str:
        """The unit that is marked."""
        return next(unit for unit, choice in self.choices.items() if choice.isChecked())


class KeepPage(_Page):
    """The project's name and the folder it goes into."""

    def __init__(self, home: Path, parent: QWidget) -> None:
        super().__init__(parent, messages.KEEP_QUESTION)
        self.parent_folder = home
        self.name = QLineEdit(self)
        self.name.setAccessibleName(messages.PROJECT_NAME)
        self._where = QLabel(self)
        self.change = self.button(messages.CHANGE_FOLDER)
        self.change.setAccessibleName(f"{messages.KEPT_IN}: {messages.CHANGE_FOLDER}")
        where = QHBoxLayout()
        where.addWidget(self._where, 1)
        where.addWidget(self.change)
        form = QFormLayout()
        form.setVerticalSpacing(round(scaled(8)))
        form.addRow(messages.PROJECT_NAME, self.name)
        form.addRow(messages.KEPT_IN, where)
        self.column.addLayout(form)
        self.path = plain("", self, role="second")
        self.fault = plain("", self, role="fault")
        self.column.addWidget(self.path)
        self.column.addWidget(self.fault)
        self.make, self.back = self.button(messages.MAKE_PROJECT), self.button(messages.BACK)
        self.leave = self.button(messages.CANCEL)
        self.end(self.make, self.back, self.leave)
        self.name.textChanged.connect(self._look)
        self.use_parent(home)

    def title(self) -> str:
        return self.name.text().strip()

    def folder(self) -> Path:
        """The project's folder."""
        return self.parent_folder / f"{slug(self.title())}{ENDING}"

    def suggest(self, name: str) -> None:
        """A name to begin with; one that was typed stays."""
        if not self.title():
            self.name.setText(name[:120])

    def use_parent(self, folder: Path) -> None:
        """Keep it in another folder."""
        self.parent_folder = folder
        self._where.setText(_middle_out(str(folder), self._where))
        self._where.setToolTip(str(folder))
        self._look(self.name.text())

    def say_fault(self, text: str) -> None:
        """Why it cannot be made, beside the field; nothing takes it away."""
        self.fault.setText(text)
        self.fault.setVisible(bool(text))
        self.name.setProperty("fault", bool(text))
        restyle(self.name)

    def _look(self, _text: str) -> None:
        self.say_fault("" if self.title() else messages.NO_NAME)
        self.make.setEnabled(bool(self.title()))
        folder = str(self.folder())
        told = messages.KEPT_AS.format(path=_middle_out(folder, self.path)) if self.title() else ""
        self.path.setText(told)
        self.path.setToolTip(folder)


def _middle_out(path: str, label: QLabel) -> str:
    """A path shortened in its middle: a word that long would not wrap."""
    return label.fontMetrics().elidedText(path, Qt.TextElideMode.ElideMiddle, round(scaled(400)))
