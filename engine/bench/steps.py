"""In which order is this quilt made? Numbered steps with their STOP lines, weigh points and cautions."""

from collections.abc import Iterable
from dataclasses import replace

from engine.bench.construction import Construction
from engine.bench.job import Job
from engine.bench.step_model import Station, Step
from engine.bench.steps_before import before
from engine.bench.steps_filling import filling
from engine.bench.steps_joining import joining

STATIONS: dict[Station, str] = {
    "marking": "a long table to lay out, mark and measure on",
    "cutting": "a table for cutting, with glass or metal under a hot blade",
    "strips": "a corner where strips are cut and made ready",
    "joining": "where pieces are joined",
    "scale": "the scale, out of the draught",
    "filling": "the tub or tent for the down",
    "outdoors": "outside",
}
SIDE_BY_SIDE: tuple[Station, ...] = ("marking", "strips", "joining", "scale")
"""What different hands can do at the same time on a day together (common practice, no source)."""


def steps_of(job: Job) -> tuple[Step, ...]:
    """All steps of one quilt, numbered from 1.

    Units   SI; what is a text or a count is so by its kind
    Raises  Refusal for an unknown good, a scale step or a percentage that is not allowed
    Source  common practice, no source
    """
    return _numbered((*before(job), *joining(job), *filling(job)))


def waited_for(made: Construction) -> tuple[str, str]:
    """The two pieces of kit that everybody waits for on a day together.

    Source  common practice, no source
    """
    return "the scale", "the sewing machine" if made.sewn else "the long table"


def _numbered(steps: Iterable[Step]) -> tuple[Step, ...]:
    return tuple(replace(step, number=number) for number, step in enumerate(steps, start=1))
