"""What are the small pieces of a quilt to cut: footbox end panel, draft collar, patches under side tabs?"""

from math import cos, pi, sin

from engine.bench.piece_model import Allowance, Note, Piece, PieceMark
from engine.bench.polygons import Outline
from engine.bench.strip_pieces import long_edges
from engine.catalogue.load import Catalogue
from engine.design import Design
from engine.formulas import geometry
from engine.layout import stations
from engine.quantities import PATCH_KG_M2, PATCH_SIDE_M, SIDE_ALLOWANCE_M, Quantities
from engine.units import MM

OVAL_POINTS = 120


def small_pieces(design: Design, catalogue: Catalogue, q: Quantities) -> tuple[Piece, ...]:
    """Footbox end panel and collar of a top quilt, and the patches under side tabs.

    Source  definition; patches: common practice, no source
    """
    found = list[Piece]()
    outer, edges = design.shells.outer, catalogue.joint(design.joints.edges).name
    areal, top = float(q.outer_kg_m2), design.top
    if design.kind == "top quilt" and top.footbox == "sewn with end panel":
        found.append(_oval(top.panel_width_mm * MM, top.panel_height_mm * MM, outer, areal, edges))
    if design.kind == "top quilt" and top.collar:
        found.append(_collar(design, outer, areal, edges))
    if design.tabs:
        square = _rectangle(PATCH_SIDE_M, PATCH_SIDE_M)
        found.append(
            Piece(
                name="patch",
                part="patches",
                group="suspension",
                count=2 * design.tabs,
                mirrored=0,
                goods=None,
                areal_kg_m2=PATCH_KG_M2,
                cut=square,
                seam=square,
                finished_m=(PATCH_SIDE_M, PATCH_SIDE_M),
                grain="either",
                right_side="either",
                allowances=(Allowance("all round", 0.0, "patches", ""),),
                notes=(
                    Note(
                        "One inside, one outside at each tab, stitched, corners round; scraps of strong "
                        "woven cloth will do."
                    ),
                ),
            )
        )
    return tuple(found)


def _rectangle(length_m: float, width_m: float) -> Outline:
    return (0.0, 0.0), (length_m, 0.0), (length_m, width_m), (0.0, width_m)


def _oval(width_m: float, height_m: float, goods: str, areal: float, method: str) -> Piece:
    """The footbox end panel: an oval inside and one outside, its width along the grain."""
    long, high = width_m + 2 * SIDE_ALLOWANCE_M, height_m + 2 * SIDE_ALLOWANCE_M

    def ring(length: float, width: float) -> Outline:
        angles = [2 * pi * (index + 0.5) / OVAL_POINTS for index in range(OVAL_POINTS)]
        # Corners on a slightly larger oval, whose sides touch this one: nothing of it is cut off.
        out = 1 / cos(pi / OVAL_POINTS)
        return tuple(
            (long / 2 + out * length / 2 * cos(angle), high / 2 + out * width / 2 * sin(angle))
            for angle in angles
        )

    return Piece(
        name="footbox end panel",
        part="footbox panel and collar",
        group="shells",
        count=2,
        mirrored=0,
        goods=goods,
        areal_kg_m2=areal,
        cut=ring(long, high),
        seam=ring(width_m, height_m),
        finished_m=(width_m, height_m),
        grain="along",
        right_side="down",
        allowances=(Allowance("all round", SIDE_ALLOWANCE_M, "edges", method),),
        marks=(PieceMark("side", "INSIDE UP, RIGHT SIDE DOWN", ((long / 2, high / 2),)),),
        notes=(Note("Oval; one inside, one outside."),),
        exact_area_m2=float(geometry.ellipse_area(long, high)),
    )


def _collar(design: Design, goods: str, areal: float, method: str) -> Piece:
    """The draft collar: one strip folded lengthwise to a tube along the head end."""
    length, flat = float(stations(design.outline)[1][0]), design.top.collar_flat_mm * MM
    margin = SIDE_ALLOWANCE_M
    cut = _rectangle(length + 2 * margin, 2 * flat + 2 * margin)
    seam = tuple((x + margin, y + margin) for x, y in _rectangle(length, 2 * flat))
    return Piece(
        name="draft collar",
        part="footbox panel and collar",
        group="shells",
        count=1,
        mirrored=0,
        goods=goods,
        areal_kg_m2=areal,
        cut=cut,
        seam=seam,
        finished_m=(length, flat),
        grain="either",
        right_side="down",
        allowances=(
            *long_edges(margin, "edges", method),
            Allowance("ends", margin, "edges", method),
        ),
        notes=(Note("Folded lengthwise to a tube, {flat} flat.", {"flat": flat}),),
    )
