"""What a page may not do in `putback build`: read a file, run or load something, bring a piece of HTML of its own.

A guide may come from a stranger, and whoever builds it must be able to trust the result, and the building. In a Sphinx
project of somebody's own, its conf.py says what pages may do: there, this extension is not loaded.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from putback import __version__
from putback.sphinxext.closed.pages import look_over
from putback.sphinxext.closed.refused import forbid
from putback.sphinxext.closed.told import report
from putback.sphinxext.closed.tree import look_around

if TYPE_CHECKING:
    from sphinx.application import Sphinx
    from sphinx.config import Config

DOCUTILS: dict[str, Any] = {"file_insertion_enabled": False, "raw_enabled": False, "_disable_config": True}
"""Settings of docutils. The last one leaves a docutils.conf unread that would undo the others."""

SPHINX: dict[str, Any] = {
    "locale_dirs": [],
    "figure_language_filename": "{root}{ext}",
    "templates_path": [],
    "html_extra_path": [],
    "pygments_style": None,
}
"""Settings of Sphinx under which nothing but pages and their pictures is looked for in the guide."""


def setup(app: Sphinx) -> dict[str, Any]:
    """Register everything with Sphinx."""
    app.connect("config-inited", _narrow, priority=100)
    app.connect("builder-inited", _close)
    # Before Sphinx notes the pictures and downloads of a page.
    app.connect("doctree-read", look_over, priority=50)
    app.connect("env-updated", report, priority=50)
    return {"version": __version__, "parallel_read_safe": False, "parallel_write_safe": True}


def _narrow(app: Sphinx, config: Config) -> None:
    for name, value in SPHINX.items():
        setattr(config, name, value)
    config.exclude_patterns = [*config.exclude_patterns, *look_around(Path(app.srcdir))]


def _close(app: Sphinx) -> None:
    app.env.settings.update(DOCUTILS)
    forbid(app)
