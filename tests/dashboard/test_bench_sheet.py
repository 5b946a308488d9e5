"""The bench sheet, read back from its PDF: all that a maker needs, in the order of use."""

import io
import re
from datetime import date
from functools import cache
from html import unescape
from io import BytesIO

import pandas as pd
import pdfplumber
import pytest
import zxingcpp

from dashboard.bench_job import Bench, Choices
from dashboard.bench_joints import _numbered
from dashboard.bench_sheet import bench_sheet
from dashboard.close_up_parts import sizes_html
from dashboard.group_paper import group_paper
from dashboard.offcuts_box import MOST, read_offcuts
from dashboard.sheet import FIX_FIRST, ONLY_HERE, Links
from dashboard.views.make import links_of
from engine.bench.lay import Offcut
from engine.bench.steps import steps_of
from engine.catalogue.load import load_catalogue
from engine.comparison import Candidate, Comparison
from engine.design import Design
from engine.evaluate import evaluate_all
from engine.export.goods_table import COLUMNS, goods_csv
from engine.export.spec_sheet import spec_sheet
from engine.paper.blocks import FillIn, Items, Paragraph, Step, Stop, Table
from engine.paper.html import document_html
from engine.paper.pages import document_pdf, page_count
from engine.refusals import Refusal
from engine.samples import first_visit, samples
from engine.units import GRAM, INCH

DAY = date(2026, 11, 3)
HERE = "https://quilts.example.org/make"
SAMPLES = {
    sample.id: Comparison(night=sample.night, candidates=(Candidate(letter="A", design=sample.design),))
    for sample in samples()
}
KINDS = ("autumn-sewn-full-length", "autumn-film-staggered", "autumn-sheet-budget", "frost-top-quilt")
"""Sewn, taped, of sheet insulation, with pockets: whose PDFs are read back."""
TITLES = [
    "1 What it is",
    "2 To buy",
    "3 Cut list",
    "4 Lay on the roll",
    "5 Positions of baffles and sewn lines",
    "6 Joints",
    "7 Steps",
    "8 Fill",
    "9 How the scores are made up",
    "10 Keep with the quilt",
]
"""In the order of use."""


def bench_of(comparison: Comparison, choices: Choices | None = None, letter: str = "A") -> Bench:
    line_up = evaluate_all(comparison, load_catalogue())
    links = links_of(comparison, letter, HERE)
    return Bench(line_up, spec_sheet(line_up, letter, DAY), links, choices or Choices())


def of_design(**fields) -> Comparison:
    design = Design.model_validate(fields)
    return Comparison(candidates=(Candidate(letter="A", design=design),))


@cache
def pages_of(id: str, units: str = "metric", paper: str = "A4") -> tuple[str, ...]:
    comparison = SAMPLES[id].model_copy(update={"units": units})
    return read(bench_sheet(bench_of(comparison), paper), paper)


def read(document, paper="A4") -> tuple[str, ...]:
    with pdfplumber.open(BytesIO(document_pdf(document, paper))) as pdf:
        return tuple(flat(page.extract_text()) for page in pdf.pages)


def flat(text: str) -> str:
    """Lines are broken where the paper ends; words are what is compared."""
    return re.sub(r"\s+", " ", text)


@pytest.mark.parametrize("units, paper", [("metric", "A4"), ("trade", "Letter")])
@pytest.mark.parametrize("id", KINDS)
def test_the_pdf_has_the_pages_it_was_said_to_have_and_every_section_in_the_order_of_use(id, units, paper):
    comparison = SAMPLES[id].model_copy(update={"units": units})
    document = bench_sheet(bench_of(comparison), paper)
    pages = read(document, paper)
    assert len(pages) == page_count(document, paper)
    whole = " ".join(pages)
    places = [whole.index(title) for title in TITLES]
    assert places == sorted(places)
    for number, page in enumerate(pages, 1):
        assert f"page {number} of {len(pages)}" in page
        assert f"{units} units" in page and bench_of(comparison).sheet.code in page


