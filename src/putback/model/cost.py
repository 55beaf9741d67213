"""What a job costs, in the author's words: nobody adds prices of different places and years."""

from __future__ import annotations

from dataclasses import dataclass

from putback.model.reading import Reader
from putback.model.said import Said
from putback.source.tree import Mapping


@dataclass(frozen=True, slots=True)
class Cost:
    """What a job costs."""

    parts: Said | None = None
    """What its parts and fluids cost, with the currency: `about 40 EUR`."""
    workshop: Said | None = None
    """What a workshop asks for it, parts and work together."""


def read_cost(reader: Reader, root: Mapping) -> Cost | None:
    """Return what a job says of its cost; None when it says nothing."""
    value = root.get("cost")
    if not isinstance(value, Mapping):
        return None
    return Cost(reader.text(value.get("parts")), reader.text(value.get("workshop")))
