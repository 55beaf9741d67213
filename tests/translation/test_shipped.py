"""The translations of the shipped guides are whole, and in step with their guides."""

from __future__ import annotations

from pathlib import Path

import pytest

from putback.guide.reading import read_guide
from putback.translation.made import updated

CATALOGUES = sorted(Path("procedures").glob("*/translations/*.po"))


def test_there_are_some() -> None:
    assert Path("procedures/sessel-w15/translations/de.po") in CATALOGUES


@pytest.mark.parametrize("path", CATALOGUES, ids=str)
def test_a_shipped_catalogue_has_everything(path: Path) -> None:
    made = updated(read_guide(path.parents[1]), path.stem)
    assert made.text == path.read_text(encoding="utf-8"), f"run `putback translate {path.parents[1]} --to {path.stem}`"
    assert (made.found.missing, made.found.to_look_at, made.wrong) == (0, 0, ())
    assert made.found.unused == []
