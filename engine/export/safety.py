"""What can hurt while this quilt is made and used? The cautions that stand on every sheet it concerns.

They name the danger and the habit that keeps it away, and leave the rest to local rules and qualified people.
"""

from dataclasses import dataclass

from engine.catalogue.load import Catalogue
from engine.evaluate import Evaluation


@dataclass(frozen=True)
class Safety:
    """One danger in a word or two, and what to do about it."""

    subject: str
    text: str


COLD = Safety(
    "Cold",
    "The temperatures are estimates with wide bands, not a promise and not a rating by any standard. Try the "
    "quilt near shelter first, and carry more insulation than you think you need.",
)
FLAME = Safety(
    "Fire",
    "Shells and fill melt or burn. Keep the quilt from flames, stoves and sparks.",
)
HOT_KNIFE = Safety(
    "Hot knife",
    "It burns skin and gives off fumes. Cut on glass or metal with a window open, and never leave it hot "
    "and alone.",
)
SOLVENT = Safety(
    "Solvent",
    "Sealant gives off fumes that burn and harm. Work outdoors or in a strong draught, away from flames, "
    "with gloves, as its label and local rules say.",
)
FILM = Safety(
    "Film",
    "No air passes it. Never draw it over a face, and keep film and offcuts away from small children and "
    "animals.",
)
HANGING = Safety(
    "Hanging",
    "The hammock carries the sleeper; this quilt and its cords never may. Have straps, anchors and trees "
    "or beams checked by a qualified person, and follow local rules.",
)


def safety_of(one: Evaluation, catalogue: Catalogue) -> tuple[Safety, ...]:
    """The cautions that concern one quilt: cold, fire and hanging always, the rest by its goods.

    Raises  Refusal for an unknown good
    Source  common practice, no source
    """
    design = one.design
    joints = design.joints
    methods = [joints.baffles, joints.edges, joints.ends, joints.panel_joins, joints.raw_edges]
    used = [catalogue.joint(method) for method in methods if method is not None]
    cloths = [design.shells.inner, design.shells.outer, design.baffles.fabric]
    if design.end_panels.fitted:
        cloths.append(design.end_panels.fabric)
    found = [COLD, FLAME]
    if any(method.hot for method in used):
        found.append(HOT_KNIFE)
    if any(method.solvent for method in used):
        found.append(SOLVENT)
    if any(catalogue.fabric(cloth).airtight for cloth in cloths):
        found.append(FILM)
    return (*found, HANGING)
