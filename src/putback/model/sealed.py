"""Mappings in frozen records that nobody can write into."""

from __future__ import annotations

from types import MappingProxyType


def seal(record: object, *names: str) -> None:
    """Put a read-only copy in the place of each mapping that a frozen record has: for its `__post_init__`."""
    for name in names:
        object.__setattr__(record, name, MappingProxyType(dict(getattr(record, name))))
