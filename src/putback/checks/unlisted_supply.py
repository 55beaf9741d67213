"""A job's own list of what it needs lacks something that its steps use, or has too little of it.

The list came from somewhere: a parts leaflet, a service sheet, the author's own notes. Where it and the steps differ,
one of them is wrong; and who buys by the list is one gasket short on the day. What only a branch uses may be left out.

Add it under `supplies`, or correct the step.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.called import named
from putback.sheet.compared import Lacking, compared
from putback.source.finding import Level
from putback.source.grammar import listed, number
from putback.source.quoting import quote
from putback.units import Quantity

LEVEL = Level.WARNING
GROUP = Group.TOOLS

FAILS = """
# machine.yaml
machine: Trial
parts: {lid: {}, felt: {}, ring: {}}
stacks: [[lid, ring, felt]]
# jobs/example.yaml
supplies:
  parts: {felt: 1}
  ^^^^^ the steps use a new ring, but it is not listed here
steps:
  - remove: [lid, ring, felt]
  - install: felt
    new: true
  - install: ring
    new: true
  - install: lid
  - check: lid
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
# machine.yaml
machine: Trial
parts: {lid: {}, felt: {}, ring: {}}
stacks: [[lid, ring, felt]]
# jobs/example.yaml
supplies:
  parts: {felt: 1, ring: 1}
steps:
  - remove: [lid, ring, felt]
  - install: felt
    new: true
  - install: ring
    new: true
  - install: lid
  - check: lid
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield what lists of jobs lack: what is listed too small alone, the rest together by list and variants."""
    for each in compared(opened):
        together: dict[object, list[Lacking]] = {}
        for lack in each.lacking():
            if lack.has is None:
                together.setdefault((lack.key, lack.variants), []).append(lack)
            else:
                yield _too_small(lack)
        for lacks in together.values():
            names = listed([_needed(lack) for lack in lacks])
            several = len(lacks) > 1 or (isinstance(lacks[0].needs, int) and lacks[0].needs > 1)
            message = f"the steps use {names}, but {'they are' if several else 'it is'} not listed here"
            yield Fault(lacks[0].span, message, variants=lacks[0].variants)


def _needed(lack: Lacking) -> str:
    """Return what is needed, in words: `two new cover gaskets`, `4.5 l of coolant`, `'grease'`."""
    if isinstance(lack.what, str):
        return quote(lack.what)
    if isinstance(lack.needs, int):
        count = "a" if lack.needs == 1 else number(lack.needs)
        return f"{count} new {named(lack.what, lack.needs)}"
    return f"{lack.needs.text} of {lack.what.name}" if lack.needs else lack.what.name


def _too_small(lack: Lacking) -> Fault:
    assert not isinstance(lack.what, str)
    if isinstance(lack.needs, int) and isinstance(lack.has, int):
        message = f"{number(lack.has)} {named(lack.what, lack.has)} {'is' if lack.has == 1 else 'are'} listed here"
        return Fault(lack.span, f"{message}, but the steps use {number(lack.needs)} new ones", variants=lack.variants)
    has, needs = (each.text if isinstance(each, Quantity) else "" for each in (lack.has, lack.needs))
    message = f"{has} of {lack.what.name} is listed here, but the steps fill in {needs}"
    return Fault(lack.span, message, hint=f"write '{needs}'", variants=lack.variants)