@pytest.mark.parametrize("id", KINDS)
def test_every_piece_good_joint_and_step_is_named_in_print(id):
    bench = bench_of(SAMPLES[id])
    whole = " ".join(pages_of(id)).lower()
    # A narrow column may break a name; its words stand in turn.
    for piece in bench.pieces:
        assert all(word in whole for word in piece.name.lower().split())
    for row in bench.job.joints.rows:
        assert row.name in whole
    for each in steps_of(bench.job):
        assert each.title.lower() in whole
    for line in bench.one.purchases:
        assert line.name.split(",")[0].lower().replace("\u00a0", " ") in whole


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("id", KINDS)
def test_no_step_is_parted_and_its_stop_and_cautions_stand_before_the_hand_moves(id, paper):
    bench = bench_of(SAMPLES[id])
    section = bench_sheet(bench, paper).section("steps")
    pages = read(bench_sheet(bench, paper), paper)
    given = {str(step.number): step for step in steps_of(bench.job)}
    assert [block.number for block in section.blocks] == list(given)
    for block in section.blocks:
        assert isinstance(block, Step)
        items = next(each for each in block.content if isinstance(each, Items))
        texts = [flat(item.text) for item in items.items]
        texts += [flat(each.lead) for each in block.content if isinstance(each, FillIn)]
        page = next(page for page in pages if f"{block.number} {block.title}" in page)
        assert all(text in page for text in texts), block.title
        before = block.content[: block.content.index(items)]
        step = given[block.number]
        assert sum(isinstance(each, Stop) for each in before) == bool(step.stop)
        assert len(before) == bool(step.stop) + len(step.cautions)


@pytest.mark.parametrize("step_g", [1.0, 0.5, 0.1])
@pytest.mark.parametrize("id", SAMPLES)
def test_the_portions_in_print_add_up_to_the_fill_of_the_score(id, step_g):
    bench = bench_of(SAMPLES[id], Choices(step_kg=step_g * GRAM))
    tables = [
        block
        for block in bench_sheet(bench).section("fill").blocks
        if isinstance(block, Table) and block.key == "fill"
    ]
    if not tables:
        assert bench.catalogue.fill(bench.design.fill.good).form == "sheet"
        return
    (table,) = tables
    heads = [column.head for column in table.columns]
    whole, first, back = (heads.index(name) for name in ("In all", "Put in", "Kept back"))

    def grams(place: int) -> list[float]:
        return [float(row[place].removesuffix("\u00a0g")) for row in table.rows]

    total = float(table.totals[whole].removesuffix("\u00a0g"))
    assert sum(grams(whole)) == pytest.approx(total, abs=1e-6)
    # Rounded to the step once: half a step from the score at most.
    assert abs(total - 1000 * float(bench.one.score.weight_parts_kg["fill"])) <= step_g / 2 + 1e-9
    for one, two, all_of_it in zip(grams(first), grams(back), grams(whole), strict=True):
        assert one + two == pytest.approx(all_of_it, abs=1e-6)
    running = [float(row[heads.index("Running total")].removesuffix("\u00a0g")) for row in table.rows]
    assert running == pytest.approx([sum(grams(first)[: n + 1]) for n in range(len(running))], abs=1e-6)


@pytest.mark.parametrize("id", KINDS)
def test_the_link_is_printed_whole_and_an_independent_reader_finds_it_in_the_code(id):
    bench = bench_of(SAMPLES[id])
    assert bench.links.whole.startswith("https://quilts.example.org/")
    document = bench_sheet(bench)
    pages = read(document)
    number = next(n for n, page in enumerate(pages) if "The code opens the whole line-up." in page)
    assert bench.links.whole in pages[number].replace(" ", "")
    with pdfplumber.open(BytesIO(document_pdf(document))) as pdf:
        image = pdf.pages[number].to_image(resolution=200).original
    assert [found.text for found in zxingcpp.read_barcodes(image)] == [bench.links.whole]


def test_an_address_that_means_this_computer_is_printed_without_a_code():
    bench = bench_of(SAMPLES["autumn-film-staggered"])
    local = Bench(bench.line_up, bench.sheet, Links("http://localhost:8501/?d=7", local=True))
    told = " ".join(read(bench_sheet(local)))
    assert "no code is printed" in told and "The code opens" not in told


def test_a_link_that_no_code_can_hold_is_printed_and_no_link_at_all_is_said():
    bench = bench_of(SAMPLES["autumn-film-staggered"])
    long = Bench(bench.line_up, bench.sheet, Links("https://x.example/?d=" + "7" * 900))
    assert "Too long for a code" in " ".join(read(bench_sheet(long)))
    here = Bench(bench.line_up, bench.sheet, Links("http://127.0.0.1:8501/?d=7", local=True))
    told = " ".join(read(bench_sheet(here)))
    assert ONLY_HERE in told and "http://127.0.0.1:8501/?d=7" in told and "The code opens" not in told
    none = Bench(bench.line_up, bench.sheet, Links())
    assert "too long for a link: send its file" in " ".join(read(bench_sheet(none)))


