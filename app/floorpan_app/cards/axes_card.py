"""Axes: picked points, how well they agree, setting the scan straight, and who sits where."""

from functools import partial

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QGridLayout, QPushButton, QVBoxLayout, QWidget

from floorpan import edits
from floorpan.errors import FloorpanError
from floorpan.frames import Pose
from floorpan.layout import ScanRef, Side, Step
from floorpan.scan.axes import TILT_OVER_MM, AxesFit, AxisPick
from floorpan.units import show_length
from floorpan_app.cards import file_axes, points, words
from floorpan_app.cards.blocks import Facts, PartTitle, Rule, at_left, pressed, px, side_by_side, told
from floorpan_app.cards.card import Card, Need
from floorpan_app.cards.centre_lines_part import CentreLinesPart
from floorpan_app.cards.notice import Notice
from floorpan_app.cards.point_form import PointForm
from floorpan_app.cards.points import Picks
from floorpan_app.cards.quiet_combo import QuietCombo
from floorpan_app.cards.rows import Row, Rows
from floorpan_app.cards.scans import need_scan, scan_with_axes
from floorpan_app.cards.segments import Segments
from floorpan_app.cards.spelling import show_small
from floorpan_app.cards.tried import tried
from floorpan_app.theme.icons import themed_icon

_PICK = "pick "


