"""A note says that the machine was run, or an `act` starts it, but no step runs it.

"The engine was run until it was warm": so the reader starts it, before any message about fumes and moving parts, with
whatever lies on it, and nobody looks at the water or the oil.

Make it a step, `run: engine`, after its messages, and stop the engine and make it safe afterwards. Or start with a cold
engine.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger import Book
from putback.ledger.opened import Opened
from putback.model.job import Job
from putback.model.said import Said
from putback.model.verbs.acting import Act
from putback.model.verbs.controls import Run
from putback.model.verbs.telling import Caution, Note
from putback.prose.aims import said_in_sentences
from putback.source.finding import Level
from putback.source.late import Late
from putback.source.quoting import SENTENCE, quote
from putback.source.span import Span

LEVEL = Level.WARNING
GROUP = Group.WORDS

FAILS = """
steps:
  - note: The set was run warm.
          ^^^^^^^^^^^^^^^^^^^^^ a note mentions a run, but no step runs it: 'The set was run warm.'
  - remove: drain-plug
  - drain: coolant
  - install: drain-plug
  - tighten: drain-plug
  - remove: header-cap
  - fill: coolant
  - install: header-cap
  - check: all joints
    limit: dry
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
steps:
  - note: Start with a cold engine.
  - remove: drain-plug
  - drain: coolant
  - install: drain-plug
  - tighten: drain-plug
  - remove: header-cap
  - fill: coolant
  - install: header-cap
  - check: all joints
    limit: dry
    otherwise:
      - stop: Do the job again.
"""

_RUN = Late(
    r"^(?:(?:then|first|before this|now),? )?(?:the |this )?(?P<it>(?!after|once|before|since|that)[\w -]{1,40}) "
    r"(?:was|has been|is|must have been|should have been) (?:just )?(?:run|started|warmed up|running)\b"
    r"(?! (?:into|over|with|by))"
)
"""A sentence that tells of a run."""
_STARTS = Late(
    r"^(?:(?:then|first|now),? )?(?:(?:start|idle|warm(?=[\w -]*\bup\b))(?: up)? (?:the |this )?(?P<it>[\w -]{1,30}?)"
    r"(?: (?:and|until|for|at|up|first|again)\b.*)?"
    r"|let (?:the |this )?(?P<runs>[\w -]{1,30}?) (?:idle|run|warm up)\b.*)[.]?$"
)
"""A sentence that starts it."""
_RUNS = frozenset({"engine", "motor", "machine", "set", "generator", "pump"})
_PERHAPS = Late(r"\b(?:if|when|whenever|unless|never|not|only|while|as long as)\b")


def find(opened: Opened) -> Iterator[Fault]:
    """Yield notes that tell of a run, in jobs that have not run anything before."""
    for book in opened.books if opened.guide.is_english else ():
        told, own = set[Span](), _RUNS | _called(book)
        for said in _before_a_run(book) if isinstance(book.sequence, Job) else ():
            for sentence in said_in_sentences(said):
                words = sentence.lower()
                run = _RUN.match(words)
                if run and run["it"].split()[-1] in own and not _PERHAPS.search(words) and said.span not in told:
                    told.add(said.span)
                    yield Fault(said.span, f"a note mentions a run, but no step runs it: {quote(sentence, SENTENCE)}")
        for said in _acts(book):
            for sentence in said_in_sentences(said):
                start = _STARTS.match(sentence.lower())
                if start and (start["it"] or start["runs"]).split()[-1] in own and said.span not in told:
                    told.add(said.span)
                    message = f"this starts it in words, but no 'run' step does: {quote(sentence, SENTENCE)}"
                    yield Fault(said.span, message, hint="write 'run: …' instead of 'act', after its messages")


def _acts(book: Book) -> Iterator[Said]:
    """Yield the words of each `act` after which the next work is no run."""
    for entry in book.of(Act):
        later = (each for each in book.entries[entry.index + 1 :] if not isinstance(each.step.action, Note | Caution))
        after = next(later, None)
        words = entry.step.action.words if isinstance(entry.step.action, Act) else None
        if isinstance(words, Said) and not (after and isinstance(after.step.action, Run)):
            yield words


def _called(book: Book) -> set[str]:
    """Return the last words of what the machine is called, and what kind it is: `mower`, of a lawn mower with …."""
    machine = book.graph.machine
    names = [machine.name, *(machine.kind or "").lower().replace(",", " with").split(" with ")[:1]]
    return {name.lower().split()[-1] for name in names if name.strip()}


def _before_a_run(book: Book) -> Iterator[Said]:
    """Yield what notes and texts of a job say before its first run."""
    for entry in book.entries:
        action = entry.step.action
        if isinstance(action, Run):
            return
        words = (action.words if isinstance(action, Note) else None, entry.step.text, entry.step.note)
        yield from (text for text in words if isinstance(text, Said))
