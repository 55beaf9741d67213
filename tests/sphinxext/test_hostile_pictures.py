"""Bad pictures and the press: each is named with the place that shows it, and the press always comes to an end."""

from __future__ import annotations

import re
import sys
import time
from pathlib import Path
from typing import Any

import pypdf
import pytest

from putback.pictures import Picture
from putback.typstpdf import album, builder, compile, culprit, press
from putback.typstpdf.press import PressLimits, StoppedError, lay_out_fonts, limits_for
from tests.pictures.samples import png, svg
from tests.pictures.test_pictures import BAD, RECT

from .conftest import Build

INSIDES = re.compile(r"typst|traceback|\.rs\b|\.py\b|rust|panick|0x[0-9a-f]{6}|main\.typ|site-packages", re.IGNORECASE)
"""What nobody who writes a manual can do anything with."""

BOMB = svg(
    '<filter id="f" x="-100" y="-100" width="1000" height="1000"><feTurbulence baseFrequency="0.1" numOctaves="20"/>'
    '</filter><rect width="50" height="50" filter="url(#f)"/>'
)


def shows(names: list[str]) -> str:
    return "# Start\n" + "".join(f"\n![words for {at}]({name})\n" for at, name in enumerate(names))


def test_every_bad_picture_is_named_with_its_page_and_line_and_its_words_are_printed(manual: Build) -> None:
    names = [name for name in BAD if name not in ("picture.txt", "page.pdf", "many.svg")]
    files: dict[str, str | bytes] = {name: BAD[name][0] for name in names}
    book = manual({**files, "good.png": png(9, 9), "index.md": shows([*names, "good.png", "none.svg"])})
    assert book.status == 0
    text = book.text
    for at, name in enumerate(names):
        line = 3 + 2 * at
        assert re.search(rf"index\.md:{line}: WARNING: picture '{name}' cannot be printed: \w", book.warnings), name
        assert f"words for {at}" in text
    assert "picture 'none.svg' was not found" in book.warnings
    assert "good.png" not in book.warnings
    assert INSIDES.search(book.warnings.replace("index.md", "")) is None


@pytest.mark.parametrize("text", ["\U0001f600", "漢字 18 N·m"])
def test_a_drawing_with_a_letter_that_no_font_has(manual: Build, text: str) -> None:
    files = {"a.svg": svg(f"<text y='20'>{text}</text>"), "index.md": shows(["a.svg"])}
    book = manual(files)
    assert book.status == 0
    assert re.search(
        r"picture 'a\.svg' cannot be printed: a text in it has the character U\+[0-9A-F]+, which", book.warnings
    )


# A press that does not come to an end


