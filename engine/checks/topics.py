"""Which outside checks are there, what does each show, and why is no closer agreement asked of it?"""

from engine.checks import damp, heat, makers, rating, sleeper, trade
from engine.checks.rows import Topic

HEAT = (
    Topic(
        heat.CORNER,
        "The solver behind cross-sections finds the temperatures of a standard's own test body.",
        "The standard itself sets 0.1 °C. One decimal is printed.",
        heat.corner,
    ),
    Topic(
        heat.STRIPS,
        "The same solver, where metal beside insulation makes it hardest.",
        "The standard itself sets 0.1 °C and 0.1 W/m. One decimal is printed.",
        heat.strips,
    ),
    Topic(
        heat.STILL_AIR,
        "Still air, most of what keeps you warm in down, conducts as reference equations say.",
        "Our short formula is a fit, good to 1 in 10,000.",
        heat.still_air,
    ),
    Topic(
        heat.GAPS,
        "Still air, radiation between two cloths and air that turns over, together: a closed gap.",
        "Two decimals are printed, so half of the last one.",
        heat.gaps,
    ),
    Topic(
        heat.FILMS,
        "The film of air that wind leaves at a surface.",
        "Two decimals of the printed table; its formula rounds radiation by 1 in 100; else four decimals.",
        heat.films,
    ),
    Topic(
        heat.ACROSS,
        "Wind across a body that lies in a hammock.",
        "Two decimals are printed. What was measured scatters by about a fifth round the formula.",
        heat.across,
    ),
)
SLEEPER = (
    Topic(
        sleeper.BREATH,
        "Heat that leaves with the breath, by the rule for cold that rates quilts and by the one for rooms.",
        "Four decimals are printed; one standard prints its own vapour curve, 0.02 % lower.",
        sleeper.breath,
    ),
    Topic(
        sleeper.ROOMS,
        "Breath and vapour inside the index of room comfort. Its clothing and sweat are not ours, and rate "
        "no quilt.",
        "Two decimals are printed: one of the last.",
        sleeper.rooms,
    ),
    Topic(
        sleeper.WORK,
        "The balance that rates a quilt, at working rates and in clothes, where the standard prints answers.",
        "One decimal is printed (0.05 clo), and the program printed with the standard differs from its own "
        "equations by 0.05 clo, more in still air; one printed value lies 0.1 clo off that program.",
        sleeper.work,
    ),
    Topic(
        sleeper.SLEEP,
        "Each term of that balance at sleeping rates, beside the same equations solved by other means.",
        "Three or four decimals are printed, and the vapour curve differs in its fourth digit.",
        sleeper.sleep_terms,
    ),
    Topic(
        rating.WHOLE,
        "From a known resistance to a temperature, through all of the program.",
        "Four decimals of resistance are worth 0.005 °C, the two prints of the vapour curve as much.",
        rating.whole,
    ),
    Topic(
        rating.BAGS,
        "Comfort of a woman and limit of a man belong together as they do in tested sleeping bags. It says "
        "nothing of how warm a given quilt is.",
        "Half a degree: tests of one bag repeat no better.",
        rating.bags,
    ),
    Topic(
        rating.TWO_NODE,
        "Another model of the body lies between our two feelings, and falls as fast with more insulation.",
        "That model is an hour's run with another law of sweat: between one degree below “cool” and “neither "
        "warm nor cool”, and a tenth of the fall.",
        rating.two_node,
    ),
    Topic(
        rating.THICKNESS,
        "An even layer round all of the body, head too, through all of the program. Practice asks for more "
        "loft, because of the bare face.",
        "The table steps by 20 °F: half a step, 5.5 °C.",
        rating.thickness,
    ),
)
DAMP = (
    Topic(
        damp.VAPOUR,
        "How much vapour air holds, with frost below freezing.",
        "The standard's formula is a fit: 0.2 % above freezing, 0.6 % to −20 °C, 2 % to −40 °C. The curve "
        "for breath and skin is held to 0.3 %; three decimals of the formula itself.",
        damp.vapour,
    ),
    Topic(
        damp.NIGHTS,
        "Where damp stays in a stack of layers. No published example was found: these were worked twice by "
        "other means.",
        "The last printed digit, twice that for a sum.",
        damp.nights,
    ),
)
TRADE = (
    Topic(
        makers.HEIGHTS,
        "Whole quilts through all of the program, by the baffle heights that makers choose for a night. The "
        "fibres' one number is set by such rules, so this shows that the chain holds them, not more.",
        "Makers round to 5 °F and speak of an average sleeper: 3 °C.",
        makers.heights,
    ),
    Topic(
        makers.AREAL,
        "The same by down per area, which makers trust more; partly the rule of heights in other units.",
        "Makers round to 5 °F and speak of an average sleeper: 3 °C.",
        makers.areal,
    ),
    Topic(
        trade.FILL_POWER,
        "Five variants of the test press alike, so one number of fill power means one density.",
        "Lids differ by 0.3 Pa among themselves, and by 0.6 Pa as one counts lid or cylinder: 0.5 Pa. "
        "Of the height, half of the last printed digit.",
        trade.fill_power,
    ),
    Topic(
        trade.RULES,
        "The short rules that makers reckon with come out as they say them.",
        "Plain arithmetic: they must be met.",
        trade.rules,
    ),
    Topic(
        trade.FACTORS,
        "Grams and ounces, clo and tog, millimetres and inches.",
        "Definitions, printed to seven digits or more.",
        trade.factors,
    ),
)
TOPICS: tuple[Topic, ...] = (*HEAT, *SLEEPER, *DAMP, *TRADE)
"""Every table from outside, in the order in which a reader meets them."""
