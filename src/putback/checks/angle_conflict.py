"""A text gives a different crowfoot angle from the machine file.

The setting of the torque wrench is worked out from the angle: in line, a crowfoot lengthens the lever; at a right angle
it does not. Hold it as the text says, with the setting that is printed, and the bolt gets the wrong torque.

Give the angle in the machine file only, as `wrench-angle` at the fastener (in line if it is not given). Steps print it
with the setting.
"""

import re
from collections.abc import Iterator, Mapping

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.called import named
from putback.model.job import Step
from putback.model.library import Library
from putback.model.machine import Fastener
from putback.model.said import Said, said_in
from putback.model.thing import Thing
from putback.model.verbs.pieces import Tighten
from putback.prose.aims import sentences
from putback.prose.markdown import read_page
from putback.prose.pages import Passage, passage_of
from putback.source.finding import Also, Level
from putback.source.late import Late
from putback.units import digits

LEVEL = Level.ERROR
GROUP = Group.TORQUE

FAILS = """
# machine.yaml
machine: Bench pump
fasteners:
  union-nut:
    kind: nut
    class: "5"
    thread: M12 x 1.5
    torque: 22 N·m
    tool: crowfoot
    note: The crowfoot stands at a right angle to the wrench.
                              ^^^^^^^^^^^^^^^^ 'at a right angle' here, but the machine file says in line for union nut
# tools.yaml
crowfoot: {name: 17 mm crowfoot, extends: 45 mm}
torque-wrench: {range: 10 N·m .. 60 N·m, lever: 380 mm}
"""

PASSES = """
# machine.yaml
machine: Bench pump
fasteners:
  union-nut:
    kind: nut
    class: "5"
    thread: M12 x 1.5
    torque: 22 N·m
    tool: crowfoot
    wrench-angle: 90°
    note: The crowfoot stands at a right angle to the wrench, never in line.
# tools.yaml
crowfoot: {name: 17 mm crowfoot, extends: 45 mm}
torque-wrench: {range: 10 N·m .. 60 N·m, lever: 380 mm}
"""

_ANGLE = Late(
    r"(?P<line>\b(?:straight )?in (?:a |one )?(?:straight )?line\b|\bstraight (?:out|on|ahead)\b)"
    r"|(?P<right>\b(?:at (?:a )?right angles?|square(?:ly)? (?:to|across|on)|perpendicular(?:ly)?|crosswise to)\b)"
    r"|(?P<degrees>\b(?:at |by )?(?P<number>[0-9]{1,3}(?:\.[0-9]{1,2})?) ?(?:°|degrees?\b))",
    re.IGNORECASE,
)
_WRENCH = Late(r"\b(?:crow-?foot|crow's foot|wrench|spanner|extension|adapter|handle|lever)", re.IGNORECASE)
"""What the sentence must speak of: `in line` is said of much else."""
_NOT = Late(r"\b(?:not|never|no|than|unless|instead of|n't)\s+(?:[\w'-]+\s+){0,2}$", re.IGNORECASE)
_SLACK = 0.5
"""Degrees by which an angle may differ."""
_TURNED = Late(r"\s*(?:further|more|turn|on\b|after|past)", re.IGNORECASE)
"""Behind an angle by which a bolt is turned."""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield angles in texts on fasteners that a crowfoot turns: theirs, of their steps, or that name them."""
    machine, guide = opened.guide.machine, opened.guide
    if machine is None or "tool" in guide.library.broken:
        return
    fasteners = [thing for thing in machine.things.values() if isinstance(thing, Fastener)]
    turned = {thing.key: thing for thing in fasteners if _through(thing, None, guide.library)}
    steps = [step for sequence in opened.nesting.sequences() for step in sequence.steps()]
    own: dict[int, list[Fastener]] = {}
    for at, step in enumerate(steps):
        if isinstance(step.action, Tighten):
            things = [thing for ref in step.things if isinstance(thing := machine.things.get(ref.name), Fastener)]
            own[at] = [thing for thing in things if _through(thing, step, guide.library)]
            turned.update((thing.key, thing) for thing in own[at])
    if not turned:
        return
    for thing in turned.values():
        for _, text in said_in(thing, but=Thing):
            yield from _said(text, [thing], turned)
    for at, step in enumerate(steps):
        for _, text in said_in(step, but=Step):
            yield from _said(text, own.get(at, []), turned)
    for path, page in guide.pages.items():
        for passage in read_page(path, page).passages if _speaks(page) else ():
            yield from _told_in(passage, [], turned)


def _through(thing: Fastener, step: Step | None, library: Library) -> bool:
    """Tell whether a fastener is turned through a crowfoot or an extension."""
    refs = [*(step.tools if step else ()), *([thing.tool] if thing.tool else [])]
    return thing.wrench_angle is not None or any(
        ref.name in library.tools and library.tools[ref.name].extends is not None for ref in refs
    )


def _speaks(text: str) -> bool:
    """Tell quickly whether a text may say how a crowfoot is held."""
    return _WRENCH.search(text) is not None and _ANGLE.search(text) is not None


def _said(text: Said, own: list[Fastener], turned: Mapping[str, Fastener]) -> Iterator[Fault]:
    if _speaks(text):
        yield from _told_in(passage_of(text), own, turned)


def _told_in(passage: Passage, own: list[Fastener], turned: Mapping[str, Fastener]) -> Iterator[Fault]:
    """Yield the angles that none of the fasteners has of which a sentence speaks."""
    for start, end in sentences(passage.text):
        sentence = passage.text[start:end]
        called = [each for each in turned.values() if named(each, 1) in sentence or named(each, 2) in sentence]
        things = called or own
        for found in _ANGLE.finditer(sentence) if things and _WRENCH.search(sentence) else ():
            before, behind = sentence[: found.start()], sentence[found.end() :]
            said = 0.0 if found["line"] else 90.0 if found["right"] else float(found["number"])
            negated = _NOT.search(before) or (found["degrees"] and _TURNED.match(behind))
            if negated or any(abs(_angle(thing) - said) <= _SLACK for thing in things):
                continue
            message = f"'{found[0]}' here, but the machine file says {_told(things[0])} for {named(things[0])}"
            span = passage.span(start + found.start(), start + found.end())
            also = (Also(things[0].span, f"the {named(things[0])}"),)
            yield Fault(span, message, also, hint=f"write 'wrench-angle: {digits(said)}°' there, or correct the text")


def _angle(thing: Fastener) -> float:
    return float(thing.wrench_angle.to("°").nominal or 0) if thing.wrench_angle else 0.0


def _told(thing: Fastener) -> str:
    angle = _angle(thing)
    return f"{digits(angle)}°" if angle else "in line"
