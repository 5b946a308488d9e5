"""Does the cut list hold every piece, in millimetres and in eighths of an inch, and add up to the bill?"""

import csv
import io
import re

import pytest

from engine.catalogue.load import load_catalogue
from engine.evaluate import evaluate
from engine.export.cut_list import COLUMNS, cut_list, eighths
from engine.export.table import bill_of_materials
from engine.samples import samples
from engine.units import INCH
from tests.engine.made import TOP, changed

CATALOGUE = load_catalogue()
ROUNDING = 0.5e-6
"""Each cell is rounded to six decimals, so a sum of n cells is off by n times this at most."""


def read(text):
    return list(csv.DictReader(io.StringIO(text.removeprefix("\ufeff"), newline="")))


@pytest.fixture(params=samples(), ids=lambda sample: sample.id)
def one(request):
    return evaluate(request.param.design, request.param.night, CATALOGUE)


def test_areas_and_masses_add_up_to_the_bill_of_materials(one):
    rows = read(cut_list(one, CATALOGUE))
    bill = {row["name"]: row for row in read(bill_of_materials(one)) if row["row"] == "part"}
    for name in {row["part"] for row in rows}:
        mine = [row for row in rows if row["part"] == name]
        for column in ("area_m2", "mass_g"):
            total = sum(float(row[column]) for row in mine)
            assert total == pytest.approx(float(bill[name][column]), abs=(len(mine) + 1) * ROUNDING)


def test_millimetres_are_whole_and_inches_are_eighths_and_both_say_the_same(one):
    for row in read(cut_list(one, CATALOGUE)):
        for column in (name for name in COLUMNS if name.endswith("_length_mm") or name.endswith("_width_mm")):
            inches = row[column.removesuffix("mm") + "in"]
            assert re.fullmatch(r"\d+", row[column]) and re.fullmatch(r"\d+( [1-7]/[248])?", inches)
            whole, _, part = inches.partition(" ")
            top, _, bottom = part.partition("/")
            value = int(whole) + (int(top) / int(bottom) if part else 0)
            # Half a sixteenth to the nearest eighth, and half a millimetre.
            assert value * 25.4 == pytest.approx(float(row[column]), abs=25.4 / 16 + 0.5)


@pytest.mark.parametrize(
    "inches, said",
    [
        (44, "44"),
        (49.125, "49 1/8"),
        (2.5, "2 1/2"),
        (0.875, "0 7/8"),
        (0.99, "1"),
        (3.76, "3 3/4"),
        (0, "0"),
    ],
)
def test_eighths_are_shortened_and_never_look_like_a_date(inches, said):
    assert eighths(inches * INCH) == said


def test_the_file_has_its_byte_order_mark_and_columns_and_a_hostile_name_is_text():
    hostile = changed(samples()[0].design, "name", "=1+1")
    text = cut_list(evaluate(hostile, samples()[0].night, CATALOGUE), CATALOGUE)
    assert text.encode("utf-8").startswith(b"\xef\xbb\xbf")
    rows = read(text)
    assert list(rows[0]) == list(COLUMNS) and all(COLUMNS.values())
    assert all(None not in row and None not in row.values() for row in rows)
    assert {row["design"] for row in rows} == {"'=1+1"}


def test_a_taper_has_its_corners_and_a_panel_says_what_is_done_with_it():
    # By hand: 1500 + 26 mm on a roll of 1400; the taper starts at 900 mm, so a head panel has six corners.
    night = samples()[0].night
    rows = {
        row["piece"]: row
        for row in read(
            cut_list(evaluate(changed(TOP, "outline.width_mm", 1500.0), night, CATALOGUE), CATALOGUE)
        )
    }
    head = rows["inner shell, head panel"]
    assert head["cut_corners_mm"].count(";") == 5 and head["cut_width_mm"] == "1526"
    assert head["grain"] == "across" and "Turned on the roll" in head["notes"]
    assert "join: 6 mm (1/4 in), sewn seam, one row" in head["allowances"]
    assert rows["draft collar"]["cut_corners_mm"] == rows["footbox end panel"]["cut_corners_mm"] == ""
    assert rows["patch"]["of"] == "scraps of strong woven cloth"
