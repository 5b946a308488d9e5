"""Do the goods suit each other and the damp: down through a shell, tape on a surface, air, raw edges."""

from collections.abc import Iterator

from engine.air import GENTLE_HAND_PA, air_of
from engine.catalogue.models import Fabric
from engine.cautions.caution import Case, Caution, Check, Values
from engine.damp import damp_of
from engine.quantities import standing_height

TRAPS_DAMP_SD_M = 1.0
SLOWS_DAMP_SD_M = 0.03
"""Still air layers: from a metre on a face keeps damp back, below 3 cm it hardly does; ours."""
STITCHED = "tape-12-stitch"
"""The joint that is offered where tape alone does not hold."""


def lets_down_through(fabric: Fabric) -> bool:
    """Not fit for a shell round loose down.

    Source  common practice, no source
    """
    return fabric.downproof in ("no", "small vents only")


def refuses_tape(fabric: Fabric) -> bool:
    """Nothing that is stuck to it holds.

    Source  common practice, no source
    """
    return fabric.tape == "refuses"


def _downproof(case: Case) -> Iterator[Caution]:
    if not case.down:
        return
    for side, fabric in (("inner", case.inner), ("outer", case.outer)):
        values: Values = {
            "side": (side, "word"),
            "cloth": (fabric.name, "word"),
            "air": (fabric.air_permeability_mm_s, "air_permeability"),
        }
        if lets_down_through(fabric):
            yield Caution(
                "shell not downproof",
                "stop",
                f"shells.{side}",
                "The {side} shell lets down through: {cloth} passes {air} of air, down needs 8 or less.",
                "Take a calendered ripstop or a laminate film.",
                values,
                {f"shells.{side}": "nylon-10d-26"},
            )
        elif fabric.downproof == "good down":
            yield Caution(
                "shell holds good down only",
                "note",
                f"shells.{side}",
                "The {side} shell, {cloth}, holds good down; a few quills will come through.",
                "Use clean down of 800 fill power or more.",
                values,
            )


def _tape(case: Case) -> Iterator[Caution]:
    joints = case.design.joints
    panels = [case.catalogue.fabric(case.design.end_panels.fabric)] if case.design.end_panels.fitted else []
    shells = [case.inner, case.outer]
    walls = [case.catalogue.fabric(case.design.baffles.fabric)] if case.quantities.baffle_cloth else []
    for where, surfaces in (
        ("baffles", shells + walls),
        ("edges", shells),
        ("ends", shells + panels),
        ("panel_joins", shells if case.quantities.panel_joins.pieces > 0 else []),
    ):
        method = case.catalogue.joint(getattr(joints, where))
        if method.tape_m_per_m == 0:
            continue
        for fabric in {surface.id: surface for surface in surfaces}.values():
            values: Values = {
                "class": (where.replace("_", " "), "word"),
                "cloth": (fabric.name, "word"),
            }
            if refuses_tape(fabric):
                yield Caution(
                    "bond on a surface that refuses tape",
                    "stop",
                    f"joints.{where}",
                    "Tape does not hold on {cloth}, and the {class} are taped.",
                    "Sew the {class}.",
                    values,
                    {f"joints.{where}": "sewn-seam"},
                )
            elif fabric.tape == "stitch too" and method.thread_m_per_m == 0:
                yield Caution(
                    "tape needs a stitch too",
                    "mind",
                    f"joints.{where}",
                    "Tape on {cloth} holds about a third of what it holds on film.",
                    "Add a row of stitches to the {class}.",
                    values,
                    {f"joints.{where}": "tape-12-stitch"},
                )


def _peel(case: Case) -> Iterator[Caution]:
    """A face-to-face joint that is pulled open must not hang on adhesive alone."""
    for where in ("edges", "ends"):
        method = case.catalogue.joint(getattr(case.design.joints, where))
        pulled = where == "ends" or case.design.edges.kind == "pinched"
        if method.kind == "tape" and pulled:
            yield Caution(
                "peel-loaded joint without stitch",
                "mind",
                f"joints.{where}",
                "The {class} meet face to face and are pulled open, where tape is weakest: {peel} N a metre.",
                "Add a row of stitches, or fold and glue the {class}.",
                {"class": (where, "word"), "peel": (method.peel_n_m, "number")},
                {f"joints.{where}": "tape-12-stitch"},
            )
    if case.design.tabs and case.outer.construction == "laminate film":
        yield Caution(
            "tabs on film",
            "note",
            "tabs",
            "Each of the {tabs} tabs pulls at one point, and film tears from a hole.",
            "Stitch a cloth patch of 40 × 40 mm under each; never tape alone.",
            {"tabs": (float(case.design.tabs), "number")},
        )


