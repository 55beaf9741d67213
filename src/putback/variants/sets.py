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
