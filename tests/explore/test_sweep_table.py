"""Does the file of a sweep hold every quilt with its choices and scores, as a spreadsheet reads them?"""

import csv
import io

import numpy as np
import pytest

from engine.explore.choices import changed
from engine.explore.front import front_of
from engine.explore.rows import KEYS
from engine.explore.sweep import sweep
from engine.export.sweep_table import CHECKS, SCORES, sweep_csv
from engine.night import Night
from engine.quantities import resolve
from engine.score import score
from tests.engine.made import CATALOGUE, PUPIL
from tests.explore.recipes import among, any_of, span

RECIPE = among(
    span("baffles.height_mm", 40, 60, 2.5),
    any_of("shells.outer", "nylon-10d-26", "film-17"),
    any_of("joints.raw_edges", None, "seared-edge"),
    any_of("end_panels.fitted", False, True),
)
RESULT = sweep(changed(PUPIL, [("outline.width_mm", 1200)]), Night(), CATALOGUE, RECIPE)
FRONT = front_of(RESULT).rows


def table(text):
    assert text.startswith("\ufeff") and "\r\n" in text
    return list(csv.DictReader(io.StringIO(text.removeprefix("\ufeff"))))


def test_every_quilt_has_its_choices_and_the_scores_of_its_design():
    rows = table(sweep_csv(RESULT, FRONT))
    assert len(rows) == 9 * 2 * 2 * 2
    assert list(rows[0]) == [c.path for c in RECIPE.choices] + [name for name, _ in SCORES.values()] + list(
        CHECKS
    )
    for place in (0, 17, 71):
        raw = rows[place]["joints.raw_edges"]
        design = changed(
            RESULT.design,
            [
                ("baffles.height_mm", float(rows[place]["baffles.height_mm"])),
                ("shells.outer", rows[place]["shells.outer"]),
                ("joints.raw_edges", None if raw == "none" else raw),
                ("end_panels.fitted", rows[place]["end_panels.fitted"] == "yes"),
            ],
        )
        single = score(resolve(design, Night(), CATALOGUE))
        # Six digits are written.
        assert float(rows[place]["weight_g"]) == pytest.approx(1000 * float(single.weight_kg), rel=1e-5)
        assert float(rows[place]["packed_l"]) == pytest.approx(1000 * float(single.volume_m3), rel=1e-5)
        assert float(rows[place]["comfortable_down_to_c"]) == pytest.approx(float(single.comfort_c), rel=1e-5)
        assert float(rows[place]["cost_used"]) == pytest.approx(float(single.cost), rel=1e-5)


def test_the_file_of_the_front_holds_the_front_and_the_other_says_who_is_on_it():
    front = table(sweep_csv(RESULT, FRONT, FRONT))
    assert len(front) == len(FRONT) > 0 and {row["on_front"] for row in front} == {"yes"}
    marked = [place for place, row in enumerate(table(sweep_csv(RESULT, FRONT))) if row["on_front"] == "yes"]
    np.testing.assert_array_equal(marked, FRONT)


def test_every_score_has_a_column():
    assert set(SCORES) == set(KEYS)
