"""What is done before anything is joined: the table, the trials, marking and the first cut."""

from collections.abc import Iterator

from engine.bench.coupon import coupons, how_to
from engine.bench.job import Job
from engine.bench.piece_model import Piece
from engine.bench.step_model import CautionId, Line, Step, Stop
from engine.formulas.cost import TAPE_WASTE, THREAD_WASTE
from engine.quantities import BAFFLE_ALLOWANCE_M, LAP_M
from engine.units import GRAM, MM

DATUM_M = 0.5
"""Between datum lines (common practice, no source)."""
SWATCH_M = 0.1
TRIAL_M = 0.3
TRIAL_DOWN_KG = 10 * GRAM
"""A trial square with one baffle and this much down (common practice, no source)."""
LOADED_LAP_M = 0.025
"""Of a panel join where a cord pulls (common practice, no source)."""
SAME = 1e-9


def before(job: Job) -> Iterator[Step]:
    """Steps up to the pieces that lie cut on the table, not yet numbered.

    Source  common practice, no source
    """
    yield Step(0, "table", "Lay out what you need", "marking", tuple(_table(job)))
    yield Step(0, "swatch", "Weigh a swatch of each cloth", "scale", tuple(_swatches(job)))
    wanted = coupons(job.design, job.catalogue, job.score)
    if wanted:
        cautions: tuple[CautionId, ...] = ("Solvent",) if job.construction.solvent else ()
        tried = tuple(
            Line(
                "{method} on {cloth}: a strip {width} wide should just hold {mass}, {peel}."
                if coupon.expected_n_m > 0
                else "{method} on {cloth}: hardly holds; if the coupon shows it too, take another method.",
                {
                    "method": (coupon.method_name[:1].upper() + coupon.method_name[1:], "word"),
                    "cloth": (coupon.cloth_name, "word"),
                    "mass": (coupon.expected_kg, "mass"),
                    "width": (coupon.width_m, "bench_length"),
                    "peel": (coupon.expected_n_m, "peel"),
                },
            )
            for coupon in wanted
        )
        yield Step(0, "coupon", "Hang a peel coupon of each bond", "strips", (*how_to(), *tried),
                   cautions=cautions)  # fmt: skip
    yield Step(0, "trial", "Make a trial square", "joining", tuple(_trial(job)))
    yield Step(0, "mark", "Lay out and mark both shells", "marking", tuple(_marking(job)))
    yield _cutting(job)
    if job.has_baffles or "end panels" in job.parts or "edge walls" in job.parts:
        weigh = job.weigh_parts("all strips", ("baffles", "edge walls", "end panels"), {})
        yield Step(0, "strips", "Cut the strips", "strips", tuple(_strips(job)), weigh=(weigh,))
    if job.construction.hot:
        yield Step(
            0,
            "sear",
            "Sear the raw edges of the woven cloth",
            "cutting",
            (Line("Glass or metal under the blade, window open; draw it once, without stopping."),),
            cautions=("Hot knife",),
        )


def _table(job: Job) -> Iterator[Line]:
    made, totals = job.construction, job.joints.totals
    more = 1 + TAPE_WASTE
    yield Line(
        "A scale that reads {step} or finer, wide enough for the whole quilt.",
        {"step": (job.step_kg, "fine mass")},
    )
    yield Line(
        "A straightedge of {straight}, and a pen that was tried on a scrap of each cloth.",
        {"straight": (1.0, "bench_length")},
    )
    yield Line("Paper labels: INNER, OUTER, HEAD, FOOT, RIGHT SIDE.")
    if made.film_shells:
        yield Line("Clips and weights instead of pins: a hole in film stays and tears on.")
    else:
        yield Line("Clips or fine pins, and weights.")
    if made.sewn:
        yield Line(
            "Needles of size 60 to 70 and fine polyester thread, {thread}; stitches of {stitch}.",
            {
                "thread": (totals.thread_m * (1 + THREAD_WASTE), "length"),
                "stitch": ("3.5 mm" if made.film_shells else "2.5 mm", "word"),
            },
        )
    if made.taped:
        yield Line(
            "Tape, {tape} in all with waste; a spoon or roller to rub it down; masking tape for places.",
            {"tape": (totals.tape_m * more, "length")},
        )
    if made.sealed:
        yield Line(
            "Sealant, {sealant} with waste, and gloves; an opened tube keeps for weeks only.",
            {"sealant": (totals.sealant_m3 * more, "liquid")},
        )
    if made.bonded:
        yield Line("Alcohol and a cloth without lint to wipe with: window open, no flame.")
    if made.hot:
        yield Line("A hot knife, and glass or metal to cut on; a window that opens.")
    if job.down:
        yield Line("A bath tub or a tent for the filling: still air, no fan. Damp hands hold down back.")


def _swatches(job: Job) -> Iterator[Line]:
    yield Line(
        "Cut {side} by {side} off each cloth and weigh it: its weight over its area is its areal mass. Put "
        "that in as your own number.",
        {"side": (SWATCH_M, "bench_length")},
    )
    design = job.design
    ids = [design.shells.inner, design.shells.outer]
    if job.has_baffles or "edge walls" in job.parts:
        ids.append(design.baffles.fabric)
    if "end panels" in job.parts:
        ids.append(design.end_panels.fabric)
    for id in dict.fromkeys(ids):
        fabric = job.catalogue.fabric(id)
        yield Line(
            "{cloth}: {areal} expected.",
            {
                "cloth": (fabric.name[:1].upper() + fabric.name[1:], "word"),
                "areal": (fabric.areal_mass_g_m2 * GRAM, "areal_mass"),
            },
        )


