"""Changes to a guide as a tree: it stays good YAML, and often good in shape."""

from __future__ import annotations

from collections.abc import Callable
from copy import deepcopy
from random import Random
from typing import Any, NamedTuple

from tests.fuzz import vocabulary as v
from tests.fuzz.guides import Tree
from tests.fuzz.shapes import EVERY_KEY, STEP_KEYS, VERBS, Shapes


class Spot(NamedTuple):
    """A value in a tree, by what holds it."""

    holder: Any
    key: Any
    about: str
    """The nearest key of a mapping above it."""

    @property
    def value(self) -> Any:
        """What stands there."""
        return self.holder[self.key]

    def put(self, value: Any) -> None:
        """Put something else there."""
        self.holder[self.key] = value


def spots(tree: Any, about: str = "") -> list[Spot]:
    """Return every value below a value."""
    found: list[Spot] = []
    waiting = [(tree, about)]
    while waiting:
        node, above = waiting.pop()
        pairs = (
            list(node.items()) if isinstance(node, dict) else list(enumerate(node)) if isinstance(node, list) else []
        )
        for key, value in pairs:
            name = key if isinstance(key, str) and "." not in key else above
            found.append(Spot(node, key, name))
            waiting.append((value, name))
    return found


class Changer:
    """Changes trees by chance."""

    def __init__(self, rng: Random) -> None:
        self.rng = rng
        self.shapes = Shapes(rng, 0.3)

    def change(self, tree: Tree, times: int, rude: float) -> None:
        """Change a tree in place."""
        for _ in range(times):
            places = [spot for spot in spots(tree) if spot.holder is not tree]
            if places:
                ways = _RUDE if self.rng.random() < rude else _KIND
                self.rng.choice(ways)(self, tree, places)

    def pick(self, places: list[Spot], fits: Callable[[Spot], bool]) -> Spot | None:
        """Return a spot that fits; None when there is none near."""
        for _ in range(12):
            spot = self.rng.choice(places)
            if fits(spot):
                return spot
        return next((spot for spot in places if fits(spot)), None)

    # Changes after which the shape is mostly good

    def another(self, tree: Tree, places: list[Spot]) -> None:
        spot = self.pick(places, lambda spot: isinstance(spot.value, str))
        if spot:
            spot.put(self.shapes.word(spot.about))

    def odd_quantity(self, tree: Tree, places: list[Spot]) -> None:
        spot = self.pick(places, lambda spot: spot.about in v.QUANTITIES and isinstance(spot.value, str))
        if spot:
            spot.put(self.rng.choice(v.ODD_QUANTITIES))

    def odd_text(self, tree: Tree, places: list[Spot]) -> None:
        spot = self.pick(places, lambda spot: isinstance(spot.value, str))
        if spot:
            spot.put(self.rng.choice((*v.ODD_TEXTS, self.rng.choice(v.CONTROL) + "x")))

    def other_name(self, tree: Tree, places: list[Spot]) -> None:
        spot = self.pick(places, lambda spot: spot.value in v.EVERY_NAME if isinstance(spot.value, str) else False)
        if spot:
            spot.put(self.rng.choice(v.EVERY_NAME))

    def swap_alike(self, tree: Tree, places: list[Spot]) -> None:
        one = self.rng.choice(places)
        other = self.pick(places, lambda spot: spot.about == one.about and spot.holder is not one.holder)
        if other:
            self._swap(one, other)

    def double(self, tree: Tree, places: list[Spot]) -> None:
        spot = self.pick(places, lambda spot: isinstance(spot.holder, list))
        if spot:
            spot.holder.insert(self.rng.randint(0, len(spot.holder)), deepcopy(spot.value))

    def drop(self, tree: Tree, places: list[Spot]) -> None:
        spot = self.pick(places, lambda spot: isinstance(spot.holder, list) and len(spot.holder) > 1)
        if spot:
            del spot.holder[spot.key]

    def drop_key(self, tree: Tree, places: list[Spot]) -> None:
        spot = self.pick(places, lambda spot: isinstance(spot.holder, dict))
        if spot:
            del spot.holder[spot.key]

    def shuffle(self, tree: Tree, places: list[Spot]) -> None:
        spot = self.pick(places, lambda spot: isinstance(spot.value, list) and len(spot.value) > 1)
        if spot:
            self.rng.shuffle(spot.value)

    def new_step(self, tree: Tree, places: list[Spot]) -> None:
        spot = self.pick(places, lambda spot: spot.about in ("steps", "otherwise") and isinstance(spot.value, list))
        if spot:
            spot.value.insert(self.rng.randint(0, len(spot.value)), self.shapes.step(1))

    def nest(self, tree: Tree, places: list[Spot]) -> None:
        """Put steps under the `otherwise` of a check, with a way out."""
        spot = self.pick(places, lambda spot: spot.about in ("steps", "otherwise") and isinstance(spot.value, list))
        if spot and spot.value:
            start = self.rng.randrange(len(spot.value))
            end = self.rng.randint(start + 1, len(spot.value))
            inner = spot.value[start:end]
            inner += self.rng.choice(
                ([], [{"stop": "stop here"}], [{"back-to": "first-look"}], [{"back-to": "again-here"}])
            )
            check = {self.rng.choice(("check", "inspect", "measure")): "lid", "name": self.rng.choice(v.STEPS)}
            spot.value[start:end] = [check | {"otherwise": inner}]

    def limit(self, tree: Tree, places: list[Spot]) -> None:
        spot = self.pick(places, lambda spot: isinstance(spot.value, dict) and bool(set(spot.value) & _LIMITED))
        if spot:
            spot.value["when"] = self.shapes.when()

    def more_facts(self, tree: Tree, places: list[Spot]) -> None:
        spot = self.pick(places, lambda spot: isinstance(spot.value, dict) and bool(set(spot.value) & set(VERBS)))
        if spot:
            key = self.rng.choice(STEP_KEYS)
            spot.value[key] = self.shapes.word(key) if key not in ("when", "figure", "waive") else self.shapes.when()

    def do_block(self, tree: Tree, places: list[Spot]) -> None:
        spot = self.pick(places, lambda spot: spot.about in ("steps", "otherwise") and isinstance(spot.value, list))
        if spot:
            step = {self.rng.choice(("do", "reverse")): self.rng.choice(v.BLOCKS)}
            spot.value.insert(self.rng.randint(0, len(spot.value)), step)

    def many(self, tree: Tree, places: list[Spot]) -> None:
        """Repeat a run of steps, or a list."""
        spot = self.pick(places, lambda spot: isinstance(spot.value, list) and len(spot.value) > 0)
        if spot and len(spot.value) < 30:
            spot.put([deepcopy(item) for _ in range(self.rng.randint(2, 8)) for item in spot.value])

    def number(self, tree: Tree, places: list[Spot]) -> None:
        spot = self.pick(places, lambda spot: isinstance(spot.value, int | float))
        if spot:
            spot.put(self.rng.choice((0, 1, 2, 3, 7, 12, 100, 9999, 10000, -1, 1.5, 10**20)))

    def clash(self, tree: Tree, places: list[Spot]) -> None:
        """Give a thing the name of another."""
        spot = self.pick(places, lambda spot: isinstance(spot.holder, dict) and isinstance(spot.value, dict))
        if spot:
            self._rename(spot, self.rng.choice(v.EVERY_NAME))

    # Changes after which it is mostly not

    def odd_value(self, tree: Tree, places: list[Spot]) -> None:
        self.rng.choice(places).put(deepcopy(self.rng.choice(v.ODD_VALUES)))

    def swap_any(self, tree: Tree, places: list[Spot]) -> None:
        self._swap(self.rng.choice(places), self.rng.choice(places))

    def rename(self, tree: Tree, places: list[Spot]) -> None:
        spot = self.pick(places, lambda spot: isinstance(spot.holder, dict))
        if spot:
            pool: tuple[str, ...] = self.rng.choice((EVERY_KEY, v.EVERY_NAME, v.ODD_TEXTS))
            self._rename(spot, self.rng.choice(pool))

    def wrap(self, tree: Tree, places: list[Spot]) -> None:
        spot = self.rng.choice(places)
        spot.put(self.rng.choice(([spot.value], {"a": spot.value}, {self.rng.choice(EVERY_KEY): spot.value})))

    def unwrap(self, tree: Tree, places: list[Spot]) -> None:
        spot = self.pick(places, lambda spot: isinstance(spot.value, dict | list) and bool(spot.value))
        if spot:
            values = list(spot.value.values()) if isinstance(spot.value, dict) else spot.value
            spot.put(self.rng.choice(values))

    def other_file(self, tree: Tree, places: list[Spot]) -> None:
        """Put one file in the place of another."""
        names = [name for name in tree if name.endswith(".yaml")]
        tree[self.rng.choice(names)] = deepcopy(tree[self.rng.choice(names)])

    def _rename(self, spot: Spot, new: str) -> None:
        items = [(new if key == spot.key else key, value) for key, value in spot.holder.items()]
        spot.holder.clear()
        spot.holder.update(items)

    def _swap(self, one: Spot, other: Spot) -> None:
        first, second = deepcopy(one.value), deepcopy(other.value)
        one.put(second)
        other.put(first)


_LIMITED = {*VERBS, "joins", "secures", "torque", "thread", "mass", "positions", "title", "drains"}
_KIND = (
    Changer.another, Changer.odd_quantity, Changer.odd_quantity, Changer.odd_text, Changer.other_name,
    Changer.swap_alike,
    Changer.double, Changer.drop, Changer.drop_key, Changer.shuffle, Changer.new_step, Changer.new_step, Changer.nest,
    Changer.limit, Changer.more_facts, Changer.do_block, Changer.many, Changer.number, Changer.clash,
)  # fmt: skip
_RUDE = (Changer.odd_value, Changer.swap_any, Changer.rename, Changer.wrap, Changer.unwrap, Changer.other_file)
