"""Boxes in layers, joined by lines: which layer each is in, and in what order, so that few lines cross.

Small graphs are solved exactly, layer by layer; larger ones by sweeps towards the mean of the neighbours, after
Sugiyama, Tagawa and Toda, "Methods for visual understanding of hierarchical system structures", IEEE Transactions on
Systems, Man, and Cybernetics 11 (1981).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise, permutations
from math import factorial
from typing import NamedTuple

Pair = tuple[int, int]

MOST_TRIED = 20_000
"""Pairs of orders of neighbouring layers that are tried; with more, sweeps must do."""
STARTS = 8
"""Orders that sweeps begin with."""
SWEEPS = 12
"""Sweeps down and up; more have found nothing better."""


class Layers(NamedTuple):
    """Where boxes and the bends of lines stand."""

    rows: list[list[int]]
    """The layers from the top, each from the left; numbers from the count of boxes on are bends."""
    links: list[Pair]
    """Lines from one layer to the next, from top to bottom."""
    paths: dict[Pair, list[int]]
    """By line between boxes: all that it goes through, ends included."""


def reduced(edges: Iterable[Pair]) -> list[Pair]:
    """Return the edges of a graph without circles that do not follow from others."""
    below: dict[int, set[int]] = {}
    for upper, lower in edges:
        below.setdefault(upper, set()).add(lower)
    known: dict[int, set[int]] = {}

    def all_below(start: int) -> set[int]:
        if start not in known:
            known[start] = set().union(*({child} | all_below(child) for child in sorted(below.get(start, ()))))
        return known[start]

    return [
        (upper, lower)
        for upper in sorted(below)
        for lower in sorted(below[upper])
        if not any(lower in all_below(other) for other in below[upper] if other != lower)
    ]


def layered(count: int, edges: Sequence[Pair]) -> Layers:
    """Return boxes 0 to `count` - 1 in layers: what is above comes first.

    Each stands as low as it can, or as high as it can if fewer lines cross then.
    """
    low = _heights(count, edges)
    top = max(low, default=0)
    found = _in_rows([top - height for height in low], edges)
    crossed = crossings(found.rows, found.links)
    if crossed:
        other = _in_rows(_heights(count, [(lower, upper) for upper, lower in edges]), edges)
        found = other if crossings(other.rows, other.links) < crossed else found
    return found


def _heights(count: int, edges: Sequence[Pair]) -> list[int]:
    """Return how many boxes lie below each, on the longest way."""
    below: dict[int, list[int]] = {}
    for upper, lower in edges:
        below.setdefault(upper, []).append(lower)
    height: dict[int, int] = {}

    def height_of(box: int) -> int:
        if box not in height:
            height[box] = max((height_of(child) + 1 for child in below.get(box, ())), default=0)
        return height[box]

    return [height_of(box) for box in range(count)]


def _in_rows(level: Sequence[int], edges: Sequence[Pair]) -> Layers:
    """Return boxes at their levels from the top, with a bend wherever a line passes a layer."""
    rows: list[list[int]] = [[] for _ in range(max(level, default=0) + 1)]
    for box, row in enumerate(level):
        rows[row].append(box)
    links: list[Pair] = []
    paths: dict[Pair, list[int]] = {}
    bend = len(level)
    for upper, lower in edges:
        path = [upper]
        for row in range(level[upper] + 1, level[lower]):
            rows[row].append(bend)
            path.append(bend)
            bend += 1
        path.append(lower)
        links += pairwise(path)
        paths[upper, lower] = path
    return Layers(untangled(rows, links), links, paths)


def crossings(rows: Sequence[Sequence[int]], links: Iterable[Pair]) -> int:
    """Return how often lines cross."""
    place = {box: (level, x) for level, row in enumerate(rows) for x, box in enumerate(row)}
    by_row: dict[int, list[Pair]] = {}
    for upper, lower in links:
        by_row.setdefault(place[upper][0], []).append((place[upper][1], place[lower][1]))
    return sum(_crossed(ends) for ends in by_row.values())


def _crossed(ends: Sequence[Pair]) -> int:
    return sum(
        (one[0] - other[0]) * (one[1] - other[1]) < 0 for number, one in enumerate(ends) for other in ends[:number]
    )


def untangled(rows: Sequence[Sequence[int]], links: Sequence[Pair]) -> list[list[int]]:
    """Return the layers with the boxes of each in an order in which few lines cross; the fewest in a small graph."""
    tried = sum(factorial(len(upper)) * factorial(len(lower)) for upper, lower in pairwise(rows))
    return _exactly(rows, links) if tried <= MOST_TRIED else _swept(rows, links)


def _exactly(rows: Sequence[Sequence[int]], links: Sequence[Pair]) -> list[list[int]]:
    """Try all orders of a layer with all of the next: the best way to each order of the last layer is kept."""
    best: dict[tuple[int, ...], tuple[int, list[list[int]]]] = {
        order: (0, [list(order)]) for order in permutations(rows[0])
    }
    for upper, row in pairwise(rows):
        lines = [(one, other) for one, other in links if one in upper]
        found: dict[tuple[int, ...], tuple[int, list[list[int]]]] = {}
        for order in permutations(row):
            x = {box: place for place, box in enumerate(order)}
            for before, (cost, way) in best.items():
                above = {box: place for place, box in enumerate(before)}
                total = cost + _crossed([(above[one], x[other]) for one, other in lines])
                if order not in found or total < found[order][0]:
                    found[order] = (total, [*way, list(order)])
        best = found
    return min(best.values(), key=lambda each: each[0])[1]


def _swept(rows: Sequence[Sequence[int]], links: Sequence[Pair]) -> list[list[int]]:
    """Order each layer by the mean of its neighbours, down and up, from several starts; the best is kept."""
    above: dict[int, list[int]] = {}
    below: dict[int, list[int]] = {}
    for upper, lower in links:
        below.setdefault(upper, []).append(lower)
        above.setdefault(lower, []).append(upper)
    best = [list(row) for row in rows]
    least = crossings(best, links)
    for start in range(STARTS):
        now = [_turned(row, start) for row in rows]
        for sweep in range(SWEEPS):
            down = sweep % 2 == 0
            for level in range(1, len(now)) if down else range(len(now) - 2, -1, -1):
                beside = now[level - 1] if down else now[level + 1]
                now[level] = _by_mean(now[level], beside, above if down else below)
            now = _swapped(now, (above, below))
            crossed = crossings(now, links)
            if crossed < least:
                least, best = crossed, [list(row) for row in now]
        if not least:
            break
    return best


def _turned(row: Sequence[int], start: int) -> list[int]:
    """Return a layer in another order: the second half of it first, or from the right, or every other box first."""
    turned = list(row)
    if start & 4:
        turned = turned[len(turned) // 2 :] + turned[: len(turned) // 2]
    if start & 2:
        turned = turned[::2] + turned[1::2]
    return turned[::-1] if start & 1 else turned


def _by_mean(row: Sequence[int], beside: Sequence[int], near: Mapping[int, Sequence[int]]) -> list[int]:
    x = {box: place for place, box in enumerate(beside)}
    here = {box: place for place, box in enumerate(row)}

    def mean(box: int) -> float:
        places = [x[other] for other in near.get(box, ())]
        return sum(places) / len(places) if places else here[box]

    return sorted(row, key=mean)


def _swapped(rows: list[list[int]], near: Sequence[Mapping[int, Sequence[int]]]) -> list[list[int]]:
    """Swap neighbours as long as that takes a crossing away."""
    place = {box: x for row in rows for x, box in enumerate(row)}

    def crossed(left: int, right: int) -> int:
        return sum(
            place[one] > place[other] for ends in near for one in ends.get(left, ()) for other in ends.get(right, ())
        )

    better = True
    while better:
        better = False
        for row in rows:
            for x in range(len(row) - 1):
                left, right = row[x], row[x + 1]
                if crossed(right, left) < crossed(left, right):
                    row[x], row[x + 1], place[left], place[right] = right, left, x + 1, x
                    better = True
    return rows


def spread(
    rows: Sequence[Sequence[int]], links: Iterable[Pair], width: dict[int, float], gap: float
) -> dict[int, float]:
    """Return the middle of each box: near those that it is joined to, and clear of its neighbours by a gap, mm."""
    near: dict[int, list[int]] = {}
    for upper, lower in links:
        near.setdefault(upper, []).append(lower)
        near.setdefault(lower, []).append(upper)
    x: dict[int, float] = {}
    for row in rows:
        for box, place in zip(row, _apart([0.0] * len(row), _steps(row, width, gap)), strict=True):
            x[box] = place
    for _ in range(SWEEPS):
        for row in [*rows, *reversed(rows)]:
            wanted = [_middle([x[other] for other in near.get(box, ())], x[box]) for box in row]
            for box, place in zip(row, _apart(wanted, _steps(row, width, gap)), strict=True):
                x[box] = place
    return x


def _steps(row: Sequence[int], width: dict[int, float], gap: float) -> list[float]:
    return [(width[one] + width[other]) / 2 + gap for one, other in pairwise(row)]


def _middle(places: Sequence[float], otherwise: float) -> float:
    return sum(places) / len(places) if places else otherwise


def _apart(wanted: Sequence[float], steps: Sequence[float]) -> Iterator[float]:
    """Yield places as near to the wanted ones as steps allow: the least squares, by pooling those that collide."""
    before = [sum(steps[:number]) for number in range(len(wanted))]
    pools: list[tuple[float, int]] = []
    for place, moved in zip(wanted, before, strict=True):
        total, count = place - moved, 1
        while pools and pools[-1][0] / pools[-1][1] > total / count:
            more, others = pools.pop()
            total, count = total + more, count + others
        pools.append((total, count))
    level = [total / count for total, count in pools for _ in range(count)]
    for place, moved in zip(level, before, strict=True):
        yield place + moved
