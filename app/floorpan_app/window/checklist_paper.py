"""Writing the scan checklist: one page, of the project on the bench or before there is any."""

from floorpan.report.documents import check_checklist_suffix, writing_checklist
from floorpan_app import messages
from floorpan_app.window.paper_to_fill import PaperKind

CHECKLIST = PaperKind(
    check=check_checklist_suffix,
    writing=writing_checklist,
    dialog=messages.CHECKLIST_DIALOG,
    name=messages.CHECKLIST_NAME,
    first_name=messages.CHECKLIST_FIRST_NAME,
    doing=messages.CHECKLIST_WRITING,
    stopped=messages.CHECKLIST_STOPPED,
    written=messages.CHECKLIST_WRITTEN,
)
