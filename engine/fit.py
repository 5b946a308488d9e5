"""Does it fit the sleeper: least sizes, what is there, and the share of the body covered."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.formulas import cover
from engine.loft import Loft
from engine.quantities import Quantities
from engine.score import Score, half_share
from engine.units import Number


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


def covered_shares(q: Quantities, loft: Loft) -> tuple[Number, Number]:
    """Shares of the length and of the width that this sleeper needs.

    Units   dimensionless
    Source  engine.formulas.cover
    """
    along = cover.length_cover(loft.finished_length_m, q.lost_length_m, q.needed_length_m)
    return along, cover.width_cover(loft.finished_width_m, q.needed_width_m)


def covers(q: Quantities, loft: Loft) -> NDArray[np.bool_]:
    """Whether it is worth comparing for its size: wide enough, and long enough unless a pad goes with it.

    Shapes  () or (n,)
    Source  engine.formulas.cover
    """
    along, across = covered_shares(q, loft)
    long_enough: NDArray[np.bool_] = (along >= cover.WHOLE) | (np.asarray(q.covers_underside) > 0)
    return long_enough & (across >= cover.WHOLE)


def fit_of(q: Quantities, score: Score) -> Fit:
    """How one quilt (not an array of them) fits the sleeper of its night.

    Source  engine.formulas.cover
    """
    length, width = float(score.loft.finished_length_m), float(score.loft.finished_width_m)
    half = float(score.body_cover)
    along, across = (float(share) for share in covered_shares(q, score.loft))
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
