"""Every printed word that no author wrote comes from the language of the guide, on screen and on paper."""

from __future__ import annotations

import re
import shutil
import subprocess
import warnings
from collections.abc import Iterator
from html import unescape
from pathlib import Path

import pytest

from putback.guide.reading import read_guide
from putback.guide.record import Guide
from putback.ledger.opened import open_guide
from putback.sphinxext.manual import build_manual
from putback.words import LANGUAGES, labels_for, spoken
from putback.words.paper import paper_words
from tests.print import every_key
from tests.test_layers import SRC, imports_of
from tests.words.pseudo import CLOSE, OPEN, SPOKEN, TAG, marked, told

GUIDES = [*sorted(Path("procedures").glob("*/guide.yaml")), Path("tests/print/every_key/guide.yaml")]
"""The shipped guides, and one that uses every key."""

OF_SPHINX = {"fig", "symbols", "error"}
"""Words that Sphinx prints, in the languages that it knows: a figure's number, headings of the index and of a fault."""
UNITS = {"mm", "ml", "kpa", "psi", "lbf", "ft", "min", "fl", "oz", "kg", "lb", "us", "gal", "qt", "n", "in"}
"""Units stand for themselves in any language."""
BETWEEN = re.compile(f"{OPEN}[^{CLOSE}]*{CLOSE}|(?<![^\\W_])[^\\w\\s{OPEN}{CLOSE}]|[^\\w\\s{OPEN}{CLOSE}](?![^\\W_])")
"""Words and stops of ours; a hyphen within a word is none."""


@pytest.fixture(scope="module", params=GUIDES, ids=[path.parent.name for path in GUIDES])
def built(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Guide, Path]]:
    folder = tmp_path_factory.mktemp("pseudo")
    root = folder / "guide"
    if request.param.parent.name == "every_key":
        root = every_key.write(folder)
    else:
        shutil.copytree("shared", folder / "shared")
        shutil.copytree(request.param.parent, root)
    cover = root / "guide.yaml"
    lines = [line for line in cover.read_text(encoding="utf-8").splitlines() if not line.startswith("language:")]
    cover.write_text("\n".join([*lines, f"language: {TAG}", ""]), encoding="utf-8")
    LANGUAGES[TAG] = SPOKEN
    try:
        guide = read_guide(root)
        assert not [fault.message for fault in guide.faults]
        with warnings.catch_warnings():
            warnings.filterwarnings("ignore", message=".*myst_parser.*")
            build_manual(open_guide(guide), ["html", "pdf"], folder / "out", draft=True)
        yield guide, folder / "out"
    finally:
        del LANGUAGES[TAG]


def written(guide: Guide) -> Iterator[str]:
    """Yield all that authors wrote: of the guide, of the library, of the pages, and the words in its pictures."""
    yield from guide.pages.values()
    for entries in sorted(guide.root.parent.rglob("*.yaml")):
        yield entries.read_text(encoding="utf-8")
    for picture in guide.images.glob("*.svg"):
        yield picture.read_text(encoding="utf-8")


def even(words: str) -> str:
    """Return words without marks of any kind, in small letters, and without numbers and what is of no language."""
    found = re.findall(r"[^\W_]+", words.lower())
    # A step has a number such as 17ba, a follow-up one such as F3a.
    return " ".join(
        word for word in found if word not in OF_SPHINX | UNITS and not re.fullmatch("[0-9]+|f?[0-9]+[a-z]{1,3}", word)
    )


def test_the_marks_stand_nowhere_in_the_guide(built: tuple[Guide, Path]) -> None:
    guide, _ = built
    assert not [text for text in written(guide) if OPEN in text or CLOSE in text]


def texts_of(html: str) -> Iterator[str]:
    """Yield the text of each element of a page, and the words that are read aloud."""
    body = re.sub(r"(?s)<(script|style|head)\b.*?</\1>", "", html)
    for found in re.finditer(r'(?:aria-label|alt|placeholder)="([^"]*)"', body):
        yield unescape(found[1])
    for text in re.split(r"<[^>]*>|·", body):
        if text.strip():
            yield unescape(text)


def bare(text: str) -> str:
    """Return what of a text stands outside the marks."""
    return re.sub(f"{OPEN}[^{OPEN}{CLOSE}]*{CLOSE}", " ", text)


