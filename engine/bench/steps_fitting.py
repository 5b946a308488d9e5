"""What is made apart and fitted on: the pockets of a top quilt, footbox, cords and closures."""

from collections.abc import Iterator

from engine.bench.job import Job
from engine.bench.step_model import CautionId, Line, Step, StepValues
from engine.catalogue.models import JointMethod
from engine.units import MM


def by(method: JointMethod) -> StepValues:
    """The name of a method, for a line that says {method}.

    Source  definition
    """
    return {"method": (method.name, "word")}


def fumes(*methods: JointMethod) -> tuple[CautionId, ...]:
    """The caution of those methods that give off solvent.

    Source  definition
    """
    return ("Solvent",) if any(method.solvent for method in methods) else ()


def pockets(job: Job) -> Iterator[Step]:
    """Footbox panel and collar of a top quilt, made before the tare is weighed.

    Source  common practice, no source
    """
    edges, top = job.method("footbox and collar"), job.design.top
    if not job.top or edges is None:
        return
    lines = list[Line]()
    if top.footbox == "sewn with end panel":
        lines.append(
            Line(
                "Two ovals of {wide} by {high} to a pocket, open by a hand's breadth: the foot's end panel.",
                {
                    "wide": (top.panel_width_mm * MM, "bench_length"),
                    "high": (top.panel_height_mm * MM, "bench_length"),
                },
            )
        )
    if top.collar:
        lines.append(
            Line(
                "A tube of {flat} flat along the head end, open by a hand's breadth: the collar.",
                {"flat": (top.collar_flat_mm * MM, "bench_length")},
            )
        )
    if lines:
        lines.append(Line("Both by: {method}." if len(lines) > 1 else "By: {method}.", by(edges)))
        yield Step(0, "pockets", "Make the pockets of the top quilt", "joining", tuple(lines),
                   cautions=fumes(edges))  # fmt: skip


def fittings(job: Job) -> Iterator[Step]:
    """What goes on when the quilt is closed: footbox, cords, locks, closures.

    Source  common practice, no source
    """
    top, lines = job.design.top, list[Line]()
    edges = job.method("footbox and collar")
    if job.top and top.footbox != "none" and edges is not None:
        lines.append(
            Line(
                "Join the long edges for {long} from the foot"
                + (
                    ", then the filled end panel into the opening"
                    if top.footbox == "sewn with end panel"
                    else ""
                )
                + ": {method}.",
                {
                    "long": (top.footbox_length_mm * MM, "bench_length"),
                    "method": (edges.name, "word"),
                },
            )
        )
    for line in job.joints.totals.hardware:
        name = line.name[:1].upper() + line.name[1:]
        lines.append(
            Line("{good}: {metres}.", {"good": (name, "word"), "metres": (line.used, "length")})
            if line.unit == "m"
            else Line("{good}: {count}.", {"good": (name, "word"), "count": (line.used, "number")})
        )
    if job.joints.totals.cord_m > 0:
        lines.append(Line("Knot the end of each cord, so that no lock slips off."))
    if job.design.tabs:
        lines.append(Line("Pull at every tab once, hard, before anybody trusts it."))
    if lines:
        title = "Fit footbox and closures" if job.top else "Fit cords and hardware"
        yield Step(0, "fittings", title, "joining", tuple(lines), cautions=("Hanging",))
