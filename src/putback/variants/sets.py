"""What a set of variants is, and what goes without a diagram."""

from __future__ import annotations

from typing import NewType, TypeAlias

VariantSet = NewType("VariantSet", int)
"""A set of variants of one `Space`; only that space can read it."""

NONE = VariantSet(0)
"""No variant."""
ALL = VariantSet(1)
"""Every variant, built or not."""

Choice: TypeAlias = tuple[tuple[str, str], ...]
"""Some options with one choice each; the others are left open."""


class EntangledError(Exception):
    """Options and inspections meet in more ways than can be followed."""


def plain_both(a: int, b: int) -> int | None:
    """Return what is in both sets, where that needs no diagram; else None."""
    if a == b or b == ALL:
        return a
    if a == ALL:
        return b
    return NONE if a == NONE or b == NONE else None


def plain_either(a: int, b: int) -> int | None:
    """Return what is in one of two sets, where that needs no diagram; else None."""
    if a == b or b == NONE:
        return a
    if a == NONE:
        return b
    return ALL if a == ALL or b == ALL else None


def plain_without(a: int, b: int) -> int | None:
    """Return what is in the first set and not in the second, where that needs no diagram; else None."""
    if b == NONE or a == NONE:
        return a
    return NONE if a == b or b == ALL else None
