"""The symptom table contains work.

Work in a table has no safety message before it, no torque, no count and no test at the end: a plug that is unscrewed
"to have a look" goes back by feel, with the leads on. A table is for what can be seen, heard and smelled on the machine
as it is.

Write the work as a job, which is proved, and name it with `job`. If no job of the guide does it, send for somebody:
"Have a professional test the injectors."
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.machine import Fastener, Line, Machine
from putback.model.said import Said
from putback.prose.deeds import Objects, deeds
from putback.prose.pages import passage_of
from putback.source.finding import Level
from putback.source.late import Late
from putback.source.quoting import SENTENCE, quote

LEVEL = Level.WARNING
GROUP = Group.PROOF

FAILS = """
# symptoms.yaml
no-water:
  sign: No water comes.
  causes:
    - cause: The impeller is torn.
      check: Take the pump cover off and look.
             ^^^^^^^^^^^^^^^^^^^^^^^ the table contains work: 'take the pump cover off'
      job: example
# symptoms.md
# Signs

```{putback-symptoms}
```
# jobs/example.yaml
steps:
  - inspect: pump-cover
    for: cracks
    otherwise: [{stop: Renew it.}]
"""

PASSES = """
# symptoms.yaml
no-water:
  sign: No water comes.
  causes:
    - cause: The impeller is torn.
      check: Listen at the pump cover. Feel whether the inlet hose is cold.
      job: example
      mend: Have a professional renew the pump cover when it is cracked.
# symptoms.md
# Signs

```{putback-symptoms}
```
# jobs/example.yaml
steps:
  - inspect: pump-cover
    for: cracks
    otherwise: [{stop: Renew it.}]
"""

_WORK = frozenset({
    "remove", "install", "replace", "loosen", "tighten", "disconnect", "connect", "adjust",
})  # fmt: skip
"""Verbs that need a job around them, when they are about what is held, joined or tightened."""
_CLAUSES = Late(r"[;:.!?]\s+|,\s+(?:then\s+|and\s+)?|\s+and\s+(?:then\s+)?")


def find(opened: Opened) -> Iterator[Fault]:
    """Yield clauses of the symptom table that begin with an order to do what only a job can prove."""
    guide, machine = opened.guide, opened.guide.machine
    if machine is None or not guide.is_english:
        return
    known, held = Objects(machine), _held(machine) if guide.symptoms else set()
    for symptom in guide.symptoms.values():
        for cause in symptom.causes:
            for said in filter(None, (cause.check, cause.mend)):
                yield from _orders(said, known, held, named=cause.job is not None)


def _held(machine: Machine) -> set[str]:
    """Return what no hand alone takes apart: lines, what is turned with a tool, and what that holds.

    What the machine starts by, such as the lead of the spark plug, is taken off to look in safety.
    """
    found, starts = set[str](), {need.control.name for way in machine.can_start for need in way}
    for key, thing in machine.things.items():
        if isinstance(thing, Line):
            found.add(key)
        elif isinstance(thing, Fastener) and thing.by_hand is None:
            found |= {key, *(ref.name for ref in thing.secures)}
    return found - starts


def _orders(said: Said, known: Objects, held: set[str], *, named: bool) -> Iterator[Fault]:
    for start, end in _clauses(said):
        for deed in deeds(said[start:end]):
            if deed.verb in _WORK and deed.sure and known.object_of(deed) in held:
                message = f"the table contains work: {quote(deed.words, SENTENCE)}"
                hint = (
                    "say what can be seen from outside; the work is in the job"
                    if named
                    else "write the work as a job, and name it with 'job'"
                )
                yield Fault(passage_of(said).span(start, end), message, hint=hint)
                return


def _clauses(said: str) -> Iterator[tuple[int, int]]:
    start = 0
    for found in _CLAUSES.finditer(said):
        yield start, found.start()
        start = found.end()
    yield start, len(said.rstrip("."))
