"""Where do lines of text break on paper? Words are measured once and remembered."""

from functools import lru_cache

from engine.draw.letters import printable, text_width_mm


@lru_cache(maxsize=8192)
def _word_width(word: str, bold: bool) -> float:
    """Of letters one millimetre high: the font has no kerning, so widths add up."""
    return text_width_mm(word, 1.0, bold)


def width_of(text: str, size_mm: float, bold: bool = False) -> float:
    """How wide a text is printed on one line.

    Units   mm -> mm
    Source  the font's own widths
    """
    space = _word_width(" ", bold)
    words = text.split(" ")
    return size_mm * (sum(_word_width(word, bold) for word in words) + space * (len(words) - 1))


def widest_word(text: str, size_mm: float, bold: bool = False) -> float:
    """What a column must hold at least, so that no word is broken.

    Units   mm -> mm
    Source  the font's own widths
    """
    return size_mm * max(_word_width(word, bold) for word in text.split(" "))


def broken(
    text: str, width_mm: float, size_mm: float, bold: bool = False, first_mm: float = 0.0
) -> tuple[str, ...]:
    """The text in lines no wider than a column, the first shorter by `first_mm`.

    Breaks at spaces, but not at no-break ones; a word that is wider than the column is broken anywhere.

    Units   mm
    Source  the font's own widths
    """
    space = _word_width(" ", bold)
    lines, room = [""], (width_mm - first_mm) / size_mm
    whole = width_mm / size_mm
    for word in printable(text, bold).split(" "):
        width = _word_width(word, bold)
        needed = width + (space if lines[-1] else 0.0)
        if needed <= room + 1e-9:
            lines[-1] += f" {word}" if lines[-1] else word
            room -= needed
            continue
        if lines[-1] or first_mm:
            lines.append("")
        *full, last = _pieces(word, whole, bold) if width > whole + 1e-9 else (word,)
        lines[-1:] = [*full, last]
        room = whole - _word_width(last, bold)
    return tuple(lines)


def _pieces(word: str, width: float, bold: bool) -> tuple[str, ...]:
    pieces = [""]
    for sign in word:
        if pieces[-1] and _word_width(pieces[-1] + sign, bold) > width:
            pieces.append("")
        pieces[-1] += sign
    return tuple(pieces)
