"""How is a warning told? Sign, word, why in a clause and what to do, in the maker's units."""

from collections.abc import Iterable
from html import escape
from typing import TypeAlias

from dashboard.safe_text import md_escape
from dashboard.verdicts import GRADE, GRADES, Grade, grade_counts
from dashboard.words import NBSP, Kind, Units, kilopascals, number, said
from engine.cautions import Caution, ValueKind

SAID_AS: dict[ValueKind, Kind] = {
    "mass": "mass",
    "areal_mass": "areal mass",
    "bench_length": "bench length",
    "temperature": "temperature",
    "percent": "percent",
    "resistance": "resistance",
}
Told: TypeAlias = tuple[str, str]
"""What is wrong, and what to do about it."""


def told(caution: Caution, units: Units = "metric") -> Told:
    """Both sentences of a warning in plain text, not yet safe for a page.

    Raises KeyError when a sentence names a value that the warning does not hold.
    """
    values = {name: _value(value, kind, units) for name, (value, kind) in caution.values.items()}
    return caution.what.format_map(values), caution.remedy.format_map(values)


def stop_of(cautions: Iterable[Caution], units: Units = "metric") -> str:
    """What stops a candidate, to go on a sentence without its full stop; empty where nothing does."""
    stops = [told(caution, units)[0].rstrip(".") for caution in cautions if caution.grade == "stop"]
    if not stops:
        return ""
    first = stops[0][:1].lower() + stops[0][1:]
    return f"{first} (and {len(stops) - 1} more to mend)" if len(stops) > 1 else first


def _value(value: float | str, kind: ValueKind, units: Units) -> str:
    if isinstance(value, str):
        return value
    if kind in SAID_AS:
        return said(SAID_AS[kind], value, units)
    if kind == "air_permeability":
        return f"{number(value, 1, trim=True)}{NBSP}mm/s"
    if kind == "pressure":
        return kilopascals(value)
    # Counts and percentages are whole numbers; a ratio below ten needs its tenth.
    return number(value, 0 if abs(value) >= 10 else 1, trim=True)


def caution_html(caution: Caution, units: Units = "metric") -> str:
    """One warning as a paragraph: sign and word of its grade, then both sentences."""
    grade = GRADE[caution.grade]
    what, remedy = told(caution, units)
    return (
        f'<p class="lw-warning lw-{grade.key}"><span class="lw-grade">{_sign(grade)} {grade.word}.</span> '
        f"<span>{escape(what)} {escape(remedy)}</span></p>"
    )


def _sign(grade: Grade) -> str:
    """The sign in the face that has it; its word stands beside it."""
    return f'<span class="lw-shape" aria-hidden="true">{grade.icon}</span>'


def cautions_html(cautions: Iterable[Caution], units: Units = "metric") -> str:
    """Several warnings under one another; an empty text for none."""
    return "".join(caution_html(caution, units) for caution in cautions)


def caution_markdown(caution: Caution, units: Units = "metric") -> str:
    """The same as one line of Markdown, for a place beside a button."""
    grade = GRADE[caution.grade]
    what, remedy = told(caution, units)
    return f"**{grade.icon} {grade.word}.** {md_escape(what)} {md_escape(remedy)}"


def counts_html(cautions: Iterable[Caution]) -> str:
    """How many of each grade, gravest first, each with its sign; an empty text for none."""
    given = [caution.grade for caution in cautions]
    shown = [
        f'<span class="lw-{grade.key}">{_sign(grade)} '
        f"{grade_counts([grade.key] * given.count(grade.key))}</span>"
        for grade in GRADES
        if grade.key in given
    ]
    return ", ".join(shown)
