"""Is the printed sheet complete, safe and self-contained, and does the page offer it for the right one?"""

import re
from datetime import date
from html import escape
from html.parser import HTMLParser
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from dashboard.bench_job import Bench
from dashboard.bench_sheet import bench_sheet
from dashboard.measures import without_measures
from dashboard.offcuts_box import TITLE
from dashboard.sheet import FIX_FIRST, MEASURES, ONLY_HERE, STAND_IN, Links, group_sheet
from dashboard.sheet_words import cell_lines
from dashboard.views.make import NOTHING, QUESTION, REOPENS, links_of
from dashboard.words import SCORE, cost, said
from engine.catalogue.load import load_catalogue
from engine.catalogue.models import OwnGood
from engine.comparison import Candidate, Comparison
from engine.evaluate import evaluate_all
from engine.export.link import decode_link, encode_link
from engine.export.qr import LONGEST
from engine.export.sheet_tables import Cell
from engine.export.spec_sheet import spec_sheet
from engine.paper.pages import page_count
from engine.samples import first_visit, samples
from engine.score import SCORE_KEYS

APP = Path(__file__).resolve().parents[2] / "dashboard" / "app.py"
DAY = date(2026, 11, 3)
SHARED = "https://quilts.example.org/make"
HERE = "http://127.0.0.1:8501/make"
HOSTILE = "<script>alert(1)</script><img src=x onerror=a>\"'&{}%</style>"
SIX = Comparison.model_validate(
    {
        "candidates": [
            {"letter": letter, "design": s.design} for letter, s in zip("ABCDEF", samples(), strict=False)
        ]
    }
)


