"""Can the colours be read and told apart?

Contrast by WCAG 2.2: relative luminance and contrast ratio as defined there, 4.5:1 for text (SC 1.4.3, AA),
3:1 for controls and graphical objects (SC 1.4.11). Colour blindness by the matrices of Machado, Oliveira and
Fernandes (2009), severity 1.0, applied to linear RGB; from memory. CIELAB and its difference by CIE 15:2004
(Delta E*ab), D65; sRGB by IEC 61966-2-1:1999.
"""

from itertools import combinations

import numpy as np
import pytest

from dashboard import palette

SCHEMES = ["light", "dark"]
READ = ["text", "quiet", "accent", "stop", "mind", "note"]

LINEAR_TO_XYZ = np.array(
    [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]
)  # IEC 61966-2-1:1999
WHITE = np.array([0.9505, 1.0, 1.0890])

SIGHT = {
    "common": np.eye(3),
    "protan": np.array(
        [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]]
    ),
    "deutan": np.array(
        [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]]
    ),
    "tritan": np.array(
        [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]]
    ),
}


def linear(colour: str) -> np.ndarray:
    """'#RRGGBB' as linear sRGB, 0 to 1."""
    signal = np.array([int(colour[i : i + 2], 16) for i in (1, 3, 5)]) / 255
    return np.where(signal <= 0.04045, signal / 12.92, ((signal + 0.055) / 1.055) ** 2.4)


def luminance(colour: str) -> float:
    return float(linear(colour) @ [0.2126, 0.7152, 0.0722])


def contrast(one: str, other: str) -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def lab(rgb: np.ndarray) -> np.ndarray:
    ratio = LINEAR_TO_XYZ @ np.clip(rgb, 0, 1) / WHITE
    x, y, z = np.where(ratio > (6 / 29) ** 3, np.cbrt(ratio), ratio / (3 * (6 / 29) ** 2) + 4 / 29)
    return np.array([116 * y - 16, 500 * (x - y), 200 * (y - z)])


def test_the_contrast_formula_gives_the_bounds_and_a_known_grey():
    """WCAG 2.2: black on white is 21:1. #767676 is the lightest grey to pass 4.5:1 on white, from memory."""
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21.0)
    assert contrast("#767676", "#FFFFFF") >= 4.5 > contrast("#777777", "#FFFFFF")


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize("name", READ)
@pytest.mark.parametrize("behind", ["ground", "panel"])
def test_text_can_be_read_on_ground_and_panel(scheme, name, behind):
    assert contrast(palette.TOKENS[name].on(scheme), palette.TOKENS[behind].on(scheme)) >= 4.5


@pytest.mark.parametrize("scheme", SCHEMES)
def test_borders_of_controls_stand_out_from_the_ground(scheme):
    assert contrast(palette.BORDER.on(scheme), palette.GROUND.on(scheme)) >= 3


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize("letter", sorted(palette.MARKS))
@pytest.mark.parametrize("behind", ["ground", "panel"])
def test_candidate_marks_stand_out_from_ground_and_panel(scheme, letter, behind):
    mark = palette.MARKS[letter].tone.on(scheme)
    assert contrast(mark, palette.TOKENS[behind].on(scheme)) >= 3


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize("sight", sorted(SIGHT))
def test_candidate_colours_stay_apart_for_every_kind_of_sight(scheme, sight):
    """20 units of CIELAB is many just noticeable differences (about 2.3 each; common practice, no source)."""
    seen = {
        letter: lab(SIGHT[sight] @ linear(mark.tone.on(scheme))) for letter, mark in palette.MARKS.items()
    }
    apart = {(a, b): float(np.linalg.norm(seen[a] - seen[b])) for a, b in combinations(seen, 2)}
    nearest = min(apart, key=apart.__getitem__)
    assert apart[nearest] >= 20, f"{nearest} are {apart[nearest]:.1f} apart"


def test_candidates_differ_in_sign_and_symbol_too():
    marks = palette.MARKS.values()
    assert len({mark.sign for mark in marks}) == len({mark.symbol for mark in marks}) == len(marks) == 6


@pytest.mark.parametrize("scheme, direction", [("light", -1), ("dark", 1)])
def test_the_loft_scale_goes_one_way_in_steps_that_can_be_seen(scheme, direction):
    """Even to within half and double of the mean step, so that no step hides and none shouts."""
    lightness = np.array([lab(linear(tone.on(scheme)))[0] for tone in palette.LOFT_STEPS])
    steps = np.diff(lightness) * direction
    assert np.all(steps > steps.mean() / 2) and np.all(steps < steps.mean() * 2), steps
