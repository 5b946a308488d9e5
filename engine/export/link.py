"""How does a whole comparison fit into an address, and come back from one exactly or not at all?

A token is the version, "1", and base64url without padding of: the differences from the defaults of
that version as JSON, deflated with a preset dictionary; and a check value of two bytes over that JSON.
Without the check value a character changed on the way could give another quilt and no complaint.
"""

import base64
import binascii
import json
import re
import zlib
from typing import Any, NoReturn

from engine.comparison import Comparison
from engine.export import frozen
from engine.export.strict_json import checked, parsed, plain
from engine.refusals import Refusal, shown

VERSION = "1"
SHORT = 1_000
LONG = 2_000
LONGEST_MADE = 6_000
LONGEST_READ = 8_000
MOST_JSON_BYTES = 200_000
CHECK_BYTES = 2
MOST_SHOWN = 300
"""How much of a fault in a link is repeated: a stranger may have written it."""

_RAW_DEFLATE = -15
_BREAKS = re.compile(r"[\s\u00ad\u200b-\u200d\u2060\ufeff]+")
_RUN = re.compile(r"[A-Za-z0-9_-]+")


class LinkRefused(Refusal):
    """A link that could not be read; its one sentence says why."""


class LinkTooLong(Refusal):
    """A comparison that no link can hold; its one sentence says so."""


def encode_link(comparison: Comparison) -> str:
    """The comparison as a token for the address, in letters, digits, '-' and '_'.

    Raises  LinkTooLong above 6,000 characters
    Source  RFC 4648 section 5 (2006) base64url; RFC 1951 (1996) deflate; ITU-T V.41 (1988) check polynomial
    """
    token = packed(json.dumps(_differences(comparison), ensure_ascii=False, separators=(",", ":")))
    if len(token) > LONGEST_MADE:
        told = f"The link is {len(token):,} characters; allowed: up to {LONGEST_MADE:,}."
        raise LinkTooLong([f"{told} It is too long for a link: send the file."])
    return token


def decode_link(token: str) -> Comparison:
    """The comparison in a token, exactly as it was sent.

    What chats and mails add is overlooked: line breaks, padding, a full stop or bracket at the end.

    Raises  LinkRefused, one sentence
    Source  as `encode_link`
    """
    text = _unpacked(_payload(token))
    try:
        return checked(Comparison, _whole(parsed(text)))
    except Refusal as refusal:
        _refuse(f"it holds something that is not allowed: {refusal.messages[0]}")


def link_length_word(token: str) -> str:
    """How far a token of this length travels, in words.

    Source  common practice, no source: chats cut at about 2,000 characters, proxies from 8,000
    """
    if len(token) < SHORT:
        return "short: fits any chat"
    if len(token) <= LONG:
        return "long: some chats cut it"
    if len(token) <= LONGEST_MADE:
        return "very long: most chats cut it, better send the file"
    return "too long for a link: send the file"


def packed(text: str) -> str:
    """A text as a token of version 1, whatever the text says.

    Source  as `encode_link`
    """
    data = text.encode()
    squeeze = zlib.compressobj(9, zlib.DEFLATED, _RAW_DEFLATE, 9, zlib.Z_DEFAULT_STRATEGY, frozen.words())
    body = squeeze.compress(data) + squeeze.flush() + _check_value(data)
    return VERSION + base64.urlsafe_b64encode(body).decode().rstrip("=")


def _differences(comparison: Comparison) -> dict[str, Any]:
    base = frozen.defaults()
    whole: dict[str, Any] = plain(comparison.model_dump(mode="json"))
    candidates = {
        entry["letter"]: frozen.difference(entry["design"], base["design"]) for entry in whole["candidates"]
    }
    own_goods = [frozen.difference(good, base["own_good"]) for good in whole["own_goods"]]
    short = whole | {"candidates": candidates or [], "own_goods": own_goods}
    return frozen.difference(short, base["comparison"])


def _whole(short: Any) -> dict[str, Any]:
    base = frozen.defaults()
    if not isinstance(short, dict):
        raise Refusal([f"The content is {shown(short)}; allowed: the fields of a comparison."])
    candidates = short.get("candidates", {})
    own_goods = short.get("own_goods", [])
    if not isinstance(candidates, dict):
        raise Refusal([f"candidates is {shown(candidates)}; allowed: designs by their letters."])
    if not isinstance(own_goods, list):
        raise Refusal([f"own_goods is {shown(own_goods)}; allowed: a list of goods."])
    filled = {
        "candidates": [
            {"letter": letter, "design": frozen.completed(design, base["design"])}
            for letter, design in candidates.items()
        ],
        "own_goods": [frozen.completed(good, base["own_good"]) for good in own_goods],
    }
    whole: dict[str, Any] = frozen.completed(short | filled, base["comparison"])
    return whole


def _payload(token: str) -> bytes:
    if len(token) > LONGEST_READ:
        _refuse("it is not a Loftwright link")
    # What a chat glues on stands before or behind; only line breaks fall inside a token.
    run = _RUN.search(_BREAKS.sub("", token))
    kept = run.group() if run is not None else ""
    if kept[:1] in set("23456789"):
        _refuse("it was made by a newer version")
    if kept[:1] != VERSION:
        _refuse("it is not a Loftwright link")
    digits = kept[1:]
    if len(digits) % 4 == 1:  # six bits make no byte
        digits = digits[:-1]
    return base64.urlsafe_b64decode(digits + "=" * (-len(digits) % 4))


def _unpacked(body: bytes) -> str:
    stretch = zlib.decompressobj(_RAW_DEFLATE, zdict=frozen.words())
    try:
        data = stretch.decompress(body, MOST_JSON_BYTES)
    except zlib.error:
        _refuse("it is not a Loftwright link")
    if not stretch.eof and stretch.unconsumed_tail:
        _refuse("it is not a Loftwright link")
    if not stretch.eof or len(stretch.unused_data) < CHECK_BYTES:
        _refuse("it is cut short")
    if stretch.unused_data[:CHECK_BYTES] != _check_value(data):
        _refuse("it was changed on the way")
    try:
        return data.decode()
    except UnicodeDecodeError:
        _refuse("it is not a Loftwright link")


def _check_value(data: bytes) -> bytes:
    return binascii.crc_hqx(data, 0).to_bytes(CHECK_BYTES, "big")


def _refuse(why: str) -> NoReturn:
    told = why if len(why) <= MOST_SHOWN else why[:MOST_SHOWN] + "…"
    raise LinkRefused([f"This link could not be read: {told.rstrip('.')}."]) from None
