"""Pages of a stranger: what would read a file, run or load something is off in `putback build`, and says where."""

from __future__ import annotations

import os
import re
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
import urllib3  # noqa: F401 - tries, when imported first, whether this computer has an IPv6 address
from sphinx.locale import translators

from putback.guide.reading import read_guide
from putback.ledger.opened import open_guide
from putback.sphinxext.closed.pages import scheme_of
from putback.sphinxext.manual import BuildError, Built, build_manual
from tests.conftest import Putback
from tests.hostile.watching import watched
from tests.pictures.samples import png, svg

from .projects import GUIDE, build, write

pytestmark = pytest.mark.filterwarnings("ignore:.*is deprecated. Check CHANGES for Sphinx")  # in MyST-Parser

SECRET = "SECRET-4711"

BAD: dict[str, tuple[str, str | None]] = {
    # files
    "include": ("```{include} /secret.txt\n```", "5: 'include' is off in a guide; put the text in the page"),
    "include-up": ("```{include} ../secret.txt\n:literal:\n```", "5: 'include' is off in a guide; "),
    "include-colons": (":::{include} ../secret.txt\n:start-line: 0\n:::", "5: 'include' is off in a guide; "),
    "include-nested": ("::::{note}\n```{include} ../secret.txt\n```\n::::", "6: 'include' is off in a guide; "),
    "include-in-a-list": ("- a\n\n  ```{include} ../secret.txt\n  ```", "7: 'include' is off in a guide; "),
    "literalinclude": ("```{literalinclude} /../secret.txt\n:language: none\n```", "5: 'literalinclude' is off in a g"),
    "capital": ("```{Include} ../secret.txt\n```", "5: 'include' is off"),
    "csv-file": ("```{csv-table} A\n:file: ../secret.txt\n```", "5: 'csv-table' with 'file' is off in a guide; put"),
    "csv-url": ("```{csv-table}\n:url: https://127.0.0.1:9/x\n```", "5: 'csv-table' with 'url' is off in a guide"),
    "raw-file": ("```{raw} html\n:file: ../secret.txt\n```", "5: 'raw' is off in a guide; write it in Markdown"),
    "raw-url": ("```{raw} html\n:url: file:///etc/passwd\n```", "5: 'raw' is off in a guide; "),
    "download": ("{download}`../secret.txt`", "5: the file '../secret.txt' cannot be included; put what it says"),
    "download-words": ("{download}`here <../secret.txt>`", "5: the file '../secret.txt' cannot be included; "),
    "link-to-a-file": ("[data](../secret.txt)", "5: the file '../secret.txt' cannot be included; "),
    "link-to-its-own-file": ("[data](machine.yaml.txt)", "5: the file 'machine.yaml.txt' cannot be included; "),
    "link-by-path": ("[data](path:../secret.txt)", "5: the file '../secret.txt' cannot be included; "),
    # HTML and other markup
    "raw": ("```{raw} html\n<script>alert(1)</script>\n```", "5: 'raw' is off in a guide; write it in Markdown"),
    "raw-latex": ("```{raw} latex\n\\input{/etc/passwd}\n```", "5: 'raw' is off in a guide; "),
    "raw-typst": ("```{raw} typst\n#read(\"/etc/passwd\")\n```", "5: 'raw' is off in a guide; "),
    "html-block": ("<script>alert(1)</script>", "5: a piece of HTML ('<script>') is off in a guide; write it in Markd"),
    "html-inline": ("words <b onclick='x()'>bold</b>", "5: a piece of HTML ('<b>') is off in a guide; "),
    "html-image": ("<img src=x onerror=alert(1)>", "5: a piece of HTML ('<img>') is off in a guide; "),
    "html-frame": ("a\n\n<iframe src='https://example.org'></iframe>", "7: a piece of HTML ('<iframe>') is off"),
    "html-in-a-table": ("| a |\n| - |\n| <u>b</u> |", "a piece of HTML ('<u>') is off in a guide"),
    "html-behind-a-comment": ("<!-- --><script>x</script>", "5: a piece of HTML ('<script>') is off"),
    "html-in-a-false-comment": ("<!-- --!> <img src=x> -->", "a piece of HTML ('<"),
    "html-declaration": ("<!DOCTYPE html>", "5: a piece of raw text is off in a guide"),
    "eval-rst": ("```{eval-rst}\n.. include:: ../secret.txt\n```", "5: 'eval-rst' is off in a guide; write it in Mark"),
    "eval-rst-nested": ("::::{note}\n```{eval-rst}\n.. raw:: html\n\n   <b>\n```\n::::", "6: 'eval-rst' is off in a g"),
    "role": ("```{role} html(raw)\n:format: html\n```\n\n{html}`<script>`", None),
    "meta": ("```{meta}\n:http-equiv=refresh: 0; url=https://example.org\n```", None),
    # the head of a page
    "head-substitution": (
        "---\nmyst:\n  enable_extensions: [substitution]\n"
        "  substitutions: {a: \"{{ cycler.__init__.__globals__.os.system('touch ran') }}\"}\n---\n# T\n\n{{ a }}",
        "2: a page cannot change how it is read ('myst'); delete that from the top of the page"),
    "head-old": ("---\nsubstitutions: {a: b}\n---\n# T", "2: a page cannot change how it is read ('substitutions')"),
    "head-meta": ("---\nhtml_meta: {a: b}\n---\n# T", "2: a page cannot change how it is read ('html_meta')"),
    "head-quoted": ('---\n"my\\x73t": {a: b}\n---\n# T', "2: a page cannot change how it is read ('myst')"),
    "head-flow": ("---\n{title: a, myst: {a: b}}\n---\n# T", "2: a page cannot change how it is read ('myst')"),
    "head-merged": ("---\na: &a {myst: {}}\n<<: *a\n---\n# T", "the top of the page cannot be read: "),
    "head-tagged": ("---\n!!str myst: {}\n---\n# T", "2: a page cannot change how it is read ('myst')"),
    "head-broken": ("---\na: [\n---\n# T", "the top of the page cannot be read: "),
    "head-odd": ("--- {myst: {}}\n---\n# T", "1: a page cannot begin with '--- {myst: {}}'"),
    # pictures
    "picture-outside": ("![a](../secret.svg)", "5: picture '../secret.svg' cannot be shown: it is outside the guide"),
    "picture-absolute": ("![a](/../secret.svg)", "5: picture '/../secret.svg' cannot be shown: it is outside the gui"),
    "picture-of-the-system": ("![a](/etc/passwd)", "5: picture '/etc/passwd' cannot be shown: it is not there"),
    "picture-by-file": ("```{image} file:///etc/passwd\n```", "5: picture 'file:///etc/passwd' cannot be shown: it wo"),
    "picture-from-the-network": ("![a](https://127.0.0.1:9/a.png)", "it would be fetched from elsewhere; put it"),
    "picture-from-a-host": ("![a](//127.0.0.1/a.png)", "5: picture '//127.0.0.1/a.png' cannot be shown: it would be f"),
    "picture-as-data": ("![a](data:image/png;base64,AAAA)", "5: picture 'data:image/png;base64,AAAA' cannot be shown:"),
    "picture-with-a-star": ("![a](images/good.*)", "5: picture 'images/good.*' cannot be shown: its name has a star"),
    "picture-moves": ("![a](images/moves.svg)", "5: picture 'images/moves.svg' cannot be shown: it moves ('set')"),
    "picture-link": ("![a](images/link.svg)", "5: picture 'images/link.svg' cannot be shown: it is a link that leads"),
    "picture-pipe": ("![a](images/pipe.png)", "5: picture 'images/pipe.png' cannot be shown: it is not a file"),
    "picture-device": ("![a](images/zero.png)", "5: picture 'images/zero.png' cannot be shown: it is a link that lead"),
    "picture-folder": ("![a](images)", "5: picture 'images' cannot be shown: it is a folder, not a picture"),
    "picture-page": ("![a](machine.yaml)", "5: picture 'machine.yaml' cannot be shown: it is not a picture that"),
    "picture-long": (f"![a]({'a' * 300}.png)", "cannot be shown: its name is longer than 200 bytes; give it a shorter"),
    "figure": ("```{figure} images/moves.svg\nCaption.\n```", "picture 'images/moves.svg' cannot be shown: it moves"),
    "picture-huge": ("![a](images/huge.png)", "cannot be shown: it is 60,000 by 60,000 pixels, 3,600,000,000 in all"),
    # links
    "link-of-a-picture": ("```{image} images/good.svg\n:target: javascript:alert(1)\n```", "5: a link cannot lead to"),
    "contents": ("```{toctree}\na <javascript://%0aalert(1)>\n```", "5: a link cannot lead to 'javascript://%0aalert("),
    "contents-file": ("```{toctree}\na <file:///etc/passwd>\n```", "5: a link cannot lead to 'file:///etc/passwd'; li"),
    # signs
    "attributes": ("[a](https://example.org){onclick=alert(1)} [b]{onclick=x}", None),
    "turned": ("M8 &#x202E;021", "5: there is a character that reverses the order of the letters after it (U+202E)"),
    "isolate": ("M8 &#x2067;021", "5: there is a character that reverses the order of the letters after it (U+2067)"),
    "escape": ("a &#x1b;[2J", None),
    "turned-in-code": ("`a&#x202e;` [&#x202e;b](https://example.org)", "5: there is a character that reverses"),
}  # fmt: skip
"""A page that begins on line 5, or with its head, and how what is said of it begins; None: nothing has to be said."""

