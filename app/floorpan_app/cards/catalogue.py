"""Every card, in the order of the work."""

from floorpan.layout import Step
from floorpan_app.cards.axes_card import AxesCard
from floorpan_app.cards.card import Card
from floorpan_app.cards.check_card import CheckCard
from floorpan_app.cards.console_card import ConsoleCard
from floorpan_app.cards.controls_card import ControlsCard
from floorpan_app.cards.cup_card import CupCard
from floorpan_app.cards.driver_card import DriverCard
from floorpan_app.cards.floor_card import FloorCard
from floorpan_app.cards.pieces_card import PiecesCard
from floorpan_app.cards.report_card import ReportCard
from floorpan_app.cards.scan_card import ScanCard

CARDS: dict[Step, type[Card]] = {
    "scan": ScanCard,
    "axes": AxesCard,
    "floor": FloorCard,
    "driver": DriverCard,
    "controls": ControlsCard,
    "cup": CupCard,
    "console": ConsoleCard,
    "pieces": PiecesCard,
    "check": CheckCard,
    "report": ReportCard,
}