class AxesCard(Card):
    """Picks with what each is off by, the fit, and the sides."""

    step: Step = "axes"

    def build(self) -> None:
        self._chosen = ""
        self.tools = {role: self._tool(role) for role in points.ROLES}
        tools = QGridLayout()
        tools.setSpacing(px(6))
        for number, button in enumerate(self.tools.values()):
            tools.addWidget(button, number // 3, number % 3)
        self._title = PartTitle(words.POINTS)
        self.rows = Rows(words.POINTS)
        self.rows.row_chosen.connect(self._choose)
        self.point = PointForm(self.desk, self._set_picks)
        self.type_one = pressed(words.TYPE_A_POINT, self.add_point, icon="add")
        self.over = pressed(words.START_OVER, self._start_over)
        self.notice = Notice()
        self.facts = Facts()
        self._advice = told(second=True)
        self.set_button = pressed(words.SET_AXES, self.set_axes, icon="axes")
        self.side = Segments((("left", words.LEFT), ("right", words.RIGHT)), words.DRIVER_SITS)
        self.side.chosen.connect(self._sit)
        self._build_by_file()
        self.add(PartTitle(words.PICK_TITLE), tools, self._title, self.rows, self.point)
        self.add(side_by_side(self.type_one, self.over), self.notice, self.facts, self._advice)
        self.lines = CentreLinesPart(self.desk)
        self.add(self.set_button, Rule(), PartTitle(words.DRIVER_SITS), self.side, Rule(), self.lines, Rule())
        self.add(at_left(self.fold), self.by_file)
        self.desk.tool_changed.connect(self._tool_changed)

    def _build_by_file(self) -> None:
        self.fold = QPushButton(words.STRAIGHT_ALREADY)
        self.fold.setCheckable(True)
        self.fold.setProperty("role", "link")
        self.by_file = QWidget()
        self.up = QuietCombo([(way, words.OF_FILE.format(axis=way)) for way in file_axes.WAYS], words.UP_IS)
        self.front = QuietCombo((), words.FRONT_IS)
        self.up.show_key("+Z")
        self.up.picked.connect(lambda _: self._offer_fronts())
        self._offer_fronts()
        self.by_file_button = pressed(words.SET_BY_FILE, self.set_by_file, icon="axes")
        grid = QGridLayout()
        grid.setHorizontalSpacing(px(8))
        grid.setColumnStretch(1, 1)
        for row, (text, combo) in enumerate(((words.UP_IS, self.up), (words.FRONT_IS, self.front))):
            grid.addWidget(told(text), row, 0)
            grid.addWidget(combo, row, 1)
        column = QVBoxLayout(self.by_file)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(8))
        column.addLayout(grid)
        column.addWidget(told(words.BY_FILE_NOTE, second=True))
        column.addWidget(self.by_file_button)
        self.by_file.hide()
        self.fold.toggled.connect(self.by_file.setVisible)

    def need(self) -> Need | None:
        need = need_scan(self.desk)
        scan = scan_with_axes(self.desk)
        if need is None and scan is not None and not scan.picks and scan.pose is None:
            return Need(told=words.NEED_POINTS)
        return need

    def lacks(self) -> str:
        scan = scan_with_axes(self.desk)
        return words.NEED_SCAN if scan is None else words.LACKS_AXES if scan.pose is None else ""

    def doubts(self) -> str:
        fit, _ = self.fit()
        return words.ODD_POINT if fit is not None and fit.odd_one else ""

    def refresh(self) -> None:
        scan = scan_with_axes(self.desk)
        picks = scan.picks if scan is not None else ()
        fit, fault = self.fit()
        self._show_picks(picks, fit)
        if fit is not None:
            self.notice.say(fit.advice, "close")
        else:
            self.notice.say(fault if picks else "", "quiet")
        self._show_fit(scan, fit)
        self.side.show_key(self.desk.layout.driver_side)
        self.lines.show_scan(scan)
        self.type_one.setEnabled(scan is not None)
        self.over.setEnabled(bool(picks))
        for button in (*self.tools.values(), self.by_file_button, self.fold):
            button.setEnabled(scan is not None)
        self._tool_changed(self.desk.tool)

    def fit(self) -> tuple[AxesFit | None, str]:
        """How well the points agree, or why nothing can be said yet."""
        scan = scan_with_axes(self.desk)
        if scan is None:
            return None, ""
        try:
            return self.desk.judging.bench.axes_fit(scan), ""
        except FloorpanError as fault:
            return None, f"{fault.what} {fault.remedy}"

    def set_axes(self) -> None:
        """Move the scan into the axes that its points tell."""
        fit, _ = self.fit()
        if fit is not None:
            self._set_pose(fit.pose)

    def set_by_file(self) -> None:
        """Move the scan into axes along those of its file."""
        self._set_pose(file_axes.pose_of(self.up.key(), self.front.key()))

    def add_point(self) -> None:
        """A level point at the file's origin, in hand, to be typed."""
        scan = scan_with_axes(self.desk)
        if scan is not None:
            picks, letter = points.added(scan.picks, "level", (0.0, 0.0, 0.0))
            self._chosen = letter
            self._set_picks(words.ADD_POINT_ENTRY.format(letter=letter), picks)
            self.point.name.setFocus()

    # What is shown.

    def _show_picks(self, picks: Picks, fit: AxesFit | None) -> None:
        in_mm = self.desk.system == "mm"
        self._title.show_second((words.OFF_BY if in_mm else words.OFF_BY_IN) if picks else "")
        off = dict(fit.residuals_mm) if fit is not None else {}
        odd = fit.odd_one.split(" and ") if fit is not None else []
        if not any(pick.id == self._chosen for pick in picks):
            self._chosen = ""
        self.rows.show_rows([self._row(pick, off.get(pick.id), odd) for pick in picks], self._chosen)
        self.point.show_pick(picks, self._chosen)

    def _row(self, pick: AxisPick, off_mm: float | None, odd: list[str]) -> Row:
        role = points.role_words(pick)
        value = "" if off_mm is None else show_small(off_mm, self.desk.system)
        spoken = words.POINT_SAID.format(letter=pick.id, name=pick.name or words.NO_NAME, role=role)
        if value:
            spoken = words.POINT_OFF.format(point=spoken, off=f"{value} {self.desk.system}")
        return Row(
            id=pick.id,
            letter=pick.id,
            title=pick.name or words.NO_NAME,
            tail=role,
            value=value,
            mark="close" if pick.id in odd else None,
            spoken=spoken,
        )

    def _show_fit(self, scan: ScanRef | None, fit: AxesFit | None) -> None:
        pose = scan.pose if scan is not None else None
        same = fit is not None and pose == fit.pose
        self.set_button.setEnabled(fit is not None and not same)
        if scan is None:
            self.facts.show_facts(())
            self._advice.hide()
            return
        state = words.AXES_NOT_SET if pose is None else words.AXES_SET if same else words.AXES_OTHER
        rows = [(words.AXES_ARE, state)]
        if fit is not None:
            over = show_length(TILT_OVER_MM, self.desk.system, digits=0, with_unit=True)
            mirror = words.MIRROR_SEEN if fit.can_tell_mirror else words.MIRROR_NOT_SEEN
            rows = [
                (words.AGREE, self._length(fit.rms_mm)),
                (words.TILT.format(over=over), f"\u00b1 {self._length(fit.tilt_over_900_mm)}"),
                (words.MIRROR, mirror),
                *rows,
            ]
        self.facts.show_facts(rows)
        self._advice.setText(words.MIRROR_ADVICE)
        self._advice.setVisible(fit is not None and not fit.can_tell_mirror)

    def _length(self, mm: float) -> str:
        return f"{show_small(mm, self.desk.system)} {self.desk.system}"

    # What is done.

    def _tool(self, role: str) -> QPushButton:
        word, icon = words.PICK_WORDS[role]
        button = QPushButton(word)
        button.setIcon(themed_icon(icon))
        button.setIconSize(QSize(px(18), px(18)))
        button.setCheckable(True)
        button.setAccessibleName(f"{words.PICK_TITLE}: {word}")
        button.clicked.connect(lambda _=False, name=_PICK + role: self._use(name))
        return button

    def _use(self, name: str) -> None:
        self.desk.use_tool("" if self.desk.tool == name else name)

    def _tool_changed(self, tool: str) -> None:
        for role, button in self.tools.items():
            button.setChecked(tool == _PICK + role)

    def _choose(self, letter: str) -> None:
        scan = scan_with_axes(self.desk)
        self._chosen = letter
        self.point.show_pick(scan.picks if scan is not None else (), letter)

    def _set_picks(self, entry: str, picks: Picks) -> str:
        scan = scan_with_axes(self.desk)
        if scan is None:
            return ""
        return tried(self.desk, entry, lambda layout: edits.set_picks(layout, scan.id, picks))

    def _start_over(self) -> None:
        self._set_picks(words.START_OVER_ENTRY, ())

    def _set_pose(self, pose: Pose) -> None:
        scan = scan_with_axes(self.desk)
        if scan is not None:
            tried(self.desk, words.SET_AXES_ENTRY, partial(edits.set_axes, id=scan.id, pose=pose))

    def _sit(self, key: str) -> None:
        side: Side = "left" if key == "left" else "right"
        entry = words.SIDE_ENTRY.format(side=side)
        tried(self.desk, entry, lambda layout: edits.set_driver_side(layout, side))

    def _offer_fronts(self) -> None:
        self.front.offer([(way, words.OF_FILE.format(axis=way)) for way in file_axes.fronts(self.up.key())])
