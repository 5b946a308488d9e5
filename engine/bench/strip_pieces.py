"""What are the strips between the two shells as pieces to cut: baffles, edge walls, end panels?"""

from engine.bench.piece_model import Allowance, Grain, Note, Piece, PieceMark
from engine.bench.polygons import Outline
from engine.catalogue.load import Catalogue
from engine.design import Design
from engine.formulas import geometry
from engine.layout import BaffleLine, plan_baffles, stations
from engine.loft import Loft
from engine.quantities import (
    BAFFLE_ALLOWANCE_M,
    END_ALLOWANCE_M,
    SIDE_ALLOWANCE_M,
    Quantities,
)

SAME_M = 1e-6


def trapezoid(
    inner_m: float, outer_m: float, height_m: float, allowance_m: float, end_m: float
) -> tuple[Outline, Outline]:
    """A strip that is longer on its outer edge: cut outline and seam line. The inner edge has the smaller y.

    Allowances go on along the slanting ends, so the mean length stays.

    Units   m
    Source  definition
    """
    flare = (outer_m - inner_m) / height_m * allowance_m if height_m > 0 else 0.0
    low, high = inner_m - flare, outer_m + flare
    longest = max(low, high) + 2 * end_m
    cut_height = height_m + 2 * allowance_m

    def row(length: float, y: float) -> tuple[tuple[float, float], tuple[float, float]]:
        return (longest / 2 - length / 2, y), (longest / 2 + length / 2, y)

    def ring(first: float, y0: float, second: float, y1: float) -> Outline:
        (a, b), (c, d) = row(first, y0), row(second, y1)
        return a, b, d, c

    cut = ring(low + 2 * end_m, 0.0, high + 2 * end_m, cut_height)
    return cut, ring(inner_m, allowance_m, outer_m, allowance_m + height_m)


def baffle_pieces(design: Design, catalogue: Catalogue, q: Quantities, loft: Loft) -> tuple[Piece, ...]:
    """Baffles by their length; a trapezoid where the outer shell is longer along them.

    Source  definition
    """
    if not q.baffle_cloth:
        return ()
    runs: dict[bool, list[float]] = {False: [], True: []}
    for line in plan_baffles(design).lines:
        runs[_is_crosswise(line)].append(line.length_m)
    lots = [(crosswise, lot) for crosswise, lengths in runs.items() for lot in _equal(lengths)]
    height, method = float(q.baffle_height_m), catalogue.joint(design.joints.baffles).name
    found = []
    for number, (crosswise, lot) in enumerate(lots):
        inner = sum(lot) / len(lot)
        stretch = float(loft.outer_stretch_across if crosswise else loft.outer_stretch_along)
        cut, seam = trapezoid(inner, inner * stretch, height, BAFFLE_ALLOWANCE_M, 0.0)
        way = "crosswise" if crosswise else "lengthwise"
        notes = [_heights(height, BAFFLE_ALLOWANCE_M), Note(f"Runs {way}{_selvedge(design, catalogue)}.")]
        if abs(stretch - 1) > SAME_M:
            notes.append(_trapezoid_note(cut))
        if crosswise and design.edges.kind == "pinched" and design.baffles.layout == "full, crosswise":
            notes.append(Note("Slant both ends down to the pinched edge."))
        found.append(
            Piece(
                name="baffle" if len(lots) == 1 else f"baffle {_letters(number)}",
                part="baffles",
                group="baffles",
                count=len(lot),
                mirrored=0,
                goods=design.baffles.fabric,
                areal_kg_m2=float(q.baffle_kg_m2),
                cut=cut,
                seam=seam,
                finished_m=(inner * (1 + stretch) / 2, height),
                grain=strip_grain(design.baffles.fabric, catalogue),
                right_side="either",
                allowances=long_edges(BAFFLE_ALLOWANCE_M, "baffles", method),
                marks=_long_marks(cut),
                notes=tuple(notes),
            )
        )
    return tuple(found)


def strip_grain(goods: str, catalogue: Catalogue) -> Grain:
    """Mesh stretches one way and is cut along the selvedge; other cloth makes strips either way.

    Source  common practice, no source
    """
    return "along" if catalogue.fabric(goods).construction == "mesh" else "either"


def _selvedge(design: Design, catalogue: Catalogue) -> str:
    mesh = strip_grain(design.baffles.fabric, catalogue) == "along"
    return "; cut along the selvedge, for mesh stretches across it" if mesh else ""


def _is_crosswise(line: BaffleLine) -> bool:
    return abs(line.x1_m - line.x0_m) > SAME_M


