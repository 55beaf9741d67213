"""Words of the page that searches, in English."""

from __future__ import annotations

from putback.words.sought import SearchLabels

SEARCH = SearchLabels(
    hint="Words or their beginnings, a part number or a part of one. The arrow keys move through the results.",
    found="Found: {count}",
    none="No place has all of these words.",
    more="Show more",
    step="Step {number}",
)
"""Words of the page that searches."""
