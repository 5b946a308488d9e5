"""How does a document become HTML: a page of its own that prints, or sections for a screen?

Every text is escaped: a typed name cannot become markup. Class names are those of the app's style sheet.
"""

from collections.abc import Callable, Iterable, Sequence
from typing import TypeAlias

from engine.draw.shapes import Drawing
from engine.draw.svg import to_svg, xml_text
from engine.paper.blocks import (
    Beside,
    Block,
    Box,
    Column,
    Columns,
    Document,
    Figures,
    FillIn,
    Heading,
    Item,
    Items,
    Paragraph,
    Section,
    Step,
    Stop,
    Table,
    Together,
)

Picture: TypeAlias = Callable[[Drawing], str]
"""A drawing as HTML."""


def document_html(document: Document) -> str:
    """The document as one self-contained page: no script, no request, its drawings in it.

    Source  HTML Living Standard; CSS Paged Media Module Level 3
    """
    sections = "".join(
        f'<section class="{"new-page" if section.new_page else ""}"><h2>{xml_text(section.title)}</h2>'
        f"{section_html(section, to_svg)}</section>"
        for section in document.sections
    )
    line = f'<p class="lw-quiet">{xml_text(document.line)}</p>' if document.line else ""
    title = xml_text(document.title)
    return (
        f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{title}</title>'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<style>{_page_rule(document.foot)}{CSS}</style></head>"
        f"<body><main><h1>{title}</h1>{line}{sections}</main></body></html>"
    )


def section_html(section: Section, picture: Picture = to_svg) -> str:
    """What stands under a section's heading; `picture` turns its drawings into HTML.

    Source  definition
    """
    return _blocks(section.blocks, picture)


def _blocks(blocks: Iterable[Block], picture: Picture) -> str:
    return "".join(_block(block, picture) for block in blocks)


def _block(block: Block, picture: Picture) -> str:
    match block:
        case Heading():
            return f"<h3>{xml_text(block.text)}</h3>"
        case Paragraph():
            return _paragraph(block)
        case Items():
            return f'<ul class="lw-items">{"".join(_item(item) for item in block.items)}</ul>'
        case FillIn():
            unit = f"\u00a0{xml_text(block.unit)}" if block.unit else ""
            told = f"<strong>{xml_text(block.lead)}</strong> {xml_text(block.text)}"
            write = f'{xml_text(block.ask)} <span class="lw-write"></span>{unit}'
            return f'<p class="lw-fill-in">{told} <span class="lw-ask">{write}</span></p>'
        case Stop():
            return f'<div class="lw-halt"><p><strong>STOP.</strong> {xml_text(block.text)}</p></div>'
        case Box():
            heavy = (" lw-heavy" if block.heavy else "") + (" lw-wide" if block.wide else "")
            title = f"<p><strong>{xml_text(block.title)}</strong></p>" if block.title else ""
            return f'<div class="lw-frame{heavy}">{title}{_blocks(block.content, picture)}</div>'
        case Table():
            return _table(block)
        case Figures():
            return f'<div class="lw-figs">{"".join(picture(each) for each in block.drawings)}</div>'
        case Beside():
            text = f"<div>{_blocks(block.content, picture)}</div>"
            return f'<div class="lw-beside">{text}{picture(block.drawing)}</div>'
        case Columns():
            stacks = "".join(f"<div>{_blocks(stack, picture)}</div>" for stack in block.stacks)
            return f'<div class="lw-stacks">{stacks}</div>'
        case Together():
            return f'<div class="lw-together">{_blocks(block.content, picture)}</div>'
        case Step():
            number = f'<span class="lw-step-number">{xml_text(block.number)}</span>'
            head = f"<h3>{number} {xml_text(block.title)}</h3>"
            return f'<div class="lw-step">{head}{_blocks(block.content, picture)}</div>'


def _paragraph(block: Paragraph) -> str:
    names = {"plain": "", "quiet": "lw-small lw-quiet", "small": "lw-small", "strong": "lw-strong"}
    lead = f"<strong>{xml_text(block.lead)}</strong> " if block.lead else ""
    name = names[block.manner]
    return f"<p{f' class={chr(34)}{name}{chr(34)}' if name else ''}>{lead}{xml_text(block.text)}</p>"


def _item(item: Item) -> str:
    text = xml_text(item.text)
    if not item.tick:
        return f"<li>{text}</li>"
    return f'<li class="lw-to-tick"><label><input type="checkbox"> <span>{text}</span></label></li>'


def _table(table: Table) -> str:
    title = xml_text(table.title)
    heads = "".join(
        f'<th scope="col"{_class(column)}>{xml_text(column.head)}</th>' for column in table.columns
    )
    rows = [_row(table.columns, row, xml_text(row[0].partition("\n")[0])) for row in table.rows]
    if table.totals:
        rows.append(_row(table.columns, table.totals, "", ' class="lw-sum"'))
    return (
        f'<div class="lw-scroll" tabindex="0" role="region" aria-label="{title}">'
        f'<table class="lw-table lw-{xml_text(table.key)}"><caption class="lw-hidden">{title}</caption>'
        f"<thead><tr>{heads}</tr></thead><tbody>{''.join(rows)}</tbody></table></div>"
    )


