"""What will fail, may disappoint, or should be known: warnings as data, each with a remedy.

Texts hold {names} of values in SI; who prints them chooses the unit. Nothing here knows a screen.
"""

from engine.cautions import goods, shape
from engine.cautions.caution import Case, Caution, Grade, ValueKind

GRAVEST_FIRST = {"stop": 0, "mind": 1, "note": 2}


def cautions_of(case: Case) -> tuple[Caution, ...]:
    """All warnings of one design, the gravest first.

    Source  common practice, no source, unless a check names one
    """
    found = [caution for check in (*goods.CHECKS, *shape.CHECKS) for caution in check(case)]
    return tuple(sorted(found, key=lambda caution: GRAVEST_FIRST[caution.grade]))


__all__ = ["Case", "Caution", "Grade", "ValueKind", "cautions_of"]
