"""How fast it is: `.ci/run bench`. No test: it prints a table of times and of ratios, which are what can be compared.

- the whole process `putback lint` of the shipped guide against a process that only imports ruamel.yaml;
- the whole process `putback build` of the shipped guide, HTML and PDF;
- the same of two shipped guides once more, with nothing changed and with one sentence of a job changed: CPU time;
- the PDF of 500 jobs of 22 steps: the CPU time of the whole build, and apart from it that of the press (the process
  in which Typst lays the pages out; reading, checking and Sphinx come before it), for each page, with its memory;
- the HTML of 60 and of 500 such jobs against Sphinx alone on pages that say the same, as they
  would be written by hand in Markdown;
- one job of 2,000 steps in one section, on a machine without options: each stage against plain event parsing.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

from _ruamel_yaml import CParser
from plain_pages import page_bytes, write_plain_pages
from pypdf import PdfReader

from putback.checks import run_checks
from putback.guide.reading import read_guide
from putback.ledger import open_book
from putback.ledger.opened import open_guide
from putback.model.build_job import build_job
from putback.source.load import Mapping, load_text
from putback.source.schema import FileKind, validate

PAIRS = 400
"""Parts with one fastener group each; five steps take one off and put it back."""
GUIDE, SMALL = "procedures/hollin-20", "procedures/sessel-w15"
PUTBACK = [sys.executable, "-c", "from putback.cli import main; main()"]


class Row(NamedTuple):
    """One line of the table."""

    work: str
    seconds: float
    ratio: str = ""
    goal: str = ""


def best(work: Callable[[], object], times: int) -> float:
    """Return the shortest of several runs, in seconds: what is longer was disturbed."""
    shortest = float("inf")
    for _ in range(times):
        start = time.perf_counter()
        work()
        shortest = min(shortest, time.perf_counter() - start)
    return shortest


def process(*command: str) -> Callable[[], object]:
    """Return a run of a whole process; it must end well."""
    return lambda: subprocess.run(command, check=True, capture_output=True, env=_kept())


def machine_text() -> str:
    """Return a machine of `PAIRS` parts, each held by bolts."""
    parts = "".join(f"  part-{n}: {{name: part {n}}}\n" for n in range(PAIRS))
    bolts = "".join(
        f"  bolts-{n}: {{name: bolt {n}, count: 4, thread: M6, torque: 9 N·m, order: crosswise, secures: part-{n}}}\n"
        for n in range(PAIRS)
    )
    return f"machine: Bench\nparts:\n{parts}fasteners:\n{bolts}"


def job_text() -> str:
    """Return a job that takes every part off and puts it back: 5 steps each, and a test at the end."""
    steps = "".join(
        f"  - remove: bolts-{n}\n    note: Keep them in order.\n  - remove: part-{n}\n  - install: part-{n}\n"
        f"  - install: bolts-{n}\n  - tighten: bolts-{n}\n    because: It rattles when it is loose.\n"
        for n in range(PAIRS)
    )
    end = "  - check: all parts\n    limit: none rattles\n    otherwise:\n      - stop: Do the job again.\n"
    return f"job: Take everything off and put it back\nsteps:\n{steps}{end}"


def events(text: str) -> int:
    """Parse a text into events and drop them: the least that reading YAML can cost."""
    parser, count = CParser(text), 0
    while parser.check_event():
        parser.get_event()
        count += 1
    return count


def processes() -> list[Row]:
    """Measure whole processes."""
    bare, lint = float("inf"), float("inf")
    for _ in range(20):  # in turn, so that a busy moment falls on both
        bare = min(bare, best(process(sys.executable, "-c", "import ruamel.yaml"), 1))
        lint = min(lint, best(process(*PUTBACK, "lint", GUIDE), 1))
    with TemporaryDirectory() as folder:
        build = best(process(*PUTBACK, "build", GUIDE, "--no-cache", "--out", folder), 3)
    return [
        Row("process: import ruamel.yaml", bare, "1"),
        Row("process: putback lint, shipped guide", lint, f"{lint / bare:.1f}", "at most 6"),
        Row("process: putback build, HTML and PDF", build, "", "under 10 s"),
    ]


ONCE_MORE = (
    ("HTML and PDF, nothing kept", ["build", "--no-cache"]),
    ("HTML and PDF, a sentence changed", ["build"]),
    ("HTML alone, a sentence changed", ["build", "--to", "html"]),
    ("PDF alone, a sentence changed", ["build", "--to", "pdf"]),
    ("lint, a sentence changed", ["lint"]),
    ("PDF alone, after that lint", ["build", "--to", "pdf"]),
    ("HTML and PDF, the PDF stands", ["build"]),
    ("HTML and PDF, nothing changed", ["build"]),
)
"""What is done in turn with a guide. Where a sentence is to change, it does so before."""


def once_more(guide: str) -> list[Row]:
    """Measure builds of a shipped guide after one another, in CPU seconds; of each, the shorter of two."""
    spent: dict[str, float] = {}
    with TemporaryDirectory() as folder:
        root = Path(folder) / "procedures" / Path(guide).name
        shutil.copytree(guide, root)
        shutil.copytree("shared", Path(folder) / "shared")
        job = root / "jobs" / "daily-checks.yaml"
        text = job.read_text(encoding="utf-8")
        for number, (work, (command, *options)) in enumerate(2 * ONCE_MORE):
            if work.endswith("a sentence changed"):
                changed = text.replace("purpose: ", f"purpose: This is sentence {number}. ", 1)
                job.write_text(changed, encoding="utf-8")
            out = ["--out", f"{folder}/out"] if command == "build" else []
            seconds, _ = used(*PUTBACK, command, str(root), *options, *out, kept=f"{folder}/kept")
            spent[work] = min(spent.get(work, seconds), seconds)
    return [Row(f"{Path(guide).name}: {work}, CPU", seconds) for work, seconds in spent.items()]


JOBS = 500
"""So many jobs has the large book."""


def write_book(root: Path, jobs: int = JOBS) -> None:
    """Write a guide of many jobs, each of four parts that come off and go back."""
    (root / "jobs").mkdir(parents=True)
    (root / "guide.yaml").write_text("title: Bench\n", encoding="utf-8")
    (root / "machine.yaml").write_text(machine_text(), encoding="utf-8")
    index = "# Bench\n\nWords.\n\n```{toctree}\nmachine\n" + "".join(f"jobs/j{at}\n" for at in range(jobs)) + "```\n"
    (root / "index.md").write_text(index, encoding="utf-8")
    for at in range(jobs):
        parts = [(4 * at + k) % PAIRS for k in range(4)]
        steps = "".join(
            f"  - remove: bolts-{n}\n    note: Keep them in order.\n  - remove: part-{n}\n  - install: part-{n}\n"
            f"  - install: bolts-{n}\n  - tighten: bolts-{n}\n    because: It rattles when it is loose.\n"
            for n in parts
        )
        end = "  - check: all parts\n    limit: none rattles\n    otherwise:\n      - stop: Do the job again.\n"
        (root / "jobs" / f"j{at}.yaml").write_text(f"job: Do job {at}\nsteps:\n{steps}{end}", encoding="utf-8")


def _kept() -> dict[str, str]:
    """Return the environment of a process that keeps compiled modules, as they are after any installation."""
    return {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}


def used(*command: str, kept: str = "") -> tuple[float, int]:
    """Run a process; return the CPU seconds of it and what it started, and the most memory of one of them, MiB.

    `kept` is the folder in which it keeps results; else it keeps none.
    """
    ask = (
        "import resource, subprocess, sys; subprocess.run(sys.argv[1:], check=True, capture_output=True);"
        "r = resource.getrusage(resource.RUSAGE_CHILDREN); print(r.ru_utime + r.ru_stime, r.ru_maxrss // 1024)"
    )
    asked = [sys.executable, "-c", ask, *command]
    done = subprocess.run(asked, check=True, capture_output=True, text=True, env={**_kept(), "PUTBACK_CACHE": kept})
    seconds, size = done.stdout.split()
    return float(seconds), int(size)


TIMED = """
import resource, sys
from putback.cli import main
from putback.typstpdf import builder

