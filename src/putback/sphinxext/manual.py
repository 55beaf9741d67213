"""`putback build`: Sphinx with a ready configuration, run so that there is a whole manual or the old one."""

from __future__ import annotations

import io
import os
import re
import shutil
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from tempfile import mkdtemp
from typing import Any

from sphinx.application import Sphinx
from sphinx.errors import SphinxError
from sphinx.locale import translators
from sphinx.util.docutils import docutils_namespace, patch_docutils

from putback.guide import Guide
from putback.sphinxext.beforehand import put_in_front

FORMS = ("html", "pdf")
"""What a manual can be made as."""

_BUILDERS = {"html": "html", "pdf": "typstpdf"}


class BuildError(Exception):
    """The manual could not be made; the message says why."""


@dataclass(slots=True)
class Built:
    """A manual that was made."""

    files: list[Path] = field(default_factory=list)
    """What to open: the HTML's first page, the PDF."""
    warnings: list[str] = field(default_factory=list)
    """What Sphinx had to say, a line each."""


def build_manual(guide: Guide, forms: Sequence[str], out: Path, *, paper: str = "a4", draft: bool = False) -> Built:
    """Make the manual of a guide below `out`: `html/index.html`, and `NAME-PAPER.pdf`.

    Each form is made in a folder beside and put in place when it is whole. Raises `BuildError`.
    """
    if not (guide.root / "index.md").is_file():
        raise BuildError(f"{guide.shown} has no index.md; it is the first page, and lists the others in a toctree")
    out.mkdir(parents=True, exist_ok=True)
    beside = Path(mkdtemp(prefix=".making-", dir=out))
    built = Built()
    try:
        for form in forms:
            target = beside / form
            built.warnings += _run_sphinx(guide, _BUILDERS[form], target, beside / "doctrees", paper, draft)
            if form == "html":
                built.files.append(_put_in_place(target, out / "html") / "index.html")
            else:
                name = f"{pdf_name(guide, paper)}.pdf"
                made = target / name
                if not made.is_file():
                    raise BuildError("\n".join(["the PDF could not be made", *built.warnings[-5:]]))
                made.replace(out / name)
                built.files.append(out / name)
    finally:
        shutil.rmtree(beside, ignore_errors=True)
    built.warnings = list(dict.fromkeys(built.warnings))
    return built


def pdf_name(guide: Guide, paper: str) -> str:
    """Return the name of the PDF without its ending: `hollin-20-a4`, `hollin-20-shaft-long-a4`."""
    return "-".join([guide.root.name, *(f"{option}-{value}" for option, value in guide.only), paper])


def _put_in_place(made: Path, place: Path) -> Path:
    old = place.with_name(f".{place.name}-old")
    shutil.rmtree(old, ignore_errors=True)
    if place.exists():
        place.rename(old)
    made.rename(place)
    shutil.rmtree(old, ignore_errors=True)
    return place


def _run_sphinx(guide: Guide, builder: str, out: Path, doctrees: Path, paper: str, draft: bool) -> list[str]:
    warnings = io.StringIO()
    # Sphinx keeps the words of the language before, and an English guide after a German one would have an "Abb. 1".
    translators.clear()
    try:
        with patch_docutils(), docutils_namespace(), _without_colour():
            app = Sphinx(
                srcdir=guide.root,
                confdir=None,
                outdir=out,
                doctreedir=doctrees,
                buildername=builder,
                confoverrides=settings(guide, paper, draft=draft),
                status=None,
                warning=warnings,
                freshenv=False,
                parallel=1,
            )
            put_in_front(app)
            app.build(force_all=True)
    except SphinxError as error:
        raise BuildError(f"the manual could not be made: {error}") from error
    except RecursionError:
        raise BuildError(f"the manual could not be made: a page of {guide.shown} lies too deep in itself") from None
    return [_mapped(line) for line in warnings.getvalue().splitlines() if line.strip()]


def settings(guide: Guide, paper: str, *, draft: bool) -> dict[str, Any]:
    """Return the configuration of the manual of a guide."""
    cover = guide.cover
    title = cover.title if cover else guide.root.name
    return {
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
        "putback_variant": dict(guide.only),
        "putback_paper": paper,
        "putback_title": title,
        "putback_subtitle": _subtitle(guide),
        "putback_edition": _edition(cover.edition) if cover and cover.edition else "",
        "putback_date": (cover.date or "") if cover else "",
        "putback_authors": list(cover.authors) if cover else [],
        "putback_licence": (cover.licence or "") if cover else "",
        "putback_notice": (cover.notice or "") if cover else "",
        "putback_draft": draft,
        "putback_pdf_name": pdf_name(guide, paper),
    }


def _of_sphinx(tag: str) -> str:
    """Return a language tag as Sphinx writes it: `pt_BR`. What it has no words for is in English."""
    language, *rest = tag.split("-")
    region = next((part for part in rest if len(part) == 2 and part.isalpha()), "")
    return f"{language.lower()}_{region.upper()}" if region else language.lower()


def _subtitle(guide: Guide) -> str:
    """The subtitle says for which variants the book is, when it is not for all."""
    variant = ", ".join(f"{option.replace('-', ' ')}: {value.replace('-', ' ')}" for option, value in guide.only)
    subtitle = (guide.cover.subtitle or "") if guide.cover else ""
    return f"{subtitle} ({variant})".strip() if variant else subtitle


def _edition(text: str) -> str:
    """A bare number is an edition; words speak for themselves."""
    return f"Edition {text}" if text[:1].isdigit() else text


@contextmanager
def _without_colour() -> Iterator[None]:
    before = os.environ.get("NO_COLOR")
    os.environ["NO_COLOR"] = "1"
    try:
        yield
    finally:
        if before is None:
            del os.environ["NO_COLOR"]
        else:
            os.environ["NO_COLOR"] = before


_ESCAPES = re.compile(r"\x1b\[[0-9;]*m")


def _mapped(line: str) -> str:
    """Return a warning with the path as the user would write it, and no colour."""
    words = _ESCAPES.sub("", line)
    here = f"{Path.cwd()}{os.sep}"
    return words.removeprefix(here)