def _trial(job: Job) -> Iterator[Line]:
    what = "one baffle" if job.has_baffles else "one line" if job.has_lines else "closed edges"
    filled = "{down} of the down" if job.down else "a piece of the sheet"
    yield Line(
        f"Two pieces of {{side}} by {{side}} out of the shells' cloth, with {what} and {filled} inside.",
        {"side": (TRIAL_M, "bench_length"), "down": (TRIAL_DOWN_KG, "mass")},
    )
    yield Line("Join it by the same methods, in the same order, with the same allowances as the quilt.")
    yield Line("Crumple it, pull at it, look against the light; change now what you would change later.")


def _marking(job: Job) -> Iterator[Line]:
    derived, loft = job.one.derived, job.score.loft
    yield Line("Lay the cloth flat, the side that goes inside upwards.")
    yield from _sides_of_cloth(job)
    for name, (length, width) in (("INNER", derived.inner_cut_m), ("OUTER", derived.outer_cut_m)):
        yield Line(
            f"{name}: draw the outline, {{length}} by {{width}} with allowances, square by its diagonals.",
            {"length": (length, "bench_length"), "width": (width, "bench_length")},
        )
    yield Line(
        "Draw datum lines every {datum} from the head end, and measure every place from one edge: gaps add "
        "up their errors.",
        {"datum": (DATUM_M, "bench_length")},
    )
    if job.has_baffles or (job.has_lines and job.down):
        along = float(loft.outer_stretch_along) if job.short else 1.0
        stretched = max(along, derived.chamber_outer_m / derived.chamber_inner_m) > 1 + SAME
        yield Line(
            "Mark the lines on both shells. They lie at other places on the outer: chambers of {inner} on "
            "INNER are {outer} on OUTER."
            if stretched
            else "Mark the lines on both shells, at the same places: chambers of {inner}.",
            {
                "inner": (derived.chamber_inner_m, "bench_length"),
                "outer": (derived.chamber_outer_m, "bench_length"),
            },
        )
    if job.has_lines and not job.down and job.design.fill.quilting_mm > 0:
        yield Line(
            "Mark the quilting lines on the outer shell, every {lines} from the head end.",
            {"lines": (job.design.fill.quilting_mm * MM, "bench_length")},
        )
    yield Line("Write INNER or OUTER, HEAD and FOOT on each shell, where it will not show.")


def _sides_of_cloth(job: Job) -> Iterator[Line]:
    """Which side of the shells' cloth goes inside, where it has two that differ."""
    shells = job.design.shells
    kinds = {job.catalogue.fabric(id).construction for id in (shells.inner, shells.outer)}
    if "calendered ripstop" in kinds:
        yield Line("Calendered cloth: its shiny side to the fill, its water-repellent side out.")
    if "laminate film" in kinds and job.construction.taped:
        yield Line("Film: the side that the tape was tried on to the fill.")


def _cutting(job: Job) -> Step:
    stop = Stop(
        "first cut",
        "Before the first cut: measure both shells once more, edge to edge and corner to corner. The right "
        "number of pieces, each the right way up, on cloth that is long enough.",
    )
    lines = [Line("Cut both shells on the line."), Line("Keep offcuts for strips, patches and repairs.")]
    join = job.method("panel joins")
    if join is not None:
        lines.append(
            Line(
                "Where a shell is wider than the roll, cut {lap} more for each join ({loaded} where a cord "
                "pulls), and join the panels first: {method}. Keep joins off the corners.",
                {
                    "lap": (LAP_M, "bench_length"),
                    "loaded": (LOADED_LAP_M, "bench_length"),
                    "method": (join.name, "word"),
                },
            )
        )
    return Step(
        0,
        "cut",
        "Cut the shells",
        "cutting",
        tuple(lines),
        stop,
        (
            job.weigh_parts("inner shell, cut", ("inner shell",), {}),
            job.weigh_parts("outer shell, cut", ("outer shell",), {}),
        ),
        ("Film",) if job.construction.film_anywhere else (),
    )


def _strips(job: Job) -> Iterator[Line]:
    derived = job.one.derived
    if job.has_baffles and derived.baffle_cut_width_m is not None:
        yield Line(
            "{count} baffles, cut {cut} wide, finished {finished}: an allowance of {more} on each edge.",
            {
                "count": (float(derived.baffle_count), "number"),
                "cut": (derived.baffle_cut_width_m, "bench_length"),
                "finished": (float(job.one.quantities.baffle_height_m), "bench_length"),
                "more": (BAFFLE_ALLOWANCE_M, "bench_length"),
            },
        )
        yield from (_strip(piece) for piece in job.strips if piece.part == "baffles")
    yield from (_strip(piece) for piece in job.strips if piece.part != "baffles")


def _strip(piece: Piece) -> Line:
    """One size of strip, its lengths as in the cut list."""
    inner, outer = piece.long_edges_m
    high = ", cut {cut} wide, finished {finished} high" if piece.part != "baffles" else ""
    what = f"{{count}} × {{piece}}{high}: "
    return Line(
        what + "a trapezoid, cut {inner} long on its inner edge, {outer} on its outer."
        if piece.is_trapezoid
        else what + "cut {inner} long.",
        {
            "count": (float(piece.count), "number"),
            "piece": (piece.name, "word"),
            "cut": (piece.cut_m[1], "bench_length"),
            "finished": (piece.finished_m[1], "bench_length"),
            "inner": (inner, "bench_length"),
            "outer": (outer, "bench_length"),
        },
    )