def test_what_is_bought_of_a_cloth_is_what_its_lay_takes_in_whole_cuts():
    bench = bench_of(SAMPLES["autumn-film-staggered"])
    buy = next(b for b in bench_sheet(bench).section("buy").blocks if isinstance(b, Table))
    names = {row[0].partition("\n")[0].lower(): row for row in buy.rows}
    assert bench.lays
    for lay in bench.lays:
        used, bought = names[lay.roll.name.lower()][2:4]
        taken = used.partition("\nlay ")[2]
        assert float(taken.removesuffix("\u00a0m")) == pytest.approx(lay.length_m, abs=0.005)
        # The shop cuts tenths of a metre.
        rest = float(bought.removesuffix("\u00a0m")) - lay.length_m
        assert -1e-9 <= rest < 0.1


def test_pieces_from_offcuts_at_hand_shorten_what_is_bought_and_are_told():
    offcuts = (("film-17", (Offcut(0.5, 1.5),)),)
    plain = bench_of(SAMPLES["autumn-film-staggered"])
    bench = bench_of(SAMPLES["autumn-film-staggered"], Choices(offcuts=offcuts))
    assert bench.lays_m["film-17"][0] <= plain.lays_m["film-17"][0]
    assert "from offcut 1" in " ".join(read(bench_sheet(bench)))


def test_a_stop_level_warning_stands_as_a_banner_before_all_else():
    bench = bench_of(of_design(shells={"inner": "mesh-24"}))
    assert bench.sheet.stops
    page = read(bench_sheet(bench))[0]
    assert page.index(FIX_FIRST) < page.index("Score Value")
    assert FIX_FIRST not in pages_of("autumn-sewn-full-length")[0]


def test_a_design_with_three_hundred_baffles_is_printed_with_a_place_for_each():
    comparison = of_design(
        baffles={
            "layout": "staggered",
            "spacing_mm": 56,
            "height_mm": 30,
            "piece_length_mm": 60,
            "gap_mm": 50,
        }
    )
    bench = bench_of(comparison)
    assert bench.one.derived.baffle_count >= 300
    document = bench_sheet(bench)
    rows = [
        row
        for block in document.section("positions").blocks
        if isinstance(block, Table)
        for row in block.rows
    ]
    assert len(rows) == bench.one.derived.baffle_count
    assert all(all(row) for row in rows)
    assert len(read(document)) == page_count(document) <= 400


def test_names_of_many_languages_are_printed_and_never_act_in_the_web_page():
    name = "Łukasz’s žlutý ünder → № 1 <b>&"
    comparison = of_design(name=name)
    document = bench_sheet(bench_of(comparison))
    assert name in " ".join(read(document))
    page = document_html(document)
    assert "<b>&" not in page and "&lt;b&gt;&amp;" in page


@pytest.mark.parametrize("id", KINDS)
def test_web_page_and_pdf_say_the_same(id):
    page = document_html(bench_sheet(bench_of(SAMPLES[id])))
    # Styles, drawings, and the titles of tables for those who cannot see them are not on the paper.
    text = re.sub(r"<style>.*?</style>|<svg.*?</svg>|<caption.*?</caption>", " ", page, flags=re.DOTALL)
    words = set(re.findall(r"\w+", unescape(re.sub(r"<[^>]+>", " ", text))))
    printed = set(re.findall(r"\w+", " ".join(pages_of(id))))
    # Long addresses are broken on paper.
    assert not {word for word in words - printed if len(word) < 20}


def test_the_table_of_goods_opens_in_pandas_with_a_unit_for_each_amount():
    bench = bench_of(SAMPLES["autumn-film-staggered"].model_copy(update={"currency": "=EUR"}))
    table = pd.read_csv(io.StringIO(goods_csv(bench.one, "=EUR", bench.lays_m).removeprefix("\ufeff")))
    assert list(table.columns) == list(COLUMNS)
    assert len(table) == len(bench.one.purchases)
    assert table.used_unit.isin(["m", "g", "mL", "pieces"]).all()
    assert table.to_buy_unit.isin(["m", "g", "rolls", "spools", "tubes", "pieces"]).all()
    assert (table.currency == "'=EUR").all()
    assert table.price_used.sum() == pytest.approx(float(bench.one.score.cost), abs=0.01)
    assert table.lay_m.notna().sum() == len(bench.lays)


