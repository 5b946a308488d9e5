"""How many watts is a sleeper short of on this night, and for how long can that be borne?

The heat balance of the rating, read at the night's own air: what leaves less what a sleeper makes.
Sleeping rates lie below the scope of ISO 11079: an estimate, no rating by any standard.
"""

from dataclasses import dataclass

from engine.damp import sleeper_area
from engine.formulas import body
from engine.formulas.exposure import heat_debt, limited_exposure_hours
from engine.night import Night, Sleeper
from engine.quantities import Quantities
from engine.score import Score

NOT_DRY = ("by breathing", "by damp skin")
"""Paths of heat that do not go through a resistance from skin to air."""


@dataclass(frozen=True)
class Balance:
    """One sleeper in one state on one night. Above 0 a body cools, below 0 it has heat to spare."""

    who: str
    criterion: str
    rate_w_m2: float
    area_m2: float
    short_w_m2: float
    debt_wh_m2: float
    """Over the night's hours."""
    lasts_h: float
    """Until the debt is all that ISO 11079 allows; infinite with heat to spare."""

    @property
    def short_w(self) -> float:
        """Watts of the whole body."""
        return self.short_w_m2 * self.area_m2

    def lasts(self, hours: float) -> bool:
        """Whether a night of so many hours is over before the debt is all that is allowed."""
        return self.lasts_h >= hours


@dataclass(frozen=True)
class Shortfall:
    """The two that temperatures are stated for, and the night's own sleeper in both states."""

    hours: float
    woman: Balance
    man: Balance
    sleeper: Balance
    """Neither warm nor cool."""
    sleeper_cool: Balance
    """Cool, but in balance."""


def sleeper_rate(sleeper: Sleeper) -> float:
    """Heat that the night's sleeper makes: a standard one's own, else the mean of the two, per area.

    Units   W/m2
    Source  ours; the two rates: engine.formulas.body
    """
    woman, man = body.STANDARD_WOMAN_W_M2, body.STANDARD_MAN_W_M2
    return {"standard woman": woman, "standard man": man}.get(sleeper.kind, (woman + man) / 2)


def conductance(q: Quantities, score: Score) -> float:
    """Heat per kelvin and area of body through all dry paths side by side, in the air of the night.

    Read back from the woman's paths; it holds for anyone so covered.

    Units   W/m2K
    Source  definition
    """
    dry_w = sum(float(watts) for path, watts in score.heat_parts_w.items() if path not in NOT_DRY)
    skin_c = float(body.skin_temperature(q.comfort_w_m2, body.NEUTRAL))
    return dry_w / (float(body.body_area(*body.STANDARD_WOMAN_KG_M)) * (skin_c - float(q.air_c)))


def shortfall_of(night: Night, q: Quantities, score: Score) -> Shortfall:
    """Watts short and hours until the debt is due, of one quilt (not an array of them).

    Source  ISO 11079:2007 (engine.formulas.body, engine.formulas.exposure)
    """
    through = conductance(q, score)

    def balance(who: str, rate: float, area_m2: float, criterion: body.Criterion) -> Balance:
        short = float(body.heat_deficit(q.air_c, rate, criterion, q.humidity_percent, through))
        return Balance(
            who=who,
            criterion=criterion.name,
            rate_w_m2=rate,
            area_m2=area_m2,
            short_w_m2=short,
            debt_wh_m2=float(heat_debt(short, night.hours)),
            lasts_h=float(limited_exposure_hours(short)),
        )

    woman_m2, man_m2 = (
        float(body.body_area(*kg_m)) for kg_m in (body.STANDARD_WOMAN_KG_M, body.STANDARD_MAN_KG_M)
    )
    own = night.sleeper.kind if night.sleeper.kind != "own" else "own sleeper"
    rate, area_m2 = sleeper_rate(night.sleeper), sleeper_area(night.sleeper)
    return Shortfall(
        hours=night.hours,
        woman=balance("standard woman", float(q.comfort_w_m2), woman_m2, body.NEUTRAL),
        man=balance("standard man", float(q.limit_w_m2), man_m2, body.MINIMAL),
        sleeper=balance(own, rate, area_m2, body.NEUTRAL),
        sleeper_cool=balance(own, rate, area_m2, body.MINIMAL),
    )
