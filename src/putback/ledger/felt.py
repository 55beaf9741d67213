"""What words say of a look: that a thing is felt as it moves, and need not be seen; that one looks once more."""

from __future__ import annotations

import re

from putback.ledger.entries import Entry
from putback.model.said import source_of
from putback.model.verbs.asking import Verify
from putback.source.late import Late

_MOTION = Late(r"\b(?:turns?|spins?|rotates?|moves?|slides?|swings?|play|rattles?|wobbles?|shakes?)\b", re.IGNORECASE)


def is_felt(entry: Entry) -> bool:
    """Tell whether a check is of how a thing moves: that is felt through what sits on it."""
    action = entry.step.action
    return (
        isinstance(action, Verify)
        and action.limit is not None
        and _MOTION.search(source_of(action.limit.text)) is not None
    )


_AGAIN = Late(r"\b(?:look|check|read|see|try|test)\b.*\b(?:again|once more|until)\b", re.IGNORECASE | re.DOTALL)


def looks_once_more(words: str) -> bool:
    """Tell whether words have somebody look once more: `look at the dipstick again`."""
    return _AGAIN.search(words) is not None


ADJUSTS = Late(
    r"^(?!.*\b(?:until|aside|page|log|record|report|engine|crankshaft|flywheel)\b)(?!.*(?<!back )\boff\b)"
    r"(?:re)?(?:adjust|set|turn|bend|shim|lengthen|shorten|screw|slide|grind|file|stone|back off|"
    r"saw|scrape|hone|ream|lap|deepen|undercut|inflate|deflate|"
    r"(?:add|remove|take out|put|fit|insert|swap|change|exchange)\b.*\b(?:shims?|spacers?|washers?))\b",
    re.IGNORECASE | re.DOTALL,
)
"""A note that changes what was measured, and does not say until when: `Turn the star wheel.`, `Add or remove shims.`"""
