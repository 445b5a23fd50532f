"""What a paper is made of, before anybody decides whether it is a PDF or a page of HTML."""

from dataclasses import dataclass, field
from typing import Literal

from floorpan.checks.finding import Verdict
from floorpan.report.display import Drawing

Align = Literal["left", "right", "center"]
Role = Literal["caution", "body", "second", "cure", "item"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Title:
    """The head of the paper: its name, the project, and at the right edition and date."""

    name: str
    project: str
    edition: str
    date: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """The head of a section, or of a part of one (level 2).

    room : share of a page that has to be free below it, else it starts a new one; 1 starts one always
    """

    text: str
    level: int = 1
    room: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Prose:
    """A paragraph; `lead` stands before it in bold."""

    text: str
    role: Role = "body"
    lead: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """The tight spot: the worst finding as one sentence, and its cure. verdict None: nothing to compare yet."""

    verdict: Verdict | None
    sentence: str
    second: str = ""
    cure: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """A cell of a table: a shape or a drawing, text, and a smaller line under it; muted where it does not apply."""

    text: str = ""
    second: str = ""
    bold: bool = False
    verdict: Verdict | None = None
    drawing: Drawing | None = None
    muted: bool = False
    boxed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column: its title, its width as a share of the table's, how its cells line up."""

    title: str = ""
    share: float
    align: Align = "left"


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Rows under column titles; groups are (title, how many columns) above them. width is a share of the page's."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    groups: tuple[tuple[str, int], ...] = ()
    width: float = 1.0
    tight: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A drawing or the bytes of a PNG, with its title; kept together with it."""

    title: str
    drawing: Drawing | None = None
    png: bytes = b""
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """A drawing at the left with a table at its right."""

    drawing: Drawing
    table: Table


@dataclass(frozen=True, slots=True, kw_only=True)
class Signature:
    """A line to sign on, with what stands under it."""

    under: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Form:
    """A drawing that is written on by hand."""

    drawing: Drawing


Block = Title | Heading | Prose | Spot | Table | Picture | Beside | Signature | Form


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A whole paper: its first page, the pages after it, and what stands at the foot of each.

    owner : what the foot begins with; cut short where a page is too narrow for all of it
    subject : what kind of paper it is
    """

    title: str
    subject: str
    first_page: tuple[Block, ...]
    pages: tuple[Block, ...] = field(default=())
    owner: str = ""
    foot: str = ""

    def blocks(self) -> tuple[Block, ...]:
        """All of it in reading order."""
        return (*self.first_page, *self.pages)