def _equal(lengths: list[float]) -> list[list[float]]:
    """Lots of one length, the longest first."""
    lots = list[list[float]]()
    for length in sorted(lengths, reverse=True):
        if lots and lots[-1][0] - length < SAME_M:
            lots[-1].append(length)
        else:
            lots.append([length])
    return lots


def _letters(number: int) -> str:
    """A to Z, then AA, AB and so on."""
    text = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        text = chr(65 + rest) + text
    return text


def _heights(finished_m: float, allowance_m: float) -> Note:
    sizes = {"finished": finished_m, "cut": finished_m + 2 * allowance_m}
    return Note("Height: finished {finished}, cut {cut}.", sizes)


def _trapezoid_note(cut: Outline) -> Note:
    (a, _), (b, _), (c, _), (d, _) = cut
    edges = {"inner": b - a, "outer": c - d}
    return Note("A trapezoid: cut {inner} long on the inner edge, {outer} on the outer.", edges)


def long_edges(width_m: float, joint: str, method: str) -> tuple[Allowance, ...]:
    """The same allowance at both long edges of a strip.

    Units   m
    Source  definition
    """
    return tuple(Allowance(edge, width_m, joint, method) for edge in ("inner edge", "outer edge"))


def _long_marks(cut: Outline) -> tuple[PieceMark, ...]:
    """Which long edge goes to which shell; only a trapezoid has two that differ."""
    x0, y1 = cut[0][0], cut[2][1]
    if abs(x0) < SAME_M and abs(cut[3][0]) < SAME_M:
        return ()
    middle = (x0 + cut[1][0]) / 2
    return PieceMark("side", "INNER", ((middle, 0.0),)), PieceMark("side", "OUTER", ((middle, y1),))


def edge_pieces(design: Design, catalogue: Catalogue, q: Quantities, loft: Loft) -> tuple[Piece, ...]:
    """Edge walls along the two sides, end panels across the two ends.

    Source  definition
    """
    position, width = stations(design.outline)
    across, along = float(loft.outer_stretch_across), float(loft.outer_stretch_along)
    found = []
    if q.edge_walls:
        height, method = float(q.edge_height_m), catalogue.joint(design.joints.edges).name
        lengths = (
            float(geometry.side_length(position, width)),
            float(geometry.side_length(*geometry.stretched(position, width, along, across))),
        )
        ends = Allowance("ends", END_ALLOWANCE_M, "ends", catalogue.joint(design.joints.ends).name)
        allowances = (*long_edges(SIDE_ALLOWANCE_M, "edges", method), ends)
        found.append(
            _border(
                "edge wall",
                "edge walls",
                2,
                design.baffles.fabric,
                float(q.baffle_kg_m2),
                lengths,
                height,
                allowances,
                strip_grain(design.baffles.fabric, catalogue),
            )
        )
    if q.panel_count:
        height, method = float(q.baffle_height_m), catalogue.joint(design.joints.ends).name
        ends = Allowance("ends", SIDE_ALLOWANCE_M, "edges", catalogue.joint(design.joints.edges).name)
        allowances = (*long_edges(END_ALLOWANCE_M, "ends", method), ends)
        sizes = [("head", float(width[0])), ("foot", float(width[-1]))]
        if abs(sizes[0][1] - sizes[1][1]) < SAME_M:
            sizes = [("", sizes[0][1])]
        for name, inner in sizes:
            found.append(
                _border(
                    f"end panel, {name}" if name else "end panel",
                    "end panels",
                    1 if name else 2,
                    design.end_panels.fabric,
                    float(q.panel_kg_m2),
                    (inner, inner * across),
                    height,
                    allowances,
                    strip_grain(design.end_panels.fabric, catalogue),
                )
            )
    return tuple(found)


def _border(
    name: str,
    part: str,
    count: int,
    goods: str,
    areal: float,
    lengths_m: tuple[float, float],
    height_m: float,
    allowances: tuple[Allowance, ...],
    grain: Grain,
) -> Piece:
    """A strip between the edges of both shells."""
    inner, outer = lengths_m
    long, ends = allowances[0].width_m, allowances[-1].width_m
    cut, seam = trapezoid(inner, outer, height_m, long, ends)
    notes = [_heights(height_m, long)]
    if outer - inner > SAME_M:
        notes.append(_trapezoid_note(cut))
    return Piece(
        name=name,
        part=part,
        group="baffles",
        count=count,
        mirrored=0,
        goods=goods,
        areal_kg_m2=areal,
        cut=cut,
        seam=seam,
        finished_m=((inner + outer) / 2, height_m),
        grain=grain,
        right_side="down",
        allowances=allowances,
        marks=_long_marks(cut),
        notes=tuple(notes),
    )