@pytest.mark.parametrize("letter", "ABCD")
def test_the_group_sheet_as_a_pdf_has_every_candidate_good_and_caution(letter):
    bench = bench_of(first_visit(), letter=letter)
    document = group_paper(bench)
    pages = read(document)
    whole = " ".join(pages)
    assert len(pages) == page_count(document) <= 4
    for candidate in first_visit().candidates:
        assert all(word in whole for word in candidate.design.name.split())
    for safety in bench.sheet.safety:
        assert f"{safety.subject}." in whole
    for line in bench.one.purchases:
        assert line.name.split(",")[0].replace("\u00a0", " ") in whole


@pytest.mark.parametrize(
    "typed, units, metres",
    [
        ("400 × 1200; 300x900", "metric", [(0.4, 1.2), (0.3, 0.9)]),
        ("40 cm * 1,2 m", "metric", [(0.4, 1.2)]),
        ("16 × 48", "trade", [(16 * INCH, 48 * INCH)]),
        ("", "metric", []),
        (" ; ", "metric", []),
    ],
)
def test_offcuts_are_read_as_they_are_written(typed, units, metres):
    found = [(offcut.width_m, offcut.length_m) for offcut in read_offcuts(typed, units)]
    assert found == [pytest.approx(pair) for pair in metres]


@pytest.mark.parametrize(
    "typed, told",
    [
        ("400", "width × its length"),
        ("400 × 0", "Length"),
        ("wide × 900", "Width"),
        ("400 × 900 × 3", "width × its length"),
        ("; ".join(["4 × 9"] * (MOST + 1)), f"allowed: {MOST}"),
    ],
)
def test_what_is_no_offcut_is_refused_by_name(typed, told):
    with pytest.raises(Refusal, match=told):
        read_offcuts(typed, "metric")


@pytest.mark.parametrize("units", ["metric", "trade"])
def test_patches_are_counted_by_piece_and_by_place_and_their_cloth_is_named(units):
    bench = bench_of(of_design(tabs=6).model_copy(update={"units": units}))
    document, told = bench_sheet(bench), "6 places, a patch inside and out each"
    cut, joined = (
        next(
            row
            for block in document.section(key).blocks
            if isinstance(block, Table)
            for row in block.rows
            if row[0].startswith("Patch")
        )
        for key in ("cut", "joints")
    )
    # Two pieces a place.
    assert cut[1] == "12" and told in cut[0] and "woven cloth" in cut[4]
    assert joined[2] == "6" and told in joined[1]


def test_the_short_edge_of_a_trapezoid_stands_in_the_cut_list():
    bench = bench_of(SAMPLES["autumn-film-staggered"])
    table = next(b for b in bench_sheet(bench).section("cut").blocks if isinstance(b, Table))
    for piece, row in zip(bench.pieces, table.rows, strict=True):
        # A strip that is not as large as its box is a trapezoid; of others no second edge is told.
        slants = piece.is_strip and piece.area_m2 < 0.9999 * piece.cut_m[0] * piece.cut_m[1]
        assert ("trapezoid, short edge" in row[2]) == slants, piece.name
    assert any("short edge" in row[2] for row in table.rows)


def test_the_chamber_width_that_was_asked_for_stands_beside_the_one_that_is_made():
    """By hand: 1120 mm at 140 mm with end chambers of 0.7 takes nine, 1120 / (7 + 2 × 0.7) = 133 mm."""
    baffles = {"layout": "full, lengthwise", "spacing_mm": 140, "end_chamber_percent": 70}
    bench = bench_of(of_design(outline={"width_mm": 1120}, baffles=baffles))
    wanted = "140\u00a0mm asked; 133\u00a0mm closes 9 chambers"
    assert wanted in document_html(bench_sheet(bench)).replace("&nbsp;", "\u00a0")
    assert wanted in sizes_html(bench.one, "metric")


def test_light_chambers_are_named_by_their_numbers():
    assert _numbered((3,)) == "Number 3 is"
    assert _numbered((1, 2, 3)) == "Numbers 1 to 3 are"
    assert _numbered((1, 2, 4, 7, 8)) == "Numbers 1 to 2, 4 and 7 to 8 are"


@pytest.mark.parametrize("id", KINDS)
def test_what_is_left_for_the_trial_square_is_told_of_the_cloth_of_each_shell(id):
    bench = bench_of(SAMPLES[id])
    told = [block.text for block in bench_sheet(bench).section("buy").blocks if isinstance(block, Paragraph)]
    shells = {bench.design.shells.inner, bench.design.shells.outer}
    rolls = [text for text in told if "left at the end of the roll" in text]
    assert len(rolls) == len(shells)
    assert all(("not enough is left" in text) != ("squares of 300\u00a0mm fit" in text) for text in rolls)
    assert any(text.startswith("Down: ") for text in told) == (bench.job.fill is not None)
