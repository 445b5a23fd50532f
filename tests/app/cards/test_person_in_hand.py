"""Which driver is looked at."""

from dataclasses import replace

from floorpan.driver import Person
from floorpan_app.desk import Desk
from floorpan_app.person_in_hand import person_in_hand, take_person

SECOND = Person(id="driver-2", name="Second", seat_id="seat-1")
PASSENGER = Person(id="passenger-9", role="passenger", seat_id="seat-1")


def test_the_design_driver_is_looked_at_until_another_one_is_taken(desk: Desk) -> None:
    told: list[str] = []
    desk.person_changed.connect(told.append)
    layout = replace(desk.layout, people=(*desk.layout.people, SECOND, PASSENGER))
    assert person_in_hand(desk, layout) == layout.driver()

    take_person(desk, "driver-2")
    take_person(desk, "driver-2")
    assert person_in_hand(desk, layout) == SECOND
    assert told == ["driver-2"]

    take_person(desk, "passenger-9")
    assert person_in_hand(desk, layout) == layout.driver(), "who does not drive is not looked at"
    take_person(desk, "driver-2")
    assert person_in_hand(desk, desk.layout) == desk.layout.driver(), "who left the car is not looked at"

    told.clear()
    desk.start_over("driver", {})
    assert desk.person == ""
    assert told == [""]


def test_a_finding_about_another_driver_puts_that_one_in_the_seat(judged: Desk) -> None:
    told: list[str] = []
    judged.person_changed.connect(told.append)
    reach = next(one for one in judged.judging.findings if one.check == "reach")
    others = replace(reach, subjects=("driver-2.hand", *reach.subjects[1:]))
    about_nobody = next(one for one in judged.judging.findings if one.check == "seat-console")
    judged.document.replace_all(replace(judged.layout, people=(*judged.layout.people, SECOND)))
    judged.judging.findings = (reach, others, about_nobody)
    for id in (others.id, others.id, about_nobody.id):
        judged.choose_finding(id)
        assert person_in_hand(judged, judged.layout) == SECOND
    judged.choose_finding(reach.id)
    assert person_in_hand(judged, judged.layout) == judged.layout.driver()
    assert told == ["driver-2", ""]
