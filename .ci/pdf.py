"""Read printed manuals back: does each hold all safety messages and torques of its jobs, and say that it is PDF/UA?
Does anything run into something else or out of its column, or stand apart from what it belongs to?

    python .ci/pdf.py FOLDER

FOLDER has one folder a guide, named as the guide's. The text comes from `pdftotext`, so from outside Putback.
"""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

from pypdf import PdfReader
from pypdf.generic import StreamObject
from tests.printed import layout_faults

from putback.guide.reading import read_guide
from putback.guide.record import Guide
from putback.ledger.opened import Opened, open_guide
from putback.model.job import Job
from putback.model.machine import Fastener
from putback.model.verbs.pieces import Tighten
from putback.sheet import sheet_of
from putback.words import catalogue

PDF_UA = re.compile(r"pdfuaid:part(>|=[\"'])1\b")
"""How a file's metadata (XMP) says that it follows PDF/UA-1 (ISO 14289-1, clause 5)."""


def flat(text: str) -> str:
    """Return text without blanks and hyphens at line ends: a line may break anywhere."""
    return re.sub(r"[\s\u00a0\u202f\u00ad\u2010-]+", "", text)


def pages_of(pdf: Path) -> list[str]:
    """Return the text of every page."""
    done = subprocess.run(["pdftotext", "-enc", "UTF-8", pdf, "-"], check=True, capture_output=True)
    return done.stdout.decode().split("\f")


def wanted(job: Job, opened: Opened) -> Iterator[tuple[str, str]]:
    """Yield what must stand on the pages of a job, each with what it is."""
    guide = opened.guide
    sheet = sheet_of(job, opened)
    assert sheet is not None, f"{job.path} was not walked"
    for row in sheet.set_up.cautions:
        for words in (row.what.hazard, row.what.consequence, *row.what.avoid):
            yield "safety message", words
    sentences = catalogue(opened)
    things = guide.machine.things if guide.machine else {}
    for printed in sheet.walk():
        action = printed.step.action
        if isinstance(action, Tighten):
            for ref in action.things:
                thing = things[ref.name]
                assert isinstance(thing, Fastener)
                if torque := sentences.torque(thing, action.torque):
                    yield "torque", torque


def job_texts(pages: list[str], guide: Guide) -> dict[str, str]:
    """Return the text of each job, by its name: from the page that begins with its title to that of the next job."""
    titles = {flat(job.title): job.key for job in guide.jobs.values()}
    texts: dict[str, str] = {}
    current = None
    for page in pages:
        lines = [flat(line) for line in page.splitlines() if line.strip()]
        if "Purpose" in lines:
            current = next((titles[line] for line in lines if line in titles), current)
        if current:
            texts[current] = texts.get(current, "") + flat(page)
    return texts


def faults_of(pdf: Path, opened: Opened) -> Iterator[str]:
    """Yield what a PDF lacks."""
    texts = job_texts(pages_of(pdf), opened.guide)
    for job in opened.guide.jobs.values():
        if job.key not in texts:
            yield f"{pdf.name}: no page begins the job '{job.key}'"
            continue
        for kind, words in dict.fromkeys(wanted(job, opened)):
            if flat(words) not in texts[job.key]:
                yield f"{pdf.name}: {kind} of '{job.key}' is not printed: {words}"
    for fault in layout_faults(pdf):
        yield f"{pdf.name}: {fault}"
    metadata = PdfReader(pdf).root_object.get("/Metadata")
    written = metadata.get_object() if metadata is not None else None
    if not isinstance(written, StreamObject) or not PDF_UA.search(written.get_data().decode("utf-8", "replace")):
        yield f"{pdf.name}: the metadata does not say PDF/UA-1"


def main(folder: Path) -> int:
    """Read all manuals below a folder; return 1 when one lacks something."""
    faults: list[str] = []
    pdfs = sorted(folder.glob("*/*.pdf"))
    for pdf in pdfs:
        opened = open_guide(read_guide(Path("procedures") / pdf.parent.name))
        told = list(faults_of(pdf, opened))
        count = sum(len(dict.fromkeys(wanted(job, opened))) for job in opened.guide.jobs.values())
        print(f"{pdf.name}: {count} safety messages and torques looked for, {len(told)} faults")
        faults += told
    for guide_file in sorted(Path("procedures").glob("*/guide.yaml")):
        name = guide_file.parent.name
        faults += [
            f"{name}: there is no PDF for {paper}"
            for paper in ("a4", "letter")
            if folder / name / f"{name}-{paper}.pdf" not in pdfs
        ]
    print(*faults, sep="\n")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1])))