press = builder.compile_manual
*arguments, told = sys.argv[1:]

def timed(*request):
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    printed = press(*request)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    seconds = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    with open(told, "w") as file:
        print(seconds, after.ru_maxrss // 1024, file=file)
    return printed

builder.compile_manual = timed
sys.argv = ["putback", *arguments]
main()
"""
"""A build that writes to a file what its press took: CPU seconds, and MiB."""


def large_book() -> list[Row]:
    """Measure the PDF of many jobs."""
    with TemporaryDirectory() as folder:
        root, out, told = Path(folder) / "bench", Path(folder) / "out", Path(folder) / "told"
        write_book(root)
        options = ["build", str(root), "--no-cache", "--to", "pdf", "--out", str(out)]
        built, _ = used(sys.executable, "-c", TIMED, *options, str(told))
        pressed, size = told.read_text(encoding="utf-8").split()
        pages = len(PdfReader(out / "bench-a4.pdf").pages)
    return [
        Row(f"PDF of {JOBS} jobs, CPU of the whole build", built),
        Row(f"the same, the press alone, {pages:,} pages", float(pressed), f"{int(size):,} MiB", "under 1,536 MiB"),
        Row("the same, the press, each page", float(pressed) / pages, "", "under 10 ms"),
    ]


def html(jobs: int) -> list[Row]:
    """Measure the HTML of many jobs against Sphinx alone; of each, the shorter of two runs, which take turns."""
    ours, theirs = float("inf"), float("inf")
    with TemporaryDirectory() as folder:
        root, out, plain, made = (Path(folder) / name for name in ("bench", "out", "plain", "made"))
        write_book(root, jobs)
        for run in range(2):
            seconds, _ = used(*PUTBACK, "build", str(root), "--no-cache", "--to", "html", "--out", str(out))
            ours = min(ours, seconds)
            if not run:
                write_plain_pages(out / "html", plain)
            seconds, _ = used(sys.executable, "-m", "sphinx", "-q", "-E", "-a", "-b", "html", str(plain), str(made))
            theirs = min(theirs, seconds)
        size, plain_size = page_bytes(out / "html") / 1e6, page_bytes(made) / 1e6
    return [
        Row(f"HTML of {jobs} jobs by Sphinx alone, {plain_size:.1f} MB, CPU", theirs, "1"),
        Row(
            f"the same by putback build, {size:.1f} MB, with all checks, CPU",
            ours,
            f"{ours / theirs:.1f}",
            "at most 1.5",
        ),
    ]


def stages() -> list[Row]:
    """Measure the stages on the long job."""
    with TemporaryDirectory() as folder:
        root = Path(folder) / "bench"
        (root / "jobs").mkdir(parents=True)
        (root / "guide.yaml").write_text("title: Bench\n", encoding="utf-8")
        (root / "machine.yaml").write_text(machine_text(), encoding="utf-8")
        text = job_text()
        (root / "jobs" / "long.yaml").write_text(text, encoding="utf-8")
        guide = read_guide(root)
        case = open_guide(guide)
        loaded = load_text(text, "long.yaml")
        graph, tree = case.graph, loaded.root
        found = [finding.message for finding in [*guide.faults, *run_checks(case)]]
        if graph is None or not isinstance(tree, Mapping) or found:
            raise SystemExit(f"the long job is not right: {found[:3]}")
        job = guide.jobs["long"]
        plain = best(lambda: events(text), 7)
        work: dict[str, Callable[[], object]] = {
            "load (text to a tree with places)": lambda: load_text(text, "long.yaml"),
            "validate (against the schema)": lambda: validate(loaded, FileKind.JOB),
            "build the job's records": lambda: build_job(tree, "long.yaml"),
            "order and walk": lambda: open_book(job, graph, guide.library),
            "all checks": lambda: list(run_checks(case)),
        }
        rows = [Row(name, best(run, 7)) for name, run in work.items()]
        rows.append(Row("all of it", sum(row.seconds for row in rows)))
    return [
        Row(f"{5 * PAIRS:,} steps: plain event parsing", plain, "1"),
        *(Row(f"{5 * PAIRS:,} steps: {name}", seconds, f"{seconds / plain:.1f}") for name, seconds, *_ in rows),
    ]


def main() -> None:
    """Print the table, in the form of the documentation."""
    print("| work | ms | ratio | goal |\n| --- | --- | --- | --- |")
    for row in [*processes(), *once_more(GUIDE), *once_more(SMALL), *html(60), *html(JOBS), *large_book(), *stages()]:
        print(f"| {row.work} | {row.seconds * 1000:,.1f} | {row.ratio} | {row.goal} |", flush=True)


if __name__ == "__main__":
    main()