def test_every_word_of_an_html_page_is_an_author_s_or_of_the_language(built: tuple[Guide, Path]) -> None:
    guide, out = built
    theirs = "\n".join(f" {even(text)} " for text in written(guide))
    theirs += "\n".join(f" {even(name)} " for name in guide.files)
    places = guide.machine.places.items() if guide.machine else ()
    theirs += "\n".join(f" {even(f'{kind} {name}')} " for kind, each in places for name in each.names)
    escaped: dict[str, str] = {}
    pages = sorted((out / "html").rglob("*.html"))
    assert len(pages) > len(guide.jobs) + 2
    for page in pages:
        for text in texts_of(page.read_text(encoding="utf-8")):
            # Between words and stops of ours, names and texts stand as their authors wrote them.
            for part in [text] if f" {even(bare(text))} " in theirs else BETWEEN.split(text):
                words = even(bare(part))
                if re.search(r"[^\W\d_]{2}", words) and f" {words} " not in theirs:
                    escaped.setdefault(f"{part.strip()}: {text.strip()}", page.name)
    assert not escaped, list(escaped)


def test_every_word_of_the_pdf_is_an_author_s_or_of_the_language(built: tuple[Guide, Path]) -> None:
    guide, out = built
    if shutil.which("pdftotext") is None:
        pytest.skip("pdftotext is not there")
    pdf = next(out.glob("*.pdf"))
    done = subprocess.run(["pdftotext", "-raw", str(pdf), "-"], capture_output=True, check=True)
    text = re.sub("[\u00ad\u200b\u2060]", "", done.stdout.decode("utf-8"))
    theirs = {word for each in written(guide) for word in even(each).split()}
    ours = {word for word in even(bare(text)).split() if len(word) > 2 and word.isalpha()}
    # A word of a table may be parted at the end of a line.
    assert not {word for word in ours - theirs if not any(word in known for known in theirs)}
    assert text.count(OPEN) > 1000


def test_a_language_that_is_not_there_is_printed_in_english() -> None:
    assert not spoken("fr")
    assert labels_for("fr") is labels_for("en-GB") is labels_for("en_IN") is labels_for(None)
    assert labels_for("en_US") is labels_for("en-Latn-US") is not labels_for("en")


def test_marks_stand_round_each_word_and_leave_patterns_alone() -> None:
    assert marked("Edition {edition}, of 3") == "«Edition» {edition}, «of» «3»"
    assert told(("a b", ["c"])) == ("«a» «b»", ["«c»"])


ENGLISH = ("putback.model.called", "putback.source.grammar", "putback.words.english")
"""Modules whose functions make English of names and numbers; a page asks its language instead."""
NO_LANGUAGE = {"putback.source.grammar.unbroken", "putback.model.called.goes_to_its_place"}
"""What is among them and makes no words."""


@pytest.mark.parametrize("folder", ["sphinxext", "typstpdf", "sheet", "joints"])
def test_pages_make_no_english_of_their_own(folder: str) -> None:
    for path in sorted((SRC / folder).rglob("*.py")):
        for module in imports_of(path.read_text(encoding="utf-8")):
            assert module in (*NO_LANGUAGE, "putback.source.grammar", "putback.model.called") or not module.startswith(
                ENGLISH
            ), path


def test_the_template_of_the_pdf_has_no_words() -> None:
    template = (SRC / "typstpdf" / "manual.typ").read_text(encoding="utf-8")
    strings = re.sub(r"(?m)(^|\s)//.*$", "", template).split('"')[1::2]
    faces = {"Source Sans Pro", "DejaVu Sans Mono"}
    assert not [
        text
        for text in strings
        if re.search(r"[a-z]{2,} [a-z]{2,}", text, re.IGNORECASE) and text not in faces and text[:1] not in "<'"
    ]
    assert re.findall(r'word\("([a-z-]+)"\)', template)
    for name in re.findall(r'word\("([a-z-]+)"\)', template):
        assert name in paper_words("en") or name == "signal-"


@pytest.mark.parametrize(
    ("written", "printed"),
    [("2", "Edition 2"), ("1.3", "Edition 1.3"), ("2nd edition", "2nd edition"), ("First", "First"), ("", "")],
)
def test_a_bare_number_is_an_edition_and_words_speak_for_themselves(written: str, printed: str) -> None:
    assert labels_for("en").book.called(written) == printed
