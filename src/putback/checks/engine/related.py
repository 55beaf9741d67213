"""Which checks belong together: by what their texts name, and by a word that their own names share."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping

from putback.checks.engine.known import KnownCheck

MOST = 6
"""More than these would be a list that nobody reads."""

FEW = 4
"""A key that at most so many checks speak of ties them together."""

_SAYS_LITTLE = frozenset(
    "bad conflict in late low missing no not off reversed too unlikely unusual vague way wrong".split()  # noqa: SIM905
)
"""Words in names of checks that say what is wrong, and not with what."""


def related_to(check: KnownCheck, checks: Mapping[str, KnownCheck]) -> list[str]:
    """Return the names of the checks that go with one, the closest first.

    Closest are those whose texts name each other; then those of the same group whose names share a word, then those
    of it that speak of a key of which few speak.
    """
    others = {name: other for name, other in checks.items() if name != check.name}
    group = {name: other for name, other in others.items() if other.group is check.group}
    found = [
        *(name for name in _said(check) if name in others),
        *(name for name, other in others.items() if check.name in _said(other)),
        *(name for name, other in group.items() if _words(check) & _words(other)),
        *_of_the_same_keys(check, group),
    ]
    return list(dict.fromkeys(found))[:MOST]


def _of_the_same_keys(check: KnownCheck, others: Mapping[str, KnownCheck]) -> Iterator[str]:
    keys = {name: set(_said(other)) for name, other in others.items()}
    often = Counter(key for said in keys.values() for key in said)
    rare = {key for key in _said(check) if often[key] < FEW}
    return (name for name, said in keys.items() if said & rare)


def _words(check: KnownCheck) -> set[str]:
    return set(check.name.split("-")) - _SAYS_LITTLE


def _said(check: KnownCheck) -> list[str]:
    return re.findall(r"`([a-z0-9-]+)`", check.text)
