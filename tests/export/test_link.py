"""How long is a link, what does it survive on its way, and is every other text refused in one sentence?"""

import base64
import binascii
import json
import string
import zlib
from contextlib import suppress
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.comparison import LETTERS, Candidate, Comparison
from engine.design import Design
from engine.export import frozen, link
from engine.export.link import LinkRefused, LinkTooLong, decode_link, encode_link, link_length_word, packed
from engine.night import Night

PREFIX = "This link could not be read: "
CUT = PREFIX + "it is cut short."
NEWER = PREFIX + "it was made by a newer version."
NOT_OURS = PREFIX + "it is not a Loftwright link."
CHANGED = PREFIX + "it was changed on the way."
NOT_ALLOWED = PREFIX + "it holds something that is not allowed: "

ALPHABET = string.ascii_letters + string.digits + "-_"


def lettered(letters: Any, some_designs: list[Design]) -> Comparison:
    pairs = zip(letters, some_designs, strict=True)
    return Comparison(candidates=tuple(Candidate(letter=letter, design=design) for letter, design in pairs))


def fifteen_edits(place: int) -> Design:
    return Design.model_validate(
        {
            "name": ("River", "Ridge of film", "Sedge, three-quarter", "Tarn in November")[place],
            "outline": {
                "length_mm": 1903 + 37 * place,
                "width_mm": 1141 + 13 * place,
                "shape": "tapered ends",
            },
            "baffles": {"height_mm": 57.5 + place, "spacing_mm": 131 + 7 * place, "layout": "staggered"},
            "shells": {"inner": ("film-17", "nylon-7d-19", "film-11", "polyester-10d-27")[place]},
            "ends": {"gathered_percent": 52 + place, "shape": ("plain", "darted", "plain", "darted")[place]},
            "cut": {"wrap_across_rad": 1.7 + 0.13 * place, "wrap_along_rad": 0.35 + 0.11 * place},
            "fill": {
                "good": ("down-900", "down-750", "down-700", "sheet-67")[place],
                "grams": 211 + 31 * place,
            },
            "joints": {"baffles": ("tape-6", "tape-12", "tape-12-stitch", "sewn-double")[place]},
            "edges": {"kind": "low edge wall"},
            "tabs": 7 + place,
        }
    )


def count(changes: Any) -> int:
    return sum(count(inner) for inner in changes.values()) if isinstance(changes, dict) else 1


def test_four_designs_with_fifteen_edits_each_fit_any_chat() -> None:
    for place in range(4):
        assert count(frozen.difference(fifteen_edits(place).model_dump(), Design().model_dump())) >= 15
    sent = lettered("ABCD", [fifteen_edits(place) for place in range(4)])
    token = encode_link(sent)
    print(f"four designs, fifteen edits each: {len(token)} characters")
    assert len(token) < 1000
    assert decode_link(token) == sent


@pytest.mark.parametrize(
    "length, word",
    [(999, "short"), (1000, "long"), (2000, "long"), (2001, "very long"), (6000, "very"), (6001, "too long")],
)
def test_the_length_is_told_in_words(length: int, word: str) -> None:
    assert link_length_word("1" * length).startswith(word)


def test_a_comparison_too_long_for_a_link_is_refused_and_points_to_the_file() -> None:
    # Text that no dictionary shortens: random characters of a large alphabet, always the same.
    state, notes = 1, []
    for _ in range(6):
        text = ""
        while len(text) < 500:
            state = state * 6364136223846793005 % 2**64
            text += chr(0x4E00 + (state >> 40) % 20000)
        notes.append(text)
    sent = lettered(LETTERS, [Design(note=note) for note in notes])
    with pytest.raises(LinkTooLong, match=r"allowed: up to 6,000.*send the file"):
        encode_link(sent)


# What happens to links on the way.

SENT = lettered("AB", [fifteen_edits(0), fifteen_edits(1)]).model_copy(
    update={"night": Night(air_c=-7.5), "reason": "Lightest that is warm enough"}
)
TOKEN = encode_link(SENT)


