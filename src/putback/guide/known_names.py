"""What every name of a guide stands for."""

from __future__ import annotations

from putback.model.called import kinds_of
from putback.model.kits import kits_of
from putback.model.library import Library
from putback.model.machine import Machine


class Names:
    """What every name of a guide stands for."""

    def __init__(self, machine: Machine | None, library: Library) -> None:
        self.kind: dict[str, dict[str, str]] = {}
        for key, thing in (machine.things if machine else {}).items():
            for kind in kinds_of(thing):
                self.add(kind, key)
        for kind, entries in (
            ("equipment", library.equipment),
            ("consumable", library.consumables),
            ("caution", library.cautions),
            ("hazard", library.hazards),
            ("tool", library.tools),
            ("block", library.blocks),
        ):
            for key in entries:
                self.add(kind, key)
        for kind, key in library.doubtful:
            self.add(kind, key)
        for option in machine.options if machine else ():
            self.add("option", option)
        for places in machine.places if machine else ():
            self.add("place", places)
        for kit in kits_of(machine) if machine else ():
            self.add("kit", kit)

    def add(self, kind: str, name: str) -> None:
        """Note that a name stands for a kind of thing."""
        self.kind.setdefault(kind, {})[name] = kind

    def of(self, kinds: tuple[str, ...]) -> list[str]:
        """Return all names of some kinds."""
        return [name for kind in kinds for name in self.kind.get(kind, {})]

    def has(self, name: str, kinds: tuple[str, ...]) -> bool:
        """Tell whether a name stands for something of these kinds."""
        return any(name in self.kind.get(kind, ()) for kind in kinds)

    def kind_of(self, name: str) -> str | None:
        """Return what a name stands for; the first kind when there are several."""
        return next((kind for kind, names in self.kind.items() if name in names), None)
