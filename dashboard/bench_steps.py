"""In which order is it made, and what is kept with the quilt? The steps with their STOP lines, the label."""

from collections.abc import Iterator

from dashboard.bench_job import Bench
from dashboard.bench_words import capital, line_text, mass_unit, weigh_text
from engine.bench.care import care_of, label_of
from engine.bench.step_model import Line, Step
from engine.bench.steps import steps_of
from engine.export import safety
from engine.paper import blocks
from engine.paper.blocks import Box, FillIn, Heading, Item, Items, Paragraph, Section, Stop

SAFETY = {
    each.subject: each.text
    for each in (
        safety.COLD,
        safety.FLAME,
        safety.HOT_KNIFE,
        safety.SOLVENT,
        safety.FILM,
        safety.HANGING,
    )
}
AS_PLANNED = "Order, grams, bag and running total of each: fill plan, section 8."
AS_LABELLED = "Fill in the label of section 10 with your own tare and port, and keep its care with it."
YOURS = "yours:"
CUT_OUT = "Cut it out, or copy it on cloth, and sew it in."


def steps(bench: Bench) -> Section:
    """All steps in their order."""
    found = tuple(_step(bench, step) for step in steps_of(bench.job))
    return Section("steps", "7 Steps", found, new_page=True)


def _step(bench: Bench, step: Step) -> blocks.Step:
    units = bench.units
    content: list[blocks.Plain] = []
    if step.stop is not None:
        content.append(Stop(line_text(step.stop, units)))
    # A caution is read before the hand moves.
    for subject in step.cautions:
        content.append(Box("", (Paragraph(SAFETY[subject], f"{subject}."),)))
    content.append(Items(tuple(_items(bench, step))))
    unit = mass_unit(units)
    content += [FillIn(f"Weigh {point.what}:", weigh_text(point, units), unit, YOURS) for point in step.weigh]
    return blocks.Step(str(step.number), step.title, tuple(content))


def _items(bench: Bench, step: Step) -> Iterator[Item]:
    """Lines of a step; the zones of the fill plan stand in its table, not here once more."""
    if step.key == "label":
        yield Item(AS_LABELLED)
        return
    told = False
    for line in step.lines:
        if "zone" in line.values:
            if not told:
                yield Item(AS_PLANNED)
            told = True
            continue
        yield Item(line_text(line, bench.units), line.tick)


def label(bench: Bench) -> Section:
    """What stays with the quilt: its label, its care, how it is mended."""
    sheet, units = bench.sheet, bench.units
    lines = tuple(label_of(bench.one, bench.catalogue, sheet.code))
    care = care_of(bench.job.construction, bench.job.down)
    box = Box(bench.sheet.name, tuple(_paragraphs(lines, bench)))
    content = (
        Heading("Label"),
        Paragraph(CUT_OUT, manner="quiet"),
        box,
        Heading("Care and repair"),
        Items(tuple(Item(line_text(line, units), tick=False) for line in care.lines)),
    )
    return Section("label", "10 Keep with the quilt", (blocks.Together(content),))


def _paragraphs(lines: tuple[Line, ...], bench: Bench) -> Iterator[Paragraph]:
    for line in lines:
        yield Paragraph(capital(line_text(line, bench.units)))
