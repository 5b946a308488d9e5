"""How many watts is a sleeper short of on this night, and for how long can it be borne? HTML, escaped."""

from html import escape

from dashboard.caution_text import stop_of
from dashboard.close_up_damp import columns
from dashboard.close_up_why import area, why
from dashboard.words import NBSP, Units, duration, number, said
from engine.evaluate import Evaluation
from engine.formulas.exposure import ALLOWED_DEBT_WH_M2
from engine.shortfall import Balance, Shortfall
from engine.units import HOUR

UNTIL_MENDED = "It counts only once what stops this quilt is mended."
STATES = {"neutral": "neither warm nor cool", "minimal": "cool, in balance"}


def shortfall_html(e: Evaluation, units: Units) -> str:
    """Watts short or to spare, and how long that lasts: a sentence, a table, and why."""
    s = e.shortfall
    rows = [
        (
            f"{_who(b)} ({STATES[b.criterion]})",
            _short(b),
            "all night" if b.lasts(s.hours) else duration(b.lasts_h * HOUR),
        )
        for b in _balances(s)
    ]
    head = ("Who", "At that air", "Lasts")
    told = f"{_shortfall_sentence(e, units)} {UNTIL_MENDED if stop_of(e.cautions) else ''}".rstrip()
    sentence = f"<p>{escape(told)}</p>"
    table = columns("Watts short on this night", head, rows)
    note = f'<p class="lw-small lw-quiet">{escape(_reading(s))}</p>'
    return sentence + table + note + _why_shortfall(e, units)


def _reading(s: Shortfall) -> str:
    """Why one who is short may last the night, and for whom the sentence over the page speaks."""
    store = f"the body’s store, {number(ALLOWED_DEBT_WH_M2)}{NBSP}W·h/m² by ISO{NBSP}11079"
    covered = any(b.short_w > 0 and b.lasts(s.hours) for b in _balances(s))
    told = f"Short, and yet all night: {store}, covers it. " if covered else ""
    own = s.sleeper.who == "own sleeper"
    line = "; the lines of your sleeper speak for your own body" if own else ""
    return f"{told}The verdict over this page is for a standard woman neither warm nor cool{line}."


def _balances(s: Shortfall) -> list[Balance]:
    """Each sleeper in each state once, the two of the temperatures first."""
    return list({(b.who, b.criterion): b for b in (s.woman, s.man, s.sleeper, s.sleeper_cool)}.values())


def _who(balance: Balance) -> str:
    return "Your sleeper" if balance.who == "own sleeper" else f"A {balance.who}"


def _short(balance: Balance) -> str:
    word = "short" if balance.short_w > 0 else "to spare"
    return f"{said('power', abs(balance.short_w))} {word}"


def _shortfall_sentence(e: Evaluation, units: Units) -> str:
    s = e.shortfall
    body, cool = s.sleeper, s.sleeper_cool
    hours, at = said("work", s.hours), said("temperature", e.night.air_c, units)
    if body.short_w <= 0:
        return (
            f"{_who(body)} has {said('power', -body.short_w)} to spare at {at}: warm enough for the {hours}."
        )
    start = f"{_who(body)} is {_short(body)} at {at}"
    if body.lasts(s.hours):
        return f"{start}, but a body cools so slowly that the {hours} are over before it feels cool."
    told = f"{start}: cool after about {duration(body.lasts_h * HOUR)} of {hours}."
    if not cool.lasts(s.hours):
        told += (
            f" Even with cool skin the heat is too little, and after about {duration(cool.lasts_h * HOUR)} "
            "it is cold: do not count on this quilt for this night."
        )
    return told


def _why_shortfall(e: Evaluation, units: Units) -> str:
    s = e.shortfall
    rates = [
        (
            f"heat made at rest, {b.who}",
            f"{number(b.rate_w_m2, 1)}{NBSP}W/m² on {area(b.area_m2, units)} of body",
        )
        for b in {b.who: b for b in (s.woman, s.man, s.sleeper)}.values()
    ]
    debts = [
        (f"lost by morning, {b.who} ({STATES[b.criterion]})", f"{number(b.debt_wh_m2)}{NBSP}W·h/m²")
        for b in _balances(s)
    ]
    return why(
        "watts short",
        "Short = all paths of heat − heat made at rest. Lasts = the heat that a body may lose ÷ what it is "
        "short of. Body's surface from height and mass; your own sleeper makes the mean of both rates.",
        [
            ("air", said("temperature", e.night.air_c, units)),
            ("hours in bed", said("work", s.hours)),
            *rates,
            ("heat that a body may lose", f"{number(ALLOWED_DEBT_WH_M2)}{NBSP}W·h/m²"),
            *debts,
        ],
        "ISO 11079:2007, balance and duration limited exposure; DuBois (1916) for the surface",
        "shivering, moving, food, cold hands and feet, and clothes put on in the night. Sleepers make less "
        "heat than that standard covers: an estimate, and people differ by more than the watts shown",
    )
