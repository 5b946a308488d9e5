"""How do the pieces become a quilt with one way in? Joining, in the order that leaves no corner shut."""

from collections.abc import Iterator

from engine.bench.fill_plan import PORT_M
from engine.bench.job import Job
from engine.bench.step_model import Line, Step, Stop
from engine.bench.steps_fitting import by, channel, fumes, pockets
from engine.bench.steps_shells import on_the_shells, start_of, strips_on
from engine.bench.surplus import across_is, along_is

DRY_ABOVE_C = 15.0
"""Tape and sealant want a dry room above this (common practice, no source)."""
SAME = 1e-9


def joining(job: Job) -> Iterator[Step]:
    """Steps from cut pieces to an empty quilt with its filling port open, not yet numbered.

    Source  common practice, no source
    """
    yield from on_the_shells(job)
    yield from strips_on(job)
    yield _second_shell(job)
    yield _sides(job)
    yield _ends(job)
    yield from pockets(job)
    if float(job.score.cure_h) > 0:
        yield Step(
            0,
            "cure",
            "Let it cure",
            "joining",
            (
                Line(
                    "Leave it flat, in a dry room above {warm}, for {cure}; pull at nothing.",
                    {"warm": (DRY_ABOVE_C, "temperature"), "cure": (float(job.score.cure_h), "hours")},
                ),
            ),
            cautions=fumes(*job.construction.methods.values()),
        )


def _second_shell(job: Job) -> Step:
    baffles = job.method("baffles")
    stop = Stop(
        "second shell",
        "Before the second shell goes on: right side out, head to head, outer over inner and not turned"
        + (", every strip standing and none twisted." if job.has_baffles else "."),
    )
    lines = list[Line]()
    if not job.down:
        lines.append(
            Line(
                "Cut {layers} of sheet insulation to the inner shell"
                + (", in strips as wide as the chambers," if job.has_baffles else "")
                + " and lay it on.",
                {"layers": (_layers(job), "word")},
            )
        )
    if job.has_baffles and baffles is not None:
        lines.append(Line(f"Baffle by baffle {start_of(job)}, none left out: {{method}}.", by(baffles)))
        if baffles.thread_m_per_m > 0:
            lines.append(Line("Keep what is joined bunched to the left, and feed both cloths alike."))
        if baffles.tape_m_per_m > 0:
            lines.append(
                Line("Pull one liner at a time; tape that has touched does not come off film whole.")
            )
    elif job.has_lines and baffles is not None:
        lines.append(
            Line("Lay the outer shell on, hold it every hand's breadth, and join line by line: {method}.",
                 by(baffles))
        )  # fmt: skip
    else:
        lines.append(Line("Lay the outer shell on and hold both all round."))
    methods = [baffles] if baffles is not None else []
    return Step(0, "second shell", "Join the outer shell", "joining", tuple(lines), stop,
                cautions=fumes(*methods))  # fmt: skip


def _layers(job: Job) -> str:
    count = job.design.fill.layers
    return "one layer" if count == 1 else f"{count} layers"


def _sides(job: Job) -> Step:
    edges, loft = job.method("edges"), job.score.loft
    lines = list[Line]()
    if edges is not None:
        side = job.fill is not None and job.fill.port == "each chamber's side end"
        which = "One long edge whole; the other only between the chambers" if side else "Both long edges"
        lines.append(Line(f"{which}: {{method}}.", by(edges)))
        if side:
            lines.append(Line("Each chamber's end on that side is its filling port."))
        if edges.sealant_ml_per_m > 0:
            lines.append(Line("Fold the edge over and seal it; weigh it down until it holds."))
    if float(loft.outer_stretch_along) > 1 + SAME:
        lines.append(
            Line(
                "The outer shell is {more} longer along; it is {surplus}.",
                {
                    "more": (
                        job.one.derived.outer_cut_m[0] - job.one.derived.inner_cut_m[0],
                        "bench_length",
                    ),
                    "surplus": (along_is(job.design), "word"),
                },
            )
        )
    methods = [edges] if edges is not None else []
    stop = Stop(
        "closing",
        "Before it is closed: the sheet lies flat to every edge, nothing is forgotten inside.",
    )
    return Step(
        0,
        "long edges",
        "Close the long edges",
        "joining",
        tuple(lines),
        None if job.down else stop,
        cautions=fumes(*methods),
    )


def _ends(job: Job) -> Step:
    ends, loft, fill = job.method("ends"), job.score.loft, job.fill
    open_head = fill is not None and fill.port == "each chamber's end"
    lines = list[Line]()
    if ends is not None:
        lines.append(Line("Foot end: {method}." if open_head else "Head and foot end: {method}.", by(ends)))
    lines += channel(job)
    if float(loft.outer_stretch_across) > 1 + SAME:
        lines.append(
            Line(
                "The outer shell is {more} wider; it is {surplus}.",
                {
                    "more": (
                        job.one.derived.outer_cut_m[1] - job.one.derived.inner_cut_m[1],
                        "bench_length",
                    ),
                    "surplus": (across_is(job.design), "word"),
                },
            )
        )
    if fill is not None and fill.port == "one port at one end":
        lines.append(
            Line(
                "Leave the filling port open: {low} to {high} in the middle of the head end. Note its place.",
                {"low": (PORT_M[0], "bench_length"), "high": (PORT_M[1], "bench_length")},
            )
        )
    elif open_head:
        lines.append(
            Line(
                "Leave each chamber's end open at the head: there the down goes in. The head is closed then."
            )
        )
    title = "Close the ends" + (", all but the filling port" if fill is not None else "")
    if open_head:
        title = "Close the foot end; the head stays open"
    if fill is not None and fill.port == "each chamber's side end":
        title = "Close the ends"
    methods = [ends] if ends is not None else []
    if not job.down:
        lines.append(Line("Weigh it, with its cords and hardware on the scale."))
    weigh = () if job.down else (job.weigh_full("finished quilt"),)
    return Step(0, "ends", title, "joining", tuple(lines), weigh=weigh, cautions=fumes(*methods))
