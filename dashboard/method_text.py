"""What does each model say, how far does it reach, where is it from, and what does it leave out? Words."""

from dataclasses import dataclass

from dashboard.words import NBSP, number, said
from engine import bands
from engine.formulas import body, heat
from engine.units import MM

GAP_M = 20 * MM


@dataclass(frozen=True)
class Model:
    """One model in plain sentences."""

    title: str
    question: str
    says: str
    reach: str
    source: str
    limits: str


def gap_worth() -> str:
    """What a closed gap under a back would hold at most, as text."""
    held = heat.air_gap_resistance(GAP_M, 10.0, heat.sinking_convection(GAP_M))
    return said("resistance", float(held))


LOFT_MAP = Model(
    "Loft map",
    "How thick is the quilt at each place?",
    "Baffles, seams, end panels and edges hold the two shells; between them the shells hang like a tent "
    "over its poles. Thickness is solved over the whole plan of your layout; what lies on the sleeper is "
    "then kept as 32 groups of like places, each with its spread. Straight sewn channels are exact arcs.",
    "Any layout up to 2,500 baffles. Chambers too narrow for the grid are scored less finely, with a note.",
    "Equations of a stretched skin, textbook; arcs by definition; checked against closed forms.",
    "Cloth that stretches, folds, and sag under its own weight.",
)
FILL_STATES = Model(
    "Fill and cut",
    "What does the down do in the room that you give it?",
    "Down wants grams × fill power. It first raises the baffles, then bulges both shells, which share the "
    "bulge as their cut lets them, and once the cut is used up it only gets denser. In a flat cut overstuff "
    "therefore draws the quilt in before it packs the down. An outer shell cut larger for the wrap uses "
    "that up round the body; flat on the bench it bulges more.",
    "From slack to about twice as tight as in the fill-power test.",
    "Definition of fill power (EN 12130) and of the area of a bulging face. How far makers let a quilt draw "
    "in: common practice, no source.",
    "Loft lost with age, damp and baling, beyond what the band takes for the label.",
)
DRIFT = Model(
    "Drift",
    "Will the fill wander?",
    "Fill is taken to creep as water seeps, round the baffles and never through them. The index says how "
    "much harder that is with your baffles than with none, along and across.",
    "Passages of 25 mm or wider to within 4 %; narrower ones roughly.",
    "The idea is ours; the solver meets an exact solution for rows of slits.",
    "It compares layouts and is no distance and no time. Friction, washing, and down that slips through mesh "
    "are not in it.",
)
CONDUCTION = Model(
    "Heat through the fill",
    "What is a millimetre of down worth?",
    "Heat goes through the still air in the down, and as radiation through the gaps between its fibres. "
    "Denser down stops more radiation, so each millimetre of it holds more.",
    "1.5 to 15 kg/m³. Below that air moves in the fill; above it the fibres themselves conduct.",
    "Diffusion of radiation, textbook; a patent for a batt like down bounds it.",
    "How well down stops radiation is set so that makers' loft rules are met. It is the widest part of the "
    "band on warmth.",
)
SLOPES = Model(
    "Seams, slopes and the section",
    "How much more is lost where the quilt is thin?",
    "Each place of the map is a path of its own. Where the faces slope, heat takes the short way, slantwise "
    "to a thinner place: a correction by the slope of each face counts that. The section in Close-up is "
    "solved true, in two dimensions.",
    "Within 5 % for sewn chambers up to half as high as wide that bulge on both sides, and to a third where "
    "one face lies flat; for steeper ones the solved section counts.",
    "Conduction in a wedge, textbook; our own sections, by a solver that passes both cases of ISO 10211.",
    "The holes of a needle, and the pull of one chamber on the next.",
)
FILMS = Model(
    "Films, wind and gaps",
    "What does the air outside take?",
    "A film of air clings to the outer shell, and wind thins it. Wind also presses air through a shell that "
    "is not tight, in on one side and out on the other. Where an underquilt stands off, air passes.",
    "Steady wind to 15 m/s, under a tarp; shells up to 100 mm/s at 100 Pa.",
    "Churchill and Bernstein (1977) and ISO 6946 for films. The shares of wind and draught are set so that "
    "they cost what makers find: common practice, no source.",
    "Gusts, and a clear sky. Still air between you and an underquilt is not counted: "
    f"{said('bench length', GAP_M)} of it, closed all round, would hold {gap_worth()}, and a little draught "
    "takes that away.",
)
SLEEPER = Model(
    "The sleeper",
    "Down to which air is it comfortable?",
    "A body at rest makes heat; breath, damp skin, head, this quilt and the other half take it away. "
    "Comfortable down to: the air in which a standard woman loses just what she makes and feels neither warm "
    "nor cool. Limit: the same for a standard man who feels cool.",
    f"The standard begins at 58{NBSP}W/m²; sleepers make {number(body.STANDARD_WOMAN_W_M2)} to "
    f"{number(body.STANDARD_MAN_W_M2)}{NBSP}W/m², so we go below its scope.",
    "ISO 11079:2007 for skin, breath and balance; Harris and Benedict (1918) for the heat made at rest.",
    "People differ by more than the band. A hood closed round the face, food, movement and age. It is no "
    "rating by any standard.",
)
MOISTURE = Model(
    "Damp",
    "How much water stays in the quilt overnight?",
    "Vapour leaves the skin and passes each layer as if it were so much still air. Where it would be more "
    "than the air there can hold, the rest stays as dew or frost. An airtight inner shell keeps it out of "
    "the fill; an airtight outer shell behind a breathable inner one keeps nearly all of it in.",
    "One night without change, from warm to deep frost.",
    "ISO 13788, Glaser's method. The vapour that skin gives off: ours, between two sources.",
    "It is an upper estimate: no air passes at the edges and nothing dries. What damp does to loft is "
    "not known.",
)
PACKING = Model(
    "Packed volume",
    "How small does it pack?",
    "Each kind of fill is squeezed along a curve from its own loft in the fill-power test to one density "
    "that all down shares under a hard push. Shells are bulk cloth. So more fill power packs only a little "
    "larger, gram for gram.",
    "From the fill-power test to 35 kPa; the score is for a firm hand.",
    "The test by definition (EN 12130); the density under a hard push is ours, bounded by a patent.",
    "The shape of the sack, and air that a tight shell holds back.",
)
AIR = Model(
    "Air in tight shells",
    "How fast does air get out and back in?",
    "Air goes through shells and end panels by their permeability. Squeezing it out takes as long as your "
    "push says. It comes back by the spring of the down alone, which is slow at the end. Air that is shut in "
    "while you stuff pulls at the baffles.",
    "Tight cloth, where flow grows with pressure.",
    "Definition of air permeability (ISO 9237); the spring follows the packing curve.",
    "Needle holes, and the hours that down needs to straighten itself after long storage.",
)
WORK = Model(
    "Work and cost",
    "What does it take?",
    "Work is metres and pieces of each joint times minutes, with marking, filling and closing. Cost is what "
    "goes into the quilt times its price, with what is lost on the way.",
    "Hand tools and a home machine; a first quilt takes a factor more.",
    "Minutes and losses: common practice, no source. Prices in the catalogue are invented: put in your own.",
    "Mistakes, fetching things, and what you buy and do not use.",
)
BANDS = Model(
    "Bands",
    "How sure is it?",
    f"All that is uncertain is drawn {number(bands.DRAWS)} times and goes through the same formulas; the "
    "band holds 9 in 10. What candidates share, such as the sleeper, the down or a cloth, is drawn once "
    "for all of them, so a difference can be sure although neither value is. Differences come from those "
    "common draws: their last digit may not match the subtraction of the two numbers that you see.",
    "What a careful maker meets at home.",
    "Spreads of masses, cuts and fill power: common practice, no source. Of fibres, head and heat at rest: "
    "between published bounds. Prices and pace: ours.",
    "Differences between people, which are wider than any of it; and what no model here holds.",
)
MODELS = (
    LOFT_MAP, FILL_STATES, DRIFT, CONDUCTION, SLOPES, FILMS, SLEEPER, MOISTURE, PACKING, AIR, WORK, BANDS,
)  # fmt: skip

