"""A Sphinx builder that sets all documents as one PDF with nothing but `pip install`.

It knows nothing of machines and jobs. An extension gives its nodes their looks with `app.add_node(…, typst=(…))`
(functions that take a `pen.Pen` and the node), and adds its own Typst functions and the words of the templates to the
builder (`builder.TypstPdfBuilder.templates` and `labels`).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from putback.typstpdf.settings import NAME, SETTINGS

if TYPE_CHECKING:
    from sphinx.application import Sphinx
    from sphinx.config import Config


def setup_typst(app: Sphinx) -> None:
    """Register the builder `typstpdf` and its settings."""
    # Late: only what prints needs Sphinx.
    from putback.typstpdf.builder import TypstPdfBuilder

    app.add_builder(TypstPdfBuilder)
    for name, default, types in SETTINGS:
        if name not in app.config:
            app.add_config_value(name, default, "", types)
    app.connect("config-inited", _keep_quotes)


def _keep_quotes(app: Sphinx, config: Config) -> None:
    # Typographic quotes would turn the inch sign of 5/8" into a closing quote.
    excluded = config.smartquotes_excludes.setdefault("builders", [])
    if NAME not in excluded:
        config.smartquotes_excludes = {
            **config.smartquotes_excludes,
            "builders": [*excluded, NAME],
        }
