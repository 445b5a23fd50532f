"""What can go wrong, as one tree.

FloorpanError
|-- BadValue          a number or word outside what a field takes
|   `-- NotALength    text that is no length
|-- ScanProblem       a scan file cannot be used as it is
|   |-- UnreadableScan    nothing certain can be read from it
|   |-- NoSurface         points without triangles
|   `-- UnitNeeded        the file carries no unit and none was given
|-- AxesProblem       picked points do not set car axes
|-- EmptyCrop         a crop leaves nothing
|-- NoSuchThing       an id that the layout does not hold
|-- WrongStep         an edit that its surroundings forbid
|-- ProjectProblem    the folder on disk
|   |-- ProjectNewer      written by a newer format
|   |-- ProjectLocked     open in another window
|   |-- ProjectDamaged    cannot be read back
|   `-- NotSaved          writing failed; the last good save is untouched
`-- ReportProblem     a paper cannot be written

Each carries a short code, what happened, and a remedy that names a place on the screen or a
thing in the car. `facts` are numbers in core units; the front formats them.
"""


class FloorpanError(Exception):
    """Base of everything floorpan raises on purpose."""

    def __init__(self, code: str, what: str, remedy: str, **facts: object) -> None:
        super().__init__(f"{what} {remedy}".strip())
        self.code = code
        self.what = what
        self.remedy = remedy
        self.facts = facts


class BadValue(FloorpanError):
    """A number or word outside what a field takes."""


class NotALength(BadValue):
    """Text that is no length."""


class ScanProblem(FloorpanError):
    """A scan file cannot be used as it is."""


class UnreadableScan(ScanProblem):
    """Nothing certain can be read from the file."""


class NoSurface(ScanProblem):
    """The file holds points without triangles."""


class UnitNeeded(ScanProblem):
    """The file carries no unit and none was given."""


class AxesProblem(FloorpanError):
    """Picked points do not set car axes."""


class EmptyCrop(FloorpanError):
    """A crop leaves nothing."""


class NoSuchThing(FloorpanError):
    """An id that the layout does not hold."""


class WrongStep(FloorpanError):
    """An edit that its surroundings forbid."""


class ProjectProblem(FloorpanError):
    """Something about the project folder."""


class ProjectNewer(ProjectProblem):
    """Written by a newer format than this one reads."""


class ProjectLocked(ProjectProblem):
    """Open in another window."""


class ProjectDamaged(ProjectProblem):
    """Cannot be read back."""


class NotSaved(ProjectProblem):
    """Writing failed; the last good save is untouched."""


class ReportProblem(FloorpanError):
    """A paper cannot be written."""