def _air_and_damp(case: Case) -> Iterator[Caution]:
    design = case.design
    panels = case.catalogue.fabric(design.end_panels.fabric) if design.end_panels.fitted else None
    vented = panels is not None and not panels.airtight and standing_height(design) > 0
    if case.inner.airtight and case.outer.airtight and not vented:
        walled = standing_height(design) > 0
        yield Caution(
            "airtight shell without a vent",
            "mind",
            "end_panels.fitted" if walled else "shells.outer",
            "Both shells are airtight: the air cannot leave to pack it, nor come back to loft.",
            # Where the shells meet at the ends there is no room for a panel.
            "Fit end panels of uncoated ripstop." if walled else "Take a breathable outer shell.",
            change={"end_panels.fitted": True, "end_panels.fabric": "ripstop-38"}
            if walled
            else {"shells.outer": "nylon-10d-26"},
        )
    yield from _film_faces(case)


def _stuffing(case: Case) -> Iterator[Caution]:
    """Air that both shells shut in pulls the baffles off when it is packed in a hurry."""
    if not (case.inner.airtight and case.outer.airtight):
        return
    air = air_of(case.design, case.catalogue, case.quantities, case.score)
    # Where nothing holds at all, the bond itself is the fault, and it is told as such.
    if not air.limit_matters or air.passes_stuffing or air.squeeze_limit_pa == 0:
        return
    joints = case.design.joints.model_copy(update={"baffles": STITCHED})
    stitched = case.design.model_copy(update={"joints": joints})
    mends = air_of(stitched, case.catalogue, case.quantities, case.score).passes_stuffing
    lines = "baffles" if standing_height(case.design) > 0 else "quilting lines"
    way_out = "the open port" if air.no_way_out else "the vents"
    yield Caution(
        "stuffing tears the baffles loose",
        "mind",
        "joints.baffles",
        "Pressing it hard while packing can tear the {lines} loose: they hold {limit}.",
        "Squeeze the air out slowly through {way_out}, with at most {times} times the press of a forearm; or "
        + ("stitch the {lines} too." if mends else "set the {lines} closer."),
        {
            "lines": (lines, "word"),
            "way_out": (way_out, "word"),
            "limit": (air.squeeze_limit_pa, "pressure"),
            "times": (air.squeeze_limit_pa / GENTLE_HAND_PA, "number"),
        },
        {"joints.baffles": STITCHED} if mends else {},
    )


def _film_faces(case: Case) -> Iterator[Caution]:
    traps = case.outer.vapour_sd_m > TRAPS_DAMP_SD_M and case.inner.vapour_sd_m < SLOWS_DAMP_SD_M
    if not traps and case.inner.vapour_sd_m <= TRAPS_DAMP_SD_M:
        return
    damp = damp_of(case.design, case.night, case.catalogue, case.quantities, case.score)
    if traps:
        yield Caution(
            "film face that traps moisture",
            "mind",
            "shells.outer",
            "An airtight outer shell behind a breathable inner keeps nearly all of the night's damp "
            "in the fill: {kept} of {into}.",
            "Put the film inside, or take a breathable outer shell.",
            {"kept": (damp.kept_kg, "mass"), "into": (damp.into_kg, "mass")},
            {"shells.outer": case.design.shells.inner},
        )
    else:
        yield Caution(
            "film towards the sleeper",
            "note",
            "shells.inner",
            "A film inside lets only {past} of the night's damp into the fill and keeps the rest on the "
            "sleeper: it can feel clammy.",
            "Wear a thin layer that dries fast.",
            {"past": (damp.past_the_inner_kg, "mass")},
        )


def _raw_edges_and_suspension(case: Case) -> Iterator[Caution]:
    design = case.design
    raw = case.catalogue.joint(design.joints.raw_edges) if design.joints.raw_edges else None
    woven = case.inner.heat_cuts or case.outer.heat_cuts
    if raw is not None and raw.hot and not woven:
        yield Caution(
            "film needs no searing",
            "note",
            "joints.raw_edges",
            "Film does not fray, and a hot blade shrinks it.",
            "Cut it cold and leave the edge.",
            change={"joints.raw_edges": None},
        )
    if raw is None and woven:
        yield Caution(
            "raw edges fray",
            "note",
            "joints.raw_edges",
            "Woven cloth frays in the seam allowance.",
            "Sear the edges.",
            change={"joints.raw_edges": "seared-edge"},
        )
    if design.kind == "underquilt" and not design.suspension:
        yield Caution(
            "no suspension",
            "mind",
            "suspension",
            "Nothing holds this underquilt to the hammock, and its weight is missing: usually 35 to 70 g.",
            "List cords, hooks and locks.",
        )


CHECKS: tuple[Check, ...] = (_downproof, _tape, _peel, _air_and_damp, _stuffing, _raw_edges_and_suspension)
