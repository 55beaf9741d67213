"""The settings of Sphinx under which `putback build` makes a manual."""

from __future__ import annotations

from typing import Any

from putback.guide.record import Guide
from putback.ledger.opened import Opened
from putback.sphinxext.marks import mark_of
from putback.sphinxext.naming import folder_name, paper_settings, pdf_name
from putback.words import catalogue, labels_for


def settings(opened: Opened, paper: str, *, draft: bool) -> dict[str, Any]:
    """Return the configuration of the manual of a guide."""
    guide, cover = opened.guide, opened.guide.cover
    title = cover.title if cover else guide.root.name
    found = {
        "extensions": ["myst_parser", "putback.sphinxext", "putback.sphinxext.closed"],
        "myst_enable_extensions": ["colon_fence", "deflist", "attrs_inline", "tasklist"],
        "project": title,
        "author": ", ".join(cover.authors) if cover else "",
        "release": (cover.edition or "") if cover else "",
        "language": _of_sphinx(cover.language) if cover else "en",
        "html_theme": "putback",
        "html_title": title,
        "html_show_sphinx": False,
        "html_copy_source": False,
        "html_show_copyright": False,
        "html_last_updated_fmt": None,
        "numfig": True,
        # Typographic quotes would turn the inch sign of 5/8" into a closing quote.
        "smartquotes": False,
        "exclude_patterns": ["build", "**/.*"],
        "putback_lint": False,
        "putback_variant": dict(opened.only),
        **paper_settings(paper),
        "putback_title": title,
        "putback_only": catalogue(opened).for_choice(opened.only),
        **_on_cover(guide),
        "putback_draft": draft,
        "putback_pdf_name": pdf_name(folder_name(guide), opened.only, paper),
        "putback_mark": mark_of(guide).keyword(),
    }
    # Sphinx wants plain texts, that know nothing of their place.
    return {name: str(value) if isinstance(value, str) else value for name, value in found.items()}


def _on_cover(guide: Guide) -> dict[str, Any]:
    """Return the settings of what the cover says besides the title."""
    cover = guide.cover
    return {
        "putback_subtitle": (cover.subtitle or "") if cover else "",
        "putback_edition": labels_for(cover.language).book.called(cover.edition) if cover and cover.edition else "",
        "putback_date": (cover.date or "") if cover else "",
        "putback_authors": [*map(str, cover.authors)] if cover else [],
        "putback_licence": (cover.licence or "") if cover else "",
        "putback_notice": (cover.read_first or "") if cover else "",
    }


def _of_sphinx(tag: str) -> str:
    """Return a language tag as Sphinx writes it: `pt_BR`. What it has no words for is in English."""
    language, *rest = tag.split("-")
    region = next((part for part in rest if len(part) == 2 and part.isalpha()), "")
    return f"{language.lower()}_{region.upper()}" if region else language.lower()