REST = {
    "rst-include": (".. include:: ../secret.txt", "4: 'include' is off in a guide; put the text in the page"),
    "rst-literal": (".. literalinclude:: ../secret.txt", "4: 'literalinclude' is off in a guide; "),
    "rst-raw": (".. raw:: html\n\n   <script>", "4: 'raw' is off in a guide; write it in Markdown"),
    "rst-role": (".. role:: h(raw)\n   :format: html\n\n:h:`<script>`", None),
    "rst-raw-role": (":raw:`<script>`", "'raw' is off in a guide"),
    "rst-script-link": (
        "`a <javascript:alert(1)>`_",
        "4: a link cannot lead to 'javascript:alert(1)'; link to an https",
    ),
    "rst-hidden-link": ("`a <JaVa\\ Script:alert(1)>`_", None),
    "rst-data-link": ("`a <data:text/html,x>`__", "4: a link cannot lead to 'data:text/html,x'"),
    "rst-file-link": ("`a <file:///etc/passwd>`__", "4: a link cannot lead to 'file:///etc/passwd'"),
    "rst-host-link": ("`a <//example.org>`__", "4: a link cannot lead to '//example.org'"),
    "rst-target": ("x_\n\n.. _x: vbscript:x", "4: a link cannot lead to 'vbscript:x'"),
    "rst-unicode": (
        ".. |x| unicode:: U+202E\n\na |x| 021",
        "there is a character that reverses the order of the letters after it",
    ),
    "rst-image": (".. image:: ../secret.svg", "4: picture '../secret.svg' cannot be shown: it is outside the guide"),
    "rst-embed": (".. image:: images/good.svg\n   :loading: embed", None),
    "rst-meta": (".. meta::\n   :http-equiv=Refresh: 0; url=https://example.org", None),
    "rst-only": (".. only:: __import__('os').system('touch ran')\n\n   words", None),
    "rst-csv": (".. csv-table::\n   :file: ../secret.txt", "4: 'csv-table' with 'file' is off in a guide"),
}

