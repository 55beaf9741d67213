"""`--language`: a manual or a list in a language that has a catalogue; the guide that is checked stays the author's."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from babel.messages.catalog import Catalog

from putback.guide.reading import read_guide
from putback.sphinxext.naming import folder_name
from putback.telling import catalogue
from putback.translation.printed import printed_in, untranslated
from putback.words import labels_for, languages, spoken
from tests.conftest import Putback, Write
from tests.telling.catalogues import tool

MACHINE = """\
machine: Test pump
parts:
  lid: {mass: 2.5 kg}
  seal: {number: TP-1, replace: always}
fasteners:
  screws: {name: screw, count: 2, thread: M6 x 1.0, torque: 8.5 N·m, condition: dry, secures: lid}
"""
JOB = """\
job: Renew the seal
steps:
  - remove: screws
  - remove: lid
  - replace: seal
  - install: lid
  - install: screws
  - tighten: screws
  - {check: lid, limit: dry, otherwise: [{stop: Do the job again.}]}
"""
DUTCH = {
    ("label.job.tools", "Tools"): "Gereedschap",
    ("label.job.new_parts", "New parts"): "Nieuwe delen",
    ("label.supplies.title", "Shopping list: {machine}"): "Boodschappen: {machine}",
    ("label.book.contents", "Contents"): "Inhoud",
}


@pytest.fixture(autouse=True)
def dutch(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    """Another catalogue than those that are shipped, which is there for these tests alone."""
    catalog = Catalog("nl")
    for (context, text), told in DUTCH.items():
        catalog.add(text, told, context=context)
    folder = tmp_path_factory.mktemp("catalogues")
    (folder / "nl.po").write_text(tool().written(catalog), encoding="utf-8")
    monkeypatch.setattr(catalogue, "FOLDER", folder)


@pytest.fixture
def pump(write_guide: Write) -> Path:
    return write_guide(
        {
            "pump/guide.yaml": "title: The pump\ndate: 2026-05-03\n",
            "pump/machine.yaml": MACHINE,
            "pump/jobs/seal.yaml": JOB,
            "pump/index.md": "# Pump\n\n```{toctree}\njobs/seal\nmachine\n```\n",
        }
    )


def test_languages_are_those_with_a_catalogue_and_english() -> None:
    assert languages() == ("en-GB", "en-US", "nl")
    assert spoken("nl")
    assert spoken("nl-BE")
    assert not spoken("fr")
    assert labels_for("nl_BE").job.tools == "Gereedschap"
    assert labels_for("fr").job.tools == "Tools"


def test_a_manual_is_made_in_another_language_beside_the_first(pump: Path, putback: Putback) -> None:
    answer = putback("build", "pump", "--language", "nl", "--draft")
    assert answer.code == 0, answer.err
    assert (
        "pump is not translated into nl: its own texts stay as they are; `putback translate pump --to nl` makes a file "
        "for a translator\n"
    ) in answer.err
    made = Path("build/pump-nl")
    assert (made / "pump-nl-a4.pdf").read_bytes().startswith(b"%PDF")
    page = (made / "html" / "jobs" / "seal.html").read_text(encoding="utf-8")
    assert '<html lang="nl"' in page
    assert "Nieuwe delen" in page
    assert "New parts" not in page
    assert "8,5\u00a0N·m" in page
    assert "8.5\u00a0N·m" not in page
    assert "3 mei 2026" in page
    assert "Renew the seal" in page
    mark = json.loads((made / "html" / "putback.json").read_text(encoding="ascii"))["mark"]
    assert "pump-nl" not in mark
    assert putback("build", "pump", "--language", "nl", "--draft", "--to", "html").code == 0


def test_a_list_is_made_in_another_language(pump: Path, putback: Putback) -> None:
    answer = putback("supplies", "pump", "--language", "nl")
    assert answer.code == 0, answer.err
    assert answer.out.startswith("Boodschappen: Test pump\n")


@pytest.mark.parametrize("tag", ["fr", "", "de_DE.UTF-8", "../nl", "nl\x1b[1m"])
@pytest.mark.parametrize("command", ["build", "supplies"])
def test_a_language_without_words_of_ours_is_told(command: str, tag: str, pump: Path, putback: Putback) -> None:
    answer = putback(command, "pump", "--language", tag)
    assert answer.code == 2
    assert answer.err.endswith("'; it can in en-GB, en-US and nl\n")
    assert "\x1b" not in answer.err
    assert not Path("build").exists()


def test_the_other_side_of_english_needs_no_catalogue(pump: Path, putback: Putback) -> None:
    answer = putback("build", "pump", "--language", "EN_us", "--to", "html", "--draft")
    assert answer.code == 0
    assert "translated" not in answer.err
    assert '<html lang="en-US"' in Path("build/pump-en-US/html/index.html").read_text(encoding="utf-8")


def test_a_guide_in_its_own_language_is_printed_as_it_is(pump: Path) -> None:
    guide = read_guide(pump)
    assert printed_in(guide) is printed_in(guide, "EN") is guide
    told = printed_in(guide, "nl")
    assert told.source is guide
    assert (folder_name(guide), folder_name(told)) == ("pump", "pump-nl")
    assert untranslated(told)
    assert not untranslated(guide)


def test_a_guide_that_is_written_in_another_language_has_no_other_name(pump: Path) -> None:
    cover = pump / "guide.yaml"
    cover.write_text(cover.read_text(encoding="utf-8") + "language: nl\n", encoding="utf-8")
    guide = printed_in(read_guide(pump))
    assert guide.source is None
    assert folder_name(guide) == "pump"
    assert not untranslated(guide)
