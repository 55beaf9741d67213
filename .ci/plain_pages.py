"""A manual as somebody would have written it by hand for Sphinx: the same words in Markdown, from its pages of HTML."""

from __future__ import annotations

from html.parser import HTMLParser
from pathlib import Path

CONF = 'project = "Bench"\nextensions = ["myst_parser"]\nhtml_theme = "basic"\nmyst_heading_anchors = 3\n'
BLOCKS = ("p", "dt", "li", "h1", "h2", "h3", "h4", "td", "th", "figcaption", "label")


class _Page(HTMLParser):
    """Takes the blocks of the main part of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.inside = False
        self.blocks: list[str] = []
        self.row: list[str] | None = None
        self.rows = 0
        self.words = ""
        self.start = ""
        self.hidden = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        look = dict(attrs).get("class") or ""
        if tag == "main":
            self.inside = True
        self.hidden += tag in ("svg", "script") or "headerlink" in look
        if tag == "table":
            self.rows = 0
        elif tag == "tr":
            self.row = []
        elif tag in BLOCKS:
            self.end()
            self.start = {"h1": "# ", "h2": "## ", "h3": "### ", "h4": "#### ", "li": "- "}.get(tag, self.start)
            if "step-text" in look:
                self.start = "1. "

    def handle_endtag(self, tag: str) -> None:
        if tag in ("svg", "script") or (tag == "a" and self.hidden):
            self.hidden = max(0, self.hidden - 1)
        elif tag in ("td", "th") and self.row is not None:
            self.row.append(" ".join(self.words.split()) or " ")
            self.words = ""
        elif tag == "tr" and self.row is not None:
            self.blocks.append(f"| {' | '.join(self.row)} |")
            if not self.rows:
                self.blocks.append("|" + " --- |" * len(self.row))
            self.rows += 1
            self.row = None
        elif tag == "table":
            self.blocks.append("")
        elif tag in BLOCKS:
            self.end()
        elif tag == "main":
            self.end()
            self.inside = False

    def end(self) -> None:
        """End a block; in a table, its words stay in the cell."""
        words = " ".join(self.words.split())
        if self.row is None and words:
            self.blocks += [f"{self.start}{words}", ""]
        if self.row is None:
            self.words = self.start = ""

    def handle_data(self, data: str) -> None:
        if self.inside and not self.hidden:
            self.words += data.replace("|", "/").replace("<", "(").replace("*", "").replace("_", " ")


def write_plain_pages(html: Path, root: Path) -> int:
    """Write the pages of a finished manual as Markdown into a new project; return how many bytes of it there are."""
    names = [page.relative_to(html).with_suffix("") for page in sorted(html.rglob("*.html"))]
    names = [name for name in names if name.name not in ("index", "genindex", "search")]
    size = 0
    for name in names:
        page = _Page()
        page.feed((html / name.with_suffix(".html")).read_text("utf-8"))
        text = "\n".join(page.blocks) + "\n"
        target = root / name.with_suffix(".md")
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(text, "utf-8")
        size += len(text.encode())
    (root / "conf.py").write_text(CONF, "utf-8")
    listed = "".join(f"{name.as_posix()}\n" for name in names)
    (root / "index.md").write_text(f"# Bench\n\nWords.\n\n```{{toctree}}\n{listed}```\n", "utf-8")
    return size
