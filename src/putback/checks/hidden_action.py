"""A caution, or a text beside a step, contains work that belongs in a step of its own.

Nobody ticks it off. A plug that only a caution or a note says to open stays shut, or stays open: the ledger does not
count it, and the way back does not close it.

Make it a step, before the step that needs it. A caution or a note may say under what condition a step is done ("close
the tap before a fuel line is opened"), or how ("open the cap slowly").
"""

import re
from collections.abc import Iterable, Iterator

from putback.checks import Fault, Group
from putback.ledger.messages import shown_cautions
from putback.ledger.opened import Opened
from putback.model.called import named
from putback.model.job import Job, Step
from putback.model.machine import AnyThing
from putback.model.verbs.telling import Note
from putback.prose.aims import said_in_sentences
from putback.prose.deeds import Objects, deeds, is_on_a_thing, worked_on
from putback.source.finding import Level
from putback.source.grammar import plural
from putback.source.late import Late
from putback.source.quoting import SENTENCE, quote

LEVEL = Level.WARNING
GROUP = Group.WORDS

FAILS = """
# cautions.yaml
running-engine:
  signal: warning
  hazard: Belts turn while the engine runs.
  consequence: They can tear off fingers.
  avoid:
    - Remove the belt guard.
      ^^^^^^^^^^^^^^^^^^^^^^ a safety message contains work that belongs in a step: 'remove the belt guard'
  covers: [running-engine]
# jobs/example.yaml
steps:
  - caution: running-engine
  - run: engine
    for: 5 min
"""

PASSES = """
# cautions.yaml
running-engine:
  signal: warning
  hazard: Belts turn while the engine runs.
  consequence: They can tear off fingers.
  avoid: [Keep hands away from the belts., Stop the engine before you remove the belt guard.]
  covers: [running-engine]
# jobs/example.yaml
steps:
  - caution: running-engine
  - run: engine
    for: 5 min
"""

_DEEDS = (
    "remove|take off|disconnect|drain|install|refit|tighten|loosen|close|open|fill|connect|undo|unscrew|shut|shut off"
)
_SPLIT = "take|put|switch|turn|screw|pull"
_SIGNS = tuple(f"{_DEEDS}|{_SPLIT}".split("|"))
"""One of these is in every order; they are found fast."""
_LEAD = (
    r"(?:^|[,;:] *|\b(?:and|then|first|always|please|must|now|next|afterwards) )"
    r"(?:(?:then|first|always|please|also|now) )*"
)
_COUNT = r"(?:(?:the|a|both|all|each|every|any|one|two|three|four|five|six|seven|eight|\d+|of) )*"
_CONDITION = Late(
    r"\b(before|until|unless|when|whenever|while|if|once|as soon as|never|not|don't|without|only|no longer|slowly"
    r"|gently|carefully|after (?!that|this)|little by little|in stages|by its|by hand|first\b.*\blast)\b"
)
"""Words that make an order a condition or a manner of a step."""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield sentences of shown cautions that order work on a thing of the machine."""
    machine = opened.guide.machine
    if machine is None or not opened.guide.is_english:
        return
    order = _order(machine.things.values())
    if order is None:
        return
    for shown in shown_cautions(opened.guide):
        for _, text in shown.message.sentences if shown.steps else ():
            for sentence in map(str.lower, said_in_sentences(text)):
                found = order.search(sentence) if not _CONDITION.search(sentence) else None
                if found:
                    for span in shown.places(text.span):
                        yield Fault(
                            span,
                            f"a safety message contains work that belongs in a step: {quote(found['work'], SENTENCE)}",
                        )
    known, by_guide = Objects(machine), worked_on(opened.nesting.sequences())
    for sequence in opened.nesting.sequences():
        # What a job does before a block serves the block as well.
        done = worked_on([sequence]) if isinstance(sequence, Job) else by_guide
        for step in sequence.steps():
            yield from _beside(step, known, order, done)


def _beside(step: Step, known: Objects, order: re.Pattern[str], done: set[str]) -> Iterator[Fault]:
    """Yield what a note or a text orders to be done to a thing that no step works on."""
    if isinstance(step.action, Note):
        for deed in deeds(step.action.words):
            if is_on_a_thing(deed, known, done) and not _CONDITION.search(deed.words):
                yield _fault(step.action.words, step, "a note", deed.words)
        return
    for said, what in ((step.text, "the text of a step"), (step.note, "a note")):
        if not said or not any(sign in said.lower() for sign in _SIGNS):
            continue
        for sentence in map(str.lower, said_in_sentences(said)):
            found = order.search(sentence) if not _CONDITION.search(sentence) else None
            if found and known.all_in(found["work"]).isdisjoint(done):
                yield _fault(said, step, what, found["work"])


def _fault(said: str, step: Step, what: str, work: str) -> Fault:
    message = f"{what} contains work that belongs in a step: {quote(work, SENTENCE)}"
    return Fault(getattr(said, "span", step.key), message)


def _order(things: Iterable[AnyThing]) -> re.Pattern[str] | None:
    """Return what an order to work on one of these things looks like, in lower case."""
    names = {
        words.lower() for thing in things for words in (thing.name, named(thing), thing.plural or plural(thing.name))
    }
    if not names:
        return None
    # The longest first, so that of two names that begin alike the whole one is found.
    thing = f"{_COUNT}(?:{'|'.join(re.escape(name) for name in sorted(names, key=len, reverse=True))})"
    whole = rf"(?:{_DEEDS}) {thing}|(?:{_SPLIT}) {thing} (?:off|out|back|on|in)|(?:{_SPLIT}) (?:off|out|on) {thing}"
    return re.compile(rf"{_LEAD}(?P<work>{whole})\b")
