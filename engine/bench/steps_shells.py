"""What goes onto the shells while they lie apart: darts, patches, panels, walls and baffles."""

from collections.abc import Iterator

from engine.bench.job import Job
from engine.bench.step_model import Line, Step, StepValues
from engine.bench.steps_fitting import by, fumes
from engine.catalogue.models import JointMethod
from engine.units import MM

PATCH_SIDE_M = 0.040
"""Of a tab's patch (common practice, no source)."""


def start_of(job: Job) -> str:
    """Where joining baffle by baffle begins.

    Source  common practice, no source
    """
    return "from the foot end" if job.design.baffles.layout == "full, crosswise" else "from one long edge"


def plainly(method: JointMethod) -> StepValues:
    """A method of the ends where there is no cord: its channel is not meant.

    Source  definition
    """
    channel = "channel" in method.id
    return {"method": ("as the ends, without the channel" if channel else method.name, "word")}


def on_the_shells(job: Job) -> Iterator[Step]:
    """Darts and patches, while each shell lies alone.

    Source  common practice, no source
    """
    ends, design = job.method("ends"), job.design
    if design.ends.shape == "darted" and ends is not None:
        yield Step(
            0,
            "darts",
            "Close the darts in both shells",
            "joining",
            (
                Line(
                    "{count} at each end of each shell, {wide} wide at the edge and {long} long: {method}.",
                    {
                        "count": (float(design.ends.dart_count), "number"),
                        "wide": (design.ends.dart_width_mm * MM, "bench_length"),
                        "long": (design.ends.dart_length_mm * MM, "bench_length"),
                        **plainly(ends),
                    },
                ),
                Line("Leave out the piece of a line that a dart would cross."),
            ),
            cautions=fumes(ends),
        )
    if job.construction.patched:
        yield Step(
            0,
            "patches",
            "Stitch the patches for the tabs",
            "joining",
            (
                Line(
                    "{count} places on the edge of the outer shell: a cloth patch of {side} by {side} inside "
                    "and out, stitched all round, the tab bar-tacked through both.",
                    {
                        "count": (float(design.tabs), "number"),
                        "side": (PATCH_SIDE_M, "bench_length"),
                    },
                ),
                *(
                    (Line("Film tears from a hole: cloth on both sides of it, never less."),)
                    if job.construction.film_shells
                    else ()
                ),
            ),
        )


def strips_on(job: Job) -> Iterator[Step]:
    """End panels, edge walls and baffles onto the inner shell; places on the outer where it is taped.

    Source  common practice, no source
    """
    ends, edges, baffles = (job.method(name) for name in ("ends", "edges", "baffles"))
    lines, made = list[Line](), list[JointMethod]()
    if "end panels" in job.parts and ends is not None:
        lines.append(Line("End panels across both ends of the inner shell: {method}.", plainly(ends)))
        made.append(ends)
    if "edge walls" in job.parts and edges is not None:
        lines.append(Line("Edge walls along both long edges of the inner shell: {method}.", by(edges)))
        made.append(edges)
    if job.has_baffles and baffles is not None:
        lines.append(
            Line(
                f"All baffles, line by line {start_of(job)}: {{method}}. Right edge up, none twisted.",
                by(baffles),
            )
        )
        made.append(baffles)
    if not lines:
        return
    if any(method.tape_m_per_m > 0 for method in made):
        lines.insert(0, Line("Wipe the places and let them dry. Rub each strip of tape down at once."))
    shares = {"baffles": 0.5} if job.has_baffles else {}
    if "end panels" in job.parts:
        shares["ends"] = 0.5
    if "edge walls" in job.parts:
        shares["edges"] = 0.5
    names = ("inner shell", "baffles", "edge walls", "end panels")
    weigh = job.weigh_parts("inner shell with its strips", names, shares)
    yield Step(
        0, "strips on", "Join the strips to the inner shell", "joining", tuple(lines), weigh=(weigh,),
        cautions=fumes(*made),
    )  # fmt: skip
    if job.has_baffles and baffles is not None and baffles.tape_m_per_m > 0:
        yield Step(
            0,
            "mask",
            "Tape the outer shell and mark its places",
            "strips",
            (
                Line("Lay tape on every line of the outer shell and leave the liners on."),
                Line("Mark the ends of each line on the right side with masking tape: you will work blind."),
            ),
        )
