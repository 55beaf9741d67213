"""The answers of the how-to pages: a few lines of YAML each, tried on the bench machine.

An answer is a block of YAML as an author would write it. `# machine.yaml` on a line of its own adds to that file of the
bench; `# jobs/example.yaml` is the job, and may be left out where steps come first. What the answer needs and the
reader does not stands above it in a remark, whose `before` and `after` are steps around those shown:

    <!-- with
    after:
      - check: pump
    -->

`{finds}` shows a form that is wrong, with what lint says of it; `{prints}` shows the steps of the answer before it as
they are printed. A block that cannot be tried has a remark above it that says why: `<!-- not linted: a workflow -->`.
"""

from __future__ import annotations

import io
import re
import shutil
from collections.abc import Collection, Iterator
from pathlib import Path, PurePosixPath
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any, NamedTuple

from docutils import nodes
from ruamel.yaml import YAML
from sphinx import addnodes
from sphinx.errors import ExtensionError
from sphinx.util.docutils import SphinxDirective

from putback.guide.reading import read_guide
from putback.ledger.opened import open_guide
from putback.lint.report.text import only_when
from putback.sheet.job import sheet_of
from putback.source.finding import Finding
from putback.sphinxext import nodes as own
from putback.sphinxext.building import paragraph
from putback.sphinxext.jobpage import JobPage
from putback.testing.examples import BENCH, JOB, LIBRARY, Example, run_example

if TYPE_CHECKING:
    from sphinx.application import Sphinx
    from sphinx.environment import BuildEnvironment

FENCE = re.compile(
    r"(?:^<!-- (?:with\n(?P<rest>.*?)^|not linted: (?P<reason>[^\n]*?) )-->\n\n?)?"
    r"^```(?P<kind>yaml|\{finds\}|\{prints\})(?: (?P<arguments>[^\n]*))?\n(?P<shown>.*?)^```$",
    re.DOTALL | re.MULTILINE,
)
"""A block of a page, with the remark above it."""

FILE = re.compile(r"^# (\S+\.(?:yaml|md))\n", re.MULTILINE)
"""What starts another file, within an answer."""

TASK = re.compile(r"^\((how-[a-z0-9-]+)\)=\n\n## (.+)$", re.MULTILINE)
"""The label and the heading of an answer."""

AROUND = ("before", "after")
"""In the rest: steps that come before those shown, and after them."""

IN_LINE = re.compile(r" in line \d+")
"""What a hint says of lines, which are not those of the page."""


class Answer(NamedTuple):
    """One block of a page."""

    question: str
    """The heading that it stands under."""
    kind: str
    """`yaml`, `{finds}` or `{prints}`."""
    arguments: tuple[str, ...]
    """The checks that find something, or the numbers of the steps that are printed."""
    shown: str
    """What the reader sees."""
    rest: str
    """What else the guide has, and the reader does not see."""
    reason: str | None
    """Why it is not tried; None when it is."""
    line: int = 0
    """Where it begins on its page, counted from 1."""


def answers(text: str) -> Iterator[Answer]:
    """Yield the blocks of a page in their order."""
    question, end = "", 0
    for found in FENCE.finditer(text):
        for heading in re.finditer(r"^#+ (.*)$", text[end : found.start()], re.MULTILINE):
            question = heading[1]
        end = found.end()
        arguments = tuple((found["arguments"] or "").split())
        line = text.count("\n", 0, found.start("kind")) + 1
        yield Answer(question, found["kind"], arguments, found["shown"], found["rest"] or "", found["reason"], line)


def files_of(answer: Answer) -> dict[str, str]:
    """Return the files of the guide that an answer makes of the bench machine."""
    said = _merged(_files(answer.rest), _files(answer.shown))
    if (job := said.get(JOB)) is not None:
        around = [job.pop(key, []) for key in AROUND]
        if "steps" in job:
            job["steps"] = [*around[0], *job["steps"], *around[1]]
        said[JOB] = {"job": "Example"} | job
    for name in ("machine.yaml", "guide.yaml"):
        said[name] = _merged(_read((BENCH / name).read_text(encoding="utf-8")), said.get(name, {}))
    pages = {"index.md": "```{putback-symptoms}\n```\n"} if "symptoms.yaml" in said else {}
    return {path: value if isinstance(value, str) else _written(value) for path, value in said.items()} | pages


def found_in(answer: Answer) -> list[Finding]:
    """Return what all checks find in an answer."""
    return run_example(Example(files_of(answer)))


def printed(answer: Answer, numbers: Collection[str], env: BuildEnvironment) -> nodes.Node:
    """Return the steps with these numbers as they are printed, or all of them."""
    with TemporaryDirectory() as folder:
        root = Path(folder).resolve() / "bench"
        shutil.copytree(BENCH, root)
        shutil.copytree(LIBRARY, root, dirs_exist_ok=True)
        for name, text in files_of(answer).items():
            (root / name).parent.mkdir(exist_ok=True)
            (root / name).write_text(text, encoding="utf-8")
        opened = open_guide(read_guide(root))
    job = opened.guide.jobs["example"]
    sheet = sheet_of(job, opened)
    lines = [line for part in sheet.sections for line in part.steps] if sheet else []
    chosen = [line for line in lines if not numbers or line.number in numbers]
    if sheet is None or len(chosen) < len(numbers):
        raise ExtensionError(f"'{answer.question}' has no steps {', '.join(numbers)} to print")
    page, run = JobPage(job, sheet, opened, env), own.steps()
    run += [node for line in chosen for node in page.line(line)]
    page.pointers.put_in(run)
    for step in run.findall(own.step):
        # An answer is no page to lead to: other answers have steps of the same numbers.
        step["ids"] = []
    for reference in [*run.findall(addnodes.pending_xref), *run.findall(nodes.reference)]:
        reference.replace_self(reference.children)
    return run