GOOD = """\
---
orphan: true
---

# Good

<!-- a remark -->

[a](https://example.org) <https://example.org/b> [c](mailto:a@example.org) [m](machine.md) [d](#good)

![words](images/good.svg) ![words](/images/good.png)

````markdown
```{include} ../secret.txt
```
```{eval-rst}
.. raw:: html
```
````

`<script>` and `{download}`.

    <b>code</b>

```{csv-table}
a, b
```

- [ ] to do
- [x] done
"""


@dataclass(frozen=True, slots=True)
class Stranger:
    """A guide from a stranger, and what came of it."""

    root: Path
    said: list[str]
    """The errors."""
    draft: Built
    """What is printed all the same as a draft."""
    reaches: list[str]
    """What the building did beyond reading the guide and writing its own folders."""

    def of(self, page: str) -> list[str]:
        """What is said of a page: line and message."""
        return [line.partition(":")[2] for line in self.said if Path(line.partition(":")[0]).name == page]


@pytest.fixture(scope="module")
def stranger(tmp_path_factory: pytest.TempPathFactory) -> Stranger:
    folder = tmp_path_factory.mktemp("stranger")
    root = folder / "guide"
    write(root, GUIDE)
    pages = {
        f"{name}.md": text if text.startswith("---") else f"# T\n\nWords that stay.\n\n{text}\n"
        for name, (text, _) in BAD.items()
    }
    pages |= {f"{name}.rst": f"T\n=\n\n{text}\n" for name, (text, _) in REST.items()}
    listed = "\n".join(name.rpartition(".")[0] for name in pages)
    index = GUIDE["index.md"].replace("jobs/seal", f"jobs/seal\ngood\n{listed}")
    write(root, {**pages, "good.md": GOOD, "index.md": index, "machine.yaml.txt": "x"})
    write(
        root,
        {"conf.py": "open('ran', 'w')", "docutils.conf": "[general]\nraw_enabled: yes\nfile_insertion_enabled: yes\n"},
    )
    write(folder, {"secret.txt": SECRET, "secret.svg": svg(f"<text>{SECRET}</text>")})
    write(root, {"images/good.svg": svg("<text>drawn</text>"), "images/moves.svg": svg("<set/>")})
    (root / "images" / "good.png").write_bytes(png(9, 9))
    (root / "images" / "huge.png").write_bytes(png(60000, 60000, rows=1))
    (root / "images" / "link.svg").symlink_to(folder / "secret.svg")
    (root / "images" / "zero.png").symlink_to("/dev/zero")
    os.mkfifo(root / "images" / "pipe.png")
    with watched([root], [folder / "out", folder / "draft", folder / "scratch"]) as reaches:
        guide = read_guide(root)
        with pytest.raises(BuildError) as caught:
            build_manual(open_guide(guide), ["html"], folder / "out")
        draft = build_manual(open_guide(guide), ["html", "pdf"], folder / "draft", draft=True)
    return Stranger(root, [line for line in str(caught.value).split("\n") if line.startswith("/")], draft, reaches)


