"""What the builder of the printed manual is called, and what can be set for it."""

from __future__ import annotations

NAME = "typstpdf"
"""What the builder is called."""

SETTINGS: tuple[tuple[str, object, tuple[type, ...]], ...] = (
    ("putback_paper", "a4", (str,)),
    ("putback_sided", False, (bool,)),
    ("putback_large_print", False, (bool,)),
    ("putback_only", "", (str,)),
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
    ("putback_form", "manual", (str,)),
)
"""Name, default and types of every setting in conf.py that the printed manual reads."""
