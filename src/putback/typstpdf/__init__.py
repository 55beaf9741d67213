"""The printed manual: a Sphinx builder that sets all documents as one PDF with nothing but `pip install`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from putback.typstpdf.builder import TypstPdfBuilder
from putback.typstpdf.visitors import VISITORS

if TYPE_CHECKING:
    from sphinx.application import Sphinx
    from sphinx.config import Config

SETTINGS: tuple[tuple[str, object, tuple[type, ...]], ...] = (
    ("putback_paper", "a4", (str,)),
    ("putback_title", "", (str,)),
    ("putback_subtitle", "", (str,)),
    ("putback_edition", "", (str,)),
    ("putback_date", "", (str,)),
    ("putback_authors", [], (list, tuple, str)),
    ("putback_licence", "", (str,)),
    ("putback_notice", "", (str,)),
    ("putback_draft", False, (bool,)),
    ("putback_pdf_name", "", (str,)),
    ("putback_mark", "", (str,)),
    ("typstpdf_words", {}, (dict,)),
)
"""Name, default and types of every setting in conf.py that the printed manual reads."""


def setup_typst(app: Sphinx) -> None:
    """Register the builder `typstpdf`, its settings, and how it prints the nodes of this extension."""
    app.add_builder(TypstPdfBuilder)
    for name, default, types in SETTINGS:
        if name not in app.config:
            app.add_config_value(name, default, "", types)
    for node, handlers in VISITORS.items():
        # Not `app.add_node`: the other outputs register the same nodes, and a second time would warn.
        app.registry.add_translation_handlers(node, typst=handlers)
    app.connect("config-inited", _keep_quotes)


def _keep_quotes(app: Sphinx, config: Config) -> None:
    # Typographic quotes would turn the inch sign of 5/8" into a closing quote.
    excluded = config.smartquotes_excludes.setdefault("builders", [])
    if TypstPdfBuilder.name not in excluded:
        config.smartquotes_excludes = {
            **config.smartquotes_excludes,
            "builders": [*excluded, TypstPdfBuilder.name],
        }
