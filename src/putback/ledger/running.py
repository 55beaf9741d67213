"""What still runs at an entry, as far as controls and words tell."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import NamedTuple

from putback.ledger.book import Book, once
from putback.ledger.entries import Entry
from putback.model.machine import Control
from putback.model.said import source_of
from putback.model.states import ControlState, State
from putback.model.terms import Need
from putback.model.verbs.controls import RUN, Run
from putback.model.verbs.telling import Note, Stop
from putback.source.late import Late
from putback.variants import NONE, VariantSet


class Running(NamedTuple):
    """Something that was run and was not stopped."""

    run: Entry
    """The entry that started it."""
    variants: VariantSet
    """The variants in which it still runs."""


@once
def running_needs(book: Book) -> Iterator[Need]:
    """Yield what is so while something runs, as far as controls tell: what `run` needs, and what it makes.

    Where the machine file says when it can start, only what that names stops it, and what is normally not as a run
    needs it: no gear lever.
    """
    machine = book.graph.machine
    found, starts = list[tuple[Need, bool]](), {need.control.name for way in machine.can_start for need in way}
    for need in (*machine.verb_needs.get(RUN.name, ()), *machine.verb_results.get(RUN.name, ())):
        control = machine.things.get(need.control.name)
        if isinstance(control, Control) and not control.any_at_end:
            found.append((need, control.normal.name != need.position.name))
    stops = [need for need, moved in found if not starts or moved or need.control.name in starts]
    yield from stops or [need for need, _ in found]


def still_runs(book: Book, entry: Entry) -> Running | None:
    """Return what still runs at an entry: since it was run, no control that `run` needs was set.

    Nothing, where the machine file knows of no control that stops it.
    """
    needs = running_needs(book)
    for run in reversed(book.of(Run) if needs else []):
        variants = _still(book, run, entry, needs)
        if variants != NONE:
            return Running(run, variants)
    return None


def _still(book: Book, run: Entry, entry: Entry, needs: list[Need]) -> VariantSet:
    """Return the variants in which what was run at one entry still runs at another."""
    space = book.graph.space
    variants = space.both(run.variants, entry.variants) if run.index < entry.index else NONE
    for need in needs:
        if variants != NONE:
            key = need.control.name
            kept = book.where(key, entry, partial(_is_kept, need.position.name, run.index))
            variants = space.without(variants, space.without(book.graph.present(key), kept))
    return variants


def _is_kept(position: str, since: int, state: State) -> bool:
    return isinstance(state, ControlState) and state.position == position and state.on_by <= since


_ARTICLE = Late(r"^(?:the|a|an) ")


def what_runs(book: Book, entry: Entry) -> str:
    """Return what a run runs: `engine`, `starter`."""
    name = entry.target.name if entry.target else "engine"
    thing = book.graph.machine.things.get(name)
    return source_of(thing.name) if thing else _ARTICLE.sub("", name)


def runs_it(book: Book, run: Entry) -> bool:
    """Tell whether a run is one of the machine itself: not of its starter alone, nor of another pump beside it."""
    words = frozenset(what_runs(book, run).lower().replace("-", " ").split())
    if "starter" in words or "crank" in words:
        return False
    machine = book.graph.machine
    own = (
        f"{source_of(machine.name)} {source_of(machine.kind or '')}".lower().replace(",", " ").replace("-", " ").split()
    )
    known = run.target is None or run.target.name in machine.things
    return known or not words.isdisjoint({"engine", "motor", "machine", "it", *own})


def words_before(book: Book, since: Entry, entry: Entry) -> Iterator[str]:
    """Yield what the steps from one entry to another say in their author's words, the last one's too."""
    for other in book.entries[since.index : entry.index + 1]:
        if other is entry or book.graph.space.both(other.variants, entry.variants) != NONE:
            step = other.step
            yield from (source_of(text).lower() for text in (step.text, step.note) if text)
            if isinstance(step.action, Note | Stop):
                yield source_of(step.action.words).lower()


_OFF = frozenset({"off", "down", "stop", "kill", "lanyard", "ignition"})
_ACT = frozenset({"switch", "turn", "shut", "stop", "pull", "kill", "cut", "let"})
_RUNS = frozenset({"engine", "motor", "machine", "generator", "pump", "starter", "set", "mower", "saw", "it"})
_HELD = frozenset({"trigger", "bar", "lever", "pedal", "button", "handle", "handles", "switch"})
_ENDS = {
    "release": _HELD,
    "go": _HELD,  # let go of the bar
    "unplug": _RUNS,
    "fire": frozenset({"out"}),
    "burn": frozenset({"out"}),
}
"""Words that stop what runs only while it is held, what is plugged in, and a fire, by what follows them."""
_PERHAPS = frozenset({"if", "when", "should", "as", "until", "unless"})


def says_stopped(text: str) -> bool:
    """Tell whether some words say to stop what runs: `Switch it off.`, `Stop the engine first.`; not `Stop it if …`."""
    for sentence in text.replace(";", ".").replace(":", ".").split("."):
        words = sentence.replace(",", " ").split()
        for number, word in enumerate(words if _PERHAPS.isdisjoint(words) else ()):
            after = words[number + 1 : number + 7]
            wanted = _RUNS if word in ("stop", "kill") else _OFF if word in _ACT else _ENDS.get(word, frozenset())
            if not wanted.isdisjoint(after):
                return True
    return False
