"""Whether a prose page is a whole file of the guide itself, before anything opens it.

A link can lead to a stranger's secrets, a pipe never ends, and a device neither.
"""

from __future__ import annotations

import stat
from pathlib import Path

from putback.source.intake import LARGEST_PAGE


def fault_of_page(path: Path, root: Path) -> tuple[str, str] | None:
    """Return why a file is no page of the guide in `root`, and what to do; None when it is one. Nothing is opened."""
    try:
        whole = path.resolve()
        facts = whole.stat()
    except (OSError, RuntimeError, ValueError):
        return "this is a link that leads nowhere", "put the page itself here"
    if not whole.is_relative_to(root.resolve()):
        return "this is a link that leads outside the guide", "copy the page into the guide"
    if not stat.S_ISREG(facts.st_mode):
        return "this is not a file but a pipe, a socket or a device", "put the page itself here"
    if facts.st_size > LARGEST_PAGE:
        return f"this page has {facts.st_size:,} bytes; the limit is {LARGEST_PAGE:,}", "make several pages of it"
    return None
