"""The symptom table: a heading for each sign, and its causes with what to check and what mends them."""

from __future__ import annotations

from collections.abc import Iterator

from docutils import nodes

from putback.ledger.opened import Opened
from putback.model.symptoms import Cause, Symptom
from putback.sphinxext import nodes as own
from putback.sphinxext.building import Cell, link, paragraph, table
from putback.sphinxext.pointers import pointed
from putback.words import Language


def symptom_table(opened: Opened, words: Language, level: int) -> list[nodes.Node]:
    """Return all signs, each as a heading of a level with the table of its causes, the likeliest first."""
    labels = words.labels.upkeep
    found: list[nodes.Node] = []
    for symptom, there in signs(opened):
        found.append(_sign(symptom, words, level))
        rows = [_row(cause, opened, words) for cause in there]
        found.append(
            table([labels.cause, labels.check, labels.mend], rows, (28, 38, 34), "symptoms", "colwidths-given")
        )
    if not found:
        return [paragraph(labels.no_symptom)]
    return pointed([paragraph(labels.symptoms_lead), *found], opened, words)


def signs(opened: Opened) -> Iterator[tuple[Symptom, list[Cause]]]:
    """Yield the signs that the chosen variants can show, each with its causes in them."""
    graph = opened.graph
    for symptom in opened.guide.symptoms.values():
        there = [cause for cause in symptom.causes if graph is None or graph.applies(cause.when)]
        if there and (graph is None or graph.applies(symptom.when)):
            yield symptom, there


def _sign(symptom: Symptom, words: Language, level: int) -> nodes.rubric:
    """Return the heading of a sign."""
    limit = words.only_when(symptom.when)
    said = f"{limit} {symptom.sign}" if limit else symptom.sign
    heading = nodes.rubric("", said.removesuffix("."), **{"heading-level": level})
    heading["ids"] = [sign_id(symptom)]
    return heading


def sign_id(symptom: Symptom) -> str:
    """Return the id of the heading of a sign."""
    return nodes.make_id(f"{symptom.key}-symptom")


def _row(cause: Cause, opened: Opened, words: Language) -> list[Cell]:
    limit = words.only_when(cause.when)
    name = paragraph("")
    name += own.only_when(f"{limit}", f"{limit}", label=limit) if limit else nodes.Text(cause.cause)
    names = [name, paragraph(cause.cause)] if limit else [name]
    then: list[nodes.Node] = []
    if cause.job is not None and cause.job.name in opened.guide.jobs:
        job = opened.guide.jobs[cause.job.name]
        line = nodes.paragraph()
        line += link("job", job.key, job.title)
        then.append(line)
    if cause.mend:
        then.append(paragraph(cause.mend))
    return [names, cause.check, then]
