"""What becomes of a group of fasteners: pieces come out and go in, are loosened and tightened, each from how it stands.

A step that does not say which takes the nearest to what it does: the loosest come out first, and are tightened first;
the tightest are loosened first.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

from putback.model.reach import FULL, FULLY, LOOSE, OUT, Aim, Reach
from putback.model.states import NEVER, Chosen, GroupState, Reached

_PLAIN = {OUT: "out", LOOSE: "loose", FULL: "tight"}


def standing(state: GroupState) -> list[Reached]:
    """Return how all pieces of a group stand, the looser first; those that are out come before all."""
    if state.places:
        known = {some.piece: some.level for some in state.reached}
        plain = {word: level for level, word in _PLAIN.items()}
        found = [Reached(known.get(n, plain[word]), 1, n) for n, word in enumerate(state.places)]
        return sorted(found, key=lambda some: some.level)
    staged = state.staged
    more = state.reached[len(staged) :]
    loose = state.loose - sum(some.count for some in staged)
    tight = state.tight - sum(some.count for some in more)
    every = (Reached(OUT, state.out), Reached(LOOSE, loose), *staged, Reached(FULL, tight), *more)
    return [some for some in every if some.count]


def take_out(state: GroupState, count: int | None, by: int, at: Chosen = ()) -> GroupState:
    """Take fasteners out, loose ones first; all that are in when no count is given, those at the places in `at`."""
    moved = _moved(state, count, at, lambda level: level > OUT, lambda _: OUT)
    number = moved.out - state.out
    return moved._replace(taken=max(moved.out, state.taken if state.out else 0), off_by=by if number else state.off_by)


def put_in(state: GroupState, count: int | None, by: int, *, finished: bool, at: Chosen = ()) -> GroupState:
    """Put fasteners in, all that are out when no count is given; hand-tight unless `finished` by that."""
    if not state.out or count == 0:
        return state
    moved = _moved(state, count, at, lambda level: level == OUT, lambda _: FULL if finished else LOOSE)
    left = state.renew[state.out - moved.out :]
    if state.places:
        left = tuple(number for number in state.renew if moved.places[number] == "out")
    return moved._replace(on_by=by, renew=left)


def condemn(state: GroupState, count: int | None, at: Chosen = ()) -> GroupState:
    """Let new ones go in for pieces that are out."""
    if state.places:
        some = (number for number in at or range(len(state.places)) if state.places[number] == "out")
        return state._replace(renew=tuple(sorted({*state.renew, *some})))
    more = state.out if count is None else count
    return state._replace(renew=(NEVER,) * min(state.out, len(state.renew) + more))


def slacken(state: GroupState, count: int | None, by: int, at: Chosen = ()) -> GroupState:
    """Loosen tight ones, the tightest first."""
    moved = _moved(state, count, at, lambda level: level > LOOSE, lambda _: LOOSE, tightest=True)
    return moved._replace(off_by=by if moved != state and not state.out else state.off_by, on_by=by)


def tighten(state: GroupState, count: int | None, at: Chosen = (), aim: Aim = FULLY, by: int = NEVER) -> GroupState:
    """Bring looser ones to their torque, or as far as a step says."""
    moved = _moved(state, count, at, lambda level: level > OUT and aim.of(level) > level, aim.of)
    before = {(some.level, some.piece): some.count for some in state.staged}
    staged = any(some.count > before.get((some.level, some.piece), 0) for some in moved.staged)
    return moved._replace(to_by=by) if staged else moved


def _moved(
    state: GroupState,
    number: int | None,
    at: Chosen,
    wanted: Callable[[Reach], bool],
    to: Callable[[Reach], Reach],
    *,
    tightest: bool = False,
) -> GroupState:
    """Bring pieces that are as wanted to another level: those in `at`, or else so many."""
    left = state.all if number is None or (at and state.places) else number
    after: list[Reached] = []
    for some in sorted(standing(state), key=lambda some: some.level, reverse=tightest):
        chosen = not (at and state.places) or some.piece in at
        moved = min(left, some.count) if chosen and wanted(some.level) else 0
        left -= moved
        if moved:
            after.append(some._replace(level=to(some.level), count=moved))
        if some.count > moved:
            after.append(some._replace(count=some.count - moved))
    return _with(state, after)


def _with(state: GroupState, pieces: Iterable[Reached]) -> GroupState:
    """Return a group whose pieces stand so."""
    counts: dict[tuple[int, Reach], int] = {}
    for some in pieces:
        counts[some.piece, some.level] = counts.get((some.piece, some.level), 0) + some.count
    out = sum(count for (_, level), count in counts.items() if level == OUT)
    tight = sum(count for (_, level), count in counts.items() if level.done)
    reached = [Reached(level, count, piece) for (piece, level), count in counts.items() if level not in _PLAIN]
    places = state.places
    if places:
        words = {piece: _word(level) for piece, level in counts}
        places = tuple(words[number] for number in range(len(places)))
    reached.sort()
    return state._replace(
        tight=tight,
        loose=sum(counts.values()) - out - tight,
        out=out,
        places=places,
        reached=tuple(reached),
        to_by=state.to_by if any(not some.level.done for some in reached) else NEVER,
    )


def _word(level: Reach) -> str:
    return _PLAIN.get(level) or ("tight" if level.done else "loose")
