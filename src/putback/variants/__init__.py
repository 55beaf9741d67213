"""Sets of variants, decided exactly: `Space` is the algebra, `fewest` finds the smallest choice that shows a fault."""

from putback.variants.sets import ALL, NONE, Choice, EntangledError, VariantSet
from putback.variants.space import Space

__all__ = ["ALL", "NONE", "Choice", "EntangledError", "Space", "VariantSet"]
