"""What one job of a chain hands over to the next: how the machine stands when the next one begins.

A job begins with what the one before it leaves, in every variant that comes to its end; a `stop` is no such end. What
is loose, marked, half tightened or disturbed stays so. Where a job does not leave what it says under `ends-with`, that
is told of it; the next one then begins with what its own steps want, so that one slip is one fault.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from putback.ledger.book import PROOF, Book, Holdings, equipment_account, memory_account
from putback.ledger.closing import closes
from putback.ledger.program import Order, Program
from putback.model import states
from putback.model.called import goes_to_its_place
from putback.model.job import Job, Step
from putback.model.machine import AnyThing, Control, Machine
from putback.model.setting import Setting
from putback.model.states import EquipmentState, GroupState, MarkState, ProofState, State
from putback.model.verb import Way
from putback.model.verbs.controls import Set
from putback.model.verbs.equipment import Place, TakeAway
from putback.model.verbs.marking import Align
from putback.model.verbs.pieces import Tighten
from putback.variants import NONE, Space, VariantSet


@dataclass(frozen=True, slots=True)
class Handover:
    """What a job goes on from."""

    job: Job
    """The job before it."""
    book: Book | None
    """That one, walked; None when it could not be."""
    accounts: Mapping[str, Holdings]
    """What accounts hold that do not open whole."""
    leaves: frozenset[str]
    """The names of what that job leaves, as it says."""


def hand_over(job: Job, book: Book | None, machine: Machine, space: Space, behind: Iterable[Program]) -> Handover:
    """Return what a job hands over; `after` are those that follow it, the next one first."""
    said = book.leaves if book is not None else frozenset(ref.name for ref in job.ends_with)
    left = frozenset(left_by(book)) if book is not None else said
    wanted = [*behind] if said != left else []
    accounts = dict(_as_it_stands(book, said ^ left)) if book is not None else dict[str, Holdings]()
    for name in sorted(said | left):
        thing = machine.things.get(name)
        # What disturbs a setting is listed, and the setting need not be.
        agreed = name in left and (name in said or isinstance(thing, Setting))
        need = None if agreed else first_need(name, thing, wanted, space)
        if not agreed and need is None:
            continue
        for account, state in undone(name, thing, loose=need is not None and isinstance(need.action, Tighten)):
            if book is not None and name in left and account in book.history:
                accounts[account] = at_the_end(book, account, thing)
            elif agreed or book is None:
                accounts[account] = ((space.built, state),)
            else:
                accounts[account] = _concerned(name, state, _whole(account, thing), wanted, space)
    return Handover(job, book, accounts, said)


def _as_it_stands(book: Book, but: frozenset[str]) -> Iterator[tuple[str, Holdings]]:
    """Yield what accounts hold at the end that the job changed or found so: what is marked stays marked."""
    things, equipment = book.graph.machine.things, book.library.equipment
    names = {account: name for name in (*things, *equipment) for account in accounts_of(name, things.get(name))}
    for account in (*names, PROOF):
        name = names.get(account, PROOF)
        if name not in but and (len(book.history.get(account, ([], []))[0]) > 1 or book.earlier is not None):
            yield account, at_the_end(book, account, things.get(name))


def accounts_of(name: str, thing: AnyThing | None) -> tuple[str, ...]:
    """Return the accounts of a thing, or of a piece of equipment."""
    if thing is None:
        return (equipment_account(name),)
    return (name, memory_account(name)) if goes_to_its_place(thing) else (name,)


def left_by(book: Book) -> Iterator[str]:
    """Yield the things and equipment that do not end as on a whole machine, in some variant that comes to the end."""
    for name in (*book.graph.machine.things, *book.library.equipment):
        if is_left(book, name):
            yield name


def is_left(book: Book, name: str) -> bool:
    """Tell whether a thing or equipment ends otherwise than on a whole machine, in some variant that ends."""
    thing = book.graph.machine.things.get(name)
    return any(not closes(thing, state) for account in accounts_of(name, thing) for _, state in _ending(book, account))


def found_in(book: Book) -> Iterator[str]:
    """Yield the things and equipment that a job finds otherwise than on a whole machine, in some variant."""
    things = book.graph.machine.things
    for name in (*things, *book.library.equipment):
        thing = things.get(name)
        opened = (book.history[account][1][0] for account in accounts_of(name, thing))
        if any(not closes(thing, state) for holdings in opened for _, state in holdings):
            yield name


def at_the_end(book: Book, account: str, thing: AnyThing | None) -> Holdings:
    """Return what an account holds at the end, by variants; of several ways there, the one on which more is left."""
    space = book.graph.space
    held, left, found = list(_ending(book, account)), space.built, dict[State, VariantSet]()
    for variants, state in sorted(held, key=lambda each: closes(thing, each[1])):
        here = space.both(left, space.variants_of(variants))
        if here != NONE:
            bare = states.bare(state)
            found[bare] = space.either(found.get(bare, NONE), here)
            left = space.without(left, here)
    if left != NONE:
        # They never come to the end.
        whole = _whole(account, thing)
        found[whole] = space.either(found.get(whole, NONE), left)
    return tuple((variants, state) for state, variants in found.items())


def unsure_in(book: Book, name: str) -> VariantSet:
    """Return the variants and ways that leave a thing, where other ways of the same variants do not."""
    space, thing = book.graph.space, book.graph.machine.things.get(name)
    open_, closed = NONE, NONE
    for variants, state in _ending(book, name if thing is not None else equipment_account(name)):
        if closes(thing, state):
            closed = space.either(closed, variants)
        else:
            open_ = space.either(open_, variants)
    return space.both(open_, space.variants_of(closed))


def _ending(book: Book, account: str) -> Iterator[tuple[VariantSet, State]]:
    if account not in book.history:
        return
    both, present = book.graph.space.both, book.graph.present(account)
    for end in book.ends:
        for held, state in end.accounts[account]:
            here = both(both(held, end.through), present)
            if here != NONE:
                yield here, state


def undone(name: str, thing: AnyThing | None, *, loose: bool = False) -> Iterator[tuple[str, State]]:
    """Yield the accounts of what is found off, open, out (or loose), moved, disturbed or in place, as states."""
    if thing is None:
        yield equipment_account(name), EquipmentState(there=True)
        return
    state = states.opening(thing, undone=True)
    if loose and isinstance(state, GroupState):
        state = GroupState(0, state.out, places=("loose",) * len(state.places))
    yield name, state
    if goes_to_its_place(thing):
        yield memory_account(name), MarkState(marked=True, astray=True)


def _whole(account: str, thing: AnyThing | None) -> State:
    if account == PROOF:
        return ProofState()
    if thing is None:
        return EquipmentState()
    return MarkState() if account != thing.key else states.opening(thing)


def _concerned(name: str, state: State, whole: State, behind: Iterable[Program], space: Space) -> Holdings:
    """Return a state in the variants in which the jobs that follow work on a thing; it is whole in the others."""
    steps = (inner for program in behind for order in program.orders for inner in order.walk())
    worked = NONE
    for inner in steps:
        for ref, there in inner.targets:
            if ref is not None and ref.name == name:
                worked = space.either(worked, space.both(there, inner.variants))
    found = ((worked, state), (space.without(space.built, worked), whole))
    return tuple((variants, held) for variants, held in found if variants != NONE)


def first_need(name: str, thing: AnyThing | None, behind: Iterable[Program], space: Space) -> Step | None:
    """Return the step that needs a thing off, open or moved, in the jobs that follow; None when one needs it whole."""
    for program in behind:
        for order in program.orders:
            for inner in order.walk():
                named = (there for ref, there in inner.targets if ref is not None and ref.name == name)
                if any(space.both(there, inner.variants) != NONE for there in named):
                    wanted = _wants(inner, thing)
                    if wanted is not None:
                        return inner.step if wanted else None
    return None


def _wants(order: Order, thing: AnyThing | None) -> bool | None:
    """Tell whether a step needs its thing off, open or moved; None when it works either way."""
    verb, action = order.step.verb, order.step.action
    if isinstance(action, Set):
        return isinstance(thing, Control) and action.to.name == thing.normal.name
    if isinstance(action, Place | TakeAway):
        return isinstance(action, TakeAway)
    if verb.assembles or verb.settles or isinstance(action, Align):
        return not verb.opens
    return False if verb.way is Way.OFF or verb.opens else None
