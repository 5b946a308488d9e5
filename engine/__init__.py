"""Loftwright's engine: scores designs of home-made down quilts. Pure Python; knows no screen.

catalogue ─┐
           ├─> quantities ─> loft ─> bill ─> score ─┬─> bands, fit, cautions, shopping ─> evaluate
design ────┤        (formulas, units)               └─> export: link, files, sheet, table
night ─────┘
"""

from engine.catalogue.load import load_catalogue, with_own
from engine.comparison import Candidate, Comparison
from engine.design import Design
from engine.evaluate import evaluate, evaluate_all
from engine.night import Night
from engine.refusals import Refusal
from engine.samples import samples

__all__ = [
    "Candidate",
    "Comparison",
    "Design",
    "Night",
    "Refusal",
    "evaluate",
    "evaluate_all",
    "load_catalogue",
    "samples",
    "with_own",
]
