"""Read printed manuals back: does each hold all safety messages and torques of its jobs, and say that it is PDF/UA-1
and PDF/A-2a? Does each safety message stand right before its step, on the same page, each block that opens a job on
one page, and has each picture its words? Does anything run into something else or out of its column, or stand apart
from what it belongs to, or is a page nearly empty? What else can be seen of PDF/UA-1 is asked of `pdfua`.

    python .ci/pdf.py FOLDER

FOLDER has one folder a guide, named as the guide's. The text comes from `pdftotext`, so from outside Putback.
"""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

from pdfua import validate
from pypdf import PdfReader
from pypdf.generic import DictionaryObject, StreamObject
from tests.printed import layout_faults

from putback.guide.reading import read_guide
from putback.guide.record import Guide
from putback.ledger.opened import Opened, open_guide
from putback.model.job import Job
from putback.model.machine import Fastener
from putback.model.verbs.pieces import Tighten
from putback.sheet import sheet_of
from putback.words import as_text, catalogue

STANDARDS = {
    "PDF/UA-1": re.compile(r"pdfuaid:part(>|=[\"'])1\b"),
    "PDF/A-2": re.compile(r"pdfaid:part(>|=[\"'])2\b"),
    "conformance A": re.compile(r"pdfaid:conformance(>|=[\"'])A\b"),
}
"""How a file's metadata (XMP) says what it follows (ISO 14289-1, clause 5; ISO 19005-2, clause 6.6.4)."""

BEGINNING = 24
"""So many letters of a step's sentence are looked for after its safety message."""


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


def after_messages(job: Job, opened: Opened) -> Iterator[tuple[str, str]]:
    """Yield the hazard of each safety message of a job, with how the sentence of its step begins."""
    sheet = sheet_of(job, opened)
    assert sheet is not None, f"{job.path} was not walked"
    sentences, waiting = catalogue(opened), list[str]()
    for printed in sheet.walk():
        waiting += [shown.message.hazard for shown in printed.messages]
        if printed.number and not printed.goes_to:
            said = flat(as_text(sentences.step(printed.step, printed.stays_in)))[:BEGINNING]
            yield from ((hazard, said) for hazard in waiting)
            waiting.clear()


def parted_messages(pages: list[str], job: Job, opened: Opened) -> Iterator[str]:
    """Yield the safety messages that no page of a job has before their step."""
    for hazard, said in dict.fromkeys(after_messages(job, opened)):
        # The block that opens the job names the hazard too: the step must come after one of them.
        if not any(said in page.partition(flat(hazard))[2] for page in pages):
            yield f"'{hazard}' is not on the page of its step: {said}"


def pictures_without_words(reader: PdfReader) -> int:
    """Return how many pictures of the structure tree have no alternative text."""
    items = [reader.get_object(at) for at in range(1, len(reader.xref[0]) + len(reader.xref_objStm) + 1)]
    figures = [item for item in items if isinstance(item, DictionaryObject) and item.get("/S") == "/Figure"]
    return sum(1 for figure in figures if not str(figure.get("/Alt", "")).strip())


def job_texts(pages: list[str], guide: Guide) -> dict[str, list[str]]:
    """Return the pages of each job, by its name: from that which begins with its title to that of the next job."""
    titles = {flat(job.title): job.key for job in guide.jobs.values()}
    texts: dict[str, list[str]] = {}
    current = None
    for page in pages:
        lines = [flat(line) for line in page.splitlines() if line.strip()]
        if "Purpose" in lines:
            current = next((titles[line] for line in lines if line in titles), current)
        if current:
            texts.setdefault(current, []).append(flat(page))
    return texts


def faults_of(pdf: Path, opened: Opened) -> Iterator[str]:
    """Yield what a PDF lacks."""
    texts = job_texts(pages_of(pdf), opened.guide)
    for job in opened.guide.jobs.values():
        if job.key not in texts:
            yield f"{pdf.name}: no page begins the job '{job.key}'"
            continue
        whole = "".join(texts[job.key])
        for kind, words in dict.fromkeys(wanted(job, opened)):
            if flat(words) not in whole:
                yield f"{pdf.name}: {kind} of '{job.key}' is not printed: {words}"
        for told in parted_messages(texts[job.key], job, opened):
            yield f"{pdf.name}: in '{job.key}', {told}"
        labels = catalogue(opened).labels.job
        for label in (labels.safety_messages, labels.new_parts, labels.tools, labels.consumables, labels.equipment):
            if flat(label) not in texts[job.key][0]:
                yield f"{pdf.name}: the block that opens '{job.key}' goes on overleaf: {label}"
    for fault in layout_faults(pdf, ends=True):
        yield f"{pdf.name}: {fault}"
    yield from (f"{pdf.name}: {fault}" for fault in standard_faults(pdf))


def standard_faults(pdf: Path) -> Iterator[str]:
    """Yield what a PDF lacks of the standards that it follows."""
    reader = PdfReader(pdf)
    metadata = reader.root_object.get("/Metadata")
    written = metadata.get_object() if metadata is not None else None
    said = written.get_data().decode("utf-8", "replace") if isinstance(written, StreamObject) else ""
    yield from (f"the metadata does not say {name}" for name, known in STANDARDS.items() if not known.search(said))
    if bare := pictures_without_words(reader):
        yield f"{bare} pictures have no alternative text"
    yield from (f"{found.rule_id}: {found.message}" for found in validate(str(pdf)).findings)


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
