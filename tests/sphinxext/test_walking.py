"""Laws of looking through a page: what is found, and in which order, is what docutils finds."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import pytest
from docutils import nodes
from hypothesis import given
from hypothesis import strategies as st

from putback.sphinxext.walking import all_below, of_kind, walking_fast

KINDS = (nodes.paragraph, nodes.section, nodes.strong)
NODE: Any = nodes.Node
THEIRS, THEIRS_ALL = NODE._fast_findall, NODE._superfast_findall


def trees() -> st.SearchStrategy[nodes.Node]:
    """Make pages of paragraphs, sections and words."""
    words: st.SearchStrategy[nodes.Node] = st.just("x").map(nodes.Text)
    below = st.recursive(
        words, lambda inner: st.builds(lambda kind, all_: kind("", *all_), st.sampled_from(KINDS), st.lists(inner))
    )
    return st.lists(below).map(lambda all_: nodes.section("", *all_))


Finder = Callable[[nodes.Node], Iterator[nodes.Node]]


@given(trees(), st.sampled_from([*KINDS, nodes.Text, nodes.Node, (nodes.paragraph, nodes.Text)]))
def test_the_same_nodes_are_found(tree: nodes.Node, kind: type) -> None:
    assert [*map(id, of_kind(tree, kind))] == [*map(id, THEIRS(tree, kind))]
    assert [*map(id, all_below(tree))] == [*map(id, THEIRS_ALL(tree))]


def changed(tree: nodes.Node, find: Finder) -> str:
    """Take out, put in and replace while looking; return what became of the page."""
    for number, node in enumerate(find(tree)):
        if number > 100:
            break
        if isinstance(node, nodes.paragraph):
            node.insert(0, nodes.strong("", "new"))
        elif isinstance(node, nodes.strong) and node.parent is not None:
            node.replace_self([nodes.emphasis("", "other"), nodes.Text("y")])
        elif isinstance(node, nodes.section) and number % 2 and node.parent is not None:
            node.parent.remove(node)
    return tree.pformat()


@given(trees())
def test_a_page_that_is_changed_meanwhile_becomes_the_same(tree: nodes.Node) -> None:
    other = tree.deepcopy()
    assert changed(tree, lambda top: of_kind(top, nodes.Element)) == changed(
        other, lambda top: THEIRS(top, nodes.Element)
    )
    third, fourth = other.deepcopy(), other.deepcopy()
    assert changed(third, all_below) == changed(fourth, THEIRS_ALL)


def test_docutils_looks_in_this_way_only_meanwhile() -> None:
    with walking_fast():
        assert NODE._fast_findall is of_kind
        assert [*nodes.section("", nodes.strong()).findall(nodes.strong)]
    assert NODE._fast_findall is THEIRS


def test_after_a_fault_docutils_looks_as_before() -> None:
    with pytest.raises(ValueError, match="fault"), walking_fast():
        raise ValueError("fault")
    assert NODE._fast_findall is THEIRS
    assert NODE._superfast_findall is THEIRS_ALL
