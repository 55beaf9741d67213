"""What stands at a place of a file, and the key that it stands under."""

from __future__ import annotations

from putback.source.phrases import Place
from putback.source.span import Span, top_of
from putback.source.tree import Listing, Mapping, Node


class Places:
    """The places of one file."""

    def __init__(self, root: Node, path: str) -> None:
        """Take the tree of the file, and the name of the file."""
        self.root = root
        self.path = path

    def at(self, place: Place) -> Node:
        """Return what stands at a place."""
        node = self.root
        for step in place:
            match node:
                case Mapping(entries=entries):
                    node = entries[str(step)].value
                case Listing(items=items):
                    node = items[int(step)]
        return node

    def mapping(self, place: Place) -> Mapping:
        """Return the mapping that stands at a place."""
        node = self.at(place)
        assert isinstance(node, Mapping)
        return node

    def key_above(self, place: Place) -> Span:
        """The nearest key above a value, its own included."""
        for end in range(len(place), 0, -1):
            holder = self.at(place[: end - 1])
            if isinstance(holder, Mapping):
                return holder.entries[str(place[end - 1])].key.span
        return top_of(self.path)
