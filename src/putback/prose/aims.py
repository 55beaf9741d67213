"""What a torque in a text is meant for: how tight something gets, or how tight it must never get.

`sentences` cuts a text; `is_aim` looks at the clause in which a torque stands.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from putback.source.late import Late


class Sentence(NamedTuple):
    """A stretch of a text."""

    start: int
    end: int


_ABBREVIATED = Late(r"\b(?:e\.g|i\.e|approx|ca|fig|figs|max|min|nos?)\.$", re.IGNORECASE)
_STOP = Late(r"[.!?][)\"'\]]{0,3}\s{1,9}(?=[A-Z0-9\"'(\[])")


def sentences(text: str) -> Iterator[Sentence]:
    """Yield the sentences of a text, by their offsets; all of it when it has no stop."""
    start = 0
    for stop in _STOP.finditer(text):
        if not _ABBREVIATED.search(text, max(0, stop.start() - 8), stop.start() + 1):
            yield Sentence(start, stop.end())
            start = stop.end()
    yield Sentence(start, len(text))


def said_in_sentences(text: str) -> Iterator[str]:
    """Yield the sentences of a text themselves."""
    for each in sentences(text):
        yield text[each.start : each.end].strip()


_BREAK = Late(r"[;!?()\[\]]|,\s|\s[–—]\s|(?<!max)(?<!min)(?<!approx)\.\s|\bbut\b|\band (?=do not\b|never\b|not\b)")
_OTHER = Late(
    r"\b(?:more|less|further|tighter|harder|higher|lower|greater|rather) than\b|\bexceed\w*|"
    r"\bat (?:the )?(?:most|least)\b|\b(?:no|not|or|and) (?:more|less)\b|\bmax(?:imum)?\b|\bmin(?:imum)?\b|"
    r"\blimit\w*|\bnever\b|\bdo not tighten\b|"
    r"\bbreak(?:s|ing)?[- ](?:away|loose|free)\b|\bbreakaway\b|\bcomes? loose\b|\bto (?:loosen|undo|free)\b|"
    r"\bprevailing\b|\bdrag\b|\b(?:running|turning|rolling|friction)[- ]torque\b|\binstead of\b|\bformerly\b|"
    r"\bprevious\w*|\bearlier\b|\bolder\b|\bused to\b|\bedition\b|\bwould\b|"
    r"\bwrench(?:es)?\b[^.;]*\bgoes\b|"
    r"\bon (?:the |some |an? )?(?:larger|smaller|other|heavier|lighter|next)\b|\bengine (?:gives|makes|delivers)\b|"
    r"\b(?:strip|shear|snap|break|tear|yield)s?\b[^,;]{0,30}\b(?:at|above|with)\b",
    re.IGNORECASE,
)
_LOOSENING = Late(r"\b(?:break|strip|shear|loosen|release|wrench|range|from|above|below)", re.IGNORECASE)
_BEFORE = Late(
    r"(?:\b(?:above|below|over|under|beyond|up to|not(?: to| at)?|another|further|additional|extra|by|plus|within|"
    r"reaches)|[<>≤≥])\s*(?:about\s*)?$",
    re.IGNORECASE,
)
_BEHIND = Late(
    r"\s*,?\s*(?:(?:torque )?(?:wrench|spanner|driver|key|scale|range)|"
    r"at (?:the )?(?:most|least)|or (?:more|less)|max|min)\b",
    re.IGNORECASE,
)


def is_aim(text: str, start: int, end: int) -> bool:
    """Tell whether a torque from `start` to `end` says how tight something gets.

    It does not when it is a limit, or the torque at which something turns or breaks.
    """
    before = text[max(0, start - 160) : start]
    behind = text[end : end + 80]
    if _BEFORE.search(before) or _BEHIND.match(behind):
        return False
    breaks = [found.end() for found in _BREAK.finditer(before)]
    stop = _BREAK.search(behind)
    clause = f"{before[breaks[-1] if breaks else 0 :]} {behind[: stop.start() if stop else None]}"
    return _OTHER.search(clause) is None


def is_limit(head: str) -> bool:
    """Tell whether the head of a column is that of limits, or of torques at which something turns or breaks."""
    return _OTHER.search(head) is not None or _LOOSENING.search(head) is not None
