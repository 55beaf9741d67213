"""`putback build` replaces only what it made itself for this very guide; all else is told of, and stays as it is."""

from __future__ import annotations

import errno
import json
import os
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import pytest

from putback.guide.reading import read_guide
from putback.guide.record import Guide
from putback.ledger.opened import open_guide
from putback.placing.digest import digest
from putback.sphinxext import marks
from putback.sphinxext.manual import BuildError, build_manual, check_place
from putback.sphinxext.marks import HTML_MARK, mark_html, mark_of, remember
from tests.conftest import Putback
from tests.sphinxext.projects import GUIDE, MACHINE, write

Lay = Callable[[Path], object]


def page(path: Path, text: str = "mine") -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")


def manual_of(guide: Guide, out: Path) -> None:
    """Lay out what looks like the manual of a guide, without making one."""
    page(out / "html" / "index.html", "a page")
    mark_html(out / "html", guide, out)
    pdf = out / f"{guide.root.name}-a4.pdf"
    pdf.write_bytes(b"%PDF-1.7\n" + f"<pdf:Keywords>{mark_of(guide).keyword()}</pdf:Keywords>\n%%EOF".encode())
    remember(pdf, guide, out)


def other(root: Path, folder: str, **texts: str) -> Guide:
    """Write another guide, with texts of its own."""
    files = {**GUIDE, **{f"{name}.yaml": text for name, text in texts.items()}}
    write(root / folder, files)
    return read_guide(root / folder)


SIEVE = {"guide": "title: Sieve\n", "machine": MACHINE.replace("Test pump", "Sieve")}


def own(root: Path) -> None:
    manual_of(read_guide(root / "pump"), root / "pub")


def mark_with(text: str) -> Lay:
    def lay(root: Path) -> None:
        own(root)
        page(root / "pub" / "html" / HTML_MARK, text)

    return lay


def foreign_pdf(text: bytes) -> Lay:
    def lay(root: Path) -> None:
        (root / "pub").mkdir()
        (root / "pub" / "pump-a4.pdf").write_bytes(text)

    return lay


def signed(root: Path) -> None:
    own(root)
    with (root / "pub" / "pump-a4.pdf").open("ab") as file:
        file.write(b"\nnotes\n%%EOF\n")


def cut(root: Path) -> None:
    own(root)
    with (root / "pub" / "pump-a4.pdf").open("r+b") as file:
        file.truncate(file.seek(0, os.SEEK_END) - 5)


def instead(name: str, make: Callable[[Path], object]) -> Lay:
    """Put something in the place of a part of the manual."""

    def lay(root: Path) -> None:
        own(root)
        place = root / "pub" / name
        if place.is_dir():
            place.rename(root / "real")
        else:
            place.unlink()
        make(place)

    return lay


def do(*lays: Lay) -> Lay:
    """Lay out one thing after the other."""

    def lay(root: Path) -> None:
        for each in lays:
            each(root)

    return lay


def link(to: str) -> Callable[[Path], object]:
    return lambda place: place.symlink_to(to)


def moved_to(folder: str) -> Lay:
    """Have the guide lie elsewhere."""

    def lay(root: Path) -> None:
        (root / folder).parent.mkdir(parents=True, exist_ok=True)
        (root / "pump").rename(root / folder)

    return lay


def same_name(root: Path) -> None:
    """Have the manual of another guide there that is called `pump` as well, and still lies at its place."""
    manual_of(other(root, "a/pump", **SIEVE), root / "pub")


def linked_into_guide(root: Path) -> None:
    (root / "way").symlink_to(root / "pump" / "images")
    (root / "pump" / "images").mkdir()


def library_in_html(root: Path) -> None:
    moved_to("html/guides/pump")(root)
    page(root / "html" / "shared" / "tools.yaml", "{}\n")


AWAY = "; move it away, or name another folder with --out"
ELSEWHERE = "; name another folder with --out"


class Refused(NamedTuple):
    lay: Lay
    """What is there before."""
    said: str
    args: tuple[str, ...] = ("pump", "--out", "pub")


ALIEN = f"was not made by Putback, or before it marked its manuals, so it is not replaced{AWAY}"

