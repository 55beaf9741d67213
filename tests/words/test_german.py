# ruff: noqa: E501 - a sentence stands whole on one line
"""German: whole sentences, signal words, numbers; and no English word of ours is left in a book whose guide is translated."""

from __future__ import annotations

import re
import shutil
import subprocess
import warnings
from collections.abc import Iterator
from html import unescape
from pathlib import Path

import pytest
from babel.messages.pofile import read_po

from putback.guide.reading import read_guide
from putback.ledger.opened import open_guide
from putback.sphinxext.manual import build_manual
from putback.telling.catalogue import FOLDER
from putback.translation.printed import printed_in
from putback.words.paper import paper_words
from putback.words.telling import telling_for
from tests.words.test_plain import said

GUIDE = Path("procedures/sessel-w15")
GERMAN = telling_for("de")


@pytest.mark.parametrize(
    ("step", "sentence"),
    [
        ("remove: head-bolts", "6 × head bolt (M8 x 1.25, 80 mm, Sechskant 13 mm) ausbauen. Zuerst in umgekehrter Anziehreihenfolge, jeweils eine halbe Umdrehung lösen, bis alle lose sind; erst dann die ersten herausnehmen."),
        ("loosen: fan-wheel", "Fan wheel (M10 x 1.25 LH, Sechskant 17 mm) lösen, nicht ausbauen. Fan wheel: Linksgewinde – zum Lösen im Uhrzeigersinn."),
        ("{install: seal, new: true}", "Neu einbauen: seal (Teilenummer TE-11)."),
        ("tighten: head-bolts", "6 × head bolt anziehen: 24 N·m (18 lbf·ft), 2 Durchgänge, von der Mitte nach außen, Gewinde: geölt."),
        ("tighten: rod-bolts", "2 × rod bolt anziehen: 1. Stufe: 12 N·m (9 lbf·ft), 2. Stufe: weiter um 90°."),
        ("{set: tap, to: closed}", "Tap schließen."),
        ("adjust: gap", "Einstellen: points gap – auf: 0,3–0,4 mm (0,0118–0,0157 in). Wo oder wie: at the widest."),
        ("measure: cam", "Messen: height at the peak (cam). Soll: ≥ 6,4 mm (≥ 0,252 in)."),
        ("{run: engine, at: 1500 rpm, for: 5 min}", "Engine laufen lassen: 1500 1/min, 5 min."),
        ("{turn: rotor, by: 2 turns}", "Rotor drehen: 2 Umdrehungen, von Hand."),
        ("{lift: head, people: 1}", "Cylinder head heben: 1 Person, Gewicht: 24 kg (53 lb)."),
        ("{fill: oil, volume: 1.5 l}", "Engine oil einfüllen: SAE 30, 1,5 l (1,6 US qt)."),
    ],
)  # fmt: skip
def test_a_step_is_said(tmp_path: Path, step: str, sentence: str) -> None:
    assert said(tmp_path, step, GERMAN)[2] == sentence


@pytest.mark.parametrize(
    ("text", "more"),
    [
        ("Alle sechs Schrauben über Kreuz von der Mitte aus mit 24 N·m anziehen, zwei Durchgänge, Gewinde geölt.", ""),
        (
            "Die Schrauben mit 24 N·m anziehen.",
            " 6 Stück, von der Mitte nach außen, letzte Stufe 2 Durchgänge, Gewinde: geölt.",
        ),
    ],
)
def test_a_german_text_is_read_as_german(tmp_path: Path, text: str, more: str) -> None:
    assert said(tmp_path, f"{{tighten: head-bolts, text: '{text}'}}", GERMAN)[2] == text + more


def test_signal_words_are_those_of_the_standard() -> None:
    words = paper_words("de")
    assert [words[key] for key in ("danger", "warning", "caution", "notice")] == [
        "GEFAHR",
        "WARNUNG",
        "VORSICHT",
        "HINWEIS",
    ]


WORD = re.compile(r"[^\W\d_]{3,}")


def english_words() -> set[str]:
    """Return the words of our messages that no German message has."""
    with (FOLDER / "de.po").open("rb") as file:
        messages = [message for message in read_po(file, locale="de") if message.id]
    english, german = set[str](), set[str]()
    for message in messages:
        for texts, words in ((message.id, english), (message.string, german)):
            for text in texts if isinstance(texts, tuple) else (str(texts),):
                words.update(WORD.findall(re.sub(r"\{[a-z_]+\}", " ", text).lower()))
    return english - german


def test_an_interval_of_one_is_told_right() -> None:
    one = GERMAN.say_count("due", "{count} month", "{count} months", 1)
    assert GERMAN.say("due", "every {interval}", interval=one) == "Intervall: 1 Monat"


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("german")
    with warnings.catch_warnings():
        warnings.filterwarnings("ignore", message=".*myst_parser.*")
        build_manual(open_guide(printed_in(read_guide(GUIDE), "de")), ["html", "pdf"], out)
    return out


def theirs() -> set[str]:
    """Return the words of the author's own texts in German, and names that stay as they are."""
    with (GUIDE / "translations" / "de.po").open("rb") as file:
        texts = [str(message.string) for message in read_po(file, locale="de") if message.id]
    names = [(GUIDE / "guide.yaml").read_text(encoding="utf-8")]
    return {word for text in (*texts, *names) for word in WORD.findall(text.lower())}


def texts_of(page: str) -> Iterator[str]:
    body = re.sub(r"(?s)<(script|style|head)\b.*?</\1>", "", page)
    yield from (unescape(found[1]) for found in re.finditer(r'(?:aria-label|alt|placeholder|title)="([^"]*)"', body))
    yield from map(unescape, re.split(r"<[^>]*>", body))


def test_no_english_word_of_ours_is_on_a_page(book: Path) -> None:
    ours = english_words() - theirs()
    assert {"tighten", "hand", "step", "wrench", "when"} & ours == {"tighten", "step", "wrench", "when"}
    pages = sorted((book / "html").rglob("*.html"))
    assert len(pages) > 10
    left = {
        word: page.name
        for page in pages
        for text in texts_of(page.read_text(encoding="utf-8"))
        for word in WORD.findall(text.lower())
        if word in ours
    }
    assert left == {}


def test_no_english_word_of_ours_is_in_the_pdf(book: Path) -> None:
    if shutil.which("pdftotext") is None:
        pytest.skip("pdftotext is not there")
    done = subprocess.run(["pdftotext", "-raw", str(next(book.glob("*.pdf"))), "-"], capture_output=True, check=True)
    text = re.sub("[\u00ad\u200b\u2060]", "", done.stdout.decode("utf-8")).lower()
    assert "WARNUNG" in done.stdout.decode("utf-8")
    assert set(WORD.findall(text)) & (english_words() - theirs()) == set()
