"""What does each block of a document look like on paper, in pieces that a page is never turned within?"""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from engine.draw.compose import placed
from engine.draw.shapes import Drawing, Line, Polygon, Shape, Text
from engine.draw.style import HAIR_MM, THIN_MM, Tone
from engine.paper.blocks import (
    Beside,
    Block,
    Box,
    Columns,
    Figures,
    FillIn,
    Heading,
    Item,
    Items,
    Paragraph,
    Step,
    Stop,
    Table,
    Together,
)
from engine.paper.lines import broken, width_of
from engine.paper.part import (
    BODY_MM,
    HEAD_ROOM_MM,
    HEADING_MM,
    LEADING,
    NUMBER_MM,
    QUIET_MM,
    SMALL_MM,
    STRONG_MM,
    Part,
    Room,
    height_of,
    held_together,
    moved,
    stacked,
    text_lines,
    tick_box,
)
from engine.paper.tables import table_parts

INDENT_MM, STEP_INDENT_MM = 7.0, 13.0
FRAME_MM, PADDING_MM, HEAVY_FRAME_MM = 0.35, 2.5, 1.0
WRITE_MM = 24.0
GAP_MM = 2.0
BETWEEN_MM = 6.0
SIZES_MM = {"plain": BODY_MM, "quiet": QUIET_MM, "small": SMALL_MM, "strong": STRONG_MM}


def parts_of(block: Block, room: Room) -> tuple[Part, ...]:
    """A block in parts.

    Source  definition
    """
    match block:
        case Heading():
            lines = broken(block.text, room.text_mm, HEADING_MM, bold=True)
            return (Part(*text_lines(lines, HEADING_MM, bold=True), gap_mm=3.5, keep=True),)
        case Paragraph():
            return (_paragraph(block, room.text_mm),)
        case Items():
            return tuple(_item(item, room.text_mm) for item in block.items)
        case FillIn():
            return (_fill_in(block, room.text_mm),)
        case Stop():
            return (_framed("STOP", (Paragraph(block.text),), room, HEAVY_FRAME_MM),)
        case Box():
            inside = Room(room.wide_mm, room.wide_mm, room.height_mm) if block.wide else room
            frame = HEAVY_FRAME_MM if block.heavy else FRAME_MM
            return (_framed(block.title, block.content, inside, frame),)
        case Table():
            return table_parts(block, room)
        case Figures():
            return tuple(_rows_of(block.drawings, room))
        case Beside():
            return (_beside(block, room),)
        case Columns():
            return _columns(block, room)
        case Together():
            within = [part for each in block.content for part in parts_of(each, room)]
            return held_together(within, room.height_mm)
        case Step():
            return _step(block, room)


def _paragraph(block: Paragraph, width_mm: float) -> Part:
    size = SIZES_MM[block.manner]
    tone: Tone = "quiet" if block.manner == "quiet" else "ink"
    lead = f"{block.lead} " if block.lead else ""
    before = width_of(lead, size, bold=True) if lead else 0.0
    if before > width_mm * 0.8:
        first = text_lines(broken(block.lead, width_mm, size, bold=True), size, bold=True)
        rest = _paragraph(replace(block, lead=""), width_mm)
        lower = moved(rest.shapes, 0.0, first[0])
        return Part(first[0] + rest.height_mm, (*first[1], *lower), GAP_MM)
    lines = broken(block.text, width_mm, size, first_mm=before)
    height, shapes = text_lines(lines[1:], size, tone=tone)
    step = size * LEADING
    below = moved(shapes, 0, step)
    head: list[Shape] = []
    if lead:
        head.append(Text((0.0, step / 2), block.lead, size, "start", bold=True))
    if lines[0]:
        head.append(Text((before, step / 2), lines[0], size, "start", tone=tone))
    return Part(step + height, (*head, *below), GAP_MM)


def _item(item: Item, width_mm: float) -> Part:
    lines = broken(item.text, width_mm - INDENT_MM, BODY_MM)
    height, shapes = text_lines(lines, BODY_MM, x_mm=INDENT_MM)
    middle = BODY_MM * LEADING / 2
    mark: Shape = Text((1.2, middle), "·", BODY_MM, "start", bold=True)
    if item.tick:
        mark = tick_box(0.3, middle)
    return Part(height, (mark, *shapes), 1.3)


def _fill_in(block: FillIn, width_mm: float) -> Part:
    """The line to write on follows the text where it fits, otherwise it stands under it."""
    part = _paragraph(Paragraph(block.text, block.lead), width_mm)
    step = BODY_MM * LEADING
    texts = [shape for shape in part.shapes if isinstance(shape, Text)]
    last = max(texts, key=lambda text: (text.at[1], text.at[0]))
    end = last.at[0] + width_of(last.text, BODY_MM, last.bold) + 2.5
    behind = f"\u00a0{block.unit}" if block.unit else ""
    asked = f"{block.ask} " if block.ask else ""
    before = width_of(asked, BODY_MM) if asked else 0.0
    needed = before + WRITE_MM + width_of(behind, BODY_MM)
    extra = 2.5
    top = part.height_mm - step + extra
    if end + needed > width_mm:
        end, top, extra = 0.0, part.height_mm + extra, extra + step
    shapes = moved(part.shapes, 0, 2.5)
    ask = (Text((end, top + step / 2), block.ask, BODY_MM, "start"),) if asked else ()
    end += before
    line = Line((end, top + step * 0.85), (end + WRITE_MM, top + step * 0.85), width_mm=THIN_MM)
    unit = (Text((end + WRITE_MM, top + step / 2), behind, BODY_MM, "start"),) if block.unit else ()
    return Part(part.height_mm + extra, (*shapes, *ask, line, *unit), 1.0)