def _class(column: Column) -> str:
    return {"text": "", "number": ' class="lw-num"', "tick": "", "blank": ' class="lw-blank"'}[column.kind]


def _row(columns: Sequence[Column], cells: Sequence[str], name: str, marks: str = "") -> str:
    told = []
    for place, (column, cell) in enumerate(zip(columns, cells, strict=True)):
        if column.kind == "tick" and cell:
            label = f"{xml_text(column.head)}: {name}"
            told.append(f'<td class="lw-to-tick"><input type="checkbox" aria-label="{label}"></td>')
            continue
        first, _, second = cell.partition("\n")
        more = f'<span class="lw-second">{xml_text(second)}</span>' if second else ""
        tag = 'th scope="row"' if place == 0 else "td"
        told.append(f"<{tag}{_class(column)}>{xml_text(first)}{more}</{tag.split()[0]}>")
    return f"<tr{marks}>{''.join(told)}</tr>"


def _page_rule(foot: str) -> str:
    """The foot of each page; in a CSS string only letters, digits and a few signs stand as they are."""
    safe = "".join(sign if sign.isalnum() or sign in " .,-·×" else f"\\{ord(sign):x} " for sign in foot)
    return (
        "@page{margin:12mm 14mm 16mm 18mm;"
        f'@bottom-left{{content:"{safe}";font:8pt sans-serif}}'
        '@bottom-right{content:"page " counter(page) " of " counter(pages);font:8pt sans-serif}}'
    )


CSS = """
:root{color-scheme:light}
*{box-sizing:border-box}
body{margin:0;background:#fff;color:#000;font:11pt/1.3 "DejaVu Sans",sans-serif}
main{max-width:178mm;margin:0 auto}
@media screen{main{padding:6mm}}
h1{font-size:20pt;line-height:1.2;margin:0;overflow-wrap:anywhere}
h2{font-size:15pt;line-height:1.2;margin:8mm 0 2mm;border-bottom:.5mm solid #000;break-after:avoid}
h3{font-size:12pt;line-height:1.25;margin:4mm 0 1mm;break-after:avoid}
p{margin:0 0 2mm;overflow-wrap:anywhere}
main p,main ul,.lw-step,.lw-frame,.lw-halt{max-width:144mm}
.new-page{break-before:page}
.lw-step,.lw-together,.lw-frame,.lw-halt,.lw-figs,.lw-beside,tr,svg{break-inside:avoid}
.lw-small,.lw-quiet{font-size:9.5pt}
.lw-quiet,.lw-second{color:#444}
.lw-strong{font-size:12pt}
.lw-step{border-top:.2mm solid #777;padding:1mm 0 0 13mm;margin-top:4mm;position:relative}
.lw-step-number{position:absolute;left:0;font-size:16pt}
.lw-items{list-style:"· ";padding-left:7mm;margin:0 0 2mm}
.lw-items li{margin-bottom:1mm}
li.lw-to-tick{list-style:none;margin-left:-7mm}
.lw-to-tick label{display:flex;gap:3mm;align-items:flex-start}
input[type=checkbox]{width:4mm;height:4mm;margin:.5mm 0 0;flex:none}
.lw-write{display:inline-block;width:26mm;border-bottom:.3mm solid #000;height:5mm}
.lw-frame{border:.35mm solid #000;padding:2mm 3mm;margin:3mm 0}
.lw-heavy,.lw-halt{border:1mm solid #000}
.lw-halt{padding:2mm 3mm;margin:3mm 0}
.lw-halt p,.lw-frame p:last-child{margin:0}
.lw-figs{display:flex;flex-wrap:wrap;gap:4mm;align-items:flex-start;margin:2mm 0}
.lw-wide,.lw-wide p{max-width:none!important}
.lw-ask{white-space:nowrap}
.lw-stacks{display:flex;flex-wrap:wrap;gap:2mm 6mm;align-items:flex-start}
.lw-stacks>div{flex:1 1 60mm;min-width:0}
.lw-beside{display:flex;flex-wrap:wrap;gap:5mm;align-items:flex-start}
.lw-beside>div{flex:1 1 90mm;min-width:0}
svg{max-width:100%;height:auto;flex:none}
.lw-hidden{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%);white-space:nowrap}
.lw-scroll{overflow-x:auto;margin:2mm 0}
@media print{.lw-scroll{overflow:visible}}
table{border-collapse:collapse;font-size:10pt;line-height:1.25;font-variant-numeric:tabular-nums}
th,td{text-align:left;vertical-align:top;padding:.7mm 3.5mm .7mm 0;border-bottom:.2mm solid #777}
thead th{border-bottom:.4mm solid #000;vertical-align:bottom}
tbody th{font-weight:400;overflow-wrap:anywhere}
.lw-num{text-align:right;white-space:nowrap}
.lw-blank{min-width:18mm}
.lw-sum>*{border-top:.4mm solid #000;font-weight:600}
.lw-second{display:block;font-size:8.5pt}
"""