def test_the_building_reaches_for_nothing_else(stranger: Stranger) -> None:
    """No network, no program but the press, no file that is not of the guide, nothing written beside the manual."""
    # Which files are in the folders above is looked at, where the guide and its library could be.
    assert [reach for reach in stranger.reaches if not reach.startswith("os.listdir")] == []


@pytest.mark.parametrize("name", [name for name, (_, said) in BAD.items() if said])
def test_a_page_that_may_not(name: str, stranger: Stranger) -> None:
    said, expected = stranger.of(f"{name}.md"), BAD[name][1]
    assert len(said) == 1 or name.startswith(("html", "head", "turned", "eval"))
    assert expected is not None
    assert said[0].startswith(expected) or expected in said[0]


@pytest.mark.parametrize("name", [name for name, (_, said) in REST.items() if said])
def test_a_page_of_the_other_markup(name: str, stranger: Stranger) -> None:
    said, expected = stranger.of(f"{name}.rst"), REST[name][1]
    assert said
    assert expected is not None
    assert said[0].startswith(expected) or expected in said[0]


def test_a_good_page_gives_nothing(stranger: Stranger) -> None:
    for page in ("good.md", "index.md", "seal.yaml", "machine.yaml"):
        assert stranger.of(page) == []


def test_a_list_of_things_to_do_has_boxes(stranger: Stranger) -> None:
    html, pdf = stranger.draft.files
    text = re.sub("<.*?>", "", (html.parent / "good.html").read_text(encoding="utf-8"))
    assert re.findall(r"(\S+)\s+(to do|done)", text) == [("\u2610", "to do"), ("\u2713", "done")]
    printed = subprocess.run(["pdftotext", pdf, "-"], capture_output=True, check=True).stdout.decode("utf-8")
    assert re.findall(r"(\u2610|\u2713)\s+(to do|done)", printed) == [("\u2610", "to do"), ("\u2713", "done")]