REFUSED = {
    "her own pages": Refused(lambda root: page(root / "pub/html/index.html"), f"'pub/html' {ALIEN}"),
    "her own hidden file": Refused(lambda root: page(root / "pub/html/.htaccess"), f"'pub/html' {ALIEN}"),
    "an empty folder in it": Refused(lambda root: (root / "pub/html/mine").mkdir(parents=True), f"'pub/html' {ALIEN}"),
    "pages of another program": Refused(lambda root: page(root / "pub/html/.buildinfo"), f"'pub/html' {ALIEN}"),
    "her own PDF": Refused(foreign_pdf(b"%PDF-1.4\nmine\n%%EOF\n"), f"'pub/pump-a4.pdf' {ALIEN}"),
    "an empty PDF": Refused(foreign_pdf(b""), f"'pub/pump-a4.pdf' {ALIEN}"),
    "no PDF at all": Refused(
        foreign_pdf(b"<pdf:Keywords>putback-manual/pump/a/b</pdf:Keywords>"), f"'pub/pump-a4.pdf' {ALIEN}"
    ),
    "a PDF that is half a mark": Refused(
        foreign_pdf(b"%PDF-1\n<pdf:Keywords>putback-manual/pump</pdf:Keywords>\n%%EOF"), f"'pub/pump-a4.pdf' {ALIEN}"
    ),
    "a PDF with notes": Refused(
        signed,
        "'pub/pump-a4.pdf' was changed after Putback made it (a note, a signature), so it is not replaced" + AWAY,
    ),
    "half a PDF": Refused(cut, "'pub/pump-a4.pdf' was changed after Putback made it"),
    "a file of hers in the manual": Refused(
        do(own, lambda root: page(root / "pub/html/jobs/notes.txt")),
        f"'pub/html/jobs/notes.txt' was not made by Putback, and would be lost{AWAY}",
    ),
    "an empty folder of hers in the manual": Refused(
        do(own, lambda root: (root / "pub/html/mine").mkdir()), "'pub/html/mine' was not made by Putback"
    ),
    "a link of hers in the manual": Refused(
        do(own, lambda root: (root / "pub/html/mine").symlink_to(root)), "'pub/html/mine' was not made by Putback"
    ),
    "html is a file": Refused(
        instead("html", page), f"'pub/html' is a file, not a folder that Putback made{AWAY}"
    ),
    "html is a link to a manual": Refused(
        instead("html", link("../real")), "'pub/html' is a link, not a folder that Putback made"
    ),
    "html is a link to nothing": Refused(instead("html", link("nothing")), "'pub/html' is a link"),
    "html is a link to itself": Refused(instead("html", link("html")), "'pub/html' is a link"),
    "html is a pipe": Refused(instead("html", os.mkfifo), "'pub/html' is a named pipe, not a folder"),
    "the PDF is a folder": Refused(
        instead("pump-a4.pdf", lambda place: place.mkdir()), "'pub/pump-a4.pdf' is a folder, not a file"
    ),
    "the PDF is a link": Refused(instead("pump-a4.pdf", link("../pump/index.md")), "'pub/pump-a4.pdf' is a link"),
    "the PDF is a link to nothing": Refused(instead("pump-a4.pdf", link("x")), "'pub/pump-a4.pdf' is a link"),
    "the PDF is a pipe": Refused(instead("pump-a4.pdf", os.mkfifo), "'pub/pump-a4.pdf' is a named pipe"),
    "the mark is a pipe": Refused(instead(f"html/{HTML_MARK}", os.mkfifo), f"'pub/html' {ALIEN}"),
    "the mark is a link": Refused(
        do(
            own,
            lambda root: (root / "pub/html" / HTML_MARK).rename(root / "real"),
            lambda root: (root / "pub/html" / HTML_MARK).symlink_to(root / "real"),
        ),
        f"'pub/html' {ALIEN}",
    ),
    "the mark is a folder": Refused(instead(f"html/{HTML_MARK}", Path.mkdir), f"'pub/html' {ALIEN}"),
    **{
        f"the mark is {text[:24]!r}": Refused(mark_with(text), f"'pub/html' {ALIEN}")
        for text in (
            "", "mine", "3", "[]", "{}", "[" * 100_000, '{"mark": 3, "files": []}',
            '{"mark": "putback-manual/pump/Test%20pump/Test%20pump"}',
            '{"mark": "putback-manual/pump/Test%20pump/Test%20pump", "files": 3}',
            '{"mark": "other-manual/pump/Test%20pump/Test%20pump", "files": []}',
            '{"mark": "putback-manual/pump/%FF/x", "files": []}',
        )
    },
    "another guide's HTML": Refused(
        lambda root: manual_of(other(root, "sieve"), root / "pub"),
        f"'pub/html' is the manual of another guide, 'sieve', so it is not replaced{AWAY}",
    ),
    "another guide's PDF": Refused(
        do(
            lambda root: manual_of(other(root, "sieve"), root / "pub"),
            lambda root: shutil.rmtree(root / "pub/html"),
            lambda root: (root / "pub/sieve-a4.pdf").rename(root / "pub/pump-a4.pdf"),
        ),
        "'pub/pump-a4.pdf' is the manual of another guide, 'sieve', so it is not replaced",
    ),
    "another guide of the same name": Refused(
        same_name, f"'pub/html' is the manual of another guide, of the same name, 'Sieve', so it is not replaced{AWAY}"
    ),
    "the folder is a file": Refused(lambda root: page(root / "pub"), "'pub' is a file"),
    "a file above the folder": Refused(
        lambda root: page(root / "pub"), f"'pub' is a file, and the manual needs a folder there{AWAY}",
        ("pump", "--out", "pub/a/b"),
    ),
    "build is a file": Refused(lambda root: page(root / "build"), "'build' is a file, and the manual needs", ("pump",)),
    "the folder is a link to nothing": Refused(
        lambda root: (root / "pub").symlink_to("nothing"), f"'pub' is a link to nothing{AWAY}"
    ),
    "the folder is a link to itself": Refused(
        lambda root: (root / "pub").symlink_to("pub"), f"'pub' leads nowhere{ELSEWHERE}"
    ),
    "too long a name": Refused(
        lambda root: None, f"cannot be written: {os.strerror(errno.ENAMETOOLONG).lower()}{ELSEWHERE}",
        ("pump", "--out", "x" * 300),
    ),
    "a guide called html": Refused(
        moved_to("html"), f"'html' is the source 'html', and the manual would take its place{ELSEWHERE}",
        ("html", "--out", "."),
    ),
    "a guide called html, by its parent": Refused(moved_to("html"), "'html' is the source", ("html", "--out", "x/..")),
    "a guide called html, by a link": Refused(
        do(moved_to("html"), lambda root: (root / "way").symlink_to(".")), "is the source 'html'",
        ("way/html", "--out", "way"),
    ),
    "html is a link to the guide": Refused(
        lambda root: (root / "html").symlink_to("pump"), "'html' is the source 'pump'", ("pump", "--out", ".")
    ),
    "a guide in a folder html": Refused(
        moved_to("html/guides/pump"), "'html' holds the source 'html/guides/pump'", ("html/guides/pump", "--out", ".")
    ),
    "a library in a folder html": Refused(
        library_in_html, "'html' holds the source 'html/guides/pump'", ("html/guides/pump", "--out", ".")
    ),
    "the guide itself": Refused(lambda root: None, f"'pump' is in the guide 'pump'{ELSEWHERE}",
                                ("pump", "--out", "pump")),
    "a folder of the guide": Refused(lambda root: None, "'pump/images/x' is in the guide 'pump'",
                                     ("pump", "--out", "pump/images/x")),
    "a folder of the guide by a link": Refused(linked_into_guide, "'way' is in the guide 'pump'",
                                               ("pump", "--out", "way")),
    "a folder of the guide by a link called build": Refused(
        lambda root: (root / "pump/build").symlink_to("jobs"), "'pump/build/pump' is in the guide 'pump'",
        ("pump", "--out", "pump/build/pump"),
    ),
    "another guide's folder": Refused(lambda root: other(root, "sieve"), "'sieve/x' is in the guide 'sieve'",
                                      ("pump", "--out", "sieve/x")),
    "all guides into their own folders": Refused(
        lambda root: other(root, "sieve"), "'pump' is in the guide 'pump'", ("pump", "sieve", "--out", ".")
    ),
    "the library": Refused(
        lambda root: page(root / "shared/tools.yaml", "{}\n"), "'shared/x' is in the library 'shared'",
        ("pump", "--out", "shared/x"),
    ),
    "two guides of one name": Refused(
        lambda root: (other(root, "a/pump"), other(root, "b/pump")),
        "the manuals of 'a/pump' and 'b/pump' would both be put into 'build/pump'; build them one by one, each with "
        "its own --out",
        ("a/pump", "b/pump"),
    ),
    "two guides of one name under a folder": Refused(
        lambda root: (other(root, "a/pump"), other(root, "b/pump")), "'a/pump' and 'b/pump'", (".", "--out", "pub")
    ),
    "two names that differ in capitals": Refused(
        lambda root: (other(root, "a/Pump"), other(root, "b/pUMP")), "'a/Pump' and 'b/pUMP' would both",
        ("a", "b", "--out", "pub"),
    ),
    "two names that are written alike": Refused(
        lambda root: (other(root, "a/m\u00fcll"), other(root, "b/mu\u0308ll")), "would both be put into", ("a", "b")
    ),
}  # fmt: skip