class Reader(HTMLParser):
    """Collects tags, attributes and text of a page."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.text: list[str] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_data(self, data: str) -> None:
        self.text.append(data)


def made(comparison: Comparison, letter: str = "A", links: Links | None = None) -> str:
    line_up = evaluate_all(comparison, load_catalogue())
    known = links_of(comparison, letter, HERE) if links is None else links
    return group_sheet(line_up, spec_sheet(line_up, letter, DAY), known)


def with_name(comparison: Comparison, letter: str, **changes: str) -> Comparison:
    candidates = tuple(
        Candidate(letter=c.letter, design=c.design.model_copy(update=changes)) if c.letter == letter else c
        for c in comparison.candidates
    )
    return comparison.model_copy(update={"candidates": candidates})


@pytest.mark.parametrize("units", ["metric", "trade"])
@pytest.mark.parametrize("letter", list("ABCDEF"))
def test_every_number_of_the_engine_is_on_the_sheet_in_the_units_asked_for(letter, units):
    comparison = SIX.model_copy(update={"units": units, "currency": "EUR"})
    one = evaluate_all(comparison, load_catalogue())[letter]
    text = "\n".join(Reader(made(comparison, letter)).text)
    wanted = [said("mass", kg, units) for kg in (one.derived.tare_kg, one.derived.fill_kg)]
    for key in SCORE_KEYS:
        band = one.bands[key]
        wanted += [
            SCORE[key].value(band.value, units, "EUR"),
            SCORE[key].band(band.low, band.high, units, "EUR"),
        ]
    for line in one.purchases:
        wanted += [line.name, cost(line.price_used, "EUR", True), cost(line.price_to_buy, "EUR", True)]
    for part in one.score.bill.parts:
        if part.count > 0:
            wanted.append(said("mass", float(part.mass_kg), units))
    assert [each for each in wanted if each not in text] == []


def test_metric_and_trade_sheets_have_the_same_rows():
    tags = [
        [
            tag
            for tag, _ in Reader(made(SIX.model_copy(update={"units": units}), "B")).tags
            if tag in ("tr", "dt", "h2")
        ]
        for units in ("metric", "trade")
    ]
    assert tags[0] == tags[1]


def test_trade_units_leave_no_gram_in_the_cells():
    text = " ".join(Reader(made(SIX.model_copy(update={"units": "trade"}), "A")).text)
    assert re.findall(r"\d\u00a0(?:g|°C)(?![/\w])", text) == []
    assert re.findall(r"\d\u00a0(?:oz|°F)\b", text)


def test_whatever_is_typed_stays_text():
    hostile = with_name(first_visit(), "A", name=HOSTILE[:60], note=HOSTILE)
    hostile = hostile.model_copy(update={"chosen": "A", "reason": HOSTILE, "currency": "<b>&'\""})
    reader = Reader(made(hostile, "A", Links('http://x/?d=a"><script>', "", True)))
    assert {tag for tag, _ in reader.tags} & {"script", "img", "iframe", "object", "b", "form"} == set()
    assert [attrs for _, attrs in reader.tags if any(name.startswith("on") for name in attrs)] == []
    assert sum(tag == "style" for tag, _ in reader.tags) == 1
    assert HOSTILE in " ".join(reader.text)


def test_names_of_any_script_come_through():
    name = "Größe 羽毛 ½ ← кот"
    page = made(with_name(first_visit(), "A", name=name))
    assert '<meta charset="utf-8">' in page
    assert f"<h1>A {name}</h1>" in page


def test_the_sheet_asks_for_nothing_from_outside_and_runs_nothing():
    page = made(first_visit())
    for tag, attrs in Reader(page).tags:
        assert tag not in ("script", "link", "img", "iframe", "object", "video")
        assert "src" not in attrs
        assert tag == "a" or "href" not in attrs
    assert "@import" not in page and "url(" not in page


def test_tables_name_their_columns_and_rows():
    reader = Reader(made(first_visit()))
    heads = [attrs.get("scope") for tag, attrs in reader.tags if tag == "th"]
    assert heads and set(heads) == {"col", "row"}
    tables = sum(tag == "table" for tag, _ in reader.tags)
    assert tables == sum(tag == "caption" for tag, _ in reader.tags) == 5


def test_the_sheet_is_grey():
    # A grey has three equal parts of red, green and blue.
    colours = re.findall(r"#([0-9a-f]{6}|[0-9a-f]{3})\b", re.sub(r"&#\w+;", "", made(first_visit())))
    full = {"".join(2 * c for c in colour) if len(colour) == 3 else colour for colour in colours}
    assert full and all(c[0:2] == c[2:4] == c[4:6] for c in full)


def test_a_stop_stands_in_a_banner_with_its_remedy_and_a_sound_quilt_has_none():
    leaky = samples()[0].design
    leaky = leaky.model_copy(update={"shells": leaky.shells.model_copy(update={"outer": "ripstop-38"})})
    page = made(Comparison(candidates=(Candidate(letter="A", design=leaky),)))
    banner = page.split('<div class="banner">')[1].split("</div>")[0]
    assert FIX_FIRST in banner and "Take a calendered ripstop" in banner
    assert FIX_FIRST not in made(first_visit())


def test_a_code_is_printed_for_the_longest_link_that_fits():
    # Signs that do not squeeze well, on a quilt that is not the one of the sheet.
    wordy = with_name(
        first_visit(), "D", note="".join(chr(0x4E00 + (7919 * n * n) % 20000) for n in range(450))
    )
    short, long = links_of(first_visit(), "A", SHARED), links_of(wordy, "A", SHARED)
    assert len(short.whole) <= LONGEST < len(long.whole)
    assert "The code opens the whole line-up." in made(first_visit(), links=short)
    assert "The code opens this quilt alone" in made(wordy, links=long)
    assert "use the link" in made(wordy, links=Links(long.whole))
    assert "send its file" in made(wordy, links=Links())


def test_no_code_is_printed_for_an_address_that_means_this_computer():
    local = made(first_visit(), links=links_of(first_visit(), "A", HERE)).split("<h2>Link</h2>")[1]
    shared = made(first_visit(), links=links_of(first_visit(), "A", SHARED)).split("<h2>Link</h2>")[1]
    assert ONLY_HERE in local and "<svg" not in local and 'href="http://127.0.0.1:8501/?d=' in local
    assert ONLY_HERE not in shared and "<svg" in shared


def test_the_links_on_the_sheet_open_what_is_open_and_say_that_they_hold_measures():
    own = first_visit().night.sleeper.model_copy(update={"kind": "own", "height_mm": 1834})
    now = first_visit().model_copy(
        update={"night": first_visit().night.model_copy(update={"sleeper": own}), "chosen": "B"}
    )
    links = links_of(now, "C", HERE)
    assert decode_link(links.whole.split("?d=")[1]) == now
    assert links.measures and not links.stand_in
    assert MEASURES in made(now).split("<h2>Link</h2>")[1]
    assert MEASURES not in made(first_visit())


def test_the_links_on_the_sheet_leave_out_body_measures_when_asked_and_say_who_stands_in():
    own = {"kind": "own", "height_mm": 1834, "mass_kg": 91, "girth_mm": 1333}
    night = first_visit().night.model_copy(
        update={"sleeper": first_visit().night.sleeper.model_copy(update=own)}
    )
    now = first_visit().model_copy(update={"night": night})
    links = links_of(now, "C", HERE, without_measures(now))
    whole, alone = (decode_link(address.split("?d=")[1]) for address in (links.whole, links.alone))
    assert whole.candidates == now.candidates
    assert [each.letter for each in alone.candidates] == ["C"]
    assert alone.design("C") == now.design("C")
    assert {whole.night.sleeper.height_mm, alone.night.sleeper.height_mm} != {1834}
    assert links.stand_in == whole.night.sleeper.kind == alone.night.sleeper.kind == "standard man"
    assert whole.measures_left_out and alone.measures_left_out and not links.measures
    assert links.local
    assert not links_of(now, "C", "https://quilts.example.org/make").local


def test_the_sheet_says_who_sleeps_in_its_link_only_when_that_is_somebody_else():
    night = first_visit().night
    own = night.sleeper.model_copy(update={"kind": "own", "height_mm": 1610, "girth_mm": 1050})
    now = first_visit().model_copy(update={"night": night.model_copy(update={"sleeper": own})})
    told = STAND_IN.format("standard woman")
    for candidates in (now.candidates, now.candidates[:1]):  # the code opens one quilt; the whole line-up
        those = now.model_copy(update={"candidates": candidates})
        page = made(those, links=links_of(those, "A", HERE, without_measures(those)))
        assert told in page.split("<h2>Link</h2>")[1]
    long = Links("http://x/?d=" + "1" * LONGEST, stand_in="standard woman")
    assert told in made(now, links=long).split("use the link")[1]
    for comparison in (first_visit(), now):
        assert STAND_IN.partition("{}")[0] not in made(comparison)


def test_a_sheet_made_from_what_came_without_measures_says_so():
    got = first_visit().model_copy(update={"measures_left_out": True})
    told = "Own measures were left out: a standard woman stands in, so fit and verdicts can differ."
    assert told in made(got)
    assert told not in made(first_visit())
    assert told in shown(page_with(got))


def test_the_page_asks_whether_measures_go_on_the_sheet_and_by_default_they_do():
    own = first_visit().night.sleeper.model_copy(update={"kind": "own", "height_mm": 1834})
    night = first_visit().night.model_copy(update={"sleeper": own})
    at = page_with(first_visit().model_copy(update={"night": night}))
    assert "The link on the sheet holds your height, mass and girth." in shown(at)
    assert [(tick.key, tick.value) for tick in at.checkbox] == [("make-without-measures", False)]
    assert not page_with(first_visit()).checkbox


@pytest.mark.parametrize(
    "cell, units, said_as",
    [
        (Cell("bench size", (1.97, 1.146)), "metric", "1970\u00a0×\u00a01146\u00a0mm"),
        # 25.4 mm an inch by definition; the sheet's ruler has sixteenths.
        (Cell("bench size", (0.0254, 0.0254 * 2.0625)), "trade", "1\u00a0×\u00a02\u00a01/16\u00a0in"),
        (Cell("used", (3.4567,), "m"), "metric", "3.46\u00a0m"),
        (Cell("to buy", (3.41,), "m"), "metric", "3.5\u00a0m"),
        (Cell("to buy", (1.0, 33.0), "rolls"), "metric", "1\u00a0roll of 33\u00a0m"),
        # 0.9144 m a yard by definition.
        (Cell("to buy", (2.0, 33.0), "rolls"), "trade", "2\u00a0rolls of 36\u00a0yd"),
        (Cell("to buy", (1.0, 499.5), "spools"), "metric", "1\u00a0spool of 500\u00a0m"),
        (Cell("to buy", (3.0, 28.0), "tubes"), "metric", "3\u00a0tubes of 28\u00a0mL"),
        (Cell("used", (16.7,), "mL"), "metric", "17\u00a0mL"),
        (Cell("to buy", (250.0,), "g"), "metric", "250\u00a0g"),
        (Cell("used", (4.0,), "pieces"), "trade", "4"),
        (Cell("price", (1.5,)), "metric", "1.50\u00a0EUR"),
    ],
)
def test_a_cell_says_its_number_with_its_unit(cell, units, said_as):
    assert cell_lines(cell, units, "EUR")[0] == said_as


def page_with(comparison: Comparison | None = None) -> AppTest:
    at = AppTest.from_file(str(APP), default_timeout=60)
    if comparison is not None:
        at.query_params["d"] = encode_link(comparison)
    at.run()
    at.switch_page("views/make.py").run()
    assert not at.exception
    return at


def shown(at: AppTest) -> str:
    return " ".join(str(block.proto.body) for block in at.get("html"))


def test_the_page_asks_its_question_and_leads_with_the_reference():
    at = page_with()
    assert [title.value for title in at.title] == [QUESTION]
    first = first_visit().candidates[0]
    assert f"A {escape(first.design.name)}" in shown(at)


def test_the_chosen_one_leads_with_its_reason_and_another_can_be_picked():
    at = page_with(first_visit().model_copy(update={"chosen": "C", "reason": "small & light"}))
    assert f"C {escape(first_visit().design('C').name)}" in shown(at)
    assert "small &amp; light" in shown(at)
    at.segmented_control(key="make_pick").set_value("B").run()
    assert not at.exception
    assert f"B {escape(first_visit().design('B').name)}" in shown(at)
    assert "Not the chosen one: that is C." in shown(at)


def test_with_nothing_chosen_the_one_last_open_in_close_up_leads():
    at = AppTest.from_file(str(APP), default_timeout=60)
    at.session_state["close_up_letter"] = "C"
    at.run().switch_page("views/make.py").run()
    assert not at.exception
    assert "<strong>C " in shown(at)


def labels(at: AppTest) -> list[str]:
    return [button.proto.label for button in at.get("download_button")]


def test_sheets_tables_and_the_design_are_offered_as_files():
    assert labels(page_with(first_visit()))[:10] == [
        "Bench sheet as PDF",
        "Bench sheet as web page",
        "Group sheet as PDF",
        "Group sheet to print",
        "Goods as CSV",
        "Cut list as CSV",
        "Joints as CSV",
        "Fill plan as CSV",
        "Materials as CSV",
        "Design as a file",
    ]


def test_a_quilt_of_sheet_insulation_has_no_fill_plan_to_download():
    at = page_with(first_visit())
    at.segmented_control(key="make_pick").set_value("D").run()
    assert "Fill plan as CSV" not in labels(at) and "Joints as CSV" in labels(at)


@pytest.mark.parametrize("units, paper, other", [("metric", "A4", "Letter"), ("trade", "Letter", "A4")])
def test_the_pages_are_said_before_the_download_and_follow_the_paper(units, paper, other):
    comparison = first_visit().model_copy(update={"units": units})
    at = page_with(comparison)
    line_up = evaluate_all(comparison, load_catalogue())
    bench = Bench(line_up, spec_sheet(line_up, "A", date.today()), links_of(comparison, "A", None))
    for chosen in (paper, other):
        if chosen == other:
            at.segmented_control(key="make_paper").set_value(other).run()
        count = page_count(bench_sheet(bench, chosen), chosen)
        assert f"Bench sheet: {count}\u00a0pages of {chosen}" in shown(at)


def test_every_part_of_the_sheet_is_on_the_screen_under_its_title():
    at = page_with(first_visit())
    titles = [box.label for box in at.expander]
    line_up = evaluate_all(first_visit(), load_catalogue())
    document = bench_sheet(Bench(line_up, spec_sheet(line_up, "A", date.today())))
    assert [title for title in titles if title != TITLE] == [section.title for section in document.sections]
    assert "STOP." in shown(at) and "not stored" in shown(at)


def test_an_offcut_that_cannot_be_read_is_told_and_stays_as_it_was_typed():
    at = page_with(first_visit())
    box = at.text_input(key="make_offcut_nylon-10d-26")
    box.set_value("400 by 900").run()
    assert "write its width × its length" in shown(at)
    assert at.text_input(key="make_offcut_nylon-10d-26").value == "400 by 900"
    at.text_input(key="make_offcut_mesh-24").set_value("1500 × 2000").run()
    assert not at.exception
    assert "All pieces come out of offcuts at hand" in shown(at)


def test_cloth_wider_than_its_roll_may_be_joined_or_turned_and_else_nothing_is_asked():
    keys = [each.key for each in page_with(first_visit()).segmented_control]
    assert "make_way" not in keys
    wide = first_visit().candidates[0].design
    wide = wide.model_copy(update={"outline": wide.outline.model_copy(update={"width_mm": 1600.0})})
    at = page_with(Comparison(candidates=(Candidate(letter="A", design=wide),)))
    at.segmented_control(key="make_way").set_value("turned").run()
    assert not at.exception
    assert "panel" in shown(at)


def test_the_step_of_the_scale_changes_the_portions():
    at = page_with(first_visit())
    coarse = shown(at)
    at.segmented_control(key="make_scale").set_value(0.1).run()
    assert not at.exception and shown(at) != coarse
    assert re.search(r"<td class=\"lw-num\">\d+\.\d\u00a0g</td>", shown(at))


def test_the_page_promises_the_same_scores_and_says_what_the_file_of_a_design_leaves_behind():
    behind = f"{REOPENS}; own prices and weights travel only in the link and the saved line-up."
    assert f"{REOPENS}." in shown(page_with(first_visit()))
    own = OwnGood(kind="fill", id=first_visit().candidates[0].design.fill.good, price=9.5)
    assert behind in shown(page_with(first_visit().model_copy(update={"own_goods": (own,)})))


def test_without_candidates_the_page_says_what_it_is_for_and_leads_to_the_line_up():
    at = page_with(Comparison())
    assert NOTHING in shown(at)
    assert not at.get("download_button")
    assert "Add a candidate in the Line-up" in [link.proto.label for link in at.get("page_link")]


def test_the_page_shows_the_same_totals_as_the_sheet():
    comparison = first_visit().model_copy(update={"currency": "EUR"})
    one = evaluate_all(comparison, load_catalogue())["A"]
    bought = cost(sum(line.price_to_buy for line in one.purchases), "EUR", exact=True)
    assert bought in shown(page_with(comparison))
    assert bought in made(comparison)


def test_the_pad_that_the_cost_counts_is_named_beside_the_goods_and_nowhere_else():
    by_id = {sample.id: sample for sample in samples()}
    for id, counted in (("autumn-three-quarter", True), ("autumn-sewn-full-length", False)):
        sample = by_id[id]
        comparison = Comparison(
            night=sample.night, candidates=(Candidate(letter="A", design=sample.design),), currency="EUR"
        )
        one, text = evaluate_all(comparison, load_catalogue())["A"], shown(page_with(comparison))
        assert ("the pad you take along" in text) == counted
        if counted:
            pad, used = one.score.cost_parts["beyond the quilt"], sum(li.price_used for li in one.purchases)
            assert f"the pad you take along, {cost(float(pad), 'EUR', True)}" in text
            # Goods and pad are the whole cost of the score.
            assert f"it costs {cost(float(one.score.cost), 'EUR', True)}" in text
            assert used + pad == pytest.approx(one.score.cost)
