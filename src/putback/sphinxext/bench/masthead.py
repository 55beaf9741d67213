"""The head of the sheet of a job: which machine and which book, where it is on screen, and what to read first."""

from __future__ import annotations

from urllib.parse import quote

from docutils import nodes

from putback.drawings.code import code_drawing
from putback.ledger.opened import Opened
from putback.model.job import Block, Job
from putback.sphinxext import nodes as own
from putback.sphinxext.building import paragraph
from putback.words import Language


def masthead(job: Job | Block, opened: Opened, words: Language) -> own.masthead:
    """Return the head of a sheet; with a code to scan where the guide says at which address it is published."""
    labels, address = words.labels.bench, address_of(job, opened)
    alt = labels.code.format(address=address) if address else ""
    svg = code_drawing(address, label=alt) if address else ""
    cover = opened.guide.cover
    head = own.masthead(kicker=labels.kind, svg=svg, alt=alt)
    if address:
        line = paragraph(f"{labels.on_screen} ", "web")
        line += nodes.reference(address, address, refuri=address)
        head += line
    if cover and cover.read_first:
        head += paragraph(cover.read_first, "notice")
    return head


def address_of(job: Job | Block, opened: Opened) -> str:
    """Return the address of a job's page; nothing where the guide does not say where it is published."""
    cover = opened.guide.cover
    return f"{cover.web}/jobs/{quote(job.key)}.html" if cover and cover.web else ""
