"""How does the fill get in, and how is the quilt closed, hung, packed and tried? The last steps."""

from collections.abc import Iterator
from math import isfinite

from engine.air import GENTLE_HAND_PA
from engine.bench.care import care_of, label_of
from engine.bench.fill_plan import LOSS_HIGH, LOSS_LOW, FillPlan
from engine.bench.job import Job
from engine.bench.labour_plan import FULL_STRENGTH_H
from engine.bench.step_model import Line, Step, Stop
from engine.bench.steps_fitting import by, channel, fittings, fumes
from engine.catalogue.models import JointMethod

REST_H = (12.0, 24.0)
"""Before loft is measured (common practice, no source)."""
CLOSURE_M = 0.25
"""A strip of closure that opens again; worth its 5 g (common practice, no source)."""


def filling(job: Job) -> Iterator[Step]:
    """Steps from the empty quilt to the first night, not yet numbered.

    Source  common practice, no source
    """
    fill = job.fill
    if fill is not None:
        yield _tare(job)
        yield _bags(job, fill)
        yield _fill(job, fill)
        yield _rest(job, fill)
        yield _close(job, fill)
    yield from fittings(job)
    yield _loft(job)
    yield _pack(job)
    yield _first_night()
    label = tuple(label_of(job.one, job.catalogue))
    care = care_of(job.construction, job.down).lines
    yield Step(0, "label", "Write its label, and keep to its care", "marking", (*label, *care))


def _tare(job: Job) -> Step:
    return Step(
        0,
        "tare",
        "Weigh it empty: the tare",
        "scale",
        (
            Line("Lay on the scale with it whatever comes on later: cords, locks, closures, pockets."),
            Line("Write the tare down, large. Fill is what the full quilt weighs more."),
        ),
        weigh=(job.weigh("tare", lambda score: score.tare_kg),),
    )


def _bags(job: Job, fill: FillPlan) -> Step:
    stop = Stop(
        "opening the down",
        "Before the down is opened: all joined and looked through against the light, ports open, tare "
        "written down, no fan, windows shut, everything you need within reach.",
    )
    lines = [
        Line("Down from an old bag first goes warm through a tumble dryer for 20 minutes."),
        Line("Weigh bags and quilt in the same room on the same day: damp moves them by 2 to 5 %."),
    ]
    lines += [
        Line(
            "Bag {number}: {size} on it. Weigh it full and write it down; {left} should be left after the "
            "first fill, {end} after topping up.",
            {
                "number": (float(bag.number), "number"),
                "size": (bag.size_kg, "mass"),
                "left": (bag.left_kg, "fine mass"),
                "end": (bag.end_kg, "fine mass"),
            },
        )
        for bag in fill.bags
    ]
    return Step(0, "bags", "Weigh the down", "scale", tuple(lines), stop)


def _fill(job: Job, fill: FillPlan) -> Step:
    lines = [
        Line(
            "Put in {first} now and keep {back} back.",
            {"first": (fill.first_kg, "fine mass"), "back": (fill.back_kg, "fine mass")},
        ),
        Line(
            "Push a bag of weighed down right inside, open it there, shake it out, pull it back and weigh it "
            "again: what is left in it is not in the quilt."
        ),
        Line(
            "Expect to lose {low} to {high} % in bags and air; {share} % is planned for.",
            {
                "low": (100 * LOSS_LOW, "number"),
                "high": (100 * LOSS_HIGH, "number"),
                "share": (100 * fill.loss_share, "number"),
            },
            tick=False,
        ),
    ]
    hold = "clip" if job.construction.film_shells else "pin"
    lines.append(
        Line(f"Chamber by chamber; {hold} each shut when it has its down.")
        if fill.port != "one port at one end"
        else Line("The far zones first, while the way is free.")
    )
    lines += [
        Line(
            "{zone}: {mass} now, from bag {bag}; {whole} in all.",
            {
                "zone": (one.zone.name[:1].upper() + one.zone.name[1:], "word"),
                "mass": (one.first_kg, "fine mass"),
                "bag": (" and ".join(str(number) for number, _ in one.bags) or "none", "word"),
                "whole": (one.mass_kg, "fine mass"),
            },
        )
        for one in fill.fills
    ]
    weigh = job.weigh("quilt with its first fill", lambda score: score.tare_kg + fill.first_kg)
    return Step(0, "fill", "Fill it", "filling", tuple(lines), weigh=(weigh,))