def _files(text: str) -> dict[str, Any]:
    """Return what a text says of each file: without a heading, of the job once there are steps, or of the machine."""
    before, *rest = FILE.split(text)
    found = {
        name: part if name.endswith(".md") else _read(part) for name, part in zip(rest[::2], rest[1::2], strict=True)
    }
    head = _read(before)
    job = {"steps", "sections", "job", *AROUND} & set(head)
    return ({JOB if job else "machine.yaml": head} if head else {}) | found


def _read(text: str) -> Any:
    return YAML(typ="safe", pure=True).load(text) or {}


def _written(value: Any) -> str:
    yaml, out = YAML(), io.StringIO()
    yaml.width = 10_000
    yaml.dump(value, out)
    return out.getvalue()


def _merged(one: Any, other: Any) -> Any:
    """Add what the second says to the first: mappings key by key, lists that differ one after the other."""
    if isinstance(one, dict) and isinstance(other, dict):
        return one | {key: _merged(one[key], value) if key in one else value for key, value in other.items()}
    return [*one, *other] if isinstance(one, list) and isinstance(other, list) and one != other else other


class _OfAnAnswer(SphinxDirective):
    """What stands on a page because of one of its answers."""

    has_content = True
    optional_arguments = 99

    def blocks(self) -> list[Answer]:
        """Return the blocks of this page up to this one."""
        path = Path(self.env.doc2path(self.env.docname))
        found = [each for each in answers(path.read_text(encoding="utf-8")) if each.line <= self.lineno]
        if not found or found[-1].line != self.lineno:
            raise self.error(f"no '{self.name}' is at line {self.lineno} of the page")
        return found


class ShowFindings(_OfAnAnswer):
    """A form that is wrong, and what lint says of it."""

    def run(self) -> list[nodes.Node]:
        """Return the form, and each finding below it."""
        answer = self.blocks()[-1]
        code = answer.shown.rstrip("\n")
        shown: list[nodes.Node] = [nodes.literal_block(code, code, language="yaml", classes=["example"])]
        for finding in found_in(answer):
            shown.append(nodes.block_quote("", *_told(finding), classes=["finding"]))
        return shown


def _told(finding: Finding) -> Iterator[nodes.Node]:
    link = addnodes.pending_xref(
        "", refdomain="std", reftype="doc", reftarget=f"/checks/{finding.check}", refexplicit=True, refwarn=True
    )
    link += nodes.literal(finding.check, finding.check)
    first = nodes.paragraph("", "", nodes.strong("", finding.level.value), nodes.Text(" "), link)
    first += nodes.Text(f": {finding.message}{only_when(finding.variant)}")
    said = [first, *([paragraph("fix: " + IN_LINE.sub("", finding.hint))] if finding.hint else [])]
    for each in said:
        # Quotation marks stand as an author would type them.
        each["support_smartquotes"] = False
        yield each


class ShowSteps(_OfAnAnswer):
    """The steps of the answer before, as they are printed."""

    def run(self) -> list[nodes.Node]:
        """Return the steps whose numbers are given; all where none is."""
        *before, mine = self.blocks()
        answer = next(each for each in reversed(before) if each.kind == "yaml")
        return [nodes.container("", printed(answer, mine.arguments, self.env), classes=["printed"])]


class ShowTasks(SphinxDirective):
    """Pages of answers, each with the tasks on it: the names of the pages are the content."""

    has_content = True

    def run(self) -> list[nodes.Node]:
        """Return a list of the pages, with a list of the answers under each."""
        return [nodes.bullet_list("", *(self.page(name) for name in self.content))]

    def page(self, name: str) -> nodes.list_item:
        """Return one page with its answers."""
        folder = Path(self.env.doc2path(self.env.docname)).parent
        self.env.note_dependency(str(folder / f"{name}.md"))
        text = (folder / f"{name}.md").read_text(encoding="utf-8")
        tasks = [nodes.paragraph("", "", _linked("ref", label, title)) for label, title in TASK.findall(text)]
        inner = nodes.bullet_list("", *(nodes.list_item("", each) for each in tasks))
        # From the top: in the PDF, these words stand on a page of another folder.
        place = f"/{PurePosixPath(self.env.docname).parent / name}"
        return nodes.list_item("", nodes.paragraph("", "", nodes.strong("", "", _linked("doc", place))), inner)


def _linked(role: str, target: str, words: str = "") -> addnodes.pending_xref:
    """Return a link to a page, or to a label with these words."""
    link = addnodes.pending_xref(
        "", refdomain="std", reftype=role, reftarget=target, refexplicit=bool(words), refwarn=True
    )
    link += nodes.inline(words, words)
    return link


def setup(app: Sphinx) -> dict[str, Any]:
    """Register the directives."""
    app.add_directive("finds", ShowFindings)
    app.add_directive("prints", ShowSteps)
    app.add_directive("tasks", ShowTasks)
    return {"parallel_read_safe": True, "parallel_write_safe": True}
