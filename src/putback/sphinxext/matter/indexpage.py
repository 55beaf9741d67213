"""The index: each thing with the jobs and steps that handle it, on screen by steps, on paper by pages."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from docutils import nodes
from sphinx import addnodes

from putback.ledger.opened import Opened
from putback.model.library import Equipment, Tool
from putback.model.symptoms import Symptom
from putback.prose.placed import placed
from putback.sheet.indexed import BY_NAME, Indexed, IndexGroup, InJob, index_of
from putback.sphinxext import nodes as own
from putback.sphinxext.building import link, paragraph
from putback.sphinxext.pointers import step_target
from putback.sphinxext.symptomtable import signs
from putback.telling import in_order
from putback.words import Language

DIRECTIVE = "putback-index"
"""What a page shows it with."""

SYMPTOMS = "putback-symptoms"
"""What shows the signs that the index leads to."""

INDEX = "putback_index"
"""Where a page's metadata say that it has the index."""

GROUPS = {
    IndexGroup.PARTS: "parts",
    IndexGroup.FASTENERS: "fasteners",
    IndexGroup.FLUIDS: "fluids",
    IndexGroup.SETTINGS: "settings",
    IndexGroup.TOOLS: "tools",
    IndexGroup.SUPPLIES: "supplies",
    IndexGroup.HAZARDS: "hazards",
}
"""The label of the heading of each group, in the order in which they are printed."""


def index(opened: Opened, words: Language, level: int) -> list[nodes.Node]:
    """Return the index, its groups under headings of a level."""
    labels, entries = words.labels.reference.index, index_of(opened)
    tag = opened.guide.cover.language if opened.guide.cover else None
    if not entries:
        return [paragraph(labels.empty)]
    found = own.index_list()
    if SYMPTOMS in placed(opened.guide) and (told := list(signs(opened))):
        found += nodes.rubric("", labels.signs, **{"heading-level": level})
        found += [_sign(symptom) for symptom, _ in told]
    for group, label in GROUPS.items():
        named = [(_name(entry, words), entry) for entry in entries if entry.group is group]
        if named:
            found += nodes.rubric("", getattr(labels, label), **{"heading-level": level})
        found += [_entry(name, entry, words) for name, entry in sorted(named, key=lambda pair: in_order(pair[0], tag))]
    return [_only("html", labels.lead_steps), _only("typst", labels.lead_pages), found]


def _sign(symptom: Symptom) -> own.index_entry:
    """Return an entry for a sign: it leads to its causes."""
    head = nodes.paragraph(classes=["index-name"])
    head += link("symptom", symptom.key, symptom.sign.removesuffix("."))
    return own.index_entry("", head, brief=False)


def _only(form: str, words: str) -> nodes.Element:
    return addnodes.only("", paragraph(words), expr=form)


def _name(entry: Indexed, words: Language) -> str:
    if not isinstance(entry.what, str):
        return words.title_of(entry.what)
    known: Mapping[str, Tool | Equipment] = words.library.tools | words.library.equipment  # type: ignore[operator]
    name = entry.what
    if entry.group is IndexGroup.TOOLS and not any(each.name == name for each in known.values()):
        name = words.tool_for(name)
    return f"{name[:1].upper()}{name[1:]}"


def _entry(name: str, entry: Indexed, words: Language) -> own.index_entry:
    """Return an entry: its name, with a link to the machine's page when it is a thing of it, and its jobs."""
    # Of a tool or a hazard, that is in many jobs, the pages are enough on paper.
    node = own.index_entry(brief=entry.group in BY_NAME)
    head = nodes.paragraph(classes=["index-name"])
    head += nodes.Text(name) if isinstance(entry.what, str) else link("at", entry.what.key, name)
    node += head
    node += [_use(used, words) for used in entry.jobs]
    return node


def _use(used: InJob, words: Language) -> own.index_use:
    """Return a line of an entry: the job, and what it does in which steps."""
    node = own.index_use()
    node += link("job", used.job.key, used.job.title)
    for at, part in enumerate(_done(used, words)):
        node += nodes.Text(", " if at else ": ")
        node += [nodes.Text(f"{part['label']}\N{NO-BREAK SPACE}"), part]
    return node


def _done(used: InJob, words: Language) -> Iterator[own.numbers]:
    labels = words.labels.reference.index
    for done in used.done:
        part = own.numbers(label=getattr(labels, done.handling or "step"))
        for at, number in enumerate(done.steps):
            part += [nodes.Text(", ")] if at else []
            part += link("step", step_target(used.job, number), number)
        yield part
