"""The one document: the current layout, its history, and what is being tried.

Tools propose layouts, the document adopts them, views show the difference. A history entry is a whole layout; undo
swaps two values that already exist and so cannot fail.
"""

from dataclasses import dataclass

from PySide6.QtCore import QObject, Signal

from floorpan.layout import Layout


@dataclass(frozen=True, slots=True)
class Entry:
    """A layout and the words for the change that made it."""

    words: str
    layout: Layout


class Document(QObject):
    """Current layout, previews outside history, undo and redo.

    layout_changed(before, after) : what is shown changed, by an edit, a preview, undo or redo
    history_changed()             : undo, redo or the saved mark changed
    """

    layout_changed = Signal(object, object)
    history_changed = Signal()

    def __init__(self, layout: Layout, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._past: list[Entry] = [Entry("", layout)]
        self._future: list[Entry] = []
        self._tried: Layout | None = None
        self._saved: Layout | None = layout

    @property
    def layout(self) -> Layout:
        """What is shown: the preview while something is dragged, else what was adopted last."""
        return self._tried if self._tried is not None else self._past[-1].layout

    @property
    def adopted(self) -> Layout:
        """What was adopted last."""
        return self._past[-1].layout

    @property
    def previewing(self) -> bool:
        """Whether something is being tried."""
        return self._tried is not None

    @property
    def saved(self) -> bool:
        """Whether the adopted layout is the one on disk."""
        return self._past[-1].layout is self._saved

    def change(self, words: str, layout: Layout) -> None:
        """Adopt a layout as one history entry; the same layout again is no entry."""
        before = self.layout
        self._tried = None
        if layout is not self.adopted and layout != self.adopted:
            self._past.append(Entry(words, layout))
            self._future.clear()
            self.history_changed.emit()
        self._tell(before)

    def preview(self, layout: Layout) -> None:
        """Show a layout that is only tried."""
        before = self.layout
        self._tried = layout
        self._tell(before)

    def drop_preview(self) -> None:
        """Back to what was adopted."""
        before = self.layout
        self._tried = None
        self._tell(before)

    def replace_all(self, layout: Layout) -> None:
        """Another project: history starts anew."""
        before = self.layout
        self._past, self._future, self._tried = [Entry("", layout)], [], None
        self._saved = layout
        self._tell(before)
        self.history_changed.emit()

    def undo_words(self) -> str:
        """What undo would take back, empty when nothing."""
        return self._past[-1].words if len(self._past) > 1 else ""

    def redo_words(self) -> str:
        """What redo would do again, empty when nothing."""
        return self._future[-1].words if self._future else ""

    def undo(self) -> None:
        """One entry back; a preview is dropped first."""
        before = self.layout
        self._tried = None
        if len(self._past) > 1:
            self._future.append(self._past.pop())
        self._tell(before)
        self.history_changed.emit()

    def redo(self) -> None:
        """One entry forward again."""
        before = self.layout
        self._tried = None
        if self._future:
            self._past.append(self._future.pop())
        self._tell(before)
        self.history_changed.emit()

    def mark_saved(self, layout: Layout) -> None:
        """This layout is on disk now."""
        self._saved = layout
        self.history_changed.emit()

    def _tell(self, before: Layout) -> None:
        if self.layout is not before:
            self.layout_changed.emit(before, self.layout)
