"""Which pieces are to be cut, line by line, for a spreadsheet: in millimetres and in eighths of an inch?

UTF-8 with a byte-order mark, comma between cells, the unit in the name of the column, one row a size of
piece. Millimetres are whole, inches are whole and eighths ("44 7/8"), each in columns of their own; only
allowances and notes, which are read, say both. area_m2 and mass_g are of all pieces of the row, unrounded,
and add up to the parts of the bill.
"""

import csv
import io

from engine.bench.pieces import Piece, pieces_of
from engine.catalogue.load import Catalogue
from engine.evaluate import Evaluation
from engine.export.table import Row, plain_text
from engine.units import GRAM, INCH, MM

COLUMNS: dict[str, str] = {
    "design": "name of the design",
    "piece": "what it is",
    "part": "the part of the bill that it belongs to",
    "of": "the cloth, film or sheet it is cut from",
    "pieces": "how many",
    "mirrored": "how many of them are cut as mirror images",
    "cut_length_mm": "allowances included; the longest",
    "cut_width_mm": "allowances included; of a strip its cut height",
    "cut_length_in": "the same in inches and eighths",
    "cut_width_in": "the same in inches and eighths",
    "seam_length_mm": "from seam line to seam line, flat",
    "seam_width_mm": "from seam line to seam line, flat",
    "seam_length_in": "the same in inches and eighths",
    "seam_width_in": "the same in inches and eighths",
    "finishes_at_length_mm": "in the filled quilt, less draw-in",
    "finishes_at_width_mm": "in the filled quilt, less draw-in",
    "finishes_at_length_in": "the same in inches and eighths",
    "finishes_at_width_in": "the same in inches and eighths",
    "cut_corners_mm": "along, across of each corner where the piece is no rectangle",
    "grain": "which way of the piece lies along the roll",
    "right_side": "how the right side lies as the piece is drawn: head left, inside up",
    "allowances": "beyond the seam line at each edge, and how it is joined",
    "notes": "in words",
    "area_m2": "cloth in all pieces",
    "mass_g": "of all pieces",
}
"""Every column with what it holds; a cell that does not apply is empty."""
SCRAP = "scraps of strong woven cloth"


def cut_list(one: Evaluation, catalogue: Catalogue) -> str:
    """The cut list of one candidate as CSV text, byte-order mark included.

    Raises  Refusal for an unknown good
    Source  RFC 4180 (2005) for the quoting
    """
    sink = io.StringIO()
    writer = csv.DictWriter(sink, fieldnames=list(COLUMNS), restval="", lineterminator="\r\n")
    writer.writeheader()
    for piece in pieces_of(one.design, catalogue, one.quantities, one.score):
        writer.writerow(_row(piece, catalogue) | {"design": plain_text(one.design.name)})
    return "\ufeff" + sink.getvalue()


def eighths(length_m: float) -> str:
    """A length in inches and eighths, to the nearest; the whole number is always there.

    Without it a spreadsheet would take 7/8 for a day in July.

    Units   m -> in
    Source  definition of the inch
    """
    whole, parts = divmod(round(8 * length_m / INCH), 8)
    if parts == 0:
        return f"{whole}"
    halvings = 4 if parts % 4 == 0 else 2 if parts % 2 == 0 else 1
    return f"{whole} {parts // halvings}/{8 // halvings}"


def _millimetres(length_m: float) -> str:
    return f"{length_m / MM:.0f}"


def _both(length_m: float) -> str:
    inches = eighths(length_m)
    return f"{_millimetres(length_m)} mm ({inches.removeprefix('0 ')} in)"


def _exact(value: float) -> str:
    return f"{value:.6f}".rstrip("0").rstrip(".")


def _row(piece: Piece, catalogue: Catalogue) -> Row:
    row = {
        "piece": piece.name,
        "part": piece.part,
        "of": plain_text(_cloth(piece.goods, catalogue)),
        "pieces": str(piece.count),
        "mirrored": str(piece.mirrored),
        "cut_corners_mm": _corners(piece),
        "grain": piece.grain,
        "right_side": piece.right_side,
        "allowances": "; ".join(
            f"{edge.edge}: {_both(edge.width_m)}" + (f", {edge.method}" if edge.method else "")
            for edge in piece.allowances
            if edge.width_m > 0
        ),
        "notes": " ".join(note.said(_both) for note in piece.notes),
        "area_m2": _exact(piece.count * piece.area_m2),
        "mass_g": _exact(piece.mass_kg / GRAM),
    }
    for name, size in (("cut", piece.cut_m), ("seam", piece.seam_m), ("finishes_at", piece.finished_m)):
        for side, value in zip(("length", "width"), size, strict=True):
            row[f"{name}_{side}_mm"] = _millimetres(value)
            row[f"{name}_{side}_in"] = eighths(value)
    return row


def _cloth(goods: str | None, catalogue: Catalogue) -> str:
    if goods is None:
        return SCRAP
    return catalogue.fill(goods).name if goods in catalogue.fills else catalogue.fabric(goods).name


def _corners(piece: Piece) -> str:
    """Nothing for a rectangle, whose sizes say all, and for what is round."""
    length, width = piece.cut_m
    if piece.exact_area_m2 is not None or piece.area_m2 > length * width * (1 - 1e-9):
        return ""
    return "; ".join(f"{_millimetres(x)}, {_millimetres(y)}" for x, y in piece.cut)
