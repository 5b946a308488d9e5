"""What every model of ours shares: frozen, closed, finite, with limits and labels in one place."""

from typing import Any

from pydantic import BaseModel, ConfigDict, Field

ID_PATTERN = r"^[a-z0-9][a-z0-9.-]{0,39}$"


class Frozen(BaseModel):
    """A value that cannot change, refuses unknown keys and never holds NaN or infinity."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)


def measure(
    default: Any, *, low: float, high: float, unit: str, label: str, text: str, step: float = 1.0
) -> Any:
    """A number with its limits, unit, label and help; the limits stand nowhere else."""
    return Field(
        default,
        ge=low,
        le=high,
        title=label,
        description=text,
        json_schema_extra={"unit": unit, "step": step},
    )


def choice(default: Any, *, label: str, text: str, goods: str = "") -> Any:
    """A choice among words, or (with `goods`) among the ids of one kind of good."""
    if not goods:
        return Field(default, title=label, description=text)
    return Field(
        default, title=label, description=text, pattern=ID_PATTERN, json_schema_extra={"goods": goods}
    )


GoodId = str
