"""English as American workshops speak it: where a word of ours is British, the American one stands for it."""

from __future__ import annotations

import re
from dataclasses import fields, replace
from typing import TYPE_CHECKING, Any, TypeVar

from putback.trade.words import Side, said_by
from putback.words.english import LABELS, English

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

_L = TypeVar("_L", bound="DataclassInstance")


_OURS = (("Renew", "Replace"), ("renew", "replace"), ("condemned", "rejected"))
"""Words that an American understands in a text of an author, and would not say: only what is ours changes."""


def _said(words: str) -> str:
    for british, american in _OURS:
        words = re.sub(rf"\b{british}(?=s?\b)", american, words)
    return said_by(words, Side.US)


def _american(labels: _L) -> _L:
    """Return labels in American words."""
    found: dict[str, Any] = {}
    for field in fields(labels):
        value = getattr(labels, field.name)
        if isinstance(value, str):
            found[field.name] = _said(value)
        elif isinstance(value, tuple):
            found[field.name] = tuple(_said(each) if isinstance(each, str) else each for each in value)
        else:
            found[field.name] = _american(value)
    return replace(labels, **found)


class American(English):
    """Makes the sentences of one guide, in American words."""

    labels = _american(LABELS)

    def own(self, words: str) -> str:
        """Return words of ours as they are said in America."""
        return _said(words)
