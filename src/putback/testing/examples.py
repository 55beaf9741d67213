"""The examples of the checks, in caret notation: data, illustration and test at once.

A line of carets under a line marks a place, and the words after it are the whole message:

    steps:
      - remove: cover-screws
                ^^^^^^^^^^^^ six cover screws come off and never go back

`# machine.yaml` on a line of its own starts another file of the guide; without one, the text is a job on the bench
machine, the small guide in `checks/bench/guide`. `# machine.yaml absent` takes a file away. A mark is a finding of the
check that the example belongs to; one of another check has that one's name in front: `^^^^ [left-off] message`.

What a finding says besides is marked only where an example is about it: `^^^^ hint: add 'new: true'` is the hint of a
finding at that place, and `^^^^ also: it came off here` a place that explains one. An example with one mark of such a
kind has all of them that are in its files.
"""

from __future__ import annotations

import re
import shutil
from dataclasses import dataclass, field, replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

from putback.lint.report.text import only_when
from putback.lint.run import check_guide
from putback.source.finding import Finding
from putback.source.span import Span

BENCH = Path(__file__).parents[1] / "checks" / "bench" / "guide"
"""The guide that the examples run on."""

LIBRARY = BENCH.parent / "shared"
"""The library of that guide."""

JOB = "jobs/example.yaml"
"""The file that an example is when it does not say."""

_CARETS = re.compile(r" *(\^+) (?:\[([a-z][a-z0-9-]*)\] )?(.+)")
_BESIDES = re.compile(r"(hint|also): .+")
_FILE = re.compile(r"# (\S+\.(?:yaml|md|po))( absent)?")


class Caret(NamedTuple):
    """A finding that is expected."""

    path: str
    """File, from the guide's folder."""
    line: int
    """Counted from 1, in the text without the carets."""
    column: int
    """First column, from 1."""
    end_column: int
    """The column after the last; of a place that goes over several lines, the one after its first character."""
    message: str
    """The whole message, with the variant after it."""
    check: str | None = None
    """The check; None for the one that the example belongs to."""


@dataclass(slots=True)
class Example:
    """An example, taken apart."""

    files: dict[str, str] = field(default_factory=dict)
    """Text by file name, without the carets."""
    absent: list[str] = field(default_factory=list)
    """Files of the bench that the example goes without."""
    marks: list[Caret] = field(default_factory=list)
    """The findings to expect, in order."""
    besides: list[Caret] = field(default_factory=list)
    """The hints, and the places that explain findings; a kind of which there is none is not asked for."""


def parse_example(text: str) -> Example:
    """Take an example apart."""
    example, path, lines = Example(), JOB, list[str]()

    def close() -> None:
        if any(line.strip() and not line.startswith("#") for line in lines):
            example.files[path] = "\n".join(lines) + "\n"

    for line in text.strip("\n").split("\n"):
        carets, heading = _CARETS.fullmatch(line), _FILE.fullmatch(line)
        if heading:
            close()
            path, lines = heading[1], []
            if heading[2]:
                example.absent.append(path)
        elif carets:
            # A mark above the first line is for the file as a whole.
            whole, start = path in example.absent or not lines, carets.start(1) + 1
            place = (1, 1, 2) if whole else (len(lines), start, start + len(carets[1]))
            marks = example.besides if _BESIDES.fullmatch(carets[3]) else example.marks
            marks.append(Caret(path, *place, carets[3], carets[2]))
        else:
            lines.append(line)
    close()
    job = example.files.get(JOB)
    if job is not None and not job.startswith("job:"):
        # Behind the steps, so that the lines keep their numbers.
        example.files[JOB] = f"{job}job: Example\n"
    return example


def marks_of(findings: list[Finding], check: str | None = None) -> list[Caret]:
    """Return findings in the form of marks, with the variant after the message; those of `check` unnamed."""
    return [
        _mark(
            finding.span,
            finding.message + only_when(finding.variant),
            None if finding.check == check else finding.check,
        )
        for finding in findings
    ]


def besides_of(findings: list[Finding], check: str | None = None) -> list[Caret]:
    """Return hints, and places that explain findings, in the form of marks; those of `check` unnamed."""
    found = []
    for finding in findings:
        name = None if finding.check == check else finding.check
        found += [_mark(finding.span, f"hint: {finding.hint}", name)] if finding.hint else []
        found += [_mark(also.span, f"also: {also.message}", name) for also in finding.also]
    return found


def _mark(span: Span, message: str, check: str | None) -> Caret:
    end = span.end_column if span.end_line == span.line else span.column + 1
    return Caret(span.path, span.line, span.column, end, message, check)


def run_example(example: Example | str) -> list[Finding]:
    """Check an example as a guide on the bench with all checks, in a folder that is gone afterwards.

    Raises `ValueError` for an example that takes a file away which the bench does not have, and for a file outside.
    """
    if isinstance(example, str):
        example = parse_example(example)
    with TemporaryDirectory() as folder:
        root = Path(folder).resolve() / "bench"
        shutil.copytree(BENCH, root)
        # As files of the guide's own, so that an example can bring another one of the same name.
        shutil.copytree(LIBRARY, root, dirs_exist_ok=True)
        (Path(folder) / "shared").mkdir()
        (Path(folder) / "shared" / "tools.yaml").write_text("{}\n", encoding="utf-8")
        for name in example.absent:
            if not (root / name).is_file():
                raise ValueError(f"the bench has no file '{name}' that an example could go without")
            (root / name).unlink()
        for name, text in example.files.items():
            path = (root / name).resolve()
            if not path.is_relative_to(root.parent):
                raise ValueError(f"an example cannot have a file outside its guide and its library: '{name}'")
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
        guide, findings, _ = check_guide(root)
        return [_relative(finding, guide.shown) for finding in findings]


def _relative(finding: Finding, folder: str) -> Finding:
    def inside(span: Span) -> Span:
        return span._replace(path=span.path.removeprefix(f"{folder}/"))

    also = tuple(each._replace(span=inside(each.span)) for each in finding.also)
    return replace(finding, span=inside(finding.span), also=also)
