"""Tests of a guide in another language: other words, and nothing else."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from putback.guide.reading import read_guide
from putback.guide.record import Guide
from putback.ledger.opened import open_guide
from putback.ledger.retold import changed_by_words
from putback.model.job import Step
from putback.model.said import Said, source_of
from putback.prose.blocks import form_of
from putback.sheet import sheet_of
from putback.source.intake import Memory
from putback.translation.guide import translated
from putback.translation.merging import merged
from putback.translation.state import translations_of, wordings_of
from putback.translation.wording import TextKey
from putback.translation.writing import written
from putback.units import Quantity
from tests.translation.pseudo import MARK, TAG, with_marks

GUIDES = [*sorted(Path("procedures").iterdir()), Path("tests/print/every_key")]


@cache
def guide_at(root: Path) -> Guide:
    return with_marks(read_guide(root))


def small(catalogue: str, **files: str) -> Guide:
    """Return a small guide with a German catalogue."""
    root = Path("/guide")
    texts = {
        "guide.yaml": "title: Trial\nlanguage: en-GB\n",
        "machine.yaml": "machine: Trial\nparts:\n  pump-housing: {}\n  lid: {name: big lid, kit: lid-kit}\n",
        "jobs/look.yaml": "job: Look\nsteps:\n  - inspect: lid\n    note: Look for cracks.\n",
        "index.md": "# Trial\n\nWipe *it* first,\nand dry it.\n\n| A | Big one |\n| --- | --- |\n| a\\|b | c |\n",
        "translations/de.po": catalogue,
        **files,
    }
    return read_guide(root, store=Memory({root / name: text for name, text in texts.items()}))


def entry(context: str, text: str, told: str) -> str:
    return f'msgctxt "{context}"\nmsgid "{text}"\nmsgstr "{told}"\n\n'


def shape(value: Any, seen: set[int]) -> Iterator[str]:
    """Yield what a record has, with words as their author wrote them."""
    match value:
        case str():
            yield source_of(value)
        case Quantity() | int() | float() | None:
            yield str(value)
        case tuple() | list():
            for each in value:
                yield from shape(each, seen)
        case dict():
            for key, each in value.items():
                yield str(key)
                yield from shape(each, seen)
        case _ if is_dataclass(value) and type(value).__module__.startswith(("putback.model.", "putback.sheet")):
            for field in fields(value):
                if field.name not in ("verb", "plural"):
                    yield from shape(getattr(value, field.name), seen)


@pytest.mark.parametrize("root", GUIDES, ids=lambda root: root.name)
def test_every_text_can_be_translated(root: Path) -> None:
    (found,) = translations_of(guide_at(root))
    assert [each.message for each in (*found.conflicts, *found.silent)] == []
    assert found.usable.keys() == found.wordings.keys()


@pytest.mark.parametrize("root", GUIDES, ids=lambda root: root.name)
def test_the_ledger_is_the_same_in_every_language(root: Path) -> None:
    guide = guide_at(root)
    here, there = open_guide(guide), open_guide(translated(guide, TAG))
    assert here.books
    assert changed_by_words(here, there) is None


def test_another_ledger_is_seen() -> None:
    other = small("", **{"jobs/look.yaml": "job: Look\nsteps:\n  - inspect: pump-housing\n    note: Look.\n"})
    assert changed_by_words(open_guide(small("")), open_guide(other)) == "/guide/jobs/look.yaml"


@pytest.mark.parametrize("root", GUIDES, ids=lambda root: root.name)
def test_the_sheet_of_a_job_says_the_same_in_every_language(root: Path) -> None:
    guide = guide_at(root)
    said = translated(guide, TAG)
    here, there = open_guide(guide), open_guide(said)
    for key, job in guide.jobs.items():
        own, other = sheet_of(job, here), sheet_of(said.jobs[key], there)
        assert [*shape(own, set())] == [*shape(other, set())]


def test_places_are_those_of_the_source() -> None:
    guide = guide_at(GUIDES[0])
    said = translated(guide, TAG)
    key, job = next(iter(guide.jobs.items()))
    for own, other in zip(job.steps(), said.jobs[key].steps(), strict=True):
        assert isinstance(other, Step)
        assert (own.key, own.span) == (other.key, other.span)
        if isinstance(other.note, Said) and isinstance(own.note, Said):
            assert (other.note.source, other.note.span) == (own.note, own.note.span)
            assert MARK in other.note


def test_a_name_that_is_made_from_its_key_is_translated() -> None:
    guide = small(entry("machine.things.pump-housing.name", "pump housing", "Pumpengehäuse"))
    said = translated(guide, "de")
    assert said.machine is not None
    assert said.machine.things["pump-housing"].name == "Pumpengehäuse"
    assert source_of(said.machine.things["pump-housing"].name) == "pump housing"
    assert said.machine.things["lid"].name == "big lid"
    assert said.cover is not None
    assert said.cover.language == "de"
    assert said.source is guide


def test_a_kit_that_is_only_named_is_translated() -> None:
    said = translated(small(entry("machine.kits.lid-kit.name", "lid kit", "Deckelsatz")), "de")
    assert said.machine is not None
    assert said.machine.kits["lid-kit"].name == "Deckelsatz"


def test_what_is_fuzzy_or_wrong_stays_as_the_author_wrote_it() -> None:
    context = "jobs.look.inspect-lid.note"
    for catalogue in (
        "#, fuzzy\n" + entry(context, "Look for cracks.", "Auf Risse prüfen."),
        entry(context, "Look for cracks.", "Auf Risse über 3 mm prüfen."),
        entry(context, "Look for old cracks.", "Auf alte Risse prüfen."),
    ):
        (step,) = translated(small(catalogue), "de").jobs["look"].steps()
        assert step.note == "Look for cracks."


def test_a_page_keeps_what_is_around_its_texts() -> None:
    context = "pages.index"
    catalogue = entry(context, "Wipe *it* first, and dry it.", "Erst *abwischen*, dann trocknen.")
    catalogue += entry(context, "Big one", "Groß | neu") + entry(context, "a\\\\|b", "x")
    (page,) = translated(small(catalogue), "de").pages.values()
    assert page == ("# Trial\n\nErst *abwischen*, dann trocknen.\n\n| A | Groß \\| neu |\n| --- | --- |\n| x | c |\n")


@pytest.mark.parametrize(
    "told",
    [
        "# No",
        "- No",
        "1. No",
        "> No",
        "```{raw} html\\nNo",
        "<div>No</div>",
        ":::{note}",
        "[a]: b",
        "***",
        "% No",
        "+++",
    ],
)
def test_a_translation_can_make_no_other_block(told: str) -> None:
    guide = small(entry("pages.index", "Wipe *it* first, and dry it.", told))
    assert translated(guide, "de").pages == guide.pages


def test_a_translation_is_one_line_whatever_its_line_ends() -> None:
    guide = small(entry("pages.index", "Wipe *it* first, and dry it.", "  Erst *das*\\n\\n# und\\tdas.  "))
    (page,) = translated(guide, "de").pages.values()
    assert page.split("\n")[2:4] == ["Erst *das* # und das.", ""]


def test_whatever_a_translation_says_a_page_is_built_as_before() -> None:
    guide = read_guide(Path("procedures/sessel-w15"))
    path = f"{guide.shown}/translations/de.po"
    pieces = [
        "#",
        "- ",
        "1. ",
        "> ",
        "`",
        "```",
        "{raw}",
        "|",
        "\\n",
        "<b>",
        "](x)",
        "[",
        ":::",
        "word",
        " ",
        "$$",
        "%",
        "(a)=",
        "---",
    ]
    bent = 0
    for seed in range(8):
        chance = random.Random(seed)
        found = merged(wordings_of(guide), None)
        for _, each in found.entries:
            each.told = "".join(chance.choice(pieces) for _ in range(chance.randrange(1, 6)))
        said = translated(replace(guide, catalogues={path: written(found, guide, "de")}), "de")
        for name, page in guide.pages.items():
            assert form_of(said.pages[name]) == form_of(page)
            bent += said.pages[name] != page
    assert bent > 4


def test_what_the_library_says_is_not_asked_of_the_author() -> None:
    for language in ("en-GB", "en-US", "en"):
        guide = small("", **{"guide.yaml": f"title: Trial\nlanguage: {language}\n"})
        assert not [key for key in wordings_of(guide) if key.context.startswith(("cautions.", "tools.", "hazards."))]


def test_an_english_guide_of_the_other_side_has_the_library_in_its_words() -> None:
    said = translated(small(""), "en-US")
    assert said.library.tools["spanner-10"].name == "10 mm wrench"
    assert translated(said, "en-GB").library.tools["spanner-10"].name == "10 mm spanner"


def test_without_a_catalogue_the_guide_stays_as_it_is() -> None:
    guide = small("")
    said = translated(guide, "fr")
    assert (said.jobs, said.machine, said.pages) == (guide.jobs, guide.machine, guide.pages)


def test_a_text_has_a_context_that_lines_do_not_change() -> None:
    guide = small(
        "", **{"jobs/look.yaml": "# one\n\njob: Look\nsteps:\n  - inspect: lid\n    note: Look for cracks.\n"}
    )
    for each in (guide, small("")):
        assert TextKey("jobs.look.inspect-lid.note", "Look for cracks.") in wordings_of(each)


def test_a_guide_without_the_file_is_written_again_the_same() -> None:
    guide = guide_at(Path("procedures/sessel-w15"))
    assert with_marks(replace(guide, catalogues={})).catalogues == guide.catalogues
