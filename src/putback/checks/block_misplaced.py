"""A block is done, or reversed, where the machine is not as the block expects.

An engine is stopped that was never started, a pump is opened before the machine was made safe, a block is done twice.
Every step of the block then finds the machine in the wrong state. A block lists what it expects under `begins-with`;
everything else is as on a complete machine. Its reverse expects what the block leaves, its `ends-with`.

First do the block that makes it so, or move this one to where it is so.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, Root, cause
from putback.ledger import Book
from putback.ledger.fitting import Misfit, Unfit, for_nothing, misfits
from putback.ledger.opened import Opened
from putback.model.called import named, standing_word, verb_s
from putback.model.machine import AnyThing
from putback.model.states import ControlState
from putback.source.finding import Also, Level
from putback.source.grammar import listed

LEVEL = Level.ERROR
GROUP = Group.ORDER
INJURES = True
NEEDS = frozenset({"block", "equipment"})

FAILS = """
# blocks/pump-open.yaml
block: Open the pump
begins-with: [seacock]
ends-with: [seacock, cover-screws, pump-cover]
steps:
  - remove: cover-screws
  - remove: pump-cover
# jobs/example.yaml
steps:
  - do: pump-open
        ^^^^^^^^^ 'pump-open' begins with seacock closed, but it is open here
  - clean: pump-body
  - reverse: pump-open
  - check: pump cover
    limit: no drop in 1 min
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
# blocks/pump-open.yaml
block: Open the pump
begins-with: [seacock]
ends-with: [seacock, cover-screws, pump-cover]
steps:
  - remove: cover-screws
  - remove: pump-cover
# jobs/example.yaml
steps:
  - set: seacock
    to: closed
  - do: pump-open
  - clean: pump-body
  - reverse: pump-open
  - set: seacock
    to: open
  - check: pump cover
    limit: no drop in 1 min
    otherwise:
      - stop: Do the job again.
"""

MOST = 3
"""Things that a message names; one more is named rather than counted."""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield `do` and `reverse` steps whose block does not fit there."""
    sure = {book.sequence.path for book in opened.in_place()}
    for book in opened.books:
        for idle in for_nothing(book):
            message = f"'{idle.ref.name}' is done and reversed with nothing in between"
            yield Fault(idle.ref.span, message, idle.entries[0].ways[: len(idle.chain) - 1])
        for misfit in misfits(book):
            if book.sequence.path not in sure:
                # How controls stand is for the jobs to say that do this block.
                solid = tuple(one for one in misfit.unfit if not isinstance(one.state, ControlState))
                misfit = misfit._replace(unfit=solid)
                if not solid:
                    continue
            doing, first = misfit.doing, misfit.unfit[0]
            entry = doing.entries[0]
            place = len(doing.chain) - 1
            also = (
                *cause(book, first.since, "it was made so here"),
                Also(doing.block.span, "this is how the block begins"),
                *entry.ways[:place],
            )
            names, wanted = (
                ",".join(unfit.name for unfit in misfit.unfit),
                ",".join(unfit.wanted(book) for unfit in misfit.unfit),
            )
            root = Root(book.sequence.path, names, wanted, first.since, entry.index, misfit=True, chain=doing.chain)
            yield Fault(
                doing.ref.span,
                _words(misfit, book),
                also,
                _hint(misfit, book),
                misfit.variants,
                book.reached(entry),
                root,
            )


def _words(misfit: Misfit, book: Book) -> str:
    doing = misfit.doing
    subject = f"the reverse of '{doing.ref.name}'" if doing.backwards else f"'{doing.ref.name}'"
    things = book.graph.machine.things
    wanted = [
        f"{_called(unfit, book)} {standing_word(things.get(unfit.name), away=unfit.away)}" for unfit in misfit.unfit
    ]
    if len(wanted) > 1:
        more = len(wanted) - MOST
        shown = wanted if more <= 1 else [*wanted[:MOST], f"{more} more"]
        return f"{subject} begins with {listed(shown)}, but that is not so here"
    unfit, thing = misfit.unfit[0], things.get(misfit.unfit[0].name)
    be = verb_s(thing, "it is", "they are") if thing else "it is"
    return f"{subject} begins with {wanted[0]}, but {be} {_is(unfit, thing)} here"


def _called(unfit: Unfit, book: Book) -> str:
    thing = book.graph.machine.things.get(unfit.name)
    return named(thing) if thing else book.library.equipment[unfit.name].name


def _is(unfit: Unfit, thing: AnyThing | None) -> str:
    """Say how something is."""
    state = unfit.state
    return state.position if isinstance(state, ControlState) else standing_word(thing, away=not unfit.away)


def _hint(misfit: Misfit, book: Book) -> str | None:
    """Name the block that would bring it about; or say that this one was done already."""
    if misfit.doing.backwards:
        return None  # It belongs before the work that it was there for, and nobody knows where that begins.
    if misfit.doing.ref.name in misfit.done_before(book):
        return "delete it: it is done already"
    never = all(unfit.away and unfit.since < 0 for unfit in misfit.unfit)
    maker = misfit.maker(book) if never else None
    return f"add 'do: {maker}' before" if maker else None