@pytest.mark.parametrize(
    "arrived",
    [
        TOKEN + ".",
        TOKEN + ")",
        TOKEN + ").",
        TOKEN + "==",
        TOKEN + "%3D",
        TOKEN + ") look at this",
        f"<{TOKEN}>",
        f" {TOKEN}\n",
        TOKEN[:70] + "\r\n" + TOKEN[70:],
        TOKEN[:70] + "\u200b" + TOKEN[70:],
        TOKEN + "_",
        TOKEN + "…",
    ],
)
def test_what_chats_and_mails_add_is_overlooked(arrived: str) -> None:
    assert decode_link(arrived) == SENT


def test_a_link_cut_anywhere_is_told_to_be_cut_short() -> None:
    for kept in range(1, len(TOKEN)):
        with pytest.raises(LinkRefused) as refused:
            decode_link(TOKEN[:kept])
        assert str(refused.value) == CUT


def test_a_link_with_one_character_changed_never_opens_as_another_quilt() -> None:
    opened_otherwise = 0
    for place in range(1, len(TOKEN) - 1):  # the last character has bits that carry nothing
        other = ALPHABET[(ALPHABET.index(TOKEN[place]) + 1 + place) % 64]
        if other == TOKEN[place]:
            continue
        with suppress(LinkRefused):
            opened_otherwise += decode_link(TOKEN[:place] + other + TOKEN[place + 1 :]) != SENT
    assert opened_otherwise == 0


def test_a_change_that_still_inflates_is_told_as_a_change() -> None:
    body = base64.urlsafe_b64decode(TOKEN[1:] + "=" * (-len(TOKEN[1:]) % 4))
    other = body[:-1] + bytes([body[-1] ^ 1])
    with pytest.raises(LinkRefused) as refused:
        decode_link("1" + base64.urlsafe_b64encode(other).decode())
    assert str(refused.value) == CHANGED


def test_the_check_value_is_the_one_of_its_published_polynomial() -> None:
    # x^16 + x^12 + x^5 + 1 of ITU-T V.41 (1988), begun at 0, over the nine digits: 31C3 hex (from memory).
    body = base64.urlsafe_b64decode(packed("123456789")[1:] + "==")
    assert body[-2:].hex() == "31c3"
    assert binascii.crc_hqx(b"123456789", 0) == 0x31C3


@pytest.mark.parametrize("token", ["2" + TOKEN[1:], "9abc"])
def test_a_link_of_a_newer_version_is_told_as_such(token: str) -> None:
    with pytest.raises(LinkRefused) as refused:
        decode_link(token)
    assert str(refused.value) == NEWER


def squeezed(data: bytes) -> str:
    packer = zlib.compressobj(9, zlib.DEFLATED, -15, zdict=frozen.words())
    body = packer.compress(data) + packer.flush() + binascii.crc_hqx(data, 0).to_bytes(2, "big")
    return "1" + base64.urlsafe_b64encode(body).decode().rstrip("=")


@pytest.mark.parametrize(
    "token",
    ["", " ", "hello", "0" + TOKEN[1:], "x" + TOKEN, "1" + "A" * 200, "1" * 8001, "<script>", "💥", "("],
    ids=["empty", "blank", "word", "version 0", "x before", "zeros", "too long", "markup", "sign", "bracket"],
)
def test_a_text_that_is_no_link_is_told_as_such(token: str) -> None:
    with pytest.raises(LinkRefused) as refused:
        decode_link(token)
    assert str(refused.value) == NOT_OURS


def test_a_small_link_that_inflates_to_megabytes_is_refused_before_it_is_unpacked() -> None:
    bomb = squeezed(b"0" * 3_000_000)
    assert len(bomb) <= link.LONGEST_READ
    with pytest.raises(LinkRefused) as refused:
        decode_link(bomb)
    assert str(refused.value) == NOT_OURS


def test_bytes_that_are_no_text_are_refused() -> None:
    with pytest.raises(LinkRefused) as refused:
        decode_link(squeezed(b'{"reason":"\xff"}'))
    assert str(refused.value) == NOT_OURS


