"""What is made apart and fitted on: the pockets of a top quilt, footbox, cords and closures."""

from collections.abc import Iterator

from engine.bench.job import Job
from engine.bench.step_model import CautionId, Line, Step, StepValues
from engine.catalogue.models import JointMethod
from engine.layout import stations
from engine.quantities import CHANNEL_ALLOWANCE_M
from engine.units import MM

CHANNEL_FLAT_M = 0.016
"""Flat width of a cord channel, 15 to 20 mm (common practice, no source)."""


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


def channel(job: Job, where: str = "") -> Iterator[Line]:
    """How a gathered end is folded to its cord channel, and how wide it is when the cord is in.

    Source  common practice, no source
    """
    text, values = gathered(job)
    if text:
        values["allowance"] = (CHANNEL_ALLOWANCE_M, "bench_length")
        values["flat"] = (CHANNEL_FLAT_M, "bench_length")
        start = f"{where}: fold" if where else "Fold"
        yield Line(
            f"{start} {{allowance}} over to a channel of {{flat}} for the cord, open at both sides; {text}.",
            values,
        )


def gathered(job: Job) -> tuple[str, StepValues]:
    """To which width the cords gather the ends; nothing where no end is gathered.

    Source  definition
    """
    head_m = job.one.derived.gathered_width_m
    if job.design.ends.shape != "gathered" or head_m is None:
        return "", {}
    widths = stations(job.design.outline)[1]
    foot_m = head_m * float(widths[-1]) / float(widths[0])
    if abs(foot_m - head_m) < MM:
        return "gather to {head}", {"head": (head_m, "bench_length")}
    both: StepValues = {"head": (head_m, "bench_length"), "foot": (foot_m, "bench_length")}
    return "gather to {head} at the head, {foot} at the foot", both


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
    text, widths = gathered(job)
    if text and job.joints.totals.cord_m > 0:
        lines.append(Line(f"Draw an end cord through the channel of each end and {text}.", widths))
    if job.joints.totals.cord_m > 0:
        lines.append(Line("Knot the end of each cord, so that no lock slips off."))
    if job.design.tabs:
        lines.append(Line("Pull at every tab once, hard, before anybody trusts it."))
    if lines:
        title = "Fit footbox and closures" if job.top else "Fit cords and hardware"
        yield Step(0, "fittings", title, "joining", tuple(lines), cautions=("Hanging",))
