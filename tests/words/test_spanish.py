# ruff: noqa: E501 - a sentence stands whole on one line
"""Spanish: whole sentences, signal words, numbers; and no English word of ours is left on a page of the shipped guides."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import warnings
from collections.abc import Iterator
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from babel.messages.pofile import read_po
from ruamel.yaml import YAML

from putback.guide.reading import read_guide
from putback.ledger.opened import open_guide
from putback.sphinxext.manual import build_manual
from putback.telling.catalogue import FOLDER
from putback.translation.printed import printed_in
from putback.words.paper import paper_words
from putback.words.telling import telling_for
from tests.words.test_plain import said

GUIDES = sorted(path.parent for path in Path("procedures").glob("*/guide.yaml"))
"""The shipped guides. Making all of them takes long, so that only one is made where no CI runs."""
MADE = GUIDES if os.environ.get("CI") == "true" else GUIDES[2:3]
SPANISH = telling_for("es")


@pytest.mark.parametrize(
    ("step", "sentence"),
    [
        ("remove: head-bolts", "Desmontar: 6 × head bolt (M8 x 1.25, 80 mm, hexágono 13 mm). Primero aflojar en orden inverso al de apriete, media vuelta cada vez, hasta que todo esté flojo; solo entonces sacar lo primero."),
        ("loosen: fan-wheel", "Aflojar, sin desmontar: fan wheel (M10 x 1.25 LH, hexágono 17 mm). Fan wheel: rosca a izquierdas – para aflojar, en sentido horario."),
        ("{install: seal, new: true}", "Montar pieza nueva: seal (número de pieza TE-11)."),
        ("tighten: head-bolts", "Apretar: 6 × head bolt – 24 N·m (18 lbf·ft), 2 pasadas, del centro hacia fuera, rosca: aceitada."),
        ("tighten: rod-bolts", "Apretar: 2 × rod bolt – 1.ª etapa: 12 N·m (9 lbf·ft), 2.ª etapa: girar 90° más."),
        ("{set: tap, to: closed}", "Cerrar: tap."),
        ("adjust: gap", "Ajustar: points gap – a: 0,3–0,4 mm (0,0118–0,0157 in). Dónde o cómo: at the widest."),
        ("measure: cam", "Medir: height at the peak (cam). Correcto: ≥ 6,4 mm (≥ 0,252 in)."),
        ("{run: engine, at: 1500 rpm, for: 5 min}", "Hacer funcionar: engine – 1500 rpm, 5 min."),
        ("{turn: rotor, by: 2 turns}", "Girar: rotor – 2 vueltas, a mano."),
        ("{lift: head, people: 1}", "Levantar: cylinder head – 1 persona, peso: 24 kg (53 lb)."),
        ("{fill: oil, volume: 1.5 l}", "Llenar con: engine oil – SAE 30, 1,5 l (1,6 US qt)."),
    ],
)  # fmt: skip
def test_a_step_is_said(tmp_path: Path, step: str, sentence: str) -> None:
    assert said(tmp_path, step, SPANISH)[2] == sentence


@pytest.mark.parametrize(
    ("text", "more"),
    [
        ("Apretar los seis tornillos a 24 N·m, en dos pasadas, del centro hacia fuera, con la rosca aceitada.", ""),
        (
            "Apretar los tornillos a 24 N·m.",
            " 6 piezas, del centro hacia fuera, última etapa: 2 pasadas, rosca: aceitada.",
        ),
    ],
)
def test_a_spanish_text_is_read_as_spanish(tmp_path: Path, text: str, more: str) -> None:
    assert said(tmp_path, f"{{tighten: head-bolts, text: '{text}'}}", SPANISH)[2] == text + more


def test_signal_words_are_four_different_ones() -> None:
    words = paper_words("es")
    assert [words[key] for key in ("danger", "warning", "caution", "notice")] == [
        "PELIGRO",
        "ADVERTENCIA",
        "PRECAUCIÓN",
        "AVISO",
    ]


def test_and_and_or_change_before_a_word_that_begins_alike() -> None:
    assert SPANISH.listed(["bomba", "impulsor"]) == "bomba e impulsor"
    assert SPANISH.listed(["bomba", "hélice"]) == "bomba y hélice"
    assert SPANISH.either(["arandela", "ocho tuercas"]) == "arandela u ocho tuercas"
    assert [SPANISH.either(pair) for pair in (["7", "8"], ["7", "80"], ["10", "11"], ["9", "110"], ["8", "9"])] == [
        "7 u 8",
        "7 u 80",
        "10 u 11",
        "9 o 110",
        "8 o 9",
    ]


def test_the_catalogue_is_complete() -> None:
    assert [message.id for message in messages() if not message.string or message.fuzzy] == []


def messages() -> list[Any]:
    with (FOLDER / "es.po").open("rb") as file:
        return [message for message in read_po(file, locale="es") if message.id]


def english() -> dict[str, str]:
    """Return English texts of ours, each with its Spanish; those that are the same in both are left out."""
    pairs: dict[str, str] = {}
    for message in messages():
        if message.context == "stated":
            continue  # words that are looked for, and never printed
        ours, theirs = message.id, message.string
        pairs.update(zip(ours, theirs, strict=False) if isinstance(ours, tuple) else [(ours, theirs)])
    return {text: said for text, said in pairs.items() if text != said}


def pieces() -> list[str]:
    """Return what stands between the fields of English messages, where it is two words or more."""
    spanish = " | ".join(str(message.string) for message in messages()).lower()
    found = {part.strip(" .:,;()").lower() for text in english() for part in re.split(r"\{[a-z_]+\}", text)}
    return sorted(part for part in found if len(re.findall(r"[^\W\d_]{2,}", part)) > 1 and part not in spanish)


@pytest.fixture(scope="module", params=MADE, ids=[guide.name for guide in MADE])
def book(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, str]:
    """Return where a guide was made in Spanish, and all that its author wrote, which stays in English."""
    guide: Path = request.param
    out = tmp_path_factory.mktemp(guide.name)
    with warnings.catch_warnings():
        warnings.filterwarnings("ignore", message=".*myst_parser.*")
        build_manual(open_guide(printed_in(read_guide(guide), "es")), ["html", "pdf"], out)
    return out, " ".join(authors(guide))


def authors(guide: Path) -> Iterator[str]:
    """Yield the texts of a guide: what stands in its pages, and what its keys have, but not the keys."""
    for page in guide.rglob("*.md"):
        yield plain(page.read_text(encoding="utf-8"))
    for file in guide.rglob("*.yaml"):
        yield from map(plain, values(YAML(typ="safe").load(file)))


def values(found: object) -> Iterator[str]:
    match found:
        case dict():
            for value in found.values():
                yield from values(value)
        case list():
            for value in found:
                yield from values(value)
        case str():
            yield found
        case _:
            return


def plain(text: str) -> str:
    text = text.replace("\N{NO-BREAK SPACE}", " ").replace("-", " ")
    return " ".join(re.sub("[\u00ad\u200b\u2060]", "", text).lower().split())


def texts_of(page: str) -> Iterator[str]:
    """Yield what is read on a page, and what is said of its pictures, piece by piece."""
    body = re.sub(r"(?s)<(script|style|head)\b.*?</\1>", "", page)
    yield from (unescape(found[1]) for found in re.finditer(r'(?:aria-label|alt|placeholder)="([^"]*)"', body))
    yield from map(unescape, re.split(r"<[^>]*>", body))


def found_in(whole: str, parts: list[str]) -> list[str]:
    return [part for part in parts if part in whole and re.search(rf"\b{re.escape(part)}\b", whole)]


def test_no_english_of_ours_is_on_a_page(book: tuple[Path, str]) -> None:
    out, theirs = book
    ours = {plain(text) for text in english()} - {plain(text) for text in english().values()}
    parts = [part for part in map(plain, pieces()) if part not in theirs]
    assert {
        "before you sign the job off, count what came off, what went back, and which of it is new",
        "see the picture at step",
    } <= {*parts}
    pages = sorted((out / "html").rglob("*.html"))
    assert len(pages) > 10
    left = set()
    for page in pages:
        texts = [plain(text) for text in texts_of(page.read_text(encoding="utf-8"))]
        left |= {(page.name, part) for part in found_in(" ".join(" ".join(texts).split()), parts)}
        left |= {(page.name, text) for text in texts if text in ours and text not in theirs}
    assert left == set()


def test_no_english_of_ours_is_in_the_pdf(book: tuple[Path, str]) -> None:
    if shutil.which("pdftotext") is None:
        pytest.skip("pdftotext is not there")
    out, theirs = book
    command = ["pdftotext", "-raw", str(next(out.glob("*.pdf"))), "-"]
    text = subprocess.run(command, capture_output=True, check=True).stdout.decode("utf-8")
    assert "ADVERTENCIA" in text
    whole = plain(text)
    assert re.findall(r"[( ]\d+,\n\d+–", text) == []  # a line does not break at the comma of a range
    assert found_in(whole, [part for part in map(plain, pieces()) if part not in theirs]) == []
