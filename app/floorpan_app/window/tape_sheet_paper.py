"""Writing the tape sheet: two pages, of the project on the bench or before there is any."""

from floorpan.report.documents import check_tape_sheet_suffix, writing_tape_sheet
from floorpan_app import messages
from floorpan_app.window.paper_to_fill import PaperKind

TAPE_SHEET = PaperKind(
    check=check_tape_sheet_suffix,
    writing=writing_tape_sheet,
    dialog=messages.TAPE_SHEET_DIALOG,
    name=messages.TAPE_SHEET_NAME,
    first_name=messages.TAPE_SHEET_FIRST_NAME,
    doing=messages.TAPE_SHEET_WRITING,
    stopped=messages.TAPE_SHEET_STOPPED,
    written=messages.TAPE_SHEET_WRITTEN,
)