@pytest.fixture
def blind(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every picture is let through to a press with tight limits, as if nobody had looked at it."""

    def let_through(file: Path, folder: Path) -> Picture:
        del folder
        return Picture("SVG" if file.suffix == ".svg" else "PNG")

    monkeypatch.setattr(album, "examine", let_through)
    monkeypatch.setattr(builder, "limits_for", lambda *_: PressLimits(2, 1 << 30))
    monkeypatch.setattr(culprit.Press.__new__, "__defaults__", (PressLimits(2, 1 << 30),))


@pytest.mark.usefixtures("blind")
def test_a_drawing_that_takes_without_end_is_found_among_others(manual: Build) -> None:
    good = {f"good-{at}.svg": svg(RECT) for at in range(5)}
    start = time.monotonic()
    book = manual({**good, "bomb.svg": BOMB, "index.md": shows([*good, "bomb.svg"])})
    assert book.status == 1
    assert not book.pdf.exists()
    assert time.monotonic() - start < 120
    (line,) = [line for line in book.warnings.split("\n") if "ERROR" in line]
    assert line.endswith(
        "index.md:13: ERROR: picture 'bomb.svg' cannot be printed: the press gave up on it, "
        "it was still not done after 2 s of work [putback.typst]"
    )
    assert INSIDES.search(book.warnings.replace("putback.typst", "").replace("index.md", "")) is None


@pytest.mark.usefixtures("blind")
@pytest.mark.skipif(sys.platform != "linux", reason="elsewhere, only the time has a limit")
def test_a_picture_that_takes_too_much_memory_is_found(manual: Build) -> None:
    files = {"huge.png": png(60000, 60000, rows=3), "good.png": png(9, 9), "index.md": shows(["good.png", "huge.png"])}
    book = manual(files)
    assert book.status == 1
    assert "index.md:5: ERROR: picture 'huge.png' cannot be printed: the press gave up on it, it needed more than" in (
        book.warnings
    )


@pytest.mark.usefixtures("blind")
@pytest.mark.parametrize(
    "name",
    [
        "cut-off.svg", "two-roots.svg", "undeclared.svg", "nothing-wide.svg", "http-image.svg", "file-image.svg",
        "very-deep.svg", "words.png", "cut.png", "no-data.png",
    ],
)  # fmt: skip
def test_what_the_press_itself_refuses_is_named(manual: Build, name: str) -> None:
    book = manual({name: BAD[name][0], "good.png": png(9, 9), "index.md": shows(["good.png", name])})
    assert book.status == 1
    errors = [line for line in book.warnings.split("\n") if "ERROR" in line]
    assert len(errors) == 1
    assert errors[0].endswith(
        f"index.md:5: ERROR: picture '{name}' cannot be printed: it cannot be read; save it anew as plain SVG or PNG "
        "[putback.typst]"
    )


def test_a_page_at_which_the_press_stops_is_found(manual: Build, monkeypatch: pytest.MonkeyPatch) -> None:
    real = press.compile_manual

    def stops(source: Path, *rest: Any) -> press.Printed:
        if "Round and round" in source.read_text(encoding="utf-8"):
            raise StoppedError(press.Reason("it broke down"))
        return real(source, *rest)

    monkeypatch.setattr(builder, "compile_manual", stops)
    monkeypatch.setattr(culprit, "compile_manual", stops)
    pages = {f"page-{at}.md": f"# Page {at}\n\n[a](page-1.md) {'Round and round.' * (at == 3)}\n" for at in range(5)}
    listed = "\n".join(name.removesuffix(".md") for name in pages)
    book = manual({**pages, "index.md": f"# Start\n\n```{{toctree}}\n{listed}\n```\n"})
    assert book.status == 1
    (line,) = [line for line in book.warnings.split("\n") if "ERROR" in line]
    assert line.endswith(
        "page-3.md:1: ERROR: this page cannot be printed: the press gave up, it broke down [putback.typst]"
    )


def test_a_press_that_has_too_little_for_the_whole_book_says_so_soon(
    manual: Build, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[PressLimits] = []

    def stops(*request: Any) -> press.Printed:
        asked.append(request[-1])
        # Every trial stops, and each takes a minute.
        clock.append(clock[-1] + 60)
        raise press.SpentError(press.Reason("it needed more than 1,024 MB of memory"))

    clock = [0.0]
    monkeypatch.setattr(builder, "compile_manual", stops)
    monkeypatch.setattr(culprit, "compile_manual", stops)
    monkeypatch.setattr("putback.typstpdf.culprit.time.monotonic", lambda: clock[-1])
    pages = {f"page-{at}.md": f"# Page {at}\n\n{'Long. ' * 9000}\n" for at in range(40)}
    listed = "\n".join(name.removesuffix(".md") for name in pages)
    book = manual({**pages, "index.md": f"# Start\n\n```{{toctree}}\n{listed}\n```\n"})
    assert "the press gave up: it needed more than 1,024 MB of memory; no single page or picture was found to be" in (
        book.warnings
    )
    assert "print the jobs one by one, with `--job`" in book.warnings
    assert len(asked) == 3, "the book, and two minutes of trials"
    _, first, half = asked
    assert first.seconds > press.SMALL.seconds
    assert press.SMALL.size < half.size < first.size


@pytest.mark.parametrize(
    ("program", "said"),
    [
        ("os.abort()", "it broke down"),
        ("raise SystemExit(3)", "it broke down"),
        ("raise ValueError('secret insides')", "it broke down"),
        ("raise MemoryError", "it needed more than 500 MB of memory"),
        (
            "print('memory allocation of 9 bytes failed', file=sys.stderr); raise SystemExit(5)",
            "it needed more than 500 MB",
        ),
        ("os.kill(os.getpid(), 9)", "it needed more memory than there is"),
        ("while True: pass", "it was still not done after 1 s of work"),
        ("import time; time.sleep(60)", "it was still not done after 1 s of work"),
        ("x = bytearray(900 << 20); print(len(x))", "it needed more than 500 MB of memory"),
    ],
)
def test_a_press_that_does_not_answer(program: str, said: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    file = tmp_path / "press.py"
    keep = Path(compile.__file__).read_text(encoding="utf-8").replace("answer = ", f"{program}\n    answer = ", 1)
    file.write_text(keep, encoding="utf-8")
    monkeypatch.setattr(press, "PROGRAM", file)
    monkeypatch.setattr(press, "PATIENCE", 2)
    with pytest.raises(StoppedError) as caught:
        press.compile_manual(tmp_path / "a.typ", tmp_path / "a.pdf", tmp_path, tmp_path, 0, PressLimits(1, 500_000_000))
    assert str(caught.value).startswith(said)
    assert isinstance(caught.value, press.SpentError) == (said != "it broke down")


def test_limits_grow_with_the_manual() -> None:
    small, large = limits_for(100_000, 0, 10), limits_for(10_000_000, 500_000_000, 1_000_000)
    assert small.seconds >= 60
    assert small.size >= 2 << 30, "555 pages took 820 MiB"
    assert large.seconds > 4 * small.seconds
    assert large.size > 4 * small.size


def test_the_fonts_are_enough_for_a_trial(tmp_path: Path) -> None:
    (tmp_path / "a.svg").write_text(svg("<text y='9'>18 N·m</text>"), encoding="utf-8")
    trial = culprit.Press(tmp_path, lay_out_fonts(tmp_path / "fonts"))
    assert culprit.bad_pictures(["a.svg"], trial, time.monotonic() + 60) == []
    assert [*tmp_path.glob("trial*")] == []


def test_however_long_a_picture_is_it_is_no_larger_than_a_page(manual: Build) -> None:
    """2 by 30,000 dots, 60 mm wide, would be 900 m long: the press took a gigabyte for it."""
    asked = ("tall.png", ":width: 60mm"), ("wide.png", ":height: 60mm"), ("tall.png", ":width: 50em\n:height: 9999mm")
    figures = "".join(f"\n```{{image}} {name}\n{size}\n:alt: words\n```\n" for name, size in asked)
    book = manual({"tall.png": png(2, 30_000), "wide.png": png(30_000, 2), "index.md": f"# Start\n{figures}"})
    assert book.status == 0
    reader = pypdf.PdfReader(book.pdf)
    contents = [page.get_contents() for page in reader.pages]
    data = b"".join(content.get_data() for content in contents if content is not None)
    sizes = re.findall(rb"([\d.]+) 0 0 ([\d.]+) [\d.]+ [\d.]+ cm\s*/x\d+ Do", data)
    assert len(sizes) == len(asked)
    assert all(float(wide) < 595 and float(high) < 842 for wide, high in sizes)
