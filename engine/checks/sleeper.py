"""Do breath, skin and the heat balance of a body agree with the standards of comfort and of cold?"""

from engine.checks.rows import Row, table, told, value
from engine.checks.vote import predicted_vote
from engine.formulas import body, clothing, skin
from engine.units import CLO

BREATH = "Heat lost with the breath"
ROOMS = "How warm a room is called"
WORK = "Clothing for work in the cold"
SLEEP = "What a sleeper needs, term by term"
CRITERIA = {"neutral": body.NEUTRAL, "min": body.MINIMAL}
FEELING = {"neutral": "neither warm nor cool", "min": "cool"}
HUMIDITY = 65.0
"""Of all tables for sleepers, in percent."""


def breath() -> tuple[Row, ...]:
    """Heat lost with the breath, by both standards.

    Units   W/m2
    Source  ISO 7730:2005 and ISO 11079:2007, worked apart from this project
    """
    found = []
    for row in table("respiratory_loss.csv"):
        rate, air, humidity, by_rooms, by_cold = value(
            row, "M_W_m2", "ta_C", "RH_pct", "sum_iso7730", "sum_iso11079"
        )
        what = told(row, ("M_W_m2", "W/m²"), ("ta_C", "°C"))
        ours = float(skin.respiratory_loss(rate, air, humidity))
        found.append(Row(BREATH, what, "W/m²", by_cold, ours, 1.1e-3, "ISO 11079, worked apart"))
        ours = float(skin.respiratory_loss_iso7730(rate, air, humidity))
        found.append(
            Row(BREATH, f"{what}, for rooms", "W/m²", by_rooms, ours, 1.1e-4, "ISO 7730, worked apart")
        )
    return tuple(found)


def rooms() -> tuple[Row, ...]:
    """Predicted votes, which hold our breath and vapour.

    Units   votes from -3 to 3
    Source  ISO 7730:2005, Table D.1
    """
    names = ("ta_C", "tr_C", "v_m_s", "RH_pct", "met", "clo")
    units = (("ta_C", "°C air"), ("tr_C", "°C walls"), ("v_m_s", "m/s"), ("met", "met"), ("clo", "clo"))
    return tuple(
        Row(
            ROOMS,
            told(row, *units),
            "vote",
            float(row["PMV_published"]),
            predicted_vote(*value(row, *names)),
            0.01,
            "ISO 7730, Table D.1",
        )
        for row in table("iso7730_table_d1.csv")
    )


def work() -> tuple[Row, ...]:
    """Clothing that ISO 11079 asks for: by its printed table, then by a library that follows its program.

    Units   clo
    Source  ISO 11079:2007, Table F.1; pythermalcomfort 4.8.1
    """
    rows = table("iso11079_table_f1.csv")
    found: list[Row] = []
    for row in rows:
        # Where the print is itself off the standard's program, as much more is allowed.
        slip = abs(float(row["ICL_neutral_pub_clo"]) - float(row["lib_ICL_neutral"]))
        printed = ("IREQ_neutral_pub_clo", "ICL_neutral_pub_clo")
        found += _work_rows(row, "neutral", printed, 0.10 + slip, "ISO 11079, Table F.1")
    for row in rows:
        for name in CRITERIA:
            columns = (f"lib_IREQ_{name}", f"lib_ICL_{name}")
            found += _work_rows(row, name, columns, 0.135, "pythermalcomfort")
    return tuple(found)


def _work_rows(
    row: dict[str, str], name: str, columns: tuple[str, str], still_air: float, source: str
) -> list[Row]:
    in_use, basic = value(row, *columns)
    ours_in_use, ours_basic = _clothing(row, name)
    what = told(row, ("ta_C", "°C"), ("v_m_s", "m/s"), ("M_W_m2", "W/m²")) + f", {FEELING[name]}"
    return [
        Row(WORK, f"{what}, in use", "clo", in_use, ours_in_use, 0.10, source),
        Row(WORK, f"{what}, in still air", "clo", basic, ours_basic, still_air, source),
    ]


def _clothing(row: dict[str, str], name: str) -> tuple[float, float]:
    """Insulation in use and in still air, in clo."""
    air, radiant, wind, walking, rate, humidity, open_to_air = value(
        row, "ta_C", "tr_C", "v_m_s", "walk_m_s", "M_W_m2", "RH_pct", "p_L_m2s"
    )
    needed = clothing.required_clothing_insulation(
        air, radiant, wind, walking, rate, humidity, CRITERIA[name]
    )
    basic = clothing.required_basic_insulation(needed, wind, walking, open_to_air)
    return float(needed) / CLO, float(basic) / CLO


def sleep_terms() -> tuple[Row, ...]:
    """Skin, breath, damp skin and resistance of sleepers, each beside the same equations solved elsewhere.

    Units   degC, W/m2, W/m2, m2 K/W
    Source  ISO 11079:2007 below its scope, worked apart from this project
    """
    found: list[Row] = []
    for row in table("required_insulation_sleep.csv"):
        rate, air, total_r = value(row, "M_W_m2", "ta_C", "R_total_m2K_W")
        name = row["criterion"]
        criterion = CRITERIA[name]
        skin_c = skin.skin_temperature(rate, criterion)
        moist = skin.evaporative_loss(
            skin.skin_wettedness(rate, criterion),
            skin_c,
            air,
            HUMIDITY,
            skin.evaporative_resistance(total_r),
        )
        at = told(row, ("M_W_m2", "W/m²"), ("ta_C", "°C")) + f", {FEELING[name]}"
        needed = body.required_resistance(air, rate, criterion, HUMIDITY)
        for term, unit, column, ours, allowed in (
            ("skin", "°C", "tsk_C", skin_c, 5.1e-4),
            ("breath", "W/m²", "Hres_W_m2", skin.respiratory_loss(rate, air, HUMIDITY), 2e-3),
            ("damp skin", "W/m²", "E_W_m2", moist, 2e-3),
            ("skin to air", "m²K/W", "R_total_m2K_W", needed, 2e-4),
        ):
            found.append(
                Row(
                    SLEEP,
                    f"{term}: {at}",
                    unit,
                    float(row[column]),
                    float(ours),
                    allowed,
                    "ISO 11079, worked apart",
                )
            )
    return tuple(found)
