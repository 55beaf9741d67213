"""A text turns a thread the wrong way, or calls it left-hand when the machine file does not.

Turning a left-hand nut the usual way to loosen it tightens it until the stud breaks. If the machine file knows of a
left-hand thread, steps print which way it turns.

Write `LH` after the thread in the machine file, as in `M12 x 1.25 LH`, or correct the text.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.joints.hands import ways
from putback.ledger.opened import Opened
from putback.model.called import counted, verb_s
from putback.model.job import Step
from putback.model.machine import Fastener, Machine
from putback.model.said import Said
from putback.model.screwed import left_handed
from putback.model.verbs.pieces import Install, Loosen, Remove, Tighten
from putback.prose.hands import SaidWay, left_hand_in, ways_in
from putback.prose.pages import passage_of
from putback.source.finding import Also, Level
from putback.source.span import Span

LEVEL = Level.ERROR
GROUP = Group.TORQUE

FAILS = """
# machine.yaml
machine: Bench fan
fasteners:
  hub-nut:
    kind: nut
    thread: M12 x 1.25
    class: "8"
    torque: 75 N·m
    note: It has a left-hand thread.
                   ^^^^^^^^^^^^^^^^ 'left-hand thread' here, but the machine file does not say so of the hub nut
"""

PASSES = """
# machine.yaml
machine: Bench fan
fasteners:
  hub-nut:
    kind: nut
    thread: M12 x 1.25 LH
    class: "8"
    torque: 75 N·m
    note: It has a left-hand thread.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield ways of turning, in texts on fasteners and their steps, that do not fit the thread."""
    machine = opened.guide.machine
    if machine is None:
        return
    for thing in machine.things.values():
        if isinstance(thing, Fastener):
            yield from _called_left(thing, thing.note)
    for sequence in opened.nesting.sequences():
        for step in sequence.steps():
            if isinstance(step.action, Remove | Loosen | Install | Tighten):
                yield from _of_step(step, machine)


def _of_step(step: Step, machine: Machine) -> Iterator[Fault]:
    things = [machine.things.get(ref.name) for ref in step.things]
    turned = [thing for thing in things if isinstance(thing, Fastener)]
    if not turned or len(turned) < len(things) or len({left_handed(thing) for thing in turned}) > 1:
        return
    out = isinstance(step.action, Remove | Loosen)
    turn = step.action.turn if isinstance(step.action, Install) else None
    if turn and turn.name == "clockwise" and left_handed(turned[0]):
        yield _fault(turned[0], turn.span, "clockwise", out=False)
    for text in (step.text, step.note):
        if not isinstance(text, Said):
            continue
        said = list(ways_in(text))
        for way in [way for way in said if _is_wrong(way, said, turned[0], out=out)][:1]:
            span, loosens = passage_of(text).span(way.start, way.end), out if way.loosens is None else way.loosens
            yield _fault(turned[0], span, "clockwise" if way.clockwise else "anticlockwise", out=loosens)
        if len(turned) == 1 and not any(_is_wrong(way, said, turned[0], out=out) for way in said):
            yield from _called_left(turned[0], text)


def _is_wrong(way: SaidWay, said: list[SaidWay], thing: Fastener, *, out: bool) -> bool:
    """Tell whether a way loosens what it should tighten; of a right-hand thread, only when the text says for what.

    Much else is turned beside a right-hand thread. Beside a left-hand one, a text that says one way alone means it.
    """
    if not thing.thread:
        return False
    if way.loosens is None:
        alone = len({each.clockwise for each in said}) == 1
        return left_handed(thing) and alone and way.clockwise != out
    return (way.clockwise == way.loosens) != left_handed(thing)


def _fault(thing: Fastener, span: Span, way: str, *, out: bool) -> Fault:
    hand, right = ("left", "right") if left_handed(thing) else ("right", "left")
    done = "loosened" if out else "tightened"
    wanted = ways(left_hand=left_handed(thing))[0 if out else 1]
    message = (
        f"{counted(thing)} {verb_s(thing, 'has', 'have')} a {hand}-hand thread: {verb_s(thing, 'it is', 'they are')}"
    )
    hint = f"write '{wanted}'"
    if not left_handed(thing):
        hint = f"{hint}, or 'LH' after the thread in the machine file when it is {right}-hand"
    return Fault(span, f"{message} {done} {wanted}, not {way}", (Also(thing.span, "the fastener"),), hint)


def _says_how_tight(thing: Fastener) -> bool:
    """Tell whether a thread can be added to it without a torque being missed next."""
    return bool(thing.thread or thing.torque_span or thing.by_hand or thing.no_torque)


def _called_left(thing: Fastener, text: str | None) -> Iterator[Fault]:
    """Yield where a text calls a thread left-hand that is not marked so; of several alike, it may mean one."""
    if not isinstance(text, Said) or left_handed(thing) or thing.count > 1 or not _says_how_tight(thing):
        return
    found = left_hand_in(text)
    if found is not None:
        words = text[found[0] : found[1]]
        message = f"'{words}' here, but the machine file does not say so of the {thing.name}"
        thread = f"{thing.thread} LH" if thing.thread else "left-hand"
        hint = f"write 'thread: {thread}' for '{thing.key}' in machine.yaml"
        yield Fault(passage_of(text).span(*found), message, (Also(thing.span, "the fastener"),), hint)