def test_nothing_of_the_stranger_is_in_what_is_made(stranger: Stranger) -> None:
    out = stranger.draft.files[0].parent
    made = [path for path in out.rglob("*") if path.is_file()]
    assert {path.name for path in made if path.suffix in (".txt", ".conf", ".py")} <= {"objects.inv", "OFL.txt"}
    assert not [path for path in made if SECRET.encode() in path.read_bytes()]
    assert {path.name for path in (out / "_images").iterdir()} == {"good.svg", "good.png"}
    assert not (stranger.root / "ran").exists()
    assert not Path("ran").exists()
    for page in out.glob("*.html"):
        text = page.read_text(encoding="utf-8")
        body = text[text.index("<main") if "<main" in text else text.index("<body") :]
        assert not re.search(
            r"<script(?![^>]* src=)[^>]*>[^<]*alert|<[^>]*\son(?:error|click)=|<iframe|<b>|http-equiv=.?refresh",
            body,
            re.I,
        ), page
        assert not re.search(r'(?:href|src)="\s*(?:javascript|data|file|vbscript):', text, re.I), page
        assert "mathjax" not in text.lower()
        assert "drawn" not in text, "a drawing is an image beside the page, and no part of it"
        assert not re.search("[\u202a-\u202e\u2066-\u2069\x1b]", text), page


def test_a_draft_keeps_the_words_and_says_what_is_left_out(stranger: Stranger) -> None:
    out = stranger.draft.files[0].parent
    for name, (text, _) in BAD.items():
        page = out / f"{name}.html"
        if not text.startswith("---") and name not in ("link-of-a-picture",):
            assert "Words that stay." in page.read_text(encoding="utf-8"), name
    assert any("'include' is off in a guide" in line for line in stranger.draft.warnings)
    assert stranger.draft.files[1].is_file()


# The folder


@pytest.mark.parametrize(
    ("name", "make", "said"),
    [
        ("a.md", lambda path: path.symlink_to("../outside.md"), "1: this is a link that leads outside the guide; copy"),
        ("a.md", lambda path: path.symlink_to("/dev/zero"), "1: this is a link that leads outside the guide"),
        ("a.md", lambda path: path.symlink_to("gone.md"), "1: this is a link that leads nowhere; put the page itself"),
        ("a.md", lambda path: path.symlink_to("a.md"), "1: this is a link that leads nowhere"),
        ("a.md", os.mkfifo, "1: this is not a file but a pipe, a socket or a device; put the page itself here"),
        ("sub", lambda path: path.symlink_to(".."), "1: this is a link to a folder, so nothing in it is read; copy t"),
        ("sub", lambda path: path.symlink_to("sub"), None),
        ("a.rst", lambda path: path.write_bytes(b"T\n=\n\n\xff\n"), "4: the file is not UTF-8 text (byte 0xff); save"),
        ("a.rst", lambda path: path.write_bytes(b"T\n=\n\n\x1b[2J\n"), "4: there is a control character (U+001B"),
        ("a.rst", lambda path: path.write_text("T\n=\n\n\u202e\n"), "4: there is a character that reverses"),
        ("a.md", lambda path: os.truncate(os.open(path, os.O_CREAT | os.O_WRONLY), 1 << 40), "1: this page has 1,099,"),
    ],
)  # fmt: skip
def test_files_that_are_no_pages(name: str, make: object, said: str | None, tmp_path: Path) -> None:
    root = tmp_path / "guide"
    write(root, GUIDE)
    write(tmp_path, {"outside.md": f"# {SECRET}\n"})
    assert callable(make)
    make(root / name)
    guide = read_guide(root)
    if said is None:
        assert build_manual(open_guide(guide), ["html"], tmp_path / "out").warnings == []
        return
    with pytest.raises(BuildError, match=re.escape(said)) as caught:
        build_manual(open_guide(guide), ["html"], tmp_path / "out")
    assert f"{root / name}:{said}" in str(caught.value)
    assert SECRET not in str(caught.value)


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("jobs/seal.md", "this page would replace seal.yaml, or not be printed at all; give it another name"),
        ("machine.rst", "this page would replace machine.yaml, or not be printed at all"),
        ("index.rst", "this page would replace index.md, or not be printed at all"),
        ("search.md", "a page cannot be called 'search': every manual has one of that name; give it another name"),
        ("genindex.rst", "a page cannot be called 'genindex': every manual has one of that name"),
        ("cautions.md", None),
        ("jobs/search.md", None),
    ],
)
def test_a_page_takes_the_place_of_no_other(name: str, said: str | None, tmp_path: Path) -> None:
    root = tmp_path / "guide"
    text = "---\norphan: true\n---\n# Mine\n" if name.endswith(".md") else ":orphan:\n\nMine\n====\n"
    write(root, {**GUIDE, name: text, "cautions.yaml": "{}\n"})
    if said is None:
        built = build_manual(open_guide(read_guide(root)), ["html"], tmp_path / "out")
        assert "Mine" in (tmp_path / "out/html" / name).with_suffix(".html").read_text(encoding="utf-8")
        assert built.warnings == []
        return
    with pytest.raises(BuildError, match=re.escape(f"{root / name}:1: {said}")):
        build_manual(open_guide(read_guide(root)), ["html"], tmp_path / "out")
    built = build_manual(open_guide(read_guide(root)), ["html"], tmp_path / "draft", draft=True)
    made = (tmp_path / "draft/html" / name).with_suffix(".html")
    # Sphinx's own index is left out where the book has one.
    assert "Mine" not in (made.read_text(encoding="utf-8") if made.exists() or name != "genindex.rst" else "")


