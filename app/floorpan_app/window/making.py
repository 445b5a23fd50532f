"""Putting the real parts together: the viewport, the stage that fills it, its tools, and a card for each step."""

from functools import partial

from PySide6.QtWidgets import QWidget

from floorpan_app.cards.catalogue import CARDS
from floorpan_app.desk import Desk
from floorpan_app.report_pictures import CarPictures
from floorpan_app.stage.stage import Stage
from floorpan_app.stage.verbs import verbs_for
from floorpan_app.theme.record import Theme
from floorpan_app.viewport.view import Viewport
from floorpan_app.window.parts import Parts
from floorpan_app.window.picture import ViewportPicture


def make_parts(desk: Desk, theme: Theme, parent: QWidget) -> Parts:
    """The parts of the bench, with the 3D library behind the picture."""
    viewport = Viewport(theme, parent)
    stage = Stage(viewport, desk)
    return Parts(
        picture=ViewportPicture(viewport),
        filling=stage,
        verbs=verbs_for,
        cards={step: partial(card, desk) for step, card in CARDS.items()},
        renderer=CarPictures(),
    )