@pytest.fixture
def root(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return the current folder, with a guide in `pump`."""
    monkeypatch.chdir(tmp_path)
    write(tmp_path / "pump", GUIDE)
    return tmp_path


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
@pytest.mark.parametrize("name", REFUSED)
def test_what_is_not_replaced(name: str, root: Path, putback: Putback) -> None:
    case = REFUSED[name]
    case.lay(root)
    before = digest(root)
    answer = putback("build", *case.args)
    assert case.said in answer.err
    assert (answer.code, answer.out) == (2, "")
    assert digest(root) == before


def test_what_is_not_replaced_is_replaced_in_no_other_form(root: Path) -> None:
    """The pages are hers; the PDF alone may be made."""
    page(root / "pub" / "html" / "index.html")
    guide = read_guide(root / "pump")
    check_place(open_guide(guide), Path("pub"), ["pdf"], "a4")
    with pytest.raises(BuildError):
        check_place(open_guide(guide), Path("pub"), ["html"], "a4")


def grown(root: Path) -> None:
    own(root)
    page(root / "pump" / "guide.yaml", "title: Test pump, second edition\n")


def all_new(root: Path) -> None:
    own(root)
    other(root, "pump", **SIEVE)


def moved(root: Path) -> None:
    own(root)
    page(root / "pump" / "guide.yaml", "title: Test pump, second edition\n")
    moved_to("procedures/pump")(root)


def copied(root: Path) -> None:
    """The whole workshop, and the copy went its own way."""
    own(root)
    shutil.copytree(root, root / "copy")
    page(root / "copy" / "pump" / "guide.yaml", "title: Test pump, second edition\n")


def elsewhere(root: Path) -> None:
    """The same guide once more, as in another working copy."""
    manual_of(other(root, "copy/pump"), root / "pub")


REPLACED: dict[str, tuple[Lay, tuple[str, str]]] = {
    "nothing": (lambda root: None, ("pump", "pub")),
    "nothing, and folders above it": (lambda root: None, ("pump", "a/b/c")),
    "an empty folder": (lambda root: (root / "pub" / "html").mkdir(parents=True), ("pump", "pub")),
    "its own": (own, ("pump", "pub")),
    "its own, under another title": (grown, ("pump", "pub")),
    "its own, from another place": (moved, ("procedures/pump", "pub")),
    "the same guide's from another copy": (elsewhere, ("pump", "pub")),
    "its own, copied together with the guide": (copied, ("copy/pump", "copy/pub")),
    "what a file manager left": (do(own, lambda root: page(root / "pub/html/.DS_Store")), ("pump", "pub")),
    "beside other things": (
        do(*(lambda root, name=name: page(root / "pub" / name) for name in (".html-old/x", ".making-x/x", "htm"))),
        ("pump", "pub"),
    ),
    "by a link": (
        do(lambda root: (root / "real").mkdir(), lambda root: (root / "pub").symlink_to("real")),
        ("pump", "pub"),
    ),
    "the build folder of the guide": (lambda root: None, ("pump", "pump/build/pump")),
    "beside the guide": (lambda root: None, ("pump", ".")),
}


@pytest.mark.parametrize("name", REPLACED)
def test_what_is_replaced(name: str, root: Path) -> None:
    lay, (folder, out) = REPLACED[name]
    lay(root)
    check_place(open_guide(read_guide(root / folder)), Path(out), ["html", "pdf"], "a4")


def test_a_guide_that_changed_all_over_is_known_by_its_place(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    all_new(root)
    if os.listxattr(root / "pub" / "html") if hasattr(os, "listxattr") else False:
        check_place(open_guide(read_guide(root / "pump")), Path("pub"), ["html", "pdf"], "a4")
    # Where the disk does not remember it, better once too much.
    monkeypatch.setattr(marks, "_from", lambda made, out: None)
    with pytest.raises(BuildError, match="another guide, of the same name, 'Test pump'"):
        check_place(open_guide(read_guide(root / "pump")), Path("pub"), ["html", "pdf"], "a4")


def test_a_real_manual_is_known_again(root: Path) -> None:
    mine = [root / "pub" / name for name in (".html-old/x", ".making-x/x", ".putback-0123456789abcdef/x", "notes.txt")]
    for path in mine:
        page(path)
    guide = read_guide(root / "pump")
    first = build_manual(open_guide(guide), ["html", "pdf"], Path("pub"))
    page_, pdf = first.files
    written = json.loads((page_.parent / HTML_MARK).read_text(encoding="ascii"))
    assert sorted(written["files"]) == sorted(
        path.relative_to(page_.parent).as_posix()
        for path in page_.parent.rglob("*")
        if not path.is_dir() or not any(path.iterdir())
    )
    assert b"<pdf:Keywords>putback-manual/pump/Test%20pump/Test%20pump</pdf:Keywords>" in pdf.read_bytes()
    before = digest(root / "pub")
    build_manual(open_guide(guide), ["html", "pdf"], Path("pub"))
    assert digest(root / "pub") == before, "the same guide gives the same bytes"
    build_manual(open_guide(guide), ["pdf"], Path("pub"), paper="letter")
    assert all(path.read_text(encoding="utf-8") == "mine" for path in mine)
    assert sorted(path.name for path in (root / "pub").iterdir()) == [
        ".html-old", ".making-x", ".putback-0123456789abcdef", "html", "notes.txt", "pump-a4.pdf", "pump-letter.pdf",
    ]  # fmt: skip


def test_what_comes_while_the_manual_is_made_stays(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from putback.sphinxext import manual

    real = manual._make

    def slow(*args: object) -> list[str]:
        warnings = real(*args)  # type: ignore[arg-type]
        page(root / "pub" / "html" / "index.html")
        return warnings

    monkeypatch.setattr(manual, "_make", slow)
    with pytest.raises(BuildError, match="'pub/html' was not made by Putback"):
        build_manual(open_guide(read_guide(root / "pump")), ["html"], Path("pub"))
    assert [path.name for path in (root / "pub").iterdir()] == ["html"]
    assert (root / "pub" / "html" / "index.html").read_text(encoding="utf-8") == "mine"


def test_a_guide_that_is_not_printed_leaves_no_folder(root: Path, putback: Putback) -> None:
    page(root / "pump" / "jobs" / "seal.yaml", "job: x\n")
    assert putback("build", "pump").code == 1
    assert not (root / "build").exists()


@pytest.mark.parametrize("date", ["x", "", "-5", "1e9", "9" * 30, "253402300800"])
def test_a_date_in_the_environment_that_is_none(
    date: str, root: Path, putback: Putback, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", date)
    answer = putback("build", "pump")
    assert (answer.code, answer.err) == (0, "")
    assert os.environ["SOURCE_DATE_EPOCH"] == date
