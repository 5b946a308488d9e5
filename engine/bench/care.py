"""How is this quilt washed, kept and mended, and what stands on its label?"""

from collections.abc import Iterator
from dataclasses import dataclass

from engine.bench.construction import Construction
from engine.bench.fill_plan import fill_plan, port_of
from engine.bench.step_model import Line
from engine.catalogue.load import Catalogue
from engine.evaluate import Evaluation

SPONGE = Line(
    "Never wash it in a machine, never tumble it: sponge the inner side. Water that got in stays for days; "
    "dry it with the port open.",
    tick=False,
)
DOWN_WASH = Line(
    "Wash it every 1 to 3 years in a front loader or a tub, with down soap, at {cool} to {warm}; tumble it "
    "low with balls for {short} to {long}, until no lump is left.",
    {
        "cool": (30.0, "temperature"),
        "warm": (40.0, "temperature"),
        "short": (2.0, "hours"),
        "long": (4.0, "hours"),
    },
    False,
)
SHEET_WASH = Line(
    "Wash it by hand or in a front loader, gently, at {cool}; hang it over two lines to dry.",
    {"cool": (30.0, "temperature")},
    False,
)
LIFT = Line("Lift it wet with both arms, never by one corner.", tick=False)
HEAT = Line(
    "Bonded joints creep above about {hot}: not in a hot car, not on a heater.",
    {"hot": (50.0, "temperature")},
    False,
)
STORE = Line(
    "Keep it loose and dry in a large bag of {bag}, never stuffed.", {"bag": ("40 to 80 L", "word")}, False
)
FILM_PATCH = Line(
    "A hole in film: a patch {over} beyond it, corners round, on both sides where it flexes.",
    {"over": (0.025, "bench_length")},
    False,
)
STUCK_PATCH = Line("A hole in woven cloth: a self-adhesive patch with round corners.", tick=False)
SEWN_PATCH = Line(
    "A hole in woven cloth: a patch with round corners, or a darn beside the next seam.", tick=False
)
REACH = Line("A baffle that has come off a shell is reached through the filling port.", tick=False)
THIN = Line(
    "Where down has moved away, shake it back from the port; top it up there if it stays thin.", tick=False
)


@dataclass(frozen=True)
class Care:
    """Care in a few lines; `machine` says whether a washing machine is allowed."""

    machine: bool
    washing: tuple[Line, ...]
    keeping: tuple[Line, ...]
    mending: tuple[Line, ...]

    @property
    def lines(self) -> tuple[Line, ...]:
        """All of them, in order."""
        return (*self.washing, *self.keeping, *self.mending)


def care_of(made: Construction, down: bool) -> Care:
    """Care by construction: nothing bonded and no film shell goes into a machine.

    Source  common practice, no source; sheet insulation from memory
    """
    machine = not made.bonded and not made.film_shells
    wash = (DOWN_WASH if down else SHEET_WASH) if machine else SPONGE
    woven = SEWN_PATCH if made.way == "sewn" else STUCK_PATCH
    patches = [*((FILM_PATCH,) if made.film_shells else ()), *((woven,) if made.woven_shells else ())]
    inside = (*((REACH,) if made.baffled else ()), THIN) if down else ()
    return Care(
        machine=machine,
        washing=(wash, LIFT) if machine else (wash,),
        keeping=(*((HEAT,) if made.bonded else ()), STORE),
        mending=(*patches, *inside),
    )


def label_of(one: Evaluation, catalogue: Catalogue, code: str = "", day: str = "") -> Iterator[Line]:
    """What to write on the quilt's label; what is not known yet is left for the pen.

    Raises  Refusal for an unknown good
    Source  common practice, no source
    """
    design, blank = one.design, "…"
    fill = catalogue.fill(design.fill.good)
    plan = fill_plan(design, catalogue, one.quantities, one.score)
    inner, outer = catalogue.fabric(design.shells.inner), catalogue.fabric(design.shells.outer)
    yield Line("{name}, made {day}.", {"name": (design.name, "word"), "day": (day or blank, "word")}, False)
    yield Line(
        "Shells: inner {inner}, outer {outer}.",
        {"inner": (inner.name, "word"), "outer": (outer.name, "word")},
        False,
    )
    if plan is None:
        yield Line("Fill: {layers} × {fill}.", {"layers": (float(design.fill.layers), "number"),
                                               "fill": (fill.name, "word")}, False)  # fmt: skip
    else:
        yield Line(
            "Fill: {mass} of {fill}; tare {tare} (as weighed: {blank}).",
            {
                "mass": (plan.whole_kg, "mass"),
                "fill": (fill.name, "word"),
                "tare": (one.derived.tare_kg, "mass"),
                "blank": (blank, "word"),
            },
            False,
        )
        yield Line(
            "Filling port: {port}, {blank}.",
            {"port": (port_of(design), "word"), "blank": (blank, "word")},
            False,
        )
    yield Line("Code of the design: {code}.", {"code": (code or blank, "word")}, False)
