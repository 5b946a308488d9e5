"""Do the steps say the same as the pieces, the plan and the figures beside them?"""

from datetime import date

import pytest

from engine.bench.pieces import pieces_of
from engine.bench.steps import steps_of
from engine.comparison import Candidate, Comparison
from engine.evaluate import evaluate_all
from engine.export.spec_sheet import spec_sheet
from tests.bench.test_steps import job, words
from tests.engine.made import CATALOGUE, FILM, FULL_SEWN, changed


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


def test_every_cord_channel_is_made_by_some_step_and_the_head_after_its_down():
    """An end that the down goes in at cannot have its channel before: common practice, no source."""
    found = {each.key: each for each in steps_of(job(FULL_SEWN))}
    ends, close = words([found["ends"]]), words([found["close"]])
    assert "Foot end: " in ends and "Head and foot" not in ends and "stays open" in ends
    assert list(found).index("ends") < list(found).index("fill") < list(found).index("close")
    assert close.index("basting") < close.index("head's channel over it")
    # Filled from the side, both ends have theirs at once.
    crosswise = changed(FULL_SEWN, "baffles.layout", "full, crosswise")
    found = {each.key: each for each in steps_of(job(crosswise))}
    assert "Head and foot end: " in words([found["ends"]]) and "channel" not in words([found["close"]])
    # With one port, its piece of the channel is made when the port is closed.
    found = {each.key: each for each in steps_of(job(FILM))}
    assert "channel that was left out" in words([found["close"]])
    plain = changed(FULL_SEWN, "ends.shape", "plain")
    assert "channel over it" not in words([next(s for s in steps_of(job(plain)) if s.key == "close")])


def test_the_gathered_width_stands_where_the_channel_is_made_and_where_the_cord_goes_in():
    """By hand: an end of 1120 mm gathered to 60 % is 672 mm wide."""
    design = changed(changed(FULL_SEWN, "outline.width_mm", 1120), "ends.gathered_percent", 60)
    found = {each.key: each for each in steps_of(job(design))}
    for key in ("ends", "close", "fittings"):
        line = next(line for line in found[key].lines if "gather to" in line.text)
        assert line.values["head"][0] == pytest.approx(0.672), key


@pytest.mark.parametrize("step_kg", [1e-4, 5e-4, 1e-3])
def test_the_first_step_asks_for_the_scale_that_was_chosen(step_kg):
    line = steps_of(job(FULL_SEWN, step_kg=step_kg))[0].lines[0]
    assert line.values["step"][0] == step_kg