def _framed(title: str, content: Sequence[Paragraph | Items | FillIn], room: Room, frame_mm: float) -> Part:
    inner = room.less(2 * PADDING_MM)
    parts = [part for each in content for part in parts_of(each, inner)]
    if title:
        size = HEADING_MM if frame_mm == FRAME_MM else STRONG_MM + 0.4
        lines = broken(title, inner.text_mm, size, bold=True)
        parts.insert(0, Part(*text_lines(lines, size, bold=True)))
    height, shapes = stacked(parts, PADDING_MM, PADDING_MM)
    right, bottom = room.text_mm - frame_mm / 2, height + PADDING_MM
    corners = ((frame_mm / 2, 0.0), (right, 0.0), (right, bottom), (frame_mm / 2, bottom))
    return Part(bottom, (Polygon(corners, width_mm=frame_mm), *shapes), 3.0)


def _rows_of(drawings: Sequence[Drawing], room: Room) -> Iterable[Part]:
    """Rows of drawings; one that is larger than a page is made smaller, for a page is all there is."""
    most = room.height_mm - HEAD_ROOM_MM
    row: list[Drawing] = []
    fitting = (_shrunk(drawing, room.wide_mm, most) for drawing in drawings)
    for drawing in (*fitting, None):
        taken = sum(each.width_mm + 4.0 for each in row)
        if row and (drawing is None or taken + drawing.width_mm > room.wide_mm + 1e-6):
            yield _figure_row(row)
            row = []
        if drawing is not None:
            row.append(drawing)


def _shrunk(drawing: Drawing, width_mm: float, height_mm: float) -> Drawing:
    share = min(1.0, width_mm / drawing.width_mm, height_mm / drawing.height_mm)
    if share == 1.0:
        return drawing
    size = drawing.width_mm * share, drawing.height_mm * share
    return Drawing(*size, drawing.title, drawing.description, placed(drawing, 0.0, 0.0, share))


def _columns(block: Columns, room: Room) -> tuple[Part, ...]:
    width = (room.wide_mm - BETWEEN_MM * (len(block.stacks) - 1)) / len(block.stacks)
    inner = Room(width, width, room.height_mm)
    stacks = [[part for each in stack for part in parts_of(each, inner)] for stack in block.stacks]
    found = [stacked(parts, place * (width + BETWEEN_MM), 0.0) for place, parts in enumerate(stacks)]
    height = max(end for end, _ in found)
    if height > room.height_mm - HEAD_ROOM_MM:
        return tuple(part for stack in block.stacks for each in stack for part in parts_of(each, room))
    return (Part(height, tuple(shape for _, shapes in found for shape in shapes), 3.0),)


def _figure_row(row: Sequence[Drawing]) -> Part:
    shapes: list[Shape] = []
    x_mm = 0.0
    for drawing in row:
        shapes += placed(drawing, x_mm, 0.0)
        x_mm += drawing.width_mm + 4.0
    return Part(max(drawing.height_mm for drawing in row), tuple(shapes), 3.0)


def _beside(block: Beside, room: Room) -> Part:
    drawing = block.drawing
    left = room.wide_mm - drawing.width_mm - 5.0
    inner = Room(left, left, room.height_mm)
    parts = [part for each in block.content for part in parts_of(each, inner)]
    height, shapes = stacked(parts, 0.0, 0.0)
    figure = placed(drawing, room.wide_mm - drawing.width_mm, 0.0)
    return Part(max(height, drawing.height_mm), (*shapes, *figure), 3.0)


def _step(block: Step, room: Room) -> tuple[Part, ...]:
    inside = room.less(STEP_INDENT_MM)
    parts = [
        replace(part, shapes=moved(part.shapes, STEP_INDENT_MM, 0.0))
        for each in block.content
        for part in parts_of(each, inside)
    ]
    head = replace(_step_head(block, "", inside), gap_mm=5.0, keep=True)
    whole = (head, *parts)
    if height_of(whole) <= room.height_mm - HEAD_ROOM_MM:
        return held_together(whole, room.height_mm)
    more = _step_head(block, ", continued", inside)
    return (head, *(replace(part, again=(more, *part.again)) for part in parts))


def _step_head(block: Step, more: str, inside: Room) -> Part:
    lines = broken(block.title + more, inside.text_mm, HEADING_MM, bold=True)
    height, shapes = text_lines(lines, HEADING_MM, bold=True, x_mm=STEP_INDENT_MM)
    step = HEADING_MM * LEADING
    down = (NUMBER_MM * LEADING - step) / 2
    rule = Line((0.0, -1.6), (inside.text_mm + STEP_INDENT_MM, -1.6), "quiet", HAIR_MM)
    number = Text((0.0, NUMBER_MM * LEADING / 2), block.number, NUMBER_MM, "start", bold=True)
    lower = moved(shapes, 0.0, down)
    return Part(max(height + down, NUMBER_MM * LEADING), (rule, number, *lower))
