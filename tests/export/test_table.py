"""Does the bill of materials add up to the scores, and is it safe and readable in a spreadsheet?"""

import csv
import io

import pytest

from engine.catalogue.load import load_catalogue
from engine.catalogue.models import OwnGood
from engine.comparison import Candidate, Comparison
from engine.design import Design
from engine.evaluate import Evaluation, evaluate, evaluate_all
from engine.export.table import COLUMNS, bill_of_materials, plain_text
from engine.samples import samples

ROUNDING = 0.5e-6
"""Each cell is rounded to six decimals, so a sum of n cells is off by n times this at most."""


def evaluated(sample) -> Evaluation:
    return evaluate(sample.design, sample.night, load_catalogue())


def rows_of(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text.removeprefix("\ufeff"), newline="")))


def total(rows: list[dict[str, str]], column: str, *kinds: str) -> float:
    return sum(float(row[column]) for row in rows if row["row"] in kinds and row[column])


@pytest.fixture(params=samples(), ids=lambda sample: sample.id)
def one(request) -> Evaluation:
    return evaluated(request.param)


def test_re_read_the_rows_add_up_to_the_scores(one):
    rows = rows_of(bill_of_materials(one))
    slack = len(rows) * ROUNDING
    made = ("part", "joint", "work")
    assert total(rows, "mass_g", *made) == pytest.approx(1000 * float(one.score.weight_kg), abs=slack)
    assert total(rows, "cost_used", *made) == pytest.approx(float(one.score.cost), abs=slack)
    assert total(rows, "minutes", *made) == pytest.approx(60 * float(one.score.work_h), abs=slack)
    # Metres have three decimals.
    assert total(rows, "tape_m", *made) == pytest.approx(float(one.score.tape_m), abs=1000 * slack)
    assert total(rows, "seam_m", *made) == pytest.approx(float(one.score.seam_m), abs=1000 * slack)


def test_what_is_used_of_the_purchases_is_worth_what_the_parts_and_joints_are(one):
    rows = rows_of(bill_of_materials(one))
    pad = float(one.score.cost_parts["beyond the quilt"])
    parts = total(rows, "cost_used", "part", "joint") - pad
    assert total(rows, "price_used", "purchase") == pytest.approx(parts, abs=len(rows) * ROUNDING)
    for row in rows:
        if row["row"] == "purchase":
            # Three decimals at most of what is used; a pack has as many.
            slack = ROUNDING if not row["pack"] else 0.0005 * (1 + float(row["to_buy"]))
            assert float(row["to_buy"]) * float(row["pack"] or 1) >= float(row["used"]) - slack
    assert total(rows, "mass_g", "purchase") == total(rows, "cost_used", "purchase") == 0


def test_a_cut_piece_of_cloth_weighs_its_area_times_its_areal_mass(one):
    # Definition of areal mass; the edge tapers, so only rectangles are multiplied out.
    rows = {row["name"]: row for row in rows_of(bill_of_materials(one)) if row["row"] == "part"}
    catalogue = load_catalogue()
    row = rows.get("baffles")
    if row is None:
        assert one.derived.baffle_cut_width_m is None
        return
    pieces, sides = float(row["pieces"]), [float(row[f"cut_{side}_mm"]) for side in ("length", "width")]
    area = pieces * sides[0] * sides[1] / 1e6
    # Each side is rounded to a thousandth of a millimetre: half of that along the other side, times pieces.
    slack = pieces * 0.0005 * sum(sides) / 1e6 + ROUNDING
    assert float(row["area_m2"]) == pytest.approx(area, abs=slack)
    areal = catalogue.fabric(one.design.baffles.fabric).areal_mass_g_m2
    assert float(row["mass_g"]) == pytest.approx(area * areal, abs=slack * areal + ROUNDING)


def test_the_first_quilt_takes_its_factor_in_the_minutes_too():
    sample = samples()[0]
    night = sample.night.model_copy(update={"first_quilt": True})
    slow = evaluate(sample.design, night, load_catalogue())
    rows = rows_of(bill_of_materials(slow))
    assert total(rows, "minutes", "joint", "work") == pytest.approx(60 * float(slow.score.work_h), abs=1e-3)


def test_the_file_starts_with_a_byte_order_mark_and_has_the_columns_that_are_documented(one):
    data = bill_of_materials(one, "EUR").encode("utf-8")
    assert data.startswith(b"\xef\xbb\xbf")
    rows = rows_of(data.decode("utf-8"))
    assert list(rows[0]) == list(COLUMNS)
    assert all(COLUMNS.values())
    assert {row["row"] for row in rows} == {"part", "joint", "work", "purchase"}
    assert all(None not in row and None not in row.values() for row in rows)
    assert {row["currency"] for row in rows} == {"EUR"}
    assert {row["sleeper"] for row in rows} == {one.night.sleeper.kind}
    sent = rows_of(bill_of_materials(one, measures_left_out=True))
    assert {row["sleeper"] for row in sent} == {
        f"{one.night.sleeper.kind}, in place of own measures that were left out"
    }


def test_numbers_have_dot_decimals_and_no_signs_but_digits(one):
    words = {
        "row",
        "design",
        "name",
        "belongs_to",
        "used_unit",
        "to_buy_unit",
        "own_number",
        "currency",
        "sleeper",
    }
    for row in rows_of(bill_of_materials(one)):
        for column in set(COLUMNS) - words:
            assert set(row[column]) <= set("0123456789.")


@pytest.mark.parametrize("name", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", " =1", '=HYPERLINK("x")'])
def test_a_name_that_a_spreadsheet_would_run_gets_an_apostrophe(name):
    design = samples()[0].design.model_copy(update={"name": name})
    rows = rows_of(bill_of_materials(evaluate(design, samples()[0].night, load_catalogue()), "=cmd"))
    assert {row["design"] for row in rows} == {"'" + name}
    assert {row["currency"] for row in rows} == {"'=cmd"}


@pytest.mark.parametrize("name", ["Frost quilt", "Größe 羽毛 ½", 'a "quoted", name', "a - b = c"])
def test_other_names_come_back_as_they_were(name):
    assert plain_text(name) == name
    design = Design(kind="underquilt", name=name)
    rows = rows_of(bill_of_materials(evaluate(design, samples()[0].night, load_catalogue())))
    assert {row["design"] for row in rows} == {name}


def test_an_own_price_is_marked_and_counted():
    design = samples()[0].design
    own = OwnGood(kind="fill", id=design.fill.good, price=1.0)
    comparison = Comparison(candidates=(Candidate(letter="A", design=design),), own_goods=(own,))
    one = evaluate_all(comparison, load_catalogue())["A"]
    marked = [row for row in rows_of(bill_of_materials(one)) if row["own_number"] == "yes"]
    assert [row["name"] for row in marked] == [load_catalogue().fill(design.fill.good).name]
    grams = float(marked[0]["to_buy"])
    assert float(marked[0]["price_to_buy"]) == pytest.approx(grams * 1.0 / 100, abs=1e-5)


def test_sizes_have_three_decimals_at_most_and_what_is_not_counted_is_empty(one):
    for row in rows_of(bill_of_materials(one)):
        for column in COLUMNS:
            if column.endswith(("_mm", "_m")) or column in ("used", "pack"):
                assert len(row[column].partition(".")[2]) <= 3, column
        if row["row"] == "joint":
            assert row["pieces"] != "0" and row["length_m"] != "0"
        if row["name"] == "raw edges":
            assert row["pieces"] == "" and float(row["length_m"]) > 0
