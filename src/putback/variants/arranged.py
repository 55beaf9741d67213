"""The order of options in a diagram.

A set in which options meet in pairs is small when the two of a pair lie next to each other, and doubles with each pair
when all first ones lie below all second ones. So options that meet are brought together: each moves to the middle of
those that it meets, again and again (Aloul, Markov, Sakallah, "FORCE: a fast and easy-to-implement variable-ordering
heuristic", Great Lakes Symposium on VLSI, 2003).
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence

FEW = 8
"""Up to so many options, the order of the file is as good as any."""

ROUNDS = 40
"""How often the options are moved at most."""


def arranged(
    declared: Sequence[str], meetings: Iterable[Collection[str]], over: Iterable[tuple[str, str]] = ()
) -> list[str]:
    """Return options from the bottom of the diagram to its top.

    `meetings` are options that stand in one condition; `over` are pairs of which the first lies higher when nothing
    speaks against it. Names that are not declared are left aside.
    """
    order = list(declared)
    if len(order) <= FEW:
        return order
    known = set(order)
    groups = list({group for names in meetings if len(group := frozenset(names) & known) > 1})
    groups.sort(key=sorted)
    of: dict[str, list[int]] = {name: [] for name in order}
    for number, group in enumerate(groups):
        for name in group:
            of[name].append(number)
    best, cost = order, _cost(order, groups)
    for _ in range(ROUNDS):
        place = {name: number for number, name in enumerate(order)}
        middles = [sum(place[name] for name in group) / len(group) for group in groups]
        pull = {name: sum(middles[n] for n in of[name]) / len(of[name]) if of[name] else place[name] for name in order}
        order = sorted(order, key=lambda name: (pull[name], place[name]))
        now = _cost(order, groups)
        if now >= cost:
            break
        best, cost = order, now
    place = {name: number for number, name in enumerate(best)}
    right = sum(1 if place[high] > place[low] else -1 for high, low in over if high in place and low in place)
    return best[::-1] if right < 0 else best


def _cost(order: Sequence[str], groups: Iterable[Collection[str]]) -> int:
    place = {name: number for number, name in enumerate(order)}
    return sum(max(map(place.__getitem__, group)) - min(map(place.__getitem__, group)) for group in groups)
