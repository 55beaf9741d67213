"""From the tree of a job or block file to a `Job` or `Block`."""

from __future__ import annotations

from pathlib import PurePath

from putback.model import job as j
from putback.model.job import Block, Figure, Interval, Job, Section, Step, Verb
from putback.model.reading import Reader
from putback.model.terms import Ref
from putback.source.finding import Finding
from putback.source.load import Listing, Mapping, Node
from putback.units import Kind, Quantity

_VERBS = {verb.value: verb for verb in Verb}


def build_job(root: Mapping, path: str) -> tuple[Job, list[Finding]]:
    """Return the job in a file that the job schema accepted, and what is wrong with its values."""
    reader = Reader()
    heading = root.entries["job"]
    job = Job(
        key=PurePath(path).stem,
        path=path,
        title=reader.text(heading.value) or "",
        span=heading.key.span,
        sections=_sections(reader, root),
        accept=reader.accept(root.get("accept")),
        purpose=reader.text(root.get("purpose")),
        interval=_interval(reader, root.get("interval")),
        people=reader.whole(root.get("people")) or 1,
        time=reader.quantity(root.get("time"), Kind.TIME),
        skill=reader.text(root.get("skill")),
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
        accept=reader.accept(root.get("accept")),
        leaves=reader.refs(root.get("leaves")),
        opens=reader.refs(root.get("opens")),
    )
    return block, reader.faults


def _interval(reader: Reader, node: Node | None) -> Interval | None:
    if not isinstance(node, Mapping):
        return None
    return Interval(
        hours=reader.whole(node.get("hours")),
        months=reader.whole(node.get("months")),
        years=reader.whole(node.get("years")),
        km=reader.whole(node.get("km")),
    )


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
    key = next(key for key in node.entries if key in _VERBS and not (key == "note" and len(_verbs(node)) > 1))
    verb = _VERBS[key]
    entry = node.entries[key]
    return Step(
        verb=verb,
        action=_action(reader, verb, entry.value, node),
        key=entry.key.span,
        span=node.span,
        text=reader.text(node.get("text")),
        note=reader.text(node.get("note")) if verb is not Verb.NOTE else None,
        because=reader.text(node.get("because")),
        tools=reader.refs(node.get("tool")),
        figure=_figure(reader, node.get("figure")),
        time=reader.quantity(node.get("time"), Kind.TIME),
        when=reader.when(node.get("when")),
        name=reader.ref(node.get("name")),
        accept=reader.accept(node.get("accept")),
    )


def _verbs(node: Mapping) -> list[str]:
    return [key for key in node.entries if key in _VERBS]


def _figure(reader: Reader, node: Node | None) -> Figure | None:
    if node is None:
        return None
    if isinstance(node, Mapping):
        image = reader.ref(node.get("image"))
        if image is None:
            return None
        width = reader.quantity(node.get("width"), Kind.LENGTH)
        return Figure(image, reader.text(node.get("alt")), reader.text(node.get("caption")), node.span, width)
    image = reader.ref(node)
    return Figure(image, None, None, node.span) if image else None


def _action(reader: Reader, verb: Verb, value: Node, node: Mapping) -> j.Action:
    things = reader.refs(value)
    at = reader.refs(node.get("at"))
    # Named pieces are counted by their names.
    count = reader.whole(node.get("count")) or len(at) or None
    match verb:
        case Verb.REMOVE:
            return j.Remove(things, count, at)
        case Verb.INSTALL:
            return j.Install(things, count, reader.flag(node.get("new")), reader.ref(node.get("turn")), at)
        case Verb.REPLACE:
            return j.Replace(things, count, at)
        case Verb.LOOSEN:
            return j.Loosen(things, count, at)
        case Verb.TIGHTEN:
            torque = node.get("torque")
            span = torque.span if torque else None
            return j.Tighten(things, count, reader.positive(torque, Kind.TORQUE), span, at)
        case Verb.DISCONNECT:
            return j.Disconnect(things, reader.ref(node.get("at")))
        case Verb.CONNECT:
            return j.Connect(things, reader.ref(node.get("at")))
        case Verb.DRAIN:
            return j.Drain(things, reader.quantity(node.get("volume"), Kind.VOLUME))
        case Verb.FILL:
            return j.Fill(things, reader.quantity(node.get("volume"), Kind.VOLUME))
        case Verb.SET:
            return j.Set(things, reader.ref(node.get("to")) or Ref("", value.span))
        case Verb.PLACE:
            return j.Place(things, reader.text(node.get("at")))
        case Verb.CLEAR:
            return j.Clear(things)
        case Verb.MARK:
            return j.Mark(things, reader.text(node.get("against")))
        case Verb.ALIGN:
            return j.Align(things, reader.text(node.get("against")))
        case Verb.APPLY:
            return j.Apply(things, reader.refs(node.get("to")))
        case Verb.CLEAN:
            return j.Clean(things, reader.ref(node.get("with")))
        case Verb.INSPECT:
            return j.Inspect(things, reader.texts(node.get("for")), _steps(reader, node.get("otherwise")))
        case Verb.MEASURE:
            limit = reader.limit_or_words(node.get("limit"), strict=True)
            return j.Measure(things, limit, _steps(reader, node.get("otherwise")))
        case Verb.CHECK:
            limit = reader.limit_or_words(node.get("limit"), strict=False)
            return j.Check(things, limit, _steps(reader, node.get("otherwise")))
        case Verb.RUN:
            return j.Run(things, reader.text(node.get("at")), reader.quantity(node.get("for"), Kind.TIME))
        case Verb.LIFT:
            return _lift(reader, node, things)
        case Verb.WAIT:
            return j.Wait(reader.quantity(value, Kind.TIME), reader.text(node.get("until")))
        case Verb.DO:
            return j.Do(things)
        case Verb.UNDO:
            return j.Undo(things)
        case Verb.AGAIN:
            return j.Again(things)
        case Verb.CAUTION:
            return j.Caution(things)
        case Verb.NOTE:
            return j.Note(reader.text(value) or "")
        case Verb.STOP:
            return j.Stop(reader.text(value) or "")


def _lift(reader: Reader, node: Mapping, things: tuple[Ref, ...]) -> j.Lift:
    def length(key: str) -> Quantity | None:
        return reader.quantity(node.get(key), Kind.LENGTH)

    return j.Lift(
        things,
        with_=reader.ref(node.get("with")),
        people=reader.whole(node.get("people")),
        reach=length("reach"),
        height=length("height"),
        to_reach=length("to-reach"),
        to_height=length("to-height"),
        twist=reader.quantity(node.get("twist"), Kind.ANGLE),
        grip=reader.text(node.get("grip")),
    )