DISAGREE = (
    (
        "Damp skin, twice",
        "Two sources differ on how much water a resting skin gives off. The standard for cold (ISO 11079) "
        "lets some 1 to 2 W/m² leave with it; what skin loses unnoticed over a day comes to about 6.5 W/m². "
        "The rating keeps the first, because it was fitted with it; damp keeps a source of its own near "
        "the second. They are never added.",
    ),
    (
        "Loft, by the trade and by the old table",
        "For 3 in of loft makers' rule says about −11 °C, a table of 1955 says −29 °C. The "
        "table has insulation all round the body, the trade has a bare face. Our model meets each under its "
        "own condition and not with one set of numbers, so the two are never averaged.",
    ),
    (
        "Breath",
        "The standard for rooms lets from a third to over a half more heat leave with the breath than the "
        "one for cold, where the breath that leaves is cooler. Quilts are rated by the one for cold.",
    ),
)
UNKNOWN = (
    "How real down conducts, by density and temperature. No measured table was found.",
    "How a standard's laboratory turns insulation into a temperature for a sleeping bag. Only pairs of "
    "comfort and limit could be checked.",
    "What damp, years and washing take from loft.",
    "How far fill wanders in a season. Nothing was found that measured it.",
    "How warm you sleep. Rest rates of people spread so far that one may be comfortable where another, in "
    "the same quilt, is far too cold.",
    "How well tape holds on coated cloth. Try it on scraps of yours.",
    "Whether a quilt made from these pages comes out as they say. None has yet been weighed, measured and "
    "slept under for them.",
)