def _rest(job: Job, fill: FillPlan) -> Step:
    lines = (
        Line("Shut the port lightly, shake the quilt and leave it lying for a night."),
        Line("Hold it against the light, or feel it through: where is it thin?"),
        Line("Put the {back} that was kept back where it is thin.", {"back": (fill.back_kg, "fine mass")}),
    )
    weigh = job.weigh("full quilt", lambda score: score.tare_kg + fill.whole_kg)
    return Step(0, "rest", "Rest a night, then top up", "filling", lines, weigh=(weigh,))


def _close(job: Job, fill: FillPlan) -> Step:
    stop = Stop(
        "closing",
        "Before it is closed: full less tare is {fill}, nothing is forgotten inside, no cold spot is left.",
        {"fill": (fill.whole_kg, "fine mass")},
    )
    method = job.method("edges" if fill.port == "each chamber's side end" else "ends")
    head = fill.port == "each chamber's end"
    what = "head, chamber by chamber," if head else "port"
    lines = [
        Line(
            f"Close the {what} by one row of long basting stitches, 5 mm, just inside its seam line: it can "
            "be opened again."
        )
        if method is not None and method.thread_m_per_m > 0
        else Line(
            f"Close the {what} with a strip of press-together closure, {{strip}} at a time, or with one "
            "strip that can be peeled and renewed: it must open again.",
            {"strip": (CLOSURE_M, "bench_length")},
        ),
    ]
    over = list(_channel_over(job, fill, method))
    lines += [*over, Line("Write on the label where the port is.")]
    return Step(0, "close", "Close it so that it opens again", "joining", tuple(lines), stop,
                (job.weigh_full("closed quilt, all on the scale"),),
                fumes(method) if over and method is not None else ())  # fmt: skip


def _channel_over(job: Job, fill: FillPlan, method: JointMethod | None) -> Iterator[Line]:
    """The cord channel at the head, which could not be made while the down went in there."""
    if fill.port == "each chamber's side end" or job.design.ends.shape != "gathered" or method is None:
        return
    if fill.port == "each chamber's end":
        yield Line("Then make the head's channel over it, as at the foot: {method}.", by(method))
        yield from channel(job)
    else:
        yield Line(
            "Then make the piece of the head's channel that was left out, over it: {method}.", by(method)
        )
    if float(job.score.cure_h) > 0 and (method.tape_m_per_m > 0 or method.sealant_ml_per_m > 0):
        yield Line(
            "Leave it flat for {cure} before a cord pulls at it.",
            {"cure": (float(job.score.cure_h), "hours")},
        )


def _loft(job: Job) -> Step:
    derived = job.one.derived
    return Step(
        0,
        "loft",
        "Measure its loft",
        "marking",
        (
            Line(
                "Shake it, leave it lying {low} to {high}, and measure without pressing.",
                {"low": (REST_H[0], "hours"), "high": (REST_H[1], "hours")},
            ),
            Line(
                "In the middle of a chamber about {middle}, over the whole about {mean}."
                if job.down
                else "Away from edges and lines about {middle}.",
                {"middle": (derived.loft_middle_m, "bench_length"), "mean": (derived.loft_m, "bench_length")},
            ),
        ),
    )


def _pack(job: Job) -> Step:
    air, made = job.one.air, job.construction
    lines = [Line("Lay it flat and roll it from the closed end towards where air can leave.")]
    if air.no_way_out:
        lines.append(
            Line("No air leaves it through its shells: open the port, press it flat, close it again.")
        )
    elif isfinite(air.squeeze_out_s):
        lines.append(
            Line(
                "With a forearm on it its air leaves in {seconds}; give it that time.",
                {"seconds": (air.squeeze_out_s, "seconds")},
            )
        )
    if air.limit_matters and not air.passes_stuffing:
        lines.append(
            Line(
                "Stop when it goes hard: its baffles hold {limit}, {times} times the press of a forearm, and "
                "only cloth that no hand backs feels it.",
                {
                    "limit": (air.squeeze_limit_pa, "pressure"),
                    "times": (air.squeeze_limit_pa / GENTLE_HAND_PA, "number"),
                },
            )
        )
    if made.bonded:
        lines.append(
            Line(
                "Do not stuff it hard until {wait} after the last joint.",
                {"wait": (FULL_STRENGTH_H, "hours")},
            )
        )
    return Step(0, "pack", "Squeeze the air out and pack it", "outdoors", tuple(lines),
                cautions=("Film",) if made.film_anywhere else ())  # fmt: skip


def _first_night() -> Step:
    return Step(
        0,
        "first night",
        "Try it near shelter",
        "outdoors",
        (
            Line(
                "The first night within reach of a warm room, with more insulation than you think you need."
            ),
            Line("Weigh it the next morning: more than before is damp, so dry it."),
        ),
        cautions=("Cold", "Fire", "Hanging"),
    )
