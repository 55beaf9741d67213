"""From the tree of a job or block file to a `Job` or `Block`."""

from __future__ import annotations

from pathlib import PurePath

from putback.model.build_figure import read_figure
from putback.model.cost import read_cost
from putback.model.interval import read_interval
from putback.model.job import Block, Job, Later, Outcome, Section, Step, walk
from putback.model.reading import Reader
from putback.model.supplies import read_supplies
from putback.model.terms import Ref
from putback.model.verb import AnyVerb
from putback.model.verbs import VERBS
from putback.source.finding import Finding, Level
from putback.source.tree import Listing, Mapping, Node
from putback.units import Kind

_ALSO_KEYS = {key: [verb for verb in VERBS.values() if key in verb.keys] for key in VERBS}
"""Verbs beside which the word of another is a key of theirs: the way to `turn` while a part goes on."""


def build_job(root: Mapping, path: str) -> tuple[Job, list[Finding]]:
    """Return the job in a file that the job schema accepted, and what is wrong with its values."""
    reader = Reader()
    heading = root.entries["job"]
    people = reader.whole(root.get("people")) or 1
    job = Job(
        key=PurePath(path).stem,
        path=path,
        title=reader.text(heading.value) or "",
        span=heading.key.span,
        sections=_sections(reader, root),
        waive=reader.waive(root.get("waive")),
        purpose=reader.text(root.get("purpose")),
        interval=read_interval(reader, root),
        people=people,
        time=reader.quantity(root.get("time"), Kind.TIME),
        cost=read_cost(reader, root),
        skill=reader.text(root.get("skill")),
        after=reader.ref(root.get("after")),
        before=reader.ref(root.get("before")),
        ends_with=reader.refs(root.get("ends-with")),
        later=_later(reader, root, path, people),
        supplies=read_supplies(reader, root.get("supplies")),
    )
    return job, reader.faults


def build_block(root: Mapping, path: str) -> tuple[Block, list[Finding]]:
    """Return the block in a file that the block schema accepted, and what is wrong with its values."""
    reader = Reader()
    heading = root.entries["block"]
    block = Block(
        key=PurePath(path).stem,
        path=path,
        title=reader.text(heading.value) or "",
        span=heading.key.span,
        sections=_sections(reader, root),
        waive=reader.waive(root.get("waive")),
        ends_with=reader.refs(root.get("ends-with")),
        begins_with=reader.refs(root.get("begins-with")),
        own_page=reader.flag(root.get("own-page")),
        takes=reader.pairs(root.get("takes")),
    )
    return block, reader.faults


def _later(reader: Reader, root: Mapping, path: str, people: int) -> Later | None:
    """Return the follow-ups of a job; they are walked apart from it, so that they have a path of their own."""
    pair = root.entries.get("follow-ups")
    if pair is None or not isinstance(pair.value, Listing):
        return None
    sections = tuple(
        Section(
            title=None,
            after=reader.due(item.get("after")),
            when=reader.when(item.get("when")),
            steps=_steps(reader, item.get("steps")),
        )
        for item in pair.value.items
        if isinstance(item, Mapping)
    )
    key = PurePath(path).stem
    title = reader.text(root.get("job")) or ""
    return Later(key=key, path=f"{path} later", title=title, span=pair.key.span, sections=sections, people=people)


def _sections(reader: Reader, root: Mapping) -> tuple[Section, ...]:
    if root.get("steps") is not None:
        return (Section(title=None, steps=_steps(reader, root.get("steps"))),)
    sections = root.get("sections")
    return tuple(
        Section(
            title=reader.text(item.get("title")),
            when=reader.when(item.get("when")),
            steps=_steps(reader, item.get("steps")),
        )
        for item in (sections.items if isinstance(sections, Listing) else [])
        if isinstance(item, Mapping)
    )


def _steps(reader: Reader, node: Node | None) -> tuple[Step, ...]:
    items = node.items if isinstance(node, Listing) else []
    return tuple(_step(reader, item) for item in items if isinstance(item, Mapping))


def _step(reader: Reader, node: Mapping) -> Step:
    verb = verb_in(node)
    entry = node.entries[verb.name]
    return Step(
        verb=verb,
        action=verb.read(reader, entry.value, node),
        key=entry.key.span,
        span=node.span,
        text=reader.text(node.get("text")),
        note=reader.text(node.get("note")) if verb.name != "note" else None,
        because=reader.text(node.get("because")),
        tools=reader.refs(node.get("tool")),
        figure=read_figure(reader, node.get("figure")),
        time=reader.quantity(node.get("time"), Kind.TIME),
        when=reader.when(node.get("when")),
        name=reader.ref(node.get("name")),
        waive=reader.waive(node.get("waive")),
        otherwise=_steps(reader, node.get("otherwise")) if verb.asks else (),
        outcomes=_outcomes(reader, node.get("outcomes"), node.get(verb.name)) if verb.sorts else (),
        steps=_repeated(reader, node, reader.refs(entry.value)) if verb.repeats else (),
        at=reader.refs(node.get("at")) if verb.at_places else (),
        counted="count" in node.entries,
    )


def _repeated(reader: Reader, node: Mapping, things: tuple[Ref, ...]) -> tuple[Step, ...]:
    """Return what is done for each of some places; that it is done for each of them once more makes no sense."""
    steps = _steps(reader, node.get("steps"))
    for inner in walk(steps):
        for ref in inner.things if inner.verb.repeats else ():
            if ref.name in {each.name for each in things}:
                message = f"'each: {ref.name}' is inside another 'each', which is already for one {ref.name}"
                hint = "delete the inner one"
                reader.faults.append(Finding("wrong-shape", Level.ERROR, ref.span, message, hint=hint))
    return steps


def _outcomes(reader: Reader, node: Node | None, measured: Node | None) -> tuple[Outcome, ...]:
    words, outcomes = reader.text(measured) or "", []
    for item in node.items if isinstance(node, Listing) else []:
        found = item.entries.get("found") if isinstance(item, Mapping) else None
        limit = reader.limit(found.value, words, words) if found else None
        if found and limit and isinstance(item, Mapping):
            outcomes.append(Outcome(limit, _steps(reader, item.get("steps")), found.key.span))
    return tuple(outcomes)


def verb_in(node: Mapping) -> AnyVerb:
    """Return the verb of a step; the word of another may stand beside it as a key, and `note` beside all."""
    found = [VERBS[key] for key in node.entries if key in VERBS]
    if len(found) > 1:
        found = [verb for verb in found if verb.name != "note" and not any(o in found for o in _ALSO_KEYS[verb.name])]
    return found[0]
