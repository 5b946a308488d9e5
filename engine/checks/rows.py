"""What is one line of a check: what the outside says, what we compute, and how far apart they may be?"""

import csv
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from importlib.resources import files


@dataclass(frozen=True)
class Row:
    """One number from outside beside ours, in the units of the outside."""

    topic: str
    what: str
    unit: str
    published: float
    ours: float
    allowed: float
    source: str

    @property
    def inside(self) -> bool:
        """Whether ours is as near as the table lets one ask; what is no number never is."""
        return abs(self.ours - self.published) <= self.allowed


@dataclass(frozen=True)
class Topic:
    """One table from outside: what agreement with it shows, and why no closer agreement is asked."""

    title: str
    shows: str
    allowed_because: str
    read: Callable[[], tuple[Row, ...]]

    @cached_property
    def rows(self) -> tuple[Row, ...]:
        """The rows, computed when they are first asked for."""
        return self.read()


def table(name: str) -> list[dict[str, str]]:
    """The rows of a published table as written; lines that open with # say where it is from.

    Raises  ValueError for a table that does not open with its source
    Source  the first line of each table
    """
    lines = (files("engine.checks") / "published" / name).read_text("utf-8").splitlines()
    if not lines[0].startswith("# Source: "):
        raise ValueError(f"{name} does not open with its source")
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def value(row: dict[str, str], *names: str) -> list[float]:
    """Some numbers of a table's row, in the order asked for.

    Source  definition
    """
    return [float(row[name]) for name in names]


def told(row: dict[str, str], *parts: tuple[str, str]) -> str:
    """What a row is about, as printed: (column, unit) one after the other, with true minus signs.

    Source  definition
    """
    return ", ".join(f"{row[name].replace('-', '−')} {unit}".strip() for name, unit in parts)
