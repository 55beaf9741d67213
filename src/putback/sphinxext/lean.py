"""A script without its comments and its indentation: what a page loads has no use for them."""

from __future__ import annotations

import re

_COMMENT = re.compile(r"^[ \t]*/\*(?:(?!\*/).)*\*/[ \t]*$", re.DOTALL | re.MULTILINE)


def lean(script: str) -> str:
    """Return a script without comments that have lines of their own, empty lines, and spaces before lines.

    Lines stay lines, so it means the same, as long as no text in it goes over several lines.
    """
    lines = (line.strip() for line in _COMMENT.sub("", script).splitlines())
    return "".join(f"{line}\n" for line in lines if line and not line.startswith("//"))
