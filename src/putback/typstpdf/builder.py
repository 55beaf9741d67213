"""The builder of the printed manual."""

from __future__ import annotations

import calendar
import os
import re
import shutil
import time
from collections.abc import Iterator, Set
from pathlib import Path
from typing import Any, ClassVar

from docutils import nodes
from sphinx.builders import Builder
from sphinx.util import logging

from putback.typstpdf.album import Album
from putback.typstpdf.assemble import assemble
from putback.typstpdf.culprit import Blame, Press, no_cause
from putback.typstpdf.escape import clean, literal, one_line, printed, unusual
from putback.typstpdf.file_name import file_name
from putback.typstpdf.inline import INTERNAL
from putback.typstpdf.press import (
    ManualError,
    Reason,
    StoppedError,
    compile_manual,
    lay_out_fonts,
    limits_for,
    unprintable,
)
from putback.typstpdf.settings import NAME
from putback.typstpdf.translator import TypstTranslator

logger = logging.getLogger(__name__)

PAGE, TEMPLATE = (Path(__file__).with_name(name) for name in ("page.typ", "manual.typ"))
"""The page, and how the nodes of docutils and Sphinx look."""

LABELS = "labels.typ"
"""The file beside the template that has its words, and how the manual is printed."""

SOURCE = "pages.main.typ"
"""The file that is printed, beside the template."""

PAPERS = {"a4": "a4", "letter": "us-letter"}
"""What `putback_paper` can be, and Typst's name for it."""

FIRST_DAY = calendar.timegm((2000, 1, 1, 0, 0, 0))
"""The date in the PDF when nobody gives one, in seconds since 1970 (UTC): the same input gives the same bytes."""


