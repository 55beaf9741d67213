"""The PDF is called as the guide's folder, whatever that is called."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest

from putback.guide.reading import read_guide
from putback.ledger.opened import open_guide
from putback.sphinxext.manual import BuildError, build_manual
from putback.sphinxext.naming import pdf_name
from putback.typstpdf.file_name import LONGEST, file_name
from tests.sphinxext.projects import GUIDE, write

LONG = "L" * 255


@pytest.mark.parametrize(
    ("folder", "expected"),
    [
        ("hollin-20", "hollin-20-a4"),
        ("My Pump", "My Pump-a4"),
        ("a.b--c..d", "a.b--c..d-a4"),
        ("-x", "-x-a4"),
        (".x", ".x-a4"),
        ("__", "__-a4"),
        ("pump.pdf", "pump.pdf-a4"),
        ("Überholung №1", "Überholung №1-a4"),
        ("泵", "泵-a4"),
        ("b\udcffd", "b\udcffd-a4"),
        ("a\\b:c*d?", "a-b-c-d--a4"),
        ("a\nb\x1b\x85", "a-b---a4"),
        ("", "manual-a4"),
        ("x" * 248, "x" * 248 + "-a4"),
    ],
)
def test_the_name_is_the_folders(folder: str, expected: str) -> None:
    assert pdf_name(folder, (), "a4") == expected


@pytest.mark.parametrize("folder", [LONG, "x" * 249, "ü" * 127, "泵" * 85, "b\udcff" * 120, "a-" * 127, "." * 255])
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_a_long_name_is_cut_and_keeps_its_paper(folder: str, paper: str) -> None:
    name = pdf_name(folder, (), paper)
    assert len(os.fsencode(f"{name}.pdf")) <= LONGEST
    assert name.endswith(f"-{paper}")
    assert name.startswith(folder[:40])
    assert file_name(name) == name
    # Two long names that begin alike stay two.
    assert pdf_name(f"{folder[:-2]}yy", (), paper) != name
    assert pdf_name(folder, (("drive", "belt"),), paper) != name


def test_options_are_in_the_name() -> None:
    assert pdf_name("pump", (("drive", "belt"), ("lid", "old")), "a4") == "pump-drive-belt-lid-old-a4"
    many = tuple((f"option-{number}" * 5, "x" * 60) for number in range(9))
    assert len({pdf_name("pump", many, "a4"), pdf_name("pump", many[:-1], "a4"), pdf_name("pump", many, "letter")}) == 3


@pytest.mark.parametrize(
    ("wanted", "expected"),
    [("Tarrick", "Tarrick"), ("../../etc/x", "..-..-etc-x"), ("C:\\x", "C--x"), ("-" * 300, "-")],
)
def test_a_name_in_conf_py_stays_in_its_folder(wanted: str, expected: str) -> None:
    assert file_name(wanted).startswith(expected)
    assert "/" not in file_name(wanted)
    assert len(f"{file_name(wanted)}.pdf") <= LONGEST


def test_a_page_that_finds_no_room_is_not_left_out(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Sphinx only warns of it."""
    monkeypatch.chdir(tmp_path)
    write(tmp_path / "pump", {**GUIDE, "search.html/tips.md": "# Tips\n"})
    with pytest.raises(BuildError, match=r"^'out/html/search\.html' cannot be written: is a directory$"):
        build_manual(open_guide(read_guide(tmp_path / "pump")), ["html"], Path("out"))
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("folder", ["My Pump.v2--x", LONG, b"-b\xff\nd", "ü" * 127])
def test_any_folder_makes_a_manual(folder: str | bytes, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    name = os.fsdecode(folder)
    monkeypatch.chdir(tmp_path)
    try:
        write(Path(name), GUIDE)
    except OSError:
        pytest.skip("this disk takes no such name")
    guide = read_guide(Path(name))
    built = build_manual(open_guide(guide), ["html", "pdf"], Path("build") / name)
    page, pdf = built.files
    assert page.is_file()
    assert pdf == Path("build") / name / f"{pdf_name(name, (), 'a4')}.pdf"
    assert pdf.read_bytes().startswith(b"%PDF-")
    assert len(list(pdf.parent.iterdir())) == 2
    # And is known again.
    build_manual(open_guide(guide), ["html"], Path("build") / name)
    shutil.rmtree(name)
