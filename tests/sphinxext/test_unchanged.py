"""What would be made the same again stands: after any change, the manual is that of a build from nothing.

PUTBACK_BUILDS=200 pytest tests/sphinxext/test_unchanged.py -k from_nothing -s
"""

from __future__ import annotations

import os
import random
import shutil
import subprocess
import sys
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import pytest

from putback.guide.reading import read_guide
from putback.source.intake import Disk
from putback.source.witness import Witness
from putback.sphinxext import unchanged
from putback.sphinxext.unchanged import basis_of
from tests.conftest import Putback
from tests.pictures.samples import svg
from tests.sphinxext.projects import GUIDE, write

BUILDS = int(os.environ.get("PUTBACK_BUILDS", "8"))
SEED = int(os.environ.get("PUTBACK_BUILDS_SEED", "3"))
ROOT = Path(__file__).parents[2]

pytestmark = pytest.mark.skipif(not hasattr(os, "setxattr"), reason="attributes of files as Linux has them")

DRAWING = svg("<rect width='9' height='9'/>")
PAGE = "# More\n\n![A square](../images/drawn.svg)\n\nWords of the page.\n"


@pytest.fixture
def root(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a folder with a guide in `pump` and a library, in which results are kept; it is the current one."""
    place(tmp_path)
    if not _has_attributes(tmp_path):
        pytest.skip("this disk has no attributes of files")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("PUTBACK_CACHE", str(tmp_path / "kept"))
    monkeypatch.delenv("SOURCE_DATE_EPOCH", raising=False)
    return tmp_path


def place(top: Path) -> None:
    """Write the guide and its library."""
    index = GUIDE["index.md"].replace("jobs/seal\n", "jobs/seal\nmore/page\n", 1)
    files = {**GUIDE, "index.md": index, "more/page.md": PAGE, "images/drawn.svg": DRAWING}
    write(top / "pump", files)
    shutil.copytree(ROOT / "shared", top / "shared")


def _has_attributes(folder: Path) -> bool:
    try:
        os.setxattr(folder, "user.putback.trial", b"1")
    except OSError:
        return False
    return True


def contents(out: Path) -> dict[str, bytes]:
    return {path.relative_to(out).as_posix(): path.read_bytes() for path in sorted(out.rglob("*")) if path.is_file()}


# The law


def _swap(name: str, old: str, new: str) -> Callable[[Path], None]:
    """Return what puts one text in the place of another, or the other way."""

    def swap(top: Path) -> None:
        path = top / name
        text = path.read_text(encoding="utf-8")
        assert (old in text) != (new in text)
        path.write_text(text.replace(old, new) if old in text else text.replace(new, old), encoding="utf-8")

    return swap


def _touch(top: Path) -> None:
    for path in (top / "pump").rglob("*.yaml"):
        os.utime(path, (1_700_000_000, 1_700_000_000))


def _come_and_go(name: str, text: str) -> Callable[[Path], None]:
    def come_or_go(top: Path) -> None:
        path = top / name
        path.unlink() if path.exists() else write(top, {name: text})

    return come_or_go


def _spoil(top: Path) -> None:
    """Change, in the manual, a file that Putback made."""
    page = top / "out" / "html" / "machine.html"
    if page.exists():
        page.write_bytes(page.read_bytes().replace(b"lid", b"lip"))


def _lose(top: Path) -> None:
    (top / "out" / "html" / "search.html").unlink(missing_ok=True)


def _lose_pdf(top: Path) -> None:
    for path in (top / "out").glob("*.pdf"):
        path.unlink()


CHANGES: dict[str, Callable[[Path], None]] = {
    "nothing": lambda top: None,
    "times": _touch,
    "a step": _swap("pump/jobs/seal.yaml", "They are alike.", "All four are alike."),
    "the title of a job": _swap("pump/jobs/seal.yaml", "job: Renew the seal", "job: Renew the lid seal"),
    "a torque": _swap("pump/machine.yaml", "torque: 9 N·m", "torque: 9.5 N·m"),
    "the cover": _swap("pump/guide.yaml", "title: Test pump", "title: Trial pump"),
    "a page": _swap("pump/more/page.md", "Words of the page.", "Other words of the page."),
    "a picture": _swap("pump/images/drawn.svg", "width='9'", "width='8'"),
    "the library": _swap("shared/cautions.yaml", "The gas has no smell", "This gas has no smell"),
    "a page more": _come_and_go("pump/more/late.md", "---\norphan: true\n---\n\n# Late\n"),
    "a job more": _come_and_go(
        "pump/jobs/look.yaml", "job: Look at the guard\nsteps:\n  - inspect: guard\n    note: Look for cracks.\n"
    ),
    "a page that is not in the contents": _come_and_go("pump/odd.md", "# Odd\n"),
    "a page of the manual is spoilt": _spoil,
    "a page of the manual is lost": _lose,
    "the PDF is lost": _lose_pdf,
}


def test_after_any_changes_the_manual_is_that_of_a_build_from_nothing(root: Path, putback: Putback) -> None:
    chance, told, how = random.Random(SEED), Counter[str](), ["--to=html,pdf"]
    for number in range(BUILDS):
        what = chance.choice([*CHANGES, "nothing", "nothing", "nothing"])
        if chance.random() < 0.3:
            how = [chance.choice(["--to=html,pdf", "--to=html,pdf", "--to=html"])]
            how += chance.choice([[], [], [], ["--paper=letter"], ["--variant=drive=gear"], ["--language=de"]])
        CHANGES[what](root)
        made = putback("build", "pump", "--out", "out", *how)
        shutil.rmtree(root / "new", ignore_errors=True)
        anew = putback("build", "pump", "--out", "new", "--no-cache", *how)
        assert (made.code, made.err) == (anew.code, anew.err), (number, what, how)
        assert made.code == 0, made.err
        assert made.out.replace("unchanged:", "made") == anew.out.replace("new/", "out/"), (number, what, how)
        expected, found = contents(root / "new"), contents(root / "out")
        for name in expected:
            assert found[name] == expected[name], (number, what, how, name)
        assert {name for name in found if name.startswith("html/")} <= expected.keys()
        told.update(line.partition(" ")[0] for line in made.out.splitlines())
    print(f"\n{BUILDS} builds, seed {SEED}:", dict(told))
    assert told["made"]
    assert told["unchanged:"]


def test_what_stands_is_not_touched(root: Path, putback: Putback) -> None:
    first = putback("build", "pump", "--out", "out")
    facts = {path: path.stat() for path in (root / "out").rglob("*")}
    again = putback("build", "pump", "--out", "out")
    assert first.out == "made out/html/index.html\nmade out/pump-a4.pdf\n"
    assert again.out == "unchanged: out/html/index.html\nunchanged: out/pump-a4.pdf\n"
    assert {path: path.stat().st_ino for path in (root / "out").rglob("*")} == {
        path: each.st_ino for path, each in facts.items()
    }
    (root / "out" / "pump-a4.pdf").unlink()
    assert putback("build", "pump", "--out", "out").out == ("unchanged: out/html/index.html\nmade out/pump-a4.pdf\n")
    _spoil(root)
    assert putback("build", "pump", "--out", "out").out == "made out/html/index.html\nunchanged: out/pump-a4.pdf\n"
    assert putback("build", "pump", "--out", "out", "--no-cache").out == first.out


def test_a_warning_is_told_each_time(root: Path, putback: Putback) -> None:
    CHANGES["a page that is not in the contents"](root)
    told = [putback("build", "pump", "--out", "out", "--to", "html", "--strict") for _ in range(2)]
    assert told[0] == told[1]
    assert told[0].code == 1
    assert "odd.md" in told[0].err


def test_a_finding_is_told_each_time(root: Path, putback: Putback) -> None:
    _swap("pump/jobs/seal.yaml", "note: They are alike.", "note: Undo them with a 5 mm wrench.")(root)
    told = [putback("build", "pump", "--out", "out", "--to", "html") for _ in range(2)]
    assert told[0].err == told[1].err != ""


# What counts


class Wish(NamedTuple):
    """How a manual is asked for."""

    only: tuple[tuple[str, str], ...] = ()
    out: str = "out"
    paper: str = "a4"
    language: str | None = None
    jobs: tuple[str, ...] = ()


def key(top: Path, wish: Wish = Wish()) -> str:  # noqa: B008 - it does not change
    guide = read_guide(top / "pump", store=Witness(Disk()))
    basis = basis_of(guide, wish.only, top / wish.out, wish.paper, wish.language, wish.jobs)
    assert basis is not None
    return basis.key


@pytest.mark.parametrize(
    "wish",
    [
        Wish(only=(("drive", "gear"),)), Wish(out="elsewhere"), Wish(paper="letter"), Wish(paper="a4-sided"),
        Wish(language="de"), Wish(jobs=("seal",)),
    ],
    ids=str,
)  # fmt: skip
def test_how_it_was_asked_for_counts(wish: Wish, root: Path) -> None:
    assert key(root) == key(root)
    assert key(root, wish) != key(root)


@pytest.mark.parametrize("change", [name for name in CHANGES if "manual" not in name and "PDF" not in name])
def test_what_is_in_the_files_counts(change: str, root: Path) -> None:
    before = key(root)
    CHANGES[change](root)
    assert (key(root) == before) == (change in ("nothing", "times"))


def test_a_date_and_another_putback_count(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    keys = [key(root)]
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1700000000")
    keys.append(key(root))
    monkeypatch.setattr(unchanged, "edition_of_manuals", lambda: "another")
    keys.append(key(root))
    monkeypatch.setattr(unchanged, "edition_of_manuals", lambda: None)
    guide = read_guide(root / "pump", store=Witness(Disk()))
    assert len({*keys}) == 3
    assert basis_of(guide, (), root / "out", "a4", None, ()) is None


def test_a_folder_build_further_down_is_no_manual(root: Path) -> None:
    write(root / "pump", {"build/pump/html/index.html": "a manual"})
    before = key(root)
    write(root / "pump", {"build/pump/html/index.html": "another manual"})
    assert key(root) == before
    write(root / "pump", {"more/build/page.md": PAGE})
    assert key(root) != before


def test_what_lies_behind_a_link_counts(root: Path) -> None:
    write(root, {"elsewhere/drawn.svg": DRAWING})
    (root / "pump" / "images" / "drawn.svg").unlink()
    (root / "pump" / "images" / "drawn.svg").symlink_to(root / "elsewhere" / "drawn.svg")
    before = key(root)
    (root / "elsewhere" / "drawn.svg").write_text(DRAWING.replace("9", "8"), encoding="utf-8")
    assert key(root) != before
    (root / "pump" / "more" / "ring").symlink_to(root / "pump")
    guide = read_guide(root / "pump", store=Witness(Disk()))
    assert basis_of(guide, (), root / "out", "a4", None, ()) is None


@pytest.mark.parametrize("back", [False, True])
def test_what_changes_meanwhile_is_not_noted(
    back: bool, root: Path, putback: Putback, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A page that is another one for a moment, while it is read, leaves a manual that does not stand."""
    from putback.sphinxext import manual

    run, page = manual._run_sphinx, root / "pump" / "more" / "page.md"

    def meanwhile(*asked: object) -> object:
        page.write_text(PAGE.replace("Words", "Quite other words"), encoding="utf-8")
        made = run(*asked)  # type: ignore[arg-type]
        if back:
            page.write_text(PAGE, encoding="utf-8")
        return made

    monkeypatch.setattr(manual, "_run_sphinx", meanwhile)
    assert putback("build", "pump", "--out", "out", "--to", "html").code == 0
    monkeypatch.undo()
    monkeypatch.chdir(root)
    monkeypatch.setenv("PUTBACK_CACHE", str(root / "kept"))
    page.write_text(PAGE, encoding="utf-8")
    assert putback("build", "pump", "--out", "out", "--to", "html").out.startswith("made")
    assert "Quite other" not in (root / "out" / "html" / "more" / "page.html").read_text(encoding="utf-8")


HEAR = """
import sys
from pathlib import Path
opened, bases, top = set(), [], Path.cwd()
def hear(event, args):
    if event == "open" and isinstance(args[0], (str, Path)):
        opened.add(str(args[0]))
import putback.sphinxext.unchanged as unchanged
from putback.cli import main
ask = unchanged.basis_of
def asked(*wish):
    bases.append(ask(*wish))
    return bases[-1]
unchanged.basis_of = asked
sys.addaudithook(hear)
try:
    main(["build", "pump", "--out", "out"])
except SystemExit as leaving:
    assert not leaving.code
seen = {each.name for each in bases[0].seen}
folders = [str(top / name) for name in ("pump", "shared", "images")]
print(*sorted(path for path in opened if path.startswith(tuple(folders)) and path not in seen), sep="\\n")
"""


def test_every_file_of_the_guide_that_is_opened_is_looked_through(root: Path) -> None:
    """What Python itself is told of each file that is opened while HTML and PDF are made."""
    environment = {**os.environ, "PYTHONPATH": f"{ROOT / 'src'}"}
    ran = subprocess.run(
        [sys.executable, "-c", HEAR], cwd=root, env=environment, capture_output=True, text=True, check=False
    )
    assert ran.returncode == 0, ran.stderr
    assert ran.stdout == "made out/html/index.html\nmade out/pump-a4.pdf\n\n"
