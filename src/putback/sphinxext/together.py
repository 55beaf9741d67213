"""No line ends between a value and its unit, whoever wrote them."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Any

from docutils import nodes
from sphinx.transforms.post_transforms import SphinxPostTransform

from putback.source.late import Late
from putback.units.table import find

_AS_WRITTEN = (nodes.literal, nodes.literal_block, nodes.raw, nodes.math, nodes.math_block)
"""Text that is printed sign for sign."""
_BEFORE_UNIT = Late(r"(?<=[0-9½¼¾⅓⅔⅛⅜⅝⅞]) (?=([^\W\d_][^\s,;:()]{0,11}|[°%µ][^\s,;:()]{0,5}))")
_OTHER_WORDS = frozenset({"a", "in"})
"""Words that are more often no unit: `step 3 in the book`."""


class ValuesTogether(SphinxPostTransform):
    """Puts a blank that no line ends at between each number of a text and the unit that follows it."""

    default_priority = 900  # after references have their words

    def run(self, **kwargs: Any) -> None:
        """Look through all texts of a page."""
        del kwargs
        for text in list(self.document.findall(nodes.Text)):
            if not isinstance(text.parent, _AS_WRITTEN):
                whole = together(str(text))
                if whole != text:
                    text.parent.replace(text, nodes.Text(whole))


def together(text: str) -> str:
    """Return a text in which no line ends between a value and its unit."""
    return _BEFORE_UNIT.sub(_blank, text)


def _blank(found: re.Match[str]) -> str:
    return "\N{NO-BREAK SPACE}" if _is_unit(found[1].rstrip(".!?”’\"'")) else " "


@lru_cache(4096)
def _is_unit(word: str) -> bool:
    return word not in _OTHER_WORDS and find(word) is not None
