"""The quilts that templates are tried on, and where each of their baffles must be, worked from the design."""

from functools import cache

from engine.bench.template import Choice, Template, template
from engine.catalogue.load import load_catalogue
from engine.design import Design
from engine.evaluate import Evaluation, evaluate
from engine.night import Night
from engine.quantities.plan_map import layout_of
from tests.bench.reading import Ends

WITHIN_MM = 0.05
"""Coordinates are kept to a millionth of a point; a twentieth of a millimetre is what a sharp eye sees."""
CATALOGUE = load_catalogue()
FILM_OVER_CLOTH = {"inner": "film-17", "outer": "nylon-20d-38"}
DESIGNS = {
    "lengthwise": Design(),
    "crosswise taper": Design.model_validate(
        {"baffles": {"layout": "full, crosswise"}, "outline": {"shape": "taper"}, "ends": {"shape": "darted"}}
    ),
    "staggered, tapered ends": Design.model_validate(
        {
            "baffles": {"layout": "staggered"},
            "outline": {"shape": "tapered ends"},
            "cut": {"wrap_along_rad": 0.9},
            "shells": FILM_OVER_CLOTH,
        }
    ),
    "staggered, even rows": Design.model_validate(
        {"baffles": {"layout": "staggered", "spacing_mm": 140}, "outline": {"width_mm": 1120}}
    ),
    "alternating": Design.model_validate({"baffles": {"layout": "alternating"}}),
    "sewn through": Design.model_validate({"baffles": {"layout": "sewn-through"}}),
}
SHELLS = ("inner", "outer")


@cache
def evaluated(design: Design) -> Evaluation:
    return evaluate(design, Night(), CATALOGUE)


def made(design: Design, **choice) -> Template:
    return template(evaluated(design), CATALOGUE, Choice(**choice))


def stretches(design: Design) -> tuple[float, float]:
    """Of the outer shell across and along: one wrap angle times the baffle height more than the inner."""
    if design.cut.kind == "flat" or design.baffles.layout == "sewn-through":
        return 1.0, 1.0
    height = design.baffles.height_mm
    return (
        1 + design.cut.wrap_across_rad * height / design.outline.width_mm,
        1 + design.cut.wrap_along_rad * height / design.outline.length_mm,
    )


def expected(design: Design, shell: str) -> list[Ends]:
    """Every line of the loft map's layout on a shell that lies inside up, head left, in mm."""
    across, along = stretches(design) if shell == "outer" else (1.0, 1.0)
    width = design.outline.width_mm * across

    def at(x_m: float, y_m: float) -> tuple[float, float]:
        from_left_edge = 1000 * x_m * across
        return 1000 * y_m * along, from_left_edge if shell == "inner" else width - from_left_edge

    layout = layout_of(design)
    return [(at(x0, y0), at(x1, y1)) for x0, y0, x1, y1 in (*layout.baffles, *layout.sewn)]
