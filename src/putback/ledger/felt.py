"""What a check is of: how a thing moves is felt through what sits on it, and need not be seen."""

from __future__ import annotations

import re

from putback.ledger.entries import Entry
from putback.model.verbs.asking import Verify
from putback.source.late import Late

_MOTION = Late(r"\b(?:turns?|spins?|rotates?|moves?|slides?|swings?|play|rattles?|wobbles?|shakes?)\b", re.IGNORECASE)


def is_felt(entry: Entry) -> bool:
    """Tell whether a check is of how a thing moves: that is felt through what sits on it."""
    action = entry.step.action
    return isinstance(action, Verify) and action.limit is not None and _MOTION.search(action.limit.text) is not None