DEEP = {
    "quotes.rst": "T\n=\n\n" + "\n\n".join("  " * at + "a" for at in range(400)),
    "one-blank.rst": "T\n=\n\n" + "\n\n".join(" " * at + "a" for at in range(400)),
    "notes.rst": "T\n=\n\n" + "\n\n".join("   " * at + ".. note::" for at in range(300)),
    "fences.md": "# T\n\n" + "\n".join(":" * (200 - at) + "{note}" for at in range(150)) + "\nx\n",
}


@pytest.mark.parametrize("name", DEEP)
def test_a_page_that_lies_too_deep_in_itself(name: str, tmp_path: Path) -> None:
    root = tmp_path / "guide"
    write(root, GUIDE)
    write(root, {name: DEEP[name]})
    with pytest.raises(BuildError, match=rf"{name}:\d+: blocks are nested more than 40 deep; use fewer levels"):
        build_manual(open_guide(read_guide(root)), ["html"], tmp_path / "out")


def test_a_page_of_an_unforeseen_depth(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("putback.sphinxext.closed.tree.DEEPEST", 10_000)
    root = tmp_path / "guide"
    write(root, GUIDE)
    write(root, {"notes.rst": DEEP["notes.rst"]})
    with pytest.raises(BuildError, match=r"a page of .* is nested too deeply"):
        build_manual(open_guide(read_guide(root)), ["html"], tmp_path / "out")


def test_a_long_page_with_many_blocks_is_not_deep(tmp_path: Path) -> None:
    root = tmp_path / "guide"
    write(root, GUIDE)
    page = ":::{note}\na\n:::\n\n```\ncode\n```\n\n- a\n  - b\n    - c\n\n```{tip}\nx\n```\n\n"
    write(
        root, {"a.md": "# T\n\n" + page * 60, "index.md": GUIDE["index.md"].replace("jobs/seal\n", "jobs/seal\na\n", 1)}
    )
    assert build_manual(open_guide(read_guide(root)), ["html"], tmp_path / "out").warnings == []


def test_a_name_like_a_pattern_takes_nothing_else_away(tmp_path: Path) -> None:
    root = tmp_path / "guide"
    write(root, GUIDE)
    (root / "*.md").symlink_to("/dev/zero")
    (root / "[a-z]*.md").symlink_to("/dev/zero")
    built = build_manual(open_guide(read_guide(root)), ["html"], tmp_path / "out", draft=True)
    assert (built.files[0].parent / "machine.html").is_file()
    assert "SECRET" not in "".join(built.warnings)


@pytest.fixture
def _english_afterwards() -> Iterator[None]:
    yield
    translators.clear()


@pytest.mark.usefixtures("_english_afterwards")
def test_a_guide_in_one_language_leaves_nothing_in_the_next(tmp_path: Path) -> None:
    pages = []
    for language in ("de", "en", "xx", "pt-BR"):
        root = tmp_path / language
        write(root, GUIDE)
        figure = ":::{figure} good.svg\n:alt: a\nCaption.\n:::\n"
        write(
            root,
            {
                "guide.yaml": f"title: T\nlanguage: {language}\n",
                "good.svg": svg("<path/>"),
                "index.md": figure + GUIDE["index.md"],
            },
        )
        built = build_manual(open_guide(read_guide(root)), ["html"], tmp_path / "out" / language)
        pages.append(built.files[0].read_text(encoding="utf-8"))
    german, english, unknown, portuguese = (page[page.index("<figcaption") :][:120] for page in pages)
    assert "Abb." in german
    assert "Fig." in english
    assert "Fig." in unknown
    assert "Fig." in portuguese
    assert 'lang="pt-BR"' in pages[3]


@pytest.mark.usefixtures("_english_afterwards")
@pytest.mark.parametrize("language", ["de", "fr", "ja", "zh-Hant-TW", "xx", "x-none", "en"])
def test_words_of_another_language_are_no_way_round(language: str, tmp_path: Path) -> None:
    root = tmp_path / "guide"
    write(root, GUIDE)
    write(tmp_path, {"secret.txt": SECRET})
    names = ["include", "einfügen", "inclure", "roh", "unverändert", "brut", "raw"]
    text = "".join(f"\n```{{{name}}} ../secret.txt\n:file: ../secret.txt\n```\n" for name in names)
    write(root, {"guide.yaml": f"title: T\nlanguage: {language}\n", "a.md": f"# T\n{text}"})
    built = build_manual(open_guide(read_guide(root)), ["html"], tmp_path / "out", draft=True)
    page = (built.files[0].parent / "a.html").read_text(encoding="utf-8")
    assert SECRET not in page
    with pytest.raises(BuildError, match="'include' is off in a guide") as caught:
        build_manual(open_guide(read_guide(root)), ["html"], tmp_path / "out")
    if language == "de":
        assert str(caught.value).count("'include' is off") == 2
        assert str(caught.value).count("'raw' is off") == 3


def test_formulas_are_printed_as_written_and_fetch_nothing(tmp_path: Path) -> None:
    root = tmp_path / "guide"
    write(root, GUIDE)
    write(
        root,
        {
            "a.md": "# T\n\n{math}`a^2`\n\n```{math}\nb^2\n```\n",
            "index.md": GUIDE["index.md"].replace("seal\n", "seal\na\n", 1),
        },
    )
    built = build_manual(open_guide(read_guide(root)), ["html"], tmp_path / "out")
    page = (built.files[0].parent / "a.html").read_text(encoding="utf-8")
    assert "a^2" in page
    assert "https://" not in re.sub(r"<a [^>]*>", "", page)
    assert any("does not typeset formulas" in line for line in built.warnings)


def test_a_project_of_ones_own_is_left_alone(tmp_path: Path) -> None:
    root = tmp_path / "project"
    write(root, GUIDE)
    write(root, {"part.txt": "Included words.\n", "a.md": "# T\n\n```{include} part.txt\n```\n\n<b>bold</b>\n"})
    _, warnings = build(root)
    page = (root / "_build" / "html" / "a.html").read_text(encoding="utf-8")
    assert "Included words." in page
    assert "<b>bold</b>" in page
    assert "is off in a guide" not in warnings


@pytest.mark.parametrize(
    ("address", "scheme"),
    [
        ("https://example.org", "https"), ("HTTPS://x", "https"), ("a.html#b", ""), ("#b", ""), ("../a:b", ""),
        ("javascript:x", "javascript"), ("java\nscript:x", "javascript"), ("\x01 JavaScript:x", "javascript"),
        ("\tdata:x", "data"), ("//x", "//"), ("/\\x", "//"), ("\\\\x", "//"), ("/x", ""), ("", ""), ("a/b:c", ""),
        ("mailto:a@b", "mailto"),
    ],
)  # fmt: skip
def test_schemes_as_a_browser_sees_them(address: str, scheme: str) -> None:
    assert scheme_of(address) == scheme


def test_a_page_that_may_not_in_a_guide_without_errors(
    tmp_path: Path, putback: Putback, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    write(tmp_path / "guide", GUIDE)
    write(tmp_path / "guide", {"safety.md": "# Safety\n\n<b>Mind</b> your hands.\n"})
    answer = putback("build", "guide", "--to", "html")
    assert answer.code == 2
    assert answer.err.startswith(
        "Error: the manual could not be made:\nguide/safety.md:3: a piece of HTML ('<b>') is off in a guide; "
    )
    answer = putback("build", "guide", "--to", "html", "--draft")
    assert (answer.code, answer.out) == (0, "made build/guide/html/index.html\n")
    assert "guide/safety.md:3: WARNING: a piece of HTML ('<b>') is off in a guide" in answer.err
    assert "Mind your hands." in (tmp_path / "build/guide/html/safety.html").read_text(encoding="utf-8")
