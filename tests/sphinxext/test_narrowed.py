"""A manual for some variants: each shipped guide gives one, for a choice of one of its options."""

from __future__ import annotations

from pathlib import Path

import pytest

from putback.guide.paths import is_guide
from putback.guide.reading import read_guide
from putback.ledger.opened import open_guide
from putback.words import catalogue
from tests.conftest import Putback

pytestmark = pytest.mark.filterwarnings("ignore:.*is deprecated. Check CHANGES for Sphinx")  # in MyST-Parser

PROCEDURES = Path(__file__).parents[2] / "procedures"
GUIDES = [folder for folder in sorted(PROCEDURES.iterdir()) if folder.is_dir() and is_guide(folder)]


@pytest.mark.parametrize("folder", GUIDES, ids=lambda folder: folder.name)
def test_a_guide_is_printed_for_a_choice(folder: Path, tmp_path: Path, putback: Putback) -> None:
    machine = read_guide(folder).machine
    assert machine is not None
    # The second option, where there is one: of the shipped guides, the one with most that other variants do not need.
    option = list(machine.options)[:2][-1]
    choice = machine.options[option][-1]
    ran = putback("build", str(folder), "--variant", f"{option}={choice}", "--to", "html", "--out", str(tmp_path))
    assert ran.code == 0, ran.err
    page = (tmp_path / "html" / "index.html").read_text(encoding="utf-8")
    said = catalogue(open_guide(read_guide(folder), ((option, choice),))).for_choice(((option, choice),))
    assert said.startswith("Only ")
    assert f"<strong>{said}.</strong>" in page
