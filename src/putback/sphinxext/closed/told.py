"""What was found that a page may not do, gathered over all pages and then said at once."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from sphinx.errors import SphinxError
from sphinx.util import logging

from putback.guide.paths import shown_path

if TYPE_CHECKING:
    from sphinx.application import Sphinx
    from sphinx.environment import BuildEnvironment

logger = logging.getLogger(__name__)

_found: dict[tuple[str, int, str], None] = {}


class PageError(SphinxError):
    """Pages of the guide do what they may not; the message names each place."""

    category = "page"


def tell(path: str | Path, line: int, message: str, instead: str) -> None:
    """Note one thing at a line (from 1) of a file, with what to do instead."""
    hint = f"; {instead}" if instead else ""
    _found.setdefault((shown_path(Path(path)), line, f"{message}{hint}"))


def forget() -> None:
    """Begin a new build."""
    _found.clear()


def report(app: Sphinx, env: BuildEnvironment) -> None:
    """Say all of it: as errors that end the build, or as warnings when it is a draft."""
    del env
    lines = sorted(_found)
    forget()
    if lines and not app.config.putback_draft:
        raise PageError("".join(f"\n{path}:{line}: {message}" for path, line, message in lines))
    for path, line, message in lines:
        logger.warning("%s", message, location=f"{path}:{line}", type="putback", subtype="closed")
