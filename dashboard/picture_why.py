"""Why these pictures? How the plan, the section, the drift and the bands of one quilt are found."""

from dashboard.close_up_why import Input, why
from dashboard.words import NBSP, Units, number, said
from engine.bands import DRAWS
from engine.evaluate import Evaluation
from engine.fields.drift import Drift
from engine.picture.cold_spots import CLEAR_OF_END_M, CLEAR_OF_SIDE_M, PALM_M
from engine.picture.plan import ThicknessPlan
from engine.picture.section import Section


def why_plan(e: Evaluation, plan: ThicknessPlan, units: Units) -> str:
    """The loft map and its cold spots."""
    under = [
        ("under the sleeper, from a side", said("bench length", CLEAR_OF_SIDE_M, units)),
        ("under the sleeper, from an end", said("bench length", CLEAR_OF_END_M, units)),
    ]
    if plan.sheet:
        return why(
            f"loft map of {e.letter}",
            "Sheet insulation stands at one height and falls over its own thickness to its edges and to each "
            "quilting line, so that its mean is that of the scores.",
            [("mean loft", said("bench length", plan.mean_m, units)), *under],
            "own judgement of how a sheet falls",
            "gaps between layers, and what washing does",
        )
    heights = [float(height) for height in e.score.loft.heights_m]
    inputs: list[Input] = [
        ("mean loft", said("bench length", plan.mean_m, units)),
        ("baffles stand at", said("bench length", heights[0], units)),
        ("edge walls stand at", said("bench length", heights[2], units)),
        ("a palm, across", said("bench length", 2 * PALM_M, units)),
    ]
    return why(
        f"loft map of {e.letter}",
        "Loft at a place = the height of baffles and edges, evened out in between like a stretched film, + "
        "the bulge that the fill pushes up between them. With baffles that stand, nothing is thinner than "
        "its surroundings except on a line or in the gap between two pieces of one, so cold spots are looked "
        "for there; equal ones are ordered by the mean round them within a palm.",
        [*inputs, *under],
        "Laplace and Poisson equations on the plan, solved by finite differences; what counts as under the "
        "sleeper: own judgement",
        "the body's weight and its curve, sag, folds in the cloth, and fill that has wandered; sewn channels "
        "are drawn as parabolas",
    )


def why_section(e: Evaluation, section: Section, units: Units) -> str:
    """The cross-section."""
    layers = section.layers
    return why(
        f"section of {e.letter}",
        "Heat flows steadily through the true shape, by conduction in the fill. The share that goes "
        "slantwise is its loss ÷ that of straight columns, each for itself.",
        [
            ("skin, neither warm nor cool", said("temperature", section.skin_c, units)),
            ("air", said("temperature", section.air_c, units)),
            ("conductivity of the fill", f"{number(1000 * layers.fill_w_mk, 1)}{NBSP}mW/(m{NBSP}K)"),
            ("R of clothing, cloth and air inside", said("resistance", layers.inner_r_m2k_w)),
            ("R of cloth and air film outside", said("resistance", layers.outer_r_m2k_w)),
            ("from line to line", said("bench length", section.width_m, units)),
        ],
        "conduction by finite volumes on a mesh that fits the faces, checked against ISO 10211; faces: "
        "circular arcs, by definition",
        "the body's curve, wind through the cloth, moisture, and the sleeper's weight on the fill. "
        "Temperatures are estimates like the scores",
    )


def why_drift(e: Evaluation, index: Drift | None, units: Units) -> str:
    """The drift of fill."""
    inputs: list[Input] = [("baffles", number(len(e.plan.lines)))]
    if index is not None:
        inputs.append(("cells of the grid", said("bench length", index.cell_m, units)))
    return why(
        f"drift of fill in {e.letter}",
        "Fill creeps as water seeps: through every free place alike, round baffles and never through them. "
        "Harder by so many times = resistance with baffles ÷ resistance of the same outline without any, "
        "from head to foot (along) and from side to side (across).",
        inputs,
        "Laplace flow on the plan; as a measure of wandering: own judgement",
        "how the quilt hangs, shaking, damp clumps, and how full each chamber is; no time is in it",
    )


def why_sure(e: Evaluation, units: Units) -> str:
    """The bands."""
    return why(
        f"how sure the scores of {e.letter} are",
        "Every uncertain number is drawn afresh, all scores are worked out again, and the band runs from the "
        "5 % to the 95 % outcome. What two candidates share (sleeper, down, cloth) is drawn in common.",
        [
            ("draws", number(DRAWS)),
            ("drawn", "masses, prices, pace, cutting, fill power, how the fill holds heat, air film, "
             "clothing, head, the sleeper's heat"),
        ],
        "Latin hypercube sampling (McKay, Beckman and Conover, 1979); spreads: common practice or ours, no "
        "source",
        "mistakes at the bench, a quilt that lies badly, weather other than the night given, and how people "
        "differ",
    )  # fmt: skip
