"""Which pieces of cloth are cut for a quilt, how large, of what, how many, and what is marked on each?

Areas, masses and counts add up to the parts of the bill: each piece names its part. The bill counts shells
whole, here a shell in panels is as many pieces as it has panels, laps included in both. Patches are of any
scrap; their cloth is on no roll.
"""

from engine.bench.piece_model import Allowance, Note, Piece, PieceMark
from engine.bench.shell_pieces import sheet_pieces, shell_pieces
from engine.bench.small_pieces import small_pieces
from engine.bench.strip_pieces import baffle_pieces, edge_pieces
from engine.catalogue.load import Catalogue
from engine.design import Design
from engine.formulas.panels import WideWay
from engine.quantities import Quantities
from engine.score import Score

__all__ = ["Allowance", "Note", "Piece", "PieceMark", "WideWay", "pieces_of"]


def pieces_of(
    design: Design, catalogue: Catalogue, q: Quantities, score: Score, way: WideWay = "least roll"
) -> tuple[Piece, ...]:
    """Every piece of one quilt (not of an array of quilts).

    `way` says what is done with shells wider than their roll. The bill is made with "least roll": another
    way has other joins, and so other laps and panels than the score.

    Units   m
    Raises  Refusal for an unknown good
    Source  definition; allowances as in the bill
    """
    loft = score.loft
    return (
        *shell_pieces(design, catalogue, q, loft, way),
        *sheet_pieces(design, catalogue, q, loft, way),
        *baffle_pieces(design, catalogue, q, loft),
        *edge_pieces(design, catalogue, q, loft),
        *small_pieces(design, catalogue, q),
    )
