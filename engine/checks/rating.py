"""Does a quilt rated through the whole chain, from a design to a temperature, meet what is published?

A quilt without fill over clothing of a known R, with the head covered alike and no film of air, is one
resistance from skin to air. A flat quilt in box edges with fill of its own loft is as thick everywhere.
"""

from dataclasses import replace
from functools import cache

import numpy as np

from engine.catalogue.load import Catalogue, load_catalogue
from engine.checks.rows import Row, table, told, value
from engine.checks.sleeper import CRITERIA, FEELING, HUMIDITY
from engine.design import Baffles, Cut, Design, Edges, EndPanels, Filling
from engine.formulas import body
from engine.night import Night
from engine.quantities import FABRIC_R, Quantities, resolve
from engine.score import Score, score
from engine.units import CUBIC_INCH_PER_OUNCE, INCH, MM, celsius

WHOLE = "What a sleeper needs, through the whole program"
BAGS = "Comfort and limit of sleeping bags"
TWO_NODE = "What a clo is worth in another model of the body"
THICKNESS = "Thickness of insulation for sleep"
MAN_W_M2 = 46.0
MET_W_M2 = 58.15


@cache
def _bare() -> Quantities:
    empty = Design(fill=Filling(good="down-850", rule="grams", grams=0.0))
    return resolve(empty, Night(humidity_percent=HUMIDITY), _goods())


@cache
def _goods() -> Catalogue:
    return load_catalogue()


def uniform(resistance_m2k_w: float, comfort_w_m2: float, limit_w_m2: float) -> Score:
    """The score of one resistance all round, made of clothing and the two shells.

    Units   m2 K/W, W/m2, W/m2
    Source  definition
    """
    return score(
        replace(
            _bare(),
            clothing_r_m2k_w=resistance_m2k_w - 2 * FABRIC_R,
            head_r_m2k_w=resistance_m2k_w,
            head_share=body.HEAD_SHARE,
            film_factor=0.0,
            comfort_w_m2=comfort_w_m2,
            limit_w_m2=limit_w_m2,
        )
    )


def all_round(thickness_m: float) -> Score:
    """The score of an even layer of 800 in3/oz down, 20 % overstuffed, round all of a body, head included.

    Units   m
    Source  definition
    """
    design = Design(
        baffles=Baffles(height_mm=thickness_m / MM),
        cut=Cut(kind="flat"),
        edges=Edges(kind="box edge"),
        end_panels=EndPanels(fitted=True),
        fill=Filling(good="down-800", overstuff_percent=0),
    )
    # A base layer of 0.09 m2K/W, the inner shell included.
    night = Night(humidity_percent=HUMIDITY, clothing_r_m2k_w=0.09 - FABRIC_R)
    return score(
        replace(
            resolve(design, night, _goods()),
            # As dense as if overstuffed, yet without a bulge; nothing puckers, so it stands at the height.
            fill_power_m3_kg=800 / 1.2 * CUBIC_INCH_PER_OUNCE,
            pucker=0.0,
            head_share=0.0,
            # All of the body is the other half, and that is covered alike.
            underside_share=0.0,
            other_matched=1.0,
            comfort_w_m2=MAN_W_M2,
        )
    )


def whole() -> tuple[Row, ...]:
    """Air temperature that a known resistance reaches.

    Units   degC
    Source  ISO 11079:2007 below its scope, worked apart from this project
    """
    found = []
    for row in table("required_insulation_sleep.csv"):
        rate, resistance, air = value(row, "M_W_m2", "R_total_m2K_W", "ta_C")
        result, name = uniform(resistance, rate, rate), row["criterion"]
        ours = float(result.comfort_c if name == "neutral" else result.limit_c)
        what = told(row, ("M_W_m2", "W/m²"), ("R_total_m2K_W", "m²K/W")) + f", {FEELING[name]}"
        found.append(Row(WHOLE, what, "°C", air, ours, 0.02, "ISO 11079, worked apart"))
    return tuple(found)


def bags() -> tuple[Row, ...]:
    """The limit that belongs to a published comfort, for the standard woman and man.

    Units   degC
    Source  EN 13537:2012 temperatures in open papers of 2015 and 2016
    """
    found = []
    woman, man = _bare().comfort_w_m2, _bare().limit_w_m2
    for row in table("comfort_and_limit.csv"):
        comfort, limit = value(row, "comfort_C", "limit_C")
        needed = body.required_resistance(comfort, woman, CRITERIA["neutral"], HUMIDITY)
        result = uniform(float(needed), float(woman), float(man))
        for what, published, ours, allowed in (
            ("comfort, found back", comfort, result.comfort_c, 0.02),
            ("limit", limit, result.limit_c, 0.5),
        ):
            at = told(row, ("comfort_C", "°C"))
            source = f"EN 13537, paper {row['paper']}"
            found.append(
                Row(BAGS, f"{what}: bag of comfort {at}", "°C", published, float(ours), allowed, source)
            )
    return tuple(found)


def two_node() -> tuple[Row, ...]:
    """Air temperatures for a skin of 33 degC: within the span of both feelings, and how fast they fall.

    Units   degC, K
    Source  pythermalcomfort 4.8.1, two-node model, 0.8 met, 2 to 6 clo
    """
    picked = [r for r in table("two_node_skin_33.csv") if r["met"] == "0.8" and float(r["clo"]) <= 6]
    rate, source, found, cool = 0.8 * MET_W_M2, "pythermalcomfort, two-node model", [], []
    for row in picked:
        air, heat = value(row, "Ta_for_tskin33_C", "q_sensible_W_m2")
        result = uniform((33.0 - air) / heat, rate, rate)
        # One kelvin colder than cool to neither warm nor cool: the middle of that, give or take its half.
        coldest, warmest = float(result.limit_c) - 1.0, float(result.comfort_c)
        middle, half = (coldest + warmest) / 2, (warmest - coldest) / 2
        found.append(Row(TWO_NODE, told(row, ("clo", "clo")), "°C", air, middle, half, source))
        cool.append((air, float(result.limit_c)))
    theirs, ours = np.diff(np.array([cool[0], cool[-1]]), axis=0)[0]
    fall = Row(
        TWO_NODE, "fall from 2 to 6 clo", "K", float(theirs), float(ours), 0.1 * abs(float(theirs)), source
    )
    return (*found, fall)


def thickness() -> tuple[Row, ...]:
    """Air for which a thickness all round suffices, the head covered like the rest.

    Units   degC
    Source  Burton and Edholm, Man in a Cold Environment (1955), quoted second-hand
    """
    return tuple(
        Row(
            THICKNESS,
            told(row, ("thickness_in", "in")),
            "°C",
            float(celsius(float(row["air_F"]))),
            float(all_round(float(row["thickness_in"]) * INCH).comfort_c),
            5.5,
            "Burton and Edholm (1955), second-hand",
        )
        for row in table("thickness_for_sleep.csv")
    )
