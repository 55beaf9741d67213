"""A Sphinx extension: job and machine files of a guide are pages.

Name `putback.sphinxext` in `extensions`, and put a guide's folder anywhere in the project. It brings a parser for those
files, the domain `putback` with its roles, directives for prose pages, and the builder `typstpdf` for paper.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from putback import __version__

if TYPE_CHECKING:
    from sphinx.application import Sphinx
    from sphinx.config import Config

_STATIC = Path(__file__).parent / "static"


def setup(app: Sphinx) -> dict[str, Any]:
    """Register everything with Sphinx."""
    from putback.sphinxext.paper import setup_paper

    app.add_config_value("putback_lint", True, "env", (bool,))
    app.add_config_value("putback_variant", {}, "env", (dict,))
    app.add_config_value("putback_one_job", False, "env", (bool,))
    _setup_sources(app)
    _setup_pages(app)
    setup_paper(app)
    return {"version": __version__, "env_version": 1, "parallel_read_safe": True, "parallel_write_safe": True}


def _setup_sources(app: Sphinx) -> None:
    """Register what reads: files of a guide, prose, directives, roles."""
    from putback.sphinxext.directives import DIRECTIVES
    from putback.sphinxext.domain import PutbackDomain
    from putback.sphinxext.outdated import leave_other_yaml, touched
    from putback.sphinxext.parser import PutbackParser
    from putback.sphinxext.published import CleanedPictures
    from putback.sphinxext.retold import read_translated
    from putback.sphinxext.things import moved
    from putback.sphinxext.together import ValuesTogether
    from putback.sphinxext.transforms import plain_nodes

    app.add_source_suffix(".yaml", "putback")
    app.add_source_parser(PutbackParser)
    app.connect("config-inited", leave_other_yaml, priority=900)  # after all that add patterns of their own
    app.connect("source-read", read_translated)
    app.connect("env-get-outdated", touched)
    app.connect("env-get-outdated", moved)
    app.add_domain(PutbackDomain)
    for name, directive in DIRECTIVES.items():
        app.add_directive(name, directive)
    app.connect("doctree-resolved", plain_nodes)
    app.add_post_transform(CleanedPictures)
    app.add_post_transform(ValuesTogether)


def _setup_pages(app: Sphinx) -> None:
    """Register what writes pages of HTML: visitors, styles, the theme, the search."""
    from putback.sphinxext.contentslist import setup_contents
    from putback.sphinxext.html import setup_html
    from putback.sphinxext.live import setup_live
    from putback.sphinxext.sought import setup_search

    setup_html(app)
    setup_live(app)
    setup_contents(app)
    app.connect("config-inited", _add_static)
    app.add_css_file("putback.css")
    app.add_css_file("putback-drawings.css")
    app.add_css_file("putback-print.css", media="print")
    setup_search(app)
    app.add_html_theme("putback", str(Path(__file__).parent / "theme"))


def _add_static(app: Sphinx, config: Config) -> None:
    del app
    # Each is called `putback-…`, lest a project's own `print.css` is written over. `live` makes one of the scripts.
    sheets = (str(file) for file in sorted(_STATIC.iterdir()) if file.is_file())
    config.html_static_path = [*config.html_static_path, *sheets]
