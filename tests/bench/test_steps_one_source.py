"""Do the steps say the same as the pieces, the plan and the figures beside them?"""

from datetime import date

import pytest

from engine.bench.pieces import pieces_of
from engine.bench.steps import steps_of
from engine.comparison import Candidate, Comparison
from engine.evaluate import evaluate_all
from engine.export.spec_sheet import spec_sheet
from tests.bench.test_steps import job, words
from tests.engine.made import CATALOGUE, FILM, changed


@pytest.mark.parametrize(
    "fitted, across",
    [(True, "taken up by the end panels, which are longer outside"), (False, "pleated")],
)
def test_steps_pieces_and_figures_say_alike_where_the_surplus_goes(fitted, across):
    """Across it goes where the maker chose, or into panels that are cut longer outside; sides are eased."""
    design = changed(changed(FILM, "ends.surplus", "pleated"), "end_panels.fitted", fitted)
    made = job(changed(design, "cut.wrap_along_rad", 0.8))
    one = made.one
    told = {
        name: next(each for each in steps_of(made) if each.key == name) for name in ("long edges", "ends")
    }
    outer = next(piece for piece in pieces_of(one.design, CATALOGUE, one.quantities, one.score)
                 if piece.part == "outer shell")  # fmt: skip
    notes = " ".join(note.text for note in outer.notes)
    line_up = evaluate_all(Comparison(candidates=(Candidate(letter="A", design=one.design),)), CATALOGUE)
    figures = {name: cell.text for name, cell in spec_sheet(line_up, "A", date(2026, 11, 3)).figures}
    for key, way, text in (("long edges", "along", "eased in along the sides"), ("ends", "across", across)):
        assert f"it is {text}." in words([told[key]])
        assert f"{text}." in notes
        assert figures[f"Surplus of the outer, {way}"] == text
