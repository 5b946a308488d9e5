"""Do the files for a spreadsheet and the page say the same numbers of the same goods, pieces and joints?"""

import csv
import io
from datetime import date

import pytest

from dashboard.bench_job import Bench, Choices
from dashboard.bench_sheet import bench_sheet
from dashboard.sheet import Links
from engine.bench.lay import Offcut
from engine.catalogue.load import load_catalogue
from engine.comparison import Candidate, Comparison
from engine.evaluate import evaluate_all
from engine.export.bench_tables import joint_table_csv
from engine.export.goods_table import goods_csv
from engine.export.spec_sheet import spec_sheet
from engine.export.table import bill_of_materials
from engine.paper.blocks import Table
from engine.samples import samples

UNITS = {"m": "m", "g": "g", "mL": "mL"}


def bench_of(sample, choices: Choices | None = None) -> Bench:
    comparison = Comparison(night=sample.night, candidates=(Candidate(letter="A", design=sample.design),))
    line_up = evaluate_all(comparison, load_catalogue())
    return Bench(line_up, spec_sheet(line_up, "A", date(2026, 11, 3)), Links(), choices or Choices())


def rows_of(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text.removeprefix("\ufeff"), newline="")))


def table_of(bench: Bench, section: str, key: str) -> Table:
    blocks = bench_sheet(bench).section(section).blocks
    return next(block for block in blocks if isinstance(block, Table) and block.key == key)


def agrees(shown: str, number: str, unit: str) -> bool:
    """What is shown, rounded, is the number of the file: half a unit of its last place away at most."""
    digits, _, shown_unit = shown.replace("\u202f", "").partition("\u00a0")
    places = len(digits.partition(".")[2])
    # A binary fraction may lie a hair beyond the half; files have three decimals themselves.
    return shown_unit == unit and abs(float(digits) - float(number)) <= 0.5 * 10**-places + 0.0005


@pytest.mark.parametrize("sample", samples(), ids=lambda sample: sample.id)
def test_goods_on_the_page_are_those_of_both_files(sample):
    bench = bench_of(sample)
    materials = [row for row in rows_of(bill_of_materials(bench.one)) if row["row"] == "purchase"]
    goods, shown = rows_of(goods_csv(bench.one, "", bench.lays_m)), table_of(bench, "buy", "buy").rows
    for one, other, row in zip(materials, goods, shown, strict=True):
        for column in ("used", "used_unit", "to_buy", "to_buy_unit", "pack", "price_used", "price_to_buy"):
            assert one[column] == other[column], column
        assert one["name"] == other["good"] == row[0].partition("\n")[0].replace(row[0][0], one["name"][0], 1)
        used, _, lay = row[2].partition("\nlay ")
        unit = "" if one["used_unit"] == "pieces" else UNITS[one["used_unit"]]
        assert agrees(used, one["used"], unit)
        if lay:
            assert agrees(lay, other["lay_m"], "m")
            assert agrees(row[3], other["lay_to_buy_m"], "m") and agrees(row[3], one["to_buy"], "m")
        elif one["pack"]:
            # The words of a shop in both: 1 roll, 2 rolls.
            count, word, held, held_unit = row[3].replace(" of ", "\u00a0").split("\u00a0")
            assert float(count) == float(one["to_buy"])
            assert one["to_buy_unit"] == (word if float(count) != 1 else word + "s")
            assert agrees(f"{held}\u00a0{held_unit}", one["pack"], unit)
        else:
            assert agrees(row[3], one["to_buy"], unit)


@pytest.mark.parametrize("sample", samples(), ids=lambda sample: sample.id)
def test_joints_on_the_page_are_those_of_both_files(sample):
    bench = bench_of(sample)
    materials = {row["name"]: row for row in rows_of(bill_of_materials(bench.one)) if row["row"] == "joint"}
    joints = {row["joint"]: row for row in rows_of(joint_table_csv(bench.job.joints)) if row["length_m"]}
    for row in table_of(bench, "joints", "joints").rows:
        name = row[0].lower()
        for shown, column, other, unit in (
            (row[2], "pieces", "count", ""),
            (row[4], "length_m", "length_m", "m"),
            (row[5], "tape_m", "tape_m", "m"),
        ):
            if shown:
                assert agrees(shown, materials[name][column], unit), (name, column)
                assert agrees(shown, joints[name][other], unit), (name, other)
            else:
                assert materials[name][column] == "" and float(joints[name][other] or 0) == 0


def test_offcuts_shorten_what_the_page_and_the_file_of_goods_buy_alike():
    sample = next(each for each in samples() if each.id == "autumn-film-staggered")
    bench = bench_of(sample, Choices(offcuts=(("film-17", (Offcut(1.3, 2.5),)),)))
    goods, shown = rows_of(goods_csv(bench.one, "", bench.lays_m)), table_of(bench, "buy", "buy").rows
    place = next(n for n, line in enumerate(bench.one.purchases) if line.id == "film-17")
    assert agrees(shown[place][3], goods[place]["lay_to_buy_m"], "m")
    assert float(goods[place]["lay_to_buy_m"]) < float(goods[place]["to_buy"])
