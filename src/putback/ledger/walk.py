"""Posting every entry of a job or block to the accounts that it changes."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from putback.guide.written import Written
from putback.ledger.book import PROOF, Book, Holdings, equipment_account, memory_account
from putback.ledger.disturbing import disturb, disturbed_by, moves, settle, swaps
from putback.ledger.entries import Entry
from putback.ledger.goes_with import is_silent, wants_no_proof
from putback.ledger.handover import Handover, found_in, undone
from putback.ledger.passes import Traveller
from putback.ledger.program import write_program
from putback.model import states
from putback.model.called import goes_to_its_place
from putback.model.job import Block, Later, Sequence
from putback.model.library import Library
from putback.model.machine import AnyThing, Control, Fastener, Fluid
from putback.model.posting import slackened
from putback.model.setting import Setting
from putback.model.states import EquipmentState, FluidState, MarkState, ProofState, State
from putback.model.terms import Need
from putback.model.verb import Change
from putback.model.verbs.controls import RUN, moved
from putback.model.verbs.pieces import Remove, Replace
from putback.variants import NONE, VariantSet
from putback.variants.graph import Graph

MOST_CAUSES = 16
"""States of one account, above which those that differ only in their cause are gathered."""

_Position = Callable[[AnyThing | None, MarkState, int], MarkState]


def open_book(
    sequence: Sequence,
    graph: Graph,
    library: Library,
    written: Written | None = None,
    after: Handover | None = None,
) -> Book:
    """Walk a job or block over a machine and return its book; `after` is what a job goes on from.

    Never fails: an entry that cannot happen (a thing that is not there) leaves its account as it was. Whether all
    was right is for the checks to say.
    """
    program = write_program(sequence, graph, library.blocks)
    book = Book(sequence, graph, library, program, written)
    begins = {ref.name for ref in sequence.begins_with} if isinstance(sequence, Block) else set()
    book.leaves = frozenset(ref.name for ref in sequence.ends_with)
    found = {account: state for name in begins for account, state in undone(name, graph.machine.things.get(name))}
    walker = _Walker(book, after.accounts if after else {})
    found |= _after_a_run(graph) if isinstance(sequence, Later) else {}
    for key, thing in graph.machine.things.items():
        walker.open(key, found.get(key) or states.opening(thing))
        if goes_to_its_place(thing):
            walker.open(memory_account(key), found.get(memory_account(key)) or MarkState())
    for name in library.equipment:
        walker.open(equipment_account(name), found.get(equipment_account(name)) or EquipmentState())
    walker.open(PROOF, ProofState())
    book.is_last = not isinstance(sequence, Block | Later)
    book.found = frozenset(begins) if after is None else frozenset(found_in(book))
    if after is not None:
        book.earlier = after.book
    journey = Traveller(graph.space, program, walker).go()
    book.entries, book.ends, book.passes = journey.entries, journey.ends, journey.passes
    book.asked, book.questions, book.meetings = journey.asked, journey.questions, journey.meetings
    book.undecided = [order.step for order in journey.undecided]
    return book


def _after_a_run(graph: Graph) -> dict[str, State]:
    """Return how running hours leave what nobody puts back: a follow-up begins with a hot engine."""
    found: dict[str, State] = {}
    for need in graph.machine.verb_results.get(RUN.name, ()):
        control = graph.machine.things.get(need.control.name)
        if isinstance(control, Control) and control.any_at_end:
            found[control.key] = states.ControlState(need.position.name)
    return found


class _Walker:
    def __init__(self, book: Book, found: Mapping[str, Holdings]) -> None:
        self.book = book
        self.found = found
        self.space = book.graph.space
        self.things = book.graph.machine.things
        self.held: dict[str, Holdings] = {}
        self.log: list[tuple[str, Holdings]] = []
        self.drained: dict[str, list[str]] = {}
        for key, thing in self.things.items():
            if isinstance(thing, Fluid):
                for ref in thing.drains:
                    self.drained.setdefault(ref.name, []).append(key)
        self.disturbed = disturbed_by(book.graph)

    def open(self, account: str, state: State) -> None:
        self.held[account] = self.found.get(account) or ((self.space.built, state),)
        self.book.history[account] = ([-1], [self.held[account]])

    def now(self) -> dict[str, Holdings]:
        """Return what every account holds."""
        return dict(self.held)

    def put(self, account: str, holdings: Holdings, after: float) -> None:
        """Let an account hold something else from an entry on, or, with half a number, from after one."""
        self.log.append((account, self.held[account]))
        self.held[account] = holdings
        numbers, history = self.book.history[account]
        if numbers[-1] == after:
            history[-1] = holdings
        else:
            numbers.append(after)
            history.append(holdings)

    def change(self, account: str, variants: VariantSet, by: int, change: Change) -> None:
        """Change an account within some variants, and leave it as it is in the others."""
        old = self.held[account]
        new: Holdings
        if len(old) == 1 and variants == old[0][0]:
            new = ((variants, change(old[0][1])),)
        else:
            parts: dict[State, VariantSet] = {}
            for held, state in old:
                here = self.space.both(held, variants)
                if here != NONE:
                    after = change(state)
                    parts[after] = self.space.either(parts.get(after, NONE), here)
                    held = self.space.without(held, here)
                if held != NONE:
                    parts[state] = self.space.either(parts.get(state, NONE), held)
            if len(parts) > MOST_CAUSES:
                parts = self.gathered(parts)
            new = tuple((held, state) for state, held in parts.items())
        self.put(account, new, by)

    def gathered(self, parts: dict[State, VariantSet]) -> dict[State, VariantSet]:
        """Make one of what differs only in who made it so, but for the first few: each of them is told."""
        found: dict[State, VariantSet] = {}
        alike: dict[State, list[State]] = {}
        for state, held in parts.items():
            same = alike.setdefault(states.bare(state), [])
            if len(same) < MOST_CAUSES // 2:
                same.append(state)
                found[state] = held
            else:
                found[same[-1]] = self.space.either(found[same[-1]], held)
        return found

    def post(self, entry: Entry) -> None:
        verb = entry.step.verb
        self.prove(entry)
        for need in self.book.graph.machine.verb_results.get(verb.name, ()):
            self.make(entry, need)
        name = entry.target.name if entry.target else ""
        if verb.takes == ("equipment",):
            account, thing = equipment_account(name), None
            if name not in self.book.library.equipment:
                return
        else:
            account, thing = name, self.things.get(name)
        change = verb.effect(entry.step.action, thing, entry.index) if verb.effect else None
        if change is not None:
            if name in self.disturbed:
                self.disturb(entry, name, change)
            self.change(account, entry.variants, entry.index, change)
        if isinstance(thing, Setting) and verb.settles:
            self.settle(entry, name)
        if verb.position and (change is not None or verb.effect is None):
            self.remember(entry, name, verb.position)
        if verb.lets_out and change is not None:
            self.spill(entry, name)
            self.release(entry, thing)

    def release(self, entry: Entry, held: AnyThing | None) -> None:
        """A bolt is loose once the nut that was held while it was turned comes off."""
        action = entry.step.action
        if not isinstance(action, Remove | Replace) or not isinstance(held, Fastener) or held.held_for is None:
            return
        turned = self.things.get(held.held_for.name)
        if isinstance(turned, Fastener) and held.is_nut and not turned.is_nut:
            slacken = slackened(action, turned, entry.index)
            variants = self.space.both(entry.variants, self.book.graph.present(turned.key))
            if slacken is not None:
                self.change(turned.key, variants, entry.index, slacken)

    def make(self, entry: Entry, need: Need) -> None:
        """A verb leaves a control in a position: running makes an engine hot."""
        control, position = self.things.get(need.control.name), need.position.name
        if isinstance(control, Control):
            known = control
            variants = self.space.both(entry.variants, self.book.graph.present(control.key))
            self.change(control.key, variants, entry.index, lambda state: moved(state, position, known, entry.index))

    def remember(self, entry: Entry, name: str, position: _Position) -> None:
        """Keep what is known of the position of an adjustable part."""
        account = memory_account(name)
        if account in self.book.history:
            thing = self.things.get(name)

            def change(state: State) -> State:
                return position(thing, states.of(MarkState, state), entry.index)

            self.change(account, entry.variants, entry.index, change)

    def disturb(self, entry: Entry, name: str, change: Change) -> None:
        """What comes off, apart or loose disturbs settings; what is replaced in one go was off meanwhile."""
        for setting, at in self.disturbed[name]:
            here = NONE
            for held, state in self.held[name]:
                if moves(state, change(state), at) or swaps(entry.step.action, self.things[name], at):
                    here = self.space.either(here, held)
            self.unsettle(entry, setting, self.space.both(here, entry.variants))

    def unsettle(self, entry: Entry, setting: str, variants: VariantSet) -> None:
        here = self.space.both(variants, self.book.graph.present(setting))
        if here != NONE:
            self.change(setting, here, entry.index, lambda state: disturb(state, entry.index))

    def settle(self, entry: Entry, name: str) -> None:
        """A setting that is adjusted or measured is known; adjusted, it may disturb others."""
        self.change(name, entry.variants, entry.index, lambda state: settle(state, entry.index))
        if entry.step.verb.moves:
            for setting, _ in self.disturbed.get(name, ()):
                self.unsettle(entry, setting, entry.variants)

    def spill(self, entry: Entry, name: str) -> None:
        """A fluid is out once one of its drains is opened; one that is replaced in one go is open meanwhile."""
        verb = entry.step.verb
        for fluid in self.drained.get(name, []):
            for held, state in self.held[name]:
                here = self.space.both(held, entry.variants)
                opened = (verb.opens and verb.shuts) or states.is_open(self.things[name], state)
                if here != NONE and opened:
                    self.change(fluid, here, entry.index, lambda level: _spilt(level, entry.index))

    def prove(self, entry: Entry) -> None:
        """A test follows, or what was done wants one; a run is one as soon as somebody looks at something."""
        verb = entry.step.verb
        if verb.assembles:
            here = self.space.without(entry.variants, wants_no_proof(self.book, entry))
            if here != NONE:
                self.change(PROOF, here, entry.index, lambda _: ProofState(proved=False))
        elif is_silent(entry):
            self.change(PROOF, entry.variants, entry.index, _ran)
        elif verb.proves:
            self.change(PROOF, entry.variants, entry.index, lambda _: ProofState())
        elif verb.asks:
            self.change(PROOF, entry.variants, entry.index, lambda state: ProofState() if _is_run(state) else state)


def _ran(state: State) -> State:
    proof = states.of(ProofState, state)
    return proof._replace(ran=not proof.proved)


def _is_run(state: State) -> bool:
    return states.of(ProofState, state).ran


def _spilt(state: State, by: int) -> State:
    return FluidState(full=False, off_by=by, opened_by=by) if states.of(FluidState, state).full else state
