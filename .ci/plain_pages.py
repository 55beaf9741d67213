"""A manual as somebody would have written it by hand for Sphinx, in Markdown, made from the pages of a finished one.

It says the same: words, headings, lists, tables, boxes to tick, pairs of a name and what is said of it, links to where
a thing is described, and the drawings, as files. It has no scripts, and nothing that is there only for a script, a
style or the search.
"""

from __future__ import annotations

import posixpath
import re
from html.parser import HTMLParser
from pathlib import Path

CONF = """\
project = "Bench"
extensions = ["myst_parser"]
myst_enable_extensions = ["attrs_block", "attrs_inline", "deflist", "tasklist"]
"""

HEADS = {"h1": "# ", "h2": "## ", "h3": "### ", "h4": "#### "}
BLOCKS = ("p", "dt", "dd", "li", *HEADS, "td", "th", "figcaption")
STRONG = {"strong": "**", "em": "*"}


class _Page(HTMLParser):
    """Takes the main part of a page, and writes it as Markdown."""

    def __init__(self, name: str, folder: Path) -> None:
        super().__init__()
        self.name = name
        self.folder = folder
        self.inside = self.hidden = self.rows = 0
        self.written: list[str] = []
        self.row: list[str] | None = None
        self.words = self.start = self.indent = self.box = ""
        self.lists: list[str] = []
        self.link: str | None = None
        self.drawing = ""
        self.drawings = 0
        self.target = ""
        self.void = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        look = given.get("class", "").split()
        if tag == "main" or not self.inside:
            self.inside += tag == "main"
            return
        if tag == "svg" or self.drawing:
            self.drawing += self.get_starttag_text() or ""
            return
        if self.hidden or tag in ("script", "nav", "label") or "headerlink" in look:
            self.hidden += tag not in ("input", "br", "img")
            self.box = "[ ] " if tag == "label" and self.row is None else self.box
            return
        if "id" in given and tag not in ("section", "main", "div"):
            self.target = given["id"]
        elif "id" in given and tag in ("section", "div"):
            self.end()
            self.target = given["id"]
        if tag == "tr":
            self.row = []
        elif tag == "table":
            self.end()
            self.rows = 0
        elif tag in ("ul", "ol"):
            self.end()
            self.lists.append("- " if tag == "ul" else "1. ")
        elif tag in STRONG and self.row is None:
            self.words += STRONG[tag]
        elif tag == "a":
            self.link = self.address(given.get("href", ""))
            # By its label: of a bare address, MyST asks every domain of Sphinx, which takes as long as all the rest.
            self.words += "{ref}`" if self.link and self.link[0] == "#" else "[" if self.link else ""
        elif tag in BLOCKS:
            self.begin(tag, look)

    def begin(self, tag: str, look: list[str]) -> None:
        """Begin a block."""
        if self.row is not None or (tag == "p" and self.start and not self.words):
            return
        self.end()
        self.start = HEADS.get(tag, "")
        if tag == "li" and self.lists:
            self.start = "  " * (len(self.lists) - 1) + self.lists[-1]
        elif tag == "dd":
            self.start = ": "
        elif "step-text" in look:
            self.start, self.indent = f"1. {self.box}", "   "
            self.box = ""
        elif tag in HEADS:
            self.indent = ""

    def address(self, href: str) -> str | None:
        """Return where a link leads, as it is written in Markdown; None where Markdown has its own way."""
        if not href or "://" in href:
            return href or None
        page, _, place = href.partition("#")
        where = posixpath.splitext(page)[0]
        full = posixpath.normpath(posixpath.join(posixpath.dirname(self.name), where)) if where else self.name
        if full in ("index", "genindex", "search"):
            return None
        return f"#{place}" if place else f"{where}.md"

    def handle_endtag(self, tag: str) -> None:
        if self.drawing:
            self.drawing += f"</{tag}>"
            if tag == "svg":
                self.put_drawing()
        elif self.hidden:
            self.hidden -= tag not in ("input", "br", "img")
        elif not self.inside:
            return
        elif tag == "a":
            labelled = self.link and self.link[0] == "#"
            self.words += f" <{self.link[1:]}>`" if self.link and labelled else f"]({self.link})" if self.link else ""
            self.link = None
        elif tag in STRONG and self.row is None:
            self.words = f"{self.words.rstrip()}{STRONG[tag]} "
        elif tag in ("td", "th") and self.row is not None:
            self.row.append(" ".join(self.words.split()) or " ")
            self.words = ""
        elif tag == "tr" and self.row is not None:
            self.end_row(self.row)
        elif tag in ("ul", "ol"):
            self.end()
            self.lists = self.lists[:-1]
        elif tag == "table":
            self.written.append("")
        elif tag in BLOCKS or tag == "main":
            self.end()
            self.inside -= tag == "main"

    def end_row(self, row: list[str]) -> None:
        """End the row of a table."""
        if self.target and not self.rows:
            self.written += [f"({self.target})=", ""]
            self.target = ""
        mark = f"[]{{#{self.target}}}" if self.target else ""
        self.written.append(f"| {mark}{' | '.join(row)} |")
        if not self.rows:
            self.written.append("|" + " --- |" * len(row))
        self.rows += 1
        self.row, self.target, self.words = None, "", ""

    def end(self) -> None:
        """End a block; in a table, its words stay in the cell."""
        if self.row is not None:
            return
        words = re.sub(r"\*\*\s*\*\*", "", " ".join(self.words.split()))
        if words:
            indent = "" if self.start else self.indent
            if self.target:
                self.written += [f"{indent}{{#{self.target}}}"]
                self.target = ""
            self.written += [f"{indent}{self.start}{words}", ""]
        self.words = self.start = ""

    def put_drawing(self) -> None:
        """Write a drawing as a file, and show it."""
        self.drawings += 1
        name = f"{self.name.replace('/', '-')}-{self.drawings}.svg"
        (self.folder / name).write_text(self.drawing, "utf-8")
        self.drawing = ""
        self.words += f"![drawing](/{name})"

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if self.drawing:
            self.drawing += self.get_starttag_text() or ""

    def handle_data(self, data: str) -> None:
        if self.drawing:
            self.drawing += data
        elif self.inside and not self.hidden:
            self.words += re.sub(r"[|<*_`\[\]{}]", " ", data)


def write_plain_pages(html: Path, root: Path) -> int:
    """Write the pages of a finished manual as Markdown into a new project; return how many bytes of it there are."""
    names = [page.relative_to(html).with_suffix("") for page in sorted(html.rglob("*.html"))]
    names = [name for name in names if name.name not in ("index", "genindex", "search")]
    size = 0
    for name in names:
        target = root / name.with_suffix(".md")
        target.parent.mkdir(parents=True, exist_ok=True)
        page = _Page(name.as_posix(), root)
        page.feed((html / name.with_suffix(".html")).read_text("utf-8"))
        text = "\n".join(page.written) + "\n"
        target.write_text(text, "utf-8")
        size += len(text.encode())
    (root / "conf.py").write_text(CONF, "utf-8")
    listed = "".join(f"{name.as_posix()}\n" for name in names)
    (root / "index.md").write_text(f"# Bench\n\nWords.\n\n```{{toctree}}\n{listed}```\n", "utf-8")
    return size


def page_bytes(html: Path) -> int:
    """Return how many bytes the pages of HTML in a folder have, but for Sphinx's own."""
    pages = (page for page in html.rglob("*.html") if page.name not in ("index.html", "genindex.html", "search.html"))
    return sum(page.stat().st_size for page in pages)
