"""Pictures for the documentation, made while it is built: a printed page, and findings in the colours of a terminal.

    ```{putback-printed} procedures/hollin-20
    :job: water-pump
    :from: Install the lower flat washer
    :to: Install the upper flat washer
    :alt: Steps 74 to 76 of the printed job, each with a box to tick.

    A caption, if it needs one.
    ```

The guide is a folder of the source, or else one that the page has told the reader to write so far (tests/pasted.py).
With `from`, the picture begins at the first step or heading with those words, and ends below that with the words of
`to`, or below itself; `below: 15` shows 15 mm of the last one, where that is the last of its page. Without
`from`, a whole page is shown: the first of the job, of the page of prose named by `doc`, or of the book; `page: 2`
shows the next. `paper` is `a4` or `letter`. With `as-in: print.md`, the guide is as that page,
and those before it, have had it written.

    ```{putback-found} procedures/hollin-20
    :in: jobs/water-pump.yaml
    :without: "install: lower-washer"
    ```

shows what `putback lint` finds in a guide when the line with those words is deleted. Findings are printed in colour, as
is each `console` block.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any, ClassVar

from docutils import nodes
from docutils.parsers.rst import directives
from pages import ROOT, NotThereError, Part, printed
from pygments.lexer import RegexLexer, bygroups
from pygments.token import Comment, Generic, Text
from sphinx.errors import ExtensionError
from sphinx.util.docutils import SphinxDirective
from tests.pasted import write_files

if TYPE_CHECKING:
    from sphinx.application import Sphinx

PIXELS_PER_POINT = {"part": 1.25, "whole": 0.95}
"""How wide a part of a page, and a whole page, is shown where there is the room; both fit the printed documentation."""


class ShowPrinted(SphinxDirective):
    """A printed page of a guide, or a part of one."""

    required_arguments = 1
    has_content = True
    option_spec: ClassVar[dict[str, Any]] = {
        "job": directives.unchanged_required,
        "doc": directives.unchanged_required,
        "from": directives.unchanged_required,
        "to": directives.unchanged_required,
        "below": directives.positive_int,
        "page": directives.positive_int,
        "as-in": directives.unchanged_required,
        "paper": lambda words: directives.choice(words, ("a4", "letter")),
        "alt": directives.unchanged_required,
    }

    def run(self) -> list[nodes.Node]:
        """Return a figure."""
        if not self.options.get("alt", "").strip():
            raise self.error("a printed page needs ':alt:', what it shows in words")
        try:
            part = self.part(self.guide())
        except (NotThereError, RuntimeError) as error:
            raise self.error(str(error)) from error
        kind = "whole" if part.left == 0 else "part"
        width = f"{round(part.across * PIXELS_PER_POINT[kind])}px"
        image = nodes.image(uri=self.keep(part), alt=" ".join(self.options["alt"].split()), width=width)
        figure = nodes.figure("", image, classes=["printed", f"printed-{kind}"])
        caption = " ".join(self.content).strip()
        if caption:
            figure += nodes.caption(caption, "", *self.parse_inline(caption, lineno=self.lineno)[0])
        return [figure]

    def guide(self) -> Path:
        """Return the folder of the guide: in the source, or as the page has had it written so far."""
        folder = ROOT / self.arguments[0]
        if folder.is_dir():
            for path in folder.rglob("*"):
                self.env.note_dependency(str(path))
            return folder
        page = Path(self.env.doc2path(self.env.docname))
        text = page.read_text(encoding="utf-8")
        if "as-in" in self.options:
            page = page.parent / self.options["as-in"]
            self.env.note_dependency(str(page))
            text = page.read_text(encoding="utf-8")
        else:
            text = "".join(text.splitlines(keepends=True)[: self.lineno - 1])
        place = self.store() / "written" / hashlib.sha256(text.encode()).hexdigest()[:16]
        shutil.rmtree(place, ignore_errors=True)
        place.mkdir(parents=True)
        write_files(text, page, place)
        if not (place / self.arguments[0]).is_dir():
            raise NotThereError(f"there is no guide '{self.arguments[0]}', and the page wrote none")
        return place / self.arguments[0]

    def part(self, guide: Path) -> Part:
        """Return what is to be shown."""
        options = self.options
        pages = printed(guide, options.get("paper", "a4"), self.store())
        doc = f"jobs/{options['job']}" if "job" in options else options.get("doc", "")
        if "from" in options:
            below = options["below"] * 72 / 25.4 if "below" in options else None
            return pages.between(doc, options["from"], options.get("to", options["from"]), below)
        return pages.page(doc, options.get("page", 1))

    def keep(self, part: Part) -> str:
        """Draw a part, and return its address below the folder of the documentation."""
        drawn = part.draw()
        path = self.store() / f"{part.folder.name}-{hashlib.sha256(drawn).hexdigest()[:8]}.png"
        path.write_bytes(drawn)
        return "/" + Path(os.path.relpath(path, self.env.srcdir)).as_posix()

    def store(self) -> Path:
        """Return the folder for what is made."""
        return Path(self.env.doctreedir).resolve() / "pictures"


class ShowFound(SphinxDirective):
    """What `putback lint` finds in a guide of the source that lacks one line."""

    required_arguments = 1
    option_spec: ClassVar[dict[str, Any]] = {
        "in": directives.unchanged_required,
        "without": directives.unchanged_required,
    }

    def run(self) -> list[nodes.Node]:
        """Return the output as a block of code."""
        shown = found_without(self.arguments[0], self.options["in"], self.options["without"].strip('"'))
        self.env.note_dependency(str(ROOT / self.arguments[0] / self.options["in"]))
        return [nodes.literal_block(shown, shown, language="console", classes=["found"])]


def found_without(guide: str, file: str, words: str) -> str:
    """Return what `putback lint GUIDE` prints when the one line with these words is deleted from a file of it."""
    with TemporaryDirectory() as folder:
        for name in (guide, "shared"):
            shutil.copytree(ROOT / name, Path(folder, name))
        path = Path(folder, guide, file)
        lines = path.read_text(encoding="utf-8").splitlines(keepends=True)
        if sum(words in line for line in lines) != 1:
            raise ExtensionError(f"{guide}/{file} has the words '{words}' not in exactly one line")
        path.write_text("".join(line for line in lines if words not in line), encoding="utf-8")
        ran = subprocess.run(
            [sys.executable, "-c", "from putback.cli import main; main()", "lint", guide],
            cwd=folder, env={**os.environ, "NO_COLOR": "1", "PYTHONPATH": os.pathsep.join(filter(None, sys.path))},
            capture_output=True, text=True, check=False,
        )  # fmt: skip
    return f"$ putback lint {guide}\n{ran.stdout.rstrip()}"


def _before(level: str) -> str:
    """Return a pattern for what comes before the line that says of which level and name a finding is."""
    return rf"(?=(?:(?! {{6}}(?:error|warning|advice) ).*\n)* {{6}}{level} )"


class FindingsLexer(RegexLexer):
    """Commands after `$ `, and what `putback lint` prints after them."""

    name = "console"
    tokens: ClassVar[dict[str, Any]] = {
        "root": [
            (r"^(\$ )(.*\n)", bygroups(Generic.Prompt, Generic.Strong)),
            (r"^( *\| +)(~+\n)", bygroups(Generic.Output, Generic.Error)),
            (r"^ *\d+ \|.*\n", Generic.Output),
            (r"^ {6}fix: .*\n", Generic.Inserted),
            (r"^ {6}(?:error|warning|advice) [a-z-]+ at .*\n", Comment),
            (r"^  \S.*\n" + _before("error"), Generic.Deleted),
            (r"^  \S.*\n" + _before("warning"), Generic.Traceback),
            (r"^  \S.*\n" + _before("advice"), Generic.Emph),
            (r"^\S+\.(?:yaml|md)\n", Generic.Subheading),
            (r"^.*: everything goes back\n", Generic.Inserted),
            (r"^.*\n", Text),
        ]
    }


def forget_pages(app: Sphinx, error: Exception | None) -> None:
    """Remove the pages that pictures were cut from; the pictures stay."""
    del error
    for path in (Path(app.doctreedir).resolve() / "pictures").glob("*/"):
        shutil.rmtree(path, ignore_errors=True)


def setup(app: Sphinx) -> dict[str, Any]:
    """Register the directives, the colours, and what clears up."""
    app.add_directive("putback-printed", ShowPrinted)
    app.add_directive("putback-found", ShowFound)
    app.add_lexer("console", FindingsLexer)
    app.add_css_file("pictures.css")
    app.connect("build-finished", forget_pages)
    return {"version": "1", "parallel_read_safe": True, "parallel_write_safe": True}
