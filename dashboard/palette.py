"""Which colours and shapes are used, on light and on dark ground? Theme, CSS and figures all read it here.

A candidate is a letter, a shape and a colour, in that order of trust. Better or worse is a word, never a
colour.
"""

import json
from dataclasses import dataclass
from typing import Literal

Scheme = Literal["light", "dark"]


@dataclass(frozen=True)
class Tone:
    """One colour as it is on each ground."""

    light: str
    dark: str

    def on(self, scheme: Scheme) -> str:
        """The colour for one scheme, as '#RRGGBB'."""
        return self.light if scheme == "light" else self.dark

    @property
    def css(self) -> str:
        """The colour as CSS that follows the page's scheme."""
        return f"light-dark({self.light}, {self.dark})"


GROUND = Tone("#FBFAF7", "#171A22")
PANEL = Tone("#F0EEE8", "#222631")
TEXT = Tone("#22252E", "#ECEAE4")
QUIET = Tone("#595E6B", "#A9AEBB")
ACCENT = Tone("#3D3F91", "#B3B7F7")
BORDER = Tone("#858A94", "#6F7686")
HAIRLINE = Tone("#D5D3CC", "#3A4050")
STOP = Tone("#9C2A1F", "#FFA596")
MIND = Tone("#7A4A00", "#F0C070")
NOTE = Tone("#2F5A6B", "#9CCBDD")

TOKENS = {
    "ground": GROUND,
    "panel": PANEL,
    "text": TEXT,
    "quiet": QUIET,
    "accent": ACCENT,
    "border": BORDER,
    "hairline": HAIRLINE,
    "stop": STOP,
    "mind": MIND,
    "note": NOTE,
}
"""Name in the style sheet (`--lw-text`) and its colour. A hairline only divides: it may be faint."""


@dataclass(frozen=True)
class Mark:
    """How one candidate is marked: the sign in text, the symbol in a Plotly figure, the colour."""

    sign: str
    symbol: str
    tone: Tone


MARKS = {
    "A": Mark("●", "circle", Tone("#5A2BD0", "#9160FF")),
    "B": Mark("■", "square", Tone("#B56A00", "#E5602A")),
    "C": Mark("◆", "diamond", Tone("#1787B0", "#4FA3E6")),
    "D": Mark("▲", "triangle-up", Tone("#C21F60", "#BE5C80")),
    "E": Mark("✚", "cross", Tone("#40370A", "#F2CF3A")),
    "F": Mark("⬢", "hexagon", Tone("#122B5C", "#DCF0FA")),
}

LOFT_STEPS = (
    Tone("#F4EDD8", "#23263A"),
    Tone("#CFCFDD", "#454680"),
    Tone("#9BA0CC", "#6F70B8"),
    Tone("#6A6AB4", "#A3A6DB"),
    Tone("#3B3588", "#EDEBDA"),
)
"""Thin to thick. Contour lines carry the numbers."""


_THEMED = {
    "primaryColor": ACCENT,
    "backgroundColor": GROUND,
    "secondaryBackgroundColor": PANEL,
    "textColor": TEXT,
    "linkColor": ACCENT,
    "borderColor": BORDER,
    "codeTextColor": TEXT,
    "codeBackgroundColor": PANEL,
    "redTextColor": STOP,
    "orangeTextColor": MIND,
    "yellowTextColor": MIND,
    "blueTextColor": NOTE,
    "redBackgroundColor": PANEL,
    "orangeBackgroundColor": PANEL,
    "yellowBackgroundColor": PANEL,
    "blueBackgroundColor": PANEL,
}


def theme_options() -> list[tuple[str, str]]:
    """The page's theme, light and dark, as Streamlit takes it on its command line: lists as JSON."""
    options = [
        ("theme.font", "sans-serif"),
        ("theme.headingFont", "serif"),
        ("theme.headingFontSizes", json.dumps(["28px", "20px", "17px", "16px", "16px", "16px"])),
        ("theme.headingFontWeights", json.dumps([600] * 6)),
        ("theme.baseFontSize", "16"),
        ("theme.baseRadius", "4px"),
        ("theme.paddingTop", "0.5rem"),
        ("theme.showWidgetBorder", "true"),
    ]
    schemes: tuple[Scheme, ...] = ("light", "dark")
    for scheme in schemes:
        marks = [mark.tone.on(scheme) for mark in MARKS.values()]
        options += [(f"theme.{scheme}.{name}", tone.on(scheme)) for name, tone in _THEMED.items()]
        options.append((f"theme.{scheme}.chartCategoricalColors", json.dumps(marks)))
    return options