@pytest.mark.parametrize(
    "text, told",
    [
        ('{"night":{"air_c":NaN}}', "Air temperature (night.air_c) is nan; allowed: -45 to 25 °C"),
        ('{"night":{"air_c":-Infinity}}', "Air temperature (night.air_c) is -inf; allowed: -45 to 25 °C"),
        ('{"night":{"hours":1e999}}', "Hours in bed (night.hours) is inf; allowed: 1 to 16 h"),
        ('{"night":{"hours":' + "9" * 7000 + "}}", "Hours in bed (night.hours) is inf; allowed: 1 to 16 h"),
        ('{"night":{"hours":true}}', "Hours in bed (night.hours) is true; allowed: 1 to 16 h, as a number"),
        ('{"night":{"hours":"8"}}', 'Hours in bed (night.hours) is "8"; allowed: 1 to 16 h, as a number'),
        ('{"night":null}', "night is null; allowed: a group of fields in braces"),
        ("[" * 90_000, "The text is nested too deeply; allowed: 12 levels"),
        ('{"night":' * 14 + "1" + "}" * 14, "is nested too deeply; allowed: 12 levels"),
        ('{"reason":"a","reason":"b"}', "reason stands twice in one place; allowed: once"),
        ('{"rating":1}', "rating is not known here"),
        ('{"candidates":{"G":{}}}', "candidates.0.letter is G; allowed: A, B, C, D, E, F"),
        ('{"candidates":{"A":{},"A":{}}}', "A stands twice in one place; allowed: once"),
        ('{"candidates":{"A":7}}', "candidates.0.design is 7"),
        ('{"candidates":[]}', "candidates is []; allowed: designs by their letters"),
        ('{"own_goods":{}}', "own_goods is {}; allowed: a list of goods"),
        ('{"candidates":{"A":{"baffles":{"height_mm":5000}}}}', "height_mm) is 5000; allowed: 5 to 300 mm"),
        ('{"candidates":{"A":{"tabs":6.5}}}', "tabs) is 6.5; allowed: 0 to 20, as a whole number"),
        ('{"candidates":{"A":{"name":"\\ud800"}}}', "A.name holds \\ud800; allowed: whole characters"),
        ('{"candidates":{"A":{"note":"' + "x" * 501 + '"}}}', "allowed: 0 to 500 characters"),
        ('{"chosen":"B"}', "chosen is B"),
        ("[]", "The content is []; allowed: the fields of a comparison"),
        ("{", "The text is not JSON"),
    ],
)
def test_what_is_not_allowed_is_told_by_field_value_and_what_is_allowed(text: str, told: str) -> None:
    with pytest.raises(LinkRefused) as refused:
        decode_link(packed(text))
    assert len(refused.value.messages) == 1
    assert str(refused.value).startswith(NOT_ALLOWED)
    assert told in str(refused.value)


def test_a_hostile_field_name_is_not_repeated_at_length() -> None:
    with pytest.raises(LinkRefused) as refused:
        decode_link(packed('{"' + "x" * 50_000 + '":1}'))
    assert len(str(refused.value)) < 400


@settings(max_examples=300, deadline=None)
@given(st.text(max_size=60) | st.text(ALPHABET, max_size=200).map("1".__add__))
def test_any_text_opens_or_is_refused_and_nothing_else(token: str) -> None:
    try:
        assert isinstance(decode_link(token), Comparison)
    except LinkRefused as refusal:
        assert str(refusal).startswith(PREFIX)


names = st.sampled_from(["night", "candidates", "A", "B", "baffles", "height_mm", "own_goods", "name", "x"])
any_json = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(names, inner, max_size=4),
    max_leaves=12,
)


@settings(max_examples=300, deadline=None)
@given(any_json)
def test_any_json_in_a_link_opens_or_is_refused_and_nothing_else(value: Any) -> None:
    try:
        assert isinstance(decode_link(packed(json.dumps(value))), Comparison)
    except LinkRefused as refusal:
        assert str(refusal).startswith(NOT_ALLOWED)