class TypstPdfBuilder(Builder):
    """Print all documents as one PDF with Typst."""

    name = NAME
    format = "typst"
    epilog = "The printed manual is in %(outdir)s."
    supported_image_types: ClassVar[list[str]] = [
        "image/svg+xml",
        "image/png",
        "image/jpeg",
        "image/gif",
        "image/webp",
    ]
    supported_remote_images = False
    default_translator_class = TypstTranslator

    def init(self) -> None:
        """Begin with nothing known of the fonts."""
        self.unprintable: frozenset[str] = frozenset()
        self.head = ""
        self.work = Path(self.doctreedir) / "typst"
        self.album = Album(self.work)
        self.templates: list[Path] = [PAGE, TEMPLATE]
        """Files of Typst functions, in the order in which they are read; an extension adds its own."""
        self.labels: dict[str, str] = {}
        """The words that the templates print, by what they are for; an extension gives them."""

    def get_outdated_docs(self) -> str:
        """Return that the manual is always printed anew."""
        return "the manual"

    def get_target_uri(self, docname: str, typ: str | None = None) -> str:
        """Return the address of a document inside the manual."""
        return INTERNAL + docname

    def get_relative_uri(self, from_: str, to: str, typ: str | None = None) -> str:
        """Return the address of a document inside the manual."""
        return self.get_target_uri(to, typ)

    def prepare_writing(self, docnames: Set[str]) -> None:
        """Do nothing: there is one output."""

    def write_documents(self, docnames: Set[str]) -> None:
        """Print the manual; when that fails, say why and let the build end with problems."""
        try:
            self._write_manual()
        except ManualError as error:
            for reason in error.reasons:
                logger.error("%s", reason.message, location=reason.place or None, type="putback", subtype="typst")
            # Not raised: Sphinx would show the user where in this program it happened.
            application = getattr(self, "_app", None) or self.app
            application.statuscode = 1

    def _write_manual(self) -> None:
        paper = str(self.config.putback_paper).lower()
        if paper not in PAPERS:
            raise ManualError(Reason(f"putback_paper is {paper!r}, expected one of {', '.join(PAPERS)}"))
        tree = assemble(self)
        self.work.mkdir(parents=True, exist_ok=True)
        fonts = lay_out_fonts(self.work / "fonts")
        copies = {image["uri"]: image["original"] for image in tree.findall(nodes.image) if "original" in image}
        self.album = Album(self.work, copies)
        self.album.fill(self.images.items(), Path(self.srcdir))
        settings = self._settings(paper)
        texts = (*self._letters(tree), *_texts(settings), *self.labels.values(), *self.album.letters())
        try:
            self.unprintable = unprintable(unusual(texts), fonts)
        except StoppedError as error:
            raise ManualError(no_cause(error)) from None
        self.album.without(self.unprintable)
        translator = self.create_translator(tree, self)
        assert isinstance(translator, TypstTranslator)
        tree.walkabout(translator)
        source = self._write_source(settings, translator)
        self._print(source, translator, fonts)

    # the steps of it

    def _letters(self, tree: nodes.document) -> Iterator[str]:
        yield tree.astext()
        for node in tree.findall(nodes.Element):
            for key in ("label", "unit", "number", "kicker", "alt", "letters", "refuri", "uri"):
                if isinstance(node.get(key), str):
                    yield node[key]

    def _settings(self, paper: str) -> dict[str, Any]:
        config = self.config
        authors = config.putback_authors
        return {
            "title": config.putback_title or config.project or self.labels.get("manual", "manual"),
            "subtitle": config.putback_subtitle,
            "variant": config.putback_only,
            "edition": config.putback_edition,
            "date": self.labels.get("day", config.putback_date),
            "authors": [authors] if isinstance(authors, str) else list(authors),
            "licence": config.putback_licence,
            "notice": config.putback_notice,
            "draft": bool(config.putback_draft),
            "mark": config.putback_mark,
            "paper": PAPERS[paper],
            **_language(config.language),
        }

    def _write_source(self, settings: dict[str, Any], translator: TypstTranslator) -> Path:
        imports = ""
        for template in self.templates:
            shutil.copyfile(template, self.work / template.name)
            imports += f"#import {literal(template.name)}: *\n"
        words = "".join(f"  {literal(key)}: {self._value(value)},\n" for key, value in self.labels.items())
        labels = f"#let labels = (\n{words})\n" if words else "#let labels = (:)\n"
        tabs = translator.headings.tabs
        large, sided = (
            self._value(bool(wish)) for wish in (self.config.putback_large_print, self.config.putback_sided)
        )
        labels += f"#let wish = (sided: {sided}, large: {large}, tabs: {tabs})\n"
        labels += f"#let form = {literal(self.config.putback_form)}\n"
        (self.work / LABELS).write_text(labels, encoding="utf-8", newline="\n")
        named = "".join(f"  {key}: {self._value(value)},\n" for key, value in settings.items() if value != "")
        body = "\n".join(line for line in translator.lines if line)
        source = self.work / SOURCE
        named += f"  entries: {translator.headings.entries},\n"
        self.head = f"{imports}#show: manual.with(\n{named})"
        source.write_text(f"{self.head}\n#{{\n{body}\n}}\n", encoding="utf-8", newline="\n")
        return source

    def _value(self, value: Any) -> str:
        if isinstance(value, bool):
            return "true" if value else "false"
        if isinstance(value, list):
            return "(" + "".join(self._value(item) + "," for item in value) + ")"
        return literal(one_line(printed(str(value), self.unprintable)).strip())

    def _print(self, source: Path, translator: TypstTranslator, fonts: Path) -> None:
        output = Path(self.outdir, f"{self.pdf_name}.pdf")
        # Short, whatever the manual is called: with an addition, a long name would be too long.
        half = output.with_name(f".manual.{os.getpid()}.part")
        limits = limits_for(source.stat().st_size, self.album.pixels, self.album.shapes)
        try:
            printed_manual = compile_manual(source, half, self.work, fonts, self.timestamp(), limits)
            blame = Blame(source.read_text(encoding="utf-8").split("\n"), translator, self.album)
            for remark in printed_manual.warnings:
                reason = blame.reason(remark)
                logger.warning("%s", reason.message, location=reason.place or None, type="putback", subtype="typst")
            if printed_manual.errors:
                raise ManualError(*dict.fromkeys(map(blame.reason, printed_manual.errors)))
            half.replace(output)
        except StoppedError as error:
            blame = Blame(source.read_text(encoding="utf-8").split("\n"), translator, self.album)
            raise ManualError(*blame.search(Press(self.work, fonts), self.head, error)) from None
        except OSError as error:
            raise ManualError(Reason(f"{output.name} could not be written: {error.strerror}")) from error
        finally:
            half.unlink(missing_ok=True)

    @property
    def pdf_name(self) -> str:
        """The name of the PDF without its ending."""
        wanted = str(self.config.putback_pdf_name or "").removesuffix(".pdf")
        return file_name(wanted) if wanted else slug(self.config.project)

    def timestamp(self) -> int:
        """Return the date of the PDF in seconds since 1970 (UTC).

        It comes from SOURCE_DATE_EPOCH, else from `putback_date` when that is a date, else it is a fixed day.
        """
        given = os.environ.get("SOURCE_DATE_EPOCH", "")
        if given.isdecimal():
            return int(given)
        try:
            return calendar.timegm(time.strptime(str(self.config.putback_date), "%Y-%m-%d"))
        except ValueError:
            return FIRST_DAY


def slug(name: str) -> str:
    """Return a title as a file name: lower-case letters, digits and hyphens; `manual` when nothing is left."""
    return re.sub(r"[^\w]+", "-", clean(name).lower()).strip("-_")[:80] or "manual"


def _language(language: str) -> dict[str, str]:
    parts = re.split(r"[_-]", language or "en")
    found = {"lang": parts[0].lower() if re.fullmatch(r"[A-Za-z]{2,3}", parts[0]) else "en"}
    if len(parts) > 1 and re.fullmatch(r"[A-Za-z]{2}", parts[1]):
        found["region"] = parts[1].upper()
    return found


def _texts(settings: dict[str, Any]) -> Iterator[str]:
    for value in settings.values():
        if isinstance(value, str):
            yield value
        elif isinstance(value, list):
            yield from map(str, value)
