"""An edit that may be refused, with the refusal in words for the field it came from."""

from collections.abc import Callable

from floorpan.errors import FloorpanError
from floorpan.layout import Layout
from floorpan_app.desk import Desk


def tried(desk: Desk, words: str, edit: Callable[[Layout], Layout]) -> str:
    """Do an edit; answers "" or, when it was refused and nothing changed, what is wrong and what to do."""
    try:
        edit(desk.document.adopted)
    except FloorpanError as fault:
        desk.faulted.emit(fault)
        return f"{fault.what} {fault.remedy}"
    desk.change(words, edit)
    return ""
