"""What a text orders to turn, without saying which way: `When it has no stroke, turn the crankshaft one turn.`"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator

from putback.model.job import Step
from putback.model.verbs.acting import Act
from putback.model.verbs.pieces import Install
from putback.model.verbs.telling import Note
from putback.model.verbs.turning import Turn
from putback.source.late import Late

_TURNS = Late(r"\b(?:turn|bar|rotate|spin)(?: over)? (?:the|its) (?P<rest>[a-z-]+(?: [a-z-]+){0,4})")
"""An order to turn something."""
_SAYS = Late(
    r"\b(?:(?:anti|counter)?clockwise|against the clock|running direction|direction of (?:rotation|running)"
    r"|way (?:that )?it runs|either way)\b",
    re.IGNORECASE,
)
"""Words that say which way."""
_NEVER = Late(r"\b(?:never|not|nobody|before you|when you|while you|if you|as you)\s+$")
"""Words before it that make it no order."""
_MOST_WORDS = 5


def said_to_do(step: Step) -> Iterator[str]:
    """Yield what a step orders in an author's words; what goes on while a shaft is turned says its way by a key."""
    if isinstance(step.action, Act | Note):
        yield step.action.words
    for words in (step.text, step.note):
        if words is not None and not isinstance(step.action, Turn | Install):
            yield words


def turned_in(text: str, names: Collection[str]) -> Iterator[str]:
    """Yield which of some names, in lower case, a text orders to be turned, when it says no way."""
    words = text.lower()
    if "turn" not in words and "bar " not in words and "rotate" not in words and "spin" not in words:
        return
    if _SAYS.search(text):
        return
    for found in _TURNS.finditer(words):
        rest = found["rest"].split(" ")
        if _NEVER.search(words[: found.start()]):
            continue
        for length in range(min(_MOST_WORDS, len(rest)), 0, -1):
            name = " ".join(rest[:length])
            if name in names:
                yield name
                break
