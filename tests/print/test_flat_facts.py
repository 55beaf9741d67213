"""Every value that an author wrote stands on a page in flat sentences too: no catalogue can lose what they say."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from functools import partial
from pathlib import Path

import pytest

from putback.words import LANGUAGES, Spoken
from putback.words.plain import Plain
from tests.guard import assert_none
from tests.print import every_key
from tests.print.printed_pages import Printed, printed
from tests.print.test_every_fact import lost
from tests.words.test_plain import FLAT

TAG = FLAT.tag


def in_flat_words(root: Path) -> Path:
    """Give a guide the language of flat sentences."""
    cover = root / "guide.yaml"
    lines = [line for line in cover.read_text(encoding="utf-8").splitlines() if not line.startswith("language:")]
    cover.write_text("\n".join([*lines, f"language: {TAG}", ""]), encoding="utf-8")
    return root


@pytest.fixture(scope="module", params=["every-key", "tarrick-d2"])
def manual(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Printed]:
    folder = tmp_path_factory.mktemp("flat")
    if request.param == "every-key":
        root = every_key.write(folder)
    else:
        shutil.copytree("shared", folder / "shared")
        root = Path(shutil.copytree(Path("procedures") / request.param, folder / request.param))
    LANGUAGES[TAG] = Spoken(FLAT.labels(), partial(Plain, telling=FLAT))
    try:
        yield printed(in_flat_words(root), folder / "made")
    finally:
        del LANGUAGES[TAG]


def test_every_value_is_printed(manual: Printed) -> None:
    assert_none(lost(manual), "say these in words/plain as English does")
