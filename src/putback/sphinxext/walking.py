"""Looking through the nodes of a page faster than docutils does: Sphinx does it a hundred times for each page.

docutils goes down with a generator for each node, and each node that is found passes through all of those above it.
Here one generator keeps its places in a list. What is found, and in which order, is the same, also while the page is
changed; `tests/sphinxext/test_walking.py` compares the two.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from docutils import nodes


def of_kind(top: nodes.Node, kind: type) -> Iterator[nodes.Node]:
    """Yield a node and what is below it, from top to bottom, if it is of a kind (or of one of several)."""
    if isinstance(top, kind):
        yield top
    places = [iter(top.children)]
    while places:
        for node in places[-1]:
            if isinstance(node, kind):
                yield node
            if node.children:
                places.append(iter(node.children))
                break
        else:
            places.pop()


def all_below(top: nodes.Node) -> Iterator[nodes.Node]:
    """Yield a node and all that is below it, from top to bottom."""
    yield top
    places = [iter(top.children)]
    while places:
        for node in places[-1]:
            yield node
            if node.children:
                places.append(iter(node.children))
                break
        else:
            places.pop()


@contextmanager
def walking_fast() -> Iterator[None]:
    """Let docutils look through pages in this way. Of a docutils that has no such methods, nothing is changed."""
    ours = {"_fast_findall": of_kind, "_superfast_findall": all_below}
    theirs = {name: method for name in ours if (method := vars(nodes.Node).get(name)) is not None}
    for name in theirs:
        setattr(nodes.Node, name, ours[name])
    try:
        yield
    finally:
        for name, method in theirs.items():
            setattr(nodes.Node, name, method)
