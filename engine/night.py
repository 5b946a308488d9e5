"""What the quilt is for: one night and one sleeper, shared by all candidates."""

from typing import Literal

from pydantic import Field

from engine.models import Frozen, choice, measure

WindWord = Literal["under a low tarp", "under a high tarp", "open", "own"]
FitWord = Literal[
    "snug all round", "one hand slips in at the ends", "daylight at the ends", "sags under the back"
]
SleeperKind = Literal["standard woman", "standard man", "own"]


class Sleeper(Frozen):
    """Who sleeps: the standard woman or man of the rating standards, or a person's own measures."""

    kind: SleeperKind = choice(
        "standard woman",
        label="Sleeper",
        text="Standard woman: 1.60 m, 60 kg. Standard man: 1.73 m, 73 kg. Own: your measures. "
        "The sleeper decides what fits and how much is covered; the two temperatures are for the standard "
        "woman and man, covered as far as this sleeper.",
    )
    height_mm: float = measure(
        1700, low=1200, high=2200, unit="mm", label="Height", text="Barefoot. Usual 1500 to 1950 mm.", step=10
    )
    mass_kg: float = measure(
        68,
        low=35,
        high=180,
        unit="kg",
        label="Mass",
        text="Usual 50 to 100 kg. With the height it gives the body's surface: watts short and damp in the "
        "Close-up. No score uses it.",
    )
    girth_mm: float = measure(
        1130,
        low=700,
        high=1900,
        unit="mm",
        label="Clothed shoulder girth",
        text="Round shoulders and arms, in sleep clothes. Usual 1000 to 1350 mm.",
        step=10,
    )


class Beyond(Frozen):
    """What lies where a short quilt does not reach, as a pad under the legs."""

    r_m2k_w: float = measure(
        0.25,
        low=0,
        high=2,
        unit="m²K/W",
        label="R of what lies there",
        text="A foot pad: 0.15 to 0.35 m²K/W; 0 for nothing.",
        step=0.05,
    )
    grams: float = measure(
        100, low=0, high=2000, unit="g", label="Its weight", text="A foot pad: 60 to 150 g.", step=5
    )
    price: float = measure(12, low=0, high=1000, unit="", label="Its price", text="0 if you have it.")


class Night(Frozen):
    """The night that all candidates are judged on."""

    air_c: float = measure(
        -5,
        low=-45,
        high=25,
        unit="°C",
        label="Air temperature",
        text="The lowest you expect. Usual −15 to 15 °C.",
    )
    wind: WindWord = choice(
        "under a low tarp",
        label="Wind",
        text="At the quilt: low tarp 0.3, high tarp 1, open 2.5 m/s (common practice); own: your number.",
    )
    wind_m_s: float = measure(
        0.3, low=0, high=15, unit="m/s", label="Wind at the quilt", text="Used when Wind is 'own'.", step=0.1
    )
    fit: FitWord = choice(
        "snug all round",
        label="How the quilt hangs",
        text="In use. A loose end costs 3 to 8 °C, a sag of 20 to 40 mm 2 to 5 °C (common practice).",
    )
    humidity_percent: float = measure(
        80,
        low=5,
        high=100,
        unit="%",
        label="Humidity of the air",
        text="Cold nights are usually 70 to 95 %.",
        step=5,
    )
    hours: float = measure(
        8,
        low=1,
        high=16,
        unit="h",
        label="Hours in bed",
        text="Usual 7 to 10 h. A night's damp and heat debt in the Close-up grow with it. No score uses it.",
        step=0.5,
    )
    sleeper: Sleeper = Sleeper()
    clothing_r_m2k_w: float = measure(
        0.08,
        low=0,
        high=1,
        unit="m²K/W",
        label="Sleep clothing, R",
        text="Base layer and socks 0.05 to 0.10 m²K/W (0.155 is 1 clo).",
        step=0.01,
    )
    head_r_m2k_w: float = measure(
        0.30,
        low=0.05,
        high=1.5,
        unit="m²K/W",
        label="On the head, R",
        text="Knit hat 0.2, lined hood 0.3 to 0.45 m²K/W, film of air included.",
        step=0.05,
    )
    other_half: Literal["matched", "own R"] = choice(
        "matched",
        label="The other half of the body",
        text="Matched: covered as warmly as this quilt covers its half. Own R: you give it.",
    )
    other_half_r_m2k_w: float = measure(
        0.9,
        low=0,
        high=3,
        unit="m²K/W",
        label="R of the other half",
        text="Without clothing and air film. A top quilt for 0 °C: about 0.9 m²K/W.",
        step=0.05,
    )
    beyond: Beyond = Beyond()
    weight_budget_g: float | None = measure(
        None,
        low=50,
        high=5000,
        unit="g",
        label="Weight budget",
        text="Drawn as a line; empty for none.",
        step=10,
    )
    cost_budget: float | None = measure(
        None, low=1, high=5000, unit="", label="Purse", text="Drawn as a line; empty for none.", step=5
    )
    first_quilt: bool = Field(
        False,
        title="This is my first quilt",
        description="Hours at the bench are multiplied by 1.5 (common practice, no source).",
    )
