"""The same document as HTML: every text of it, escaped, in one file without scripts or requests."""

import re
from html.parser import HTMLParser

from engine.draw.shapes import Drawing, Text
from engine.paper.blocks import (
    Box,
    Column,
    Document,
    Figures,
    Item,
    Items,
    Paragraph,
    Section,
    Step,
    Stop,
    Table,
)
from engine.paper.html import document_html, section_html

NASTY = "<img src=x onerror=alert(1)> & \"q\" 'a'"
VOID = {"meta", "input", "br", "img"}


class Reader(HTMLParser):
    """Collects text and tags, and refuses what is not closed in turn."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.seen: list[tuple[str, dict]] = []
        self.text = ""

    def handle_starttag(self, tag, attrs):
        self.seen.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.seen.append((tag, dict(attrs)))

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        self.text += data


def read(page: str) -> Reader:
    reader = Reader()
    reader.feed(page)
    reader.close()
    assert reader.open == []
    return reader


def document() -> Document:
    drawing = Drawing(30.0, 20.0, NASTY, NASTY, (Text((15.0, 10.0), NASTY),))
    table = Table(NASTY, (Column(NASTY), Column("Got", "tick")), ((f"{NASTY}\nsecond", "tick"),), (NASTY, ""))
    blocks = (
        Step("4", NASTY, (Stop(NASTY), Items((Item(NASTY), Item("plain", tick=False))))),
        Box(NASTY, (Paragraph(NASTY, NASTY),)),
        table,
        Figures((drawing,)),
    )
    return Document(NASTY, f"{NASTY} </style>", (Section("a", NASTY, blocks, new_page=True),), NASTY)


def test_what_was_typed_is_shown_as_it_is_and_does_nothing():
    reader = read(document_html(document()))
    tags = {tag for tag, _ in reader.seen}
    assert not tags & {"script", "img", "link", "iframe"}
    assert not [name for _, attrs in reader.seen for name in attrs if name.startswith("on")]
    # Title, heading, section, step, stop, item, box thrice, cell, sum, head, caption, drawing thrice …
    assert reader.text.count(NASTY) >= 14


def test_the_file_asks_nobody_for_anything():
    page = document_html(document())
    assert not [attrs for _, attrs in read(page).seen if {"src", "href", "xlink:href"} & set(attrs)]
    style = page.partition("<style>")[2].partition("</style>")[0]
    assert not re.findall(r"url\(|@import", style)


def test_every_box_to_tick_has_a_name_for_those_who_cannot_see_its_row():
    boxes = [attrs for tag, attrs in read(document_html(document())).seen if tag == "input"]
    assert len(boxes) == 2
    assert boxes[1]["aria-label"] == f"Got: {NASTY}"
    assert "<label><input" in document_html(document())


def test_a_screen_may_draw_in_its_own_way():
    section = document().sections[0]
    assert "PICTURE" in section_html(section, lambda drawing: "PICTURE")
    assert "<svg" not in section_html(section, lambda drawing: "PICTURE")
