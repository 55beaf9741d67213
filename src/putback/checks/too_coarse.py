"""A measuring tool is too coarse for the limit.

The depth rod of a caliper cannot tell a groove of 0.3 mm from one of 0.4 mm: a worn plate passes, and a good one is
thrown away. Measuring equipment should be ten times as fine as the tolerance, and at least four times.

Name a finer tool, or more than one: the finest counts. A tool gives its resolution in tools.yaml, as `reads`; a tool
without it is not judged.

Sources: ten times, NASA NHB 5300.4(1B), section 9, as quoted in NASA RP-1342; four times, common practice (US
MIL-STD-45662A, from memory).
"""

from collections.abc import Iterator, Mapping

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.good import limit_of
from putback.model.job import Step
from putback.model.library import Library, Tool
from putback.model.machine import AnyThing, Part
from putback.model.said import Limit
from putback.model.verbs.adjusting import Adjust
from putback.model.verbs.asking import Measure, Verify
from putback.source.finding import Also, Level
from putback.source.quoting import quote
from putback.units import Kind, Quantity, digits, si

LEVEL = Level.WARNING
GROUP = Group.TOOLS
NEEDS = frozenset({"tool"})

FAILS = """
# machine.yaml
machine: Bench pump
parts:
  pump-plate: {wear: {measure: depth of the deepest groove, limit: "<= 0.3 mm"}}
# tools.yaml
caliper: {name: caliper with depth rod, reads: 0.05 mm}
# jobs/example.yaml
steps:
  - measure: pump-plate
    tool: caliper
          ^^^^^^^ caliper with depth rod reads depths to 0.1 mm, too coarse for '<= 0.3 mm'
    otherwise:
      - stop: Renew it.
"""

PASSES = """
# machine.yaml
machine: Bench pump
parts:
  pump-plate: {wear: {measure: depth of the deepest groove, limit: "<= 0.3 mm"}}
# tools.yaml
depth-gauge: {name: dial depth gauge, reads: 0.01 mm}
# jobs/example.yaml
steps:
  - measure: pump-plate
    tool: depth-gauge
    otherwise:
      - stop: Renew it.
"""

_LEAST = 4
"""How often what a tool tells apart must go into the tolerance."""
_NEAR = 1e-9
_ROD = 2
"""How much coarser the depth rod of a caliper is than its jaws: it tilts, and its foot is wide. Common practice, no
source."""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield tools that tell apart more than a quarter of what a limit allows, where no finer one is named."""
    library = opened.guide.library
    if not any(tool.reads for tool in library.tools.values()):
        return
    things = opened.guide.machine.things if opened.guide.machine else {}
    for sequence in opened.nesting.sequences():
        for step in sequence.steps():
            if step.tools and isinstance(step.action, Measure | Verify | Adjust):
                apart = step.action.difference if isinstance(step.action, Measure) else None
                limits = (apart, limit_of(step.action, things))
                words = " ".join(_words(step, things)).lower()
                yield from _coarse(step, [each for each in limits if each and each.quantity], words, library)


def _words(step: Step, things: Mapping[str, AnyThing]) -> Iterator[str]:
    """Yield the words that say what is measured."""
    yield step.text or ""
    for ref in step.things:
        thing = things.get(ref.name)
        yield ref.name if thing is None else thing.name
        yield (thing.wear.measure or "") if isinstance(thing, Part) and thing.wear else ""


def _coarse(step: Step, limits: list[Limit], words: str, library: Library) -> Iterator[Fault]:
    tools = [(ref, library.tools[ref.name]) for ref in step.tools if ref.name in library.tools]
    for limit in limits:
        allowed = _tolerance(limit.quantity)
        known = [(_least(tool, limit.quantity, words), ref, tool) for ref, tool in tools]
        fit = [(least, ref, tool) for least, ref, tool in known if least is not None]
        if not fit or allowed is None:
            continue
        least, ref, tool = min(fit, key=lambda each: each[0])
        if least * _LEAST > allowed * (1 + _NEAR):
            reads = next(each for each in tool.reads if _is_of(each, limit.quantity))
            apart = reads.text if not _by_rod(tool, words) else f"{digits(_ROD * float(reads.high or 0))} {reads.unit}"
            how = "reads depths" if _by_rod(tool, words) else "reads"
            message = f"{tool.name} {how} to {apart}, too coarse for {quote(limit.text)}"
            also = (Also(limit.span, "the limit"),)
            yield Fault(ref.span, message, also, "name a tool that is four times as fine as the limit, or ten times")
            return


def _tolerance(quantity: Quantity | None) -> float | None:
    """Return how much a limit allows, SI: from one end to the other, or from nothing; None where it has no bound."""
    low, high = si(quantity) if quantity else (None, None)
    if high is None or (quantity and quantity.kind is Kind.TEMPERATURE and low is None):
        return None
    return high - (low or 0.0) or None


def _least(tool: Tool, quantity: Quantity | None, words: str) -> float | None:
    found = [si(each)[1] for each in tool.reads if _is_of(each, quantity)]
    least = next((each for each in found if each is not None), None)
    return least * _ROD if least is not None and _by_rod(tool, words) else least


def _by_rod(tool: Tool, words: str) -> bool:
    return "depth rod" in tool.name.lower() and ("depth" in words or "groove" in words)


def _is_of(reads: Quantity, quantity: Quantity | None) -> bool:
    if quantity is None:
        return False
    kind = Kind.DIFFERENCE if quantity.kind is Kind.TEMPERATURE else quantity.kind
    return reads.kind is kind
