"""A finding of the way out, taken in hand: the car stands with the vessel over its well."""

import pytest

from floorpan_app.standing import standing
from floorpan_app.window.main_window import MainWindow
from floorpan_app.window.works import Works

pytestmark = pytest.mark.usefixtures("window")

ID = "lift-out:vessel-1:console-1:vessel-1.place=lifting"


def test_a_finding_of_the_way_out_lifts_the_vessel(window: MainWindow, judged: Works) -> None:
    desk, layout = judged.session.desk, judged.session.document.layout
    assert ID in {one.id for one in judged.session.judging.findings}
    scene = judged.session.judging.bench.scene(layout)
    before = scene.body("vessel-1", standing(layout, desk.state))[0].box()
    desk.choose_finding(ID)
    state = standing(layout, desk.state)
    assert dict(state)["vessel-1.place"] == "lifting"
    lifted = scene.body("vessel-1", state)[0].box()
    # The well is 70 deep; its base ends up 10 over the mouth.
    assert lifted[:, 2] - before[:, 2] == pytest.approx(80.0)
    desk.show_stops({"vessel-1.place": "in"})
    assert scene.body("vessel-1", standing(layout, desk.state))[0].box() == pytest.approx(before)
