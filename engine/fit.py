"""Does it fit the sleeper: least sizes, what is there, and the share of the body covered."""

from dataclasses import dataclass

from engine.formulas import cover
from engine.quantities import Quantities
from engine.score import Score, half_share


@dataclass(frozen=True)
class Fit:
    """Finished sizes against least sizes, in m; shares of this quilt's half and of the whole body."""

    length_m: float
    least_length_m: float
    width_m: float
    least_width_m: float
    half_cover: float
    body_cover: float
    short: bool
    narrow: bool

    @property
    def fits(self) -> bool:
        """Long and wide enough for this sleeper."""
        return not (self.short or self.narrow)


def fit_of(q: Quantities, score: Score) -> Fit:
    """How one quilt (not an array of them) fits the sleeper of its night.

    Source  engine.formulas.cover
    """
    length, width = float(score.loft.finished_length_m), float(score.loft.finished_width_m)
    half = float(score.body_cover)
    along = float(cover.length_cover(length, q.lost_length_m, q.needed_length_m))
    across = float(cover.width_cover(width, q.needed_width_m))
    return Fit(
        length_m=length,
        least_length_m=float(q.needed_length_m),
        width_m=width,
        least_width_m=float(q.needed_width_m),
        half_cover=half,
        body_cover=half * float(half_share(q)),
        short=along < cover.WHOLE,
        narrow=across < cover.WHOLE,
    )
