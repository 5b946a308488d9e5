"""Where does what the outer shell is wider and longer than the inner one go? Said alike everywhere."""

from engine.design import Design
from engine.quantities.shape import has_edge_walls, stands


def has_end_panels(design: Design) -> bool:
    """End panels stand between the shells: the bill has them where they are fitted and baffles stand.

    Source  definition
    """
    return design.end_panels.fitted and stands(design)


def across_is(design: Design) -> str:
    """What the outer is wider, at head and foot: it is ...

    Source  common practice, no source
    """
    if has_end_panels(design):
        return "taken up by the end panels, which are longer outside"
    return design.ends.surplus


def along_is(design: Design) -> str:
    """What the outer is longer, at both long edges: it is ...

    Source  common practice, no source
    """
    if has_edge_walls(design):
        return "taken up by the edge walls, which are longer outside"
    return "eased in along the sides"
