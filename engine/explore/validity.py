"""Which combinations of values are quilts at all, and why not the others?"""

from collections.abc import Sequence
from math import prod

import numpy as np
from numpy.typing import NDArray
from pydantic import BaseModel, ValidationError

from engine.design import Design
from engine.explore.choices import Axis
from engine.refusals import explain


def valid_rows(
    design: Design, axes: Sequence[Axis], codes: Sequence[NDArray[np.int64]]
) -> tuple[NDArray[np.bool_], str]:
    """Which combinations the model takes, and why the first other one is refused.

    Each value by itself has been checked; what is left are rules between the fields of one group.

    Shapes  codes (n,) for each axis -> (n,), and a sentence
    Source  engine.design
    """
    valid, reason = np.ones(len(codes[0]), dtype=bool), ""
    for name in type(design).model_fields:
        group = getattr(design, name)
        places = [place for place, axis in enumerate(axes) if axis.path.startswith(f"{name}.")]
        if not places or not _has_rules(group):
            continue
        sizes = [len(axes[place].values) for place in places]
        mixed = np.ravel_multi_index([codes[place] for place in places], sizes)
        taken = np.ones(prod(sizes), dtype=bool)
        fields = group.model_dump()
        for number in np.unique(mixed):
            values = np.unravel_index(number, sizes)
            told = _refusal(group, fields, [axes[p] for p in places], [int(v) for v in values])
            taken[number] = not told
            reason = reason or told
        valid &= taken[mixed]
    return valid, reason


def _has_rules(group: BaseModel) -> bool:
    return bool(type(group).__pydantic_decorators__.model_validators)


def _refusal(group: BaseModel, fields: dict[str, object], axes: Sequence[Axis], values: Sequence[int]) -> str:
    given = {axis.path.split(".")[1]: axis.values[value] for axis, value in zip(axes, values, strict=True)}
    try:
        type(group).model_validate(fields | given)
    except ValidationError as error:
        return explain(error, type(group), f"{axes[0].path.split('.')[0]}.")[0]
    return ""
