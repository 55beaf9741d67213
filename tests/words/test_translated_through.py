"""A guide whose texts are all translated: no word of its author, of the library or of ours is left on a page."""

from __future__ import annotations

import re
import shutil
import subprocess
import warnings
from collections.abc import Iterator
from pathlib import Path

import pytest

from putback.guide.reading import read_guide
from putback.guide.record import Guide
from putback.ledger.opened import open_guide
from putback.sphinxext.manual import build_manual
from putback.telling import Teller, told_in
from putback.translation import guide as translating
from putback.translation import judging
from putback.translation.printed import printed_in
from putback.translation.state import translation_into
from putback.units.listed import UNITS
from putback.words import LANGUAGES
from tests.guard import assert_none
from tests.print import every_key
from tests.words.pseudo import SPOKEN, TAG, TELLING
from tests.words.test_language import bare, texts_of
from tests.words.translated import catalogue_of, in_marks

WORD = re.compile(r"(?<![\w-])[^\W\d_]{3,}(?![\w-])")
OF_SPHINX = {"Fig", "Important", "Error"}
"""Words that Sphinx and docutils print, in the languages that they know."""
EXCEPT = {
    "lean", "fat",  # marks on a dipstick, as they are on the machine
    "grease", "hook",  # names of nothing: the guide with every key has no such entry
}  # fmt: skip
"""Words that stay, each with its reason."""
SYMBOLS = {word for unit in UNITS for word in WORD.findall(unit.symbol)}


@pytest.fixture(scope="module", params=["hollin-20", "every_key"])
def through(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Guide, Path]]:
    folder = tmp_path_factory.mktemp("through")
    root = folder / "guide"
    if request.param == "every_key":
        root = every_key.write(folder)
    else:
        shutil.copytree("shared", folder / "shared")
        shutil.copytree(Path("procedures") / request.param, root, ignore=shutil.ignore_patterns("translations"))
    (root / "translations").mkdir()
    (root / "translations" / f"{TAG}.po").write_text(catalogue_of(read_guide(root)), encoding="utf-8")
    with pytest.MonkeyPatch.context() as patch:
        patch.setitem(LANGUAGES, TAG, SPOKEN)
        for module in (translating, judging):
            patch.setattr(module, "told_in", told)
        guide = printed_in(read_guide(root), TAG)
        with warnings.catch_warnings():
            warnings.filterwarnings("ignore", message=".*myst_parser.*")
            build_manual(open_guide(guide), ["html", "pdf"], folder / "out", draft=True)
            job = next(iter(guide.jobs))
            build_manual(open_guide(guide), ["pdf"], folder / "out", draft=True, jobs=[job])
        yield guide, folder / "out"


def told(tag: str) -> Teller:
    return TELLING if tag == TAG else told_in(tag)


def names_of(guide: Guide) -> set[str]:
    """Return words of names that no translation changes: of people, of files, and the exceptions."""
    cover = guide.cover
    said = [*(cover.authors if cover else ()), *guide.files, "html"]
    said += [cover.licence or "", cover.web or ""] if cover else []
    return EXCEPT | {word for text in said for word in re.findall(r"[^\W\d_]+", text)}


def test_every_text_of_the_guide_is_taken_from_its_catalogue(through: tuple[Guide, Path]) -> None:
    guide, _ = through
    assert guide.source is not None
    found = translation_into(guide.source, TAG)
    assert found is not None
    assert not found.faults
    assert_none([each.message for each in found.conflicts], "the marks have changed a fact of these")
    assert len(found.usable) == len(found.wordings) > 100


def test_no_word_is_left_on_a_page(through: tuple[Guide, Path]) -> None:
    guide, out = through
    known = OF_SPHINX | SYMBOLS | names_of(guide)
    left: dict[str, str] = {}
    for page in sorted((out / "html").rglob("*.html")):
        for text in texts_of(page.read_text(encoding="utf-8")):
            for word in WORD.findall(bare(text)):
                if word not in known:
                    left.setdefault(word, f"'{word}' in {page.name}: {' '.join(text.split())[:120]}")
    assert_none(list(left.values()), "these come from no catalogue")


def test_no_word_is_left_on_paper(through: tuple[Guide, Path]) -> None:
    guide, out = through
    if shutil.which("pdftotext") is None:
        pytest.skip("pdftotext is not there")
    known = {word.lower() for word in OF_SPHINX | SYMBOLS | names_of(guide)}
    pdfs = sorted(out.glob("*.pdf"))
    assert len(pdfs) == 2
    for pdf in pdfs:
        done = subprocess.run(["pdftotext", "-raw", str(pdf), "-"], capture_output=True, check=True)
        text = re.sub("[\u00ad\u200b\u2060]", "", done.stdout.decode("utf-8"))
        # A word between marks may be parted at the end of a line.
        left = {word for word in WORD.findall(bare(text)) if word.lower() not in known}
        assert_none(sorted(left), f"these come from no catalogue ({pdf.name})")


def test_marks_leave_what_a_translation_keeps() -> None:
    assert in_marks("Turn it by 3 mm, 6 screws: `code` {putback:step}`x-y`.") == (
        "«Turn» «it» «by» 3 mm, 6 «screws»: `code` {putback:step}`x-y`."
    )
