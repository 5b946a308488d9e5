"""What stands in a printed document, part by part, whatever it is printed with?

Texts come said: units, rounding and words are the writer's. No meaning is in colour.
"""

from dataclasses import dataclass
from typing import Literal, TypeAlias

from engine.draw.shapes import Drawing

ColumnKind: TypeAlias = Literal["text", "number", "tick", "blank"]


@dataclass(frozen=True)
class Heading:
    """A heading inside a section; it stays with what follows it."""

    text: str


@dataclass(frozen=True)
class Paragraph:
    """A sentence or more; `lead` stands before it in bold, `quiet` is smaller, `strong` larger."""

    text: str
    lead: str = ""
    manner: Literal["plain", "quiet", "strong", "small"] = "plain"


@dataclass(frozen=True)
class Item:
    """One line of a list, with a box to tick or without."""

    text: str
    tick: bool = True


@dataclass(frozen=True)
class Items:
    """A list, one box to tick a line."""

    items: tuple[Item, ...]


@dataclass(frozen=True)
class FillIn:
    """What to weigh or measure, what is planned, and a line for what it is between `ask` and `unit`."""

    lead: str
    text: str
    unit: str
    ask: str = ""


@dataclass(frozen=True)
class Stop:
    """Halt here: what must be true before the hand goes on."""

    text: str


@dataclass(frozen=True)
class Box:
    """Something in a frame: `heavy` where it must not be missed."""

    title: str
    content: tuple["Paragraph | Items | FillIn", ...]
    heavy: bool = False
    wide: bool = False
    """Reaches into the margin for notes."""


@dataclass(frozen=True)
class Column:
    """A column by its head; a tick column holds a box, a blank one room to write."""

    head: str
    kind: ColumnKind = "text"


@dataclass(frozen=True)
class Table:
    """Rows of cells; what stands behind a line break in a cell is its smaller second line.

    The first cell names its row. A cell of a tick column that is not empty is a box. `key` names the kind of
    table for a style sheet.
    """

    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    totals: tuple[str, ...] = ()
    key: str = ""

    def __post_init__(self) -> None:
        for row in (*self.rows, *((self.totals,) if self.totals else ())):
            if len(row) != len(self.columns):
                raise ValueError(
                    f"a row of '{self.title}' has {len(row)} cells; allowed: {len(self.columns)}"
                )


@dataclass(frozen=True)
class Figures:
    """Drawings at their size, one beside the other as long as there is room."""

    drawings: tuple[Drawing, ...]


@dataclass(frozen=True)
class Beside:
    """Text with a drawing to the right of it."""

    content: tuple["Plain", ...]
    drawing: Drawing


@dataclass(frozen=True)
class Columns:
    """Blocks side by side, one stack a column; one under the other where no page is high enough."""

    stacks: tuple[tuple["Plain", ...], ...]


@dataclass(frozen=True)
class Together:
    """What is never parted by the turn of a page, as long as it fits on one."""

    content: tuple["Plain", ...]


@dataclass(frozen=True)
class Step:
    """One numbered step, never parted by the turn of a page as long as it fits on one."""

    number: str
    title: str
    content: tuple["Plain", ...]


Plain: TypeAlias = Heading | Paragraph | Items | FillIn | Stop | Box | Table | Figures
Block: TypeAlias = Plain | Beside | Columns | Together | Step


@dataclass(frozen=True)
class Section:
    """A part of the document under a heading; `new_page` where it begins on a page of its own.

    A `wide` one leaves no margin for notes.
    """

    key: str
    title: str
    blocks: tuple[Block, ...]
    new_page: bool = False
    wide: bool = False


@dataclass(frozen=True)
class Document:
    """All of it, with what stands in the foot of each page before its number."""

    title: str
    foot: str
    sections: tuple[Section, ...]
    line: str = ""
    """Under the title."""

    def section(self, key: str) -> Section:
        """The section of a key.

        Raises  KeyError for a key that it does not have
        Source  definition
        """
        for section in self.sections:
            if section.key == key:
                return section
        raise KeyError(key)
