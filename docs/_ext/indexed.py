"""Words of the language in the general index and in the search: checks, commands, options, verbs, keys.

An entry of the index alone is not enough: the search drops short words such as `at` and `not`. So each is an object of
a domain as well, which the search finds by its whole name.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Set
from typing import TYPE_CHECKING, Any

from docutils import nodes
from sphinx import addnodes
from sphinx.domains import Domain, ObjType

if TYPE_CHECKING:
    from sphinx.application import Sphinx
    from sphinx.environment import BuildEnvironment
    from sphinx.util.typing import ExtensionMetadata

KINDS = ("check", "command", "option", "verb", "key")
"""What a word of the language can be."""


FIRST = 0
"""The search shows these before pages that only speak of them."""


class WordsDomain(Domain):
    """The words of the language that the documentation describes, each with its place."""

    name = "word"
    label = "Putback"
    object_types = {kind: ObjType(kind) for kind in KINDS}  # noqa: RUF012 - Sphinx reads a class attribute
    initial_data = {"objects": {}}  # noqa: RUF012

    def note(self, kind: str, name: str, shown: str, ident: str) -> None:
        """Note that the page being read describes a word at an anchor."""
        self.data["objects"][kind, shown] = (name, self.env.docname, ident)

    def clear_doc(self, docname: str) -> None:
        """Forget what a page described."""
        objects = self.data["objects"]
        for key in [key for key, (_, page, _) in objects.items() if page == docname]:
            del objects[key]

    def merge_domaindata(self, docnames: Set[str], otherdata: dict[str, Any]) -> None:
        """Take over what another process has read."""
        self.data["objects"] |= {key: one for key, one in otherdata["objects"].items() if one[1] in docnames}

    def get_type_name(self, type: ObjType, primary: bool = False) -> str:
        """Return what the search calls a kind of word."""
        del primary
        return str(type.lname)

    def get_objects(self) -> Iterable[tuple[str, str, str, str, str, int]]:
        """Yield all words, for the search."""
        for (kind, shown), (name, docname, ident) in self.data["objects"].items():
            yield name, shown, kind, docname, ident, FIRST

    def resolve_any_xref(self, *_of: object) -> list[tuple[str, nodes.reference]]:
        """Resolve nothing: the anchors are labels, to which links lead by themselves."""
        return []


def entry(env: BuildEnvironment, kind: str, name: str, ident: str, of: str = "") -> list[nodes.Node]:
    """Return what goes in front of the place where a word is described: its entry in the index, and an anchor.

    `of` says of what, where one name has several meanings: the index then has `torque (key of a fastener)`.
    """
    said = f"{name} ({kind} of {of})" if of else f"{name} ({kind})"
    shown = f"{of} {name}" if kind == "option" else f"{_short(of)}.{name}" if of else name
    domain = env.domains["word"]
    assert isinstance(domain, WordsDomain)
    domain.note(kind, name, shown, ident)
    return [
        addnodes.index(entries=[("single", said, ident, "", None)]),
        nodes.target("", "", ids=[ident]),
    ]


def _short(owner: str) -> str:
    """Return what has keys as one word, for the search: `fastener.torque`, which it finds by `torque`."""
    return re.sub(r"^(?:an?|the|every) | of the machine$| file$|\.yaml$|'", "", owner)


def setup(app: Sphinx) -> ExtensionMetadata:
    """Register the domain."""
    app.add_domain(WordsDomain)
    return {"version": "1", "parallel_read_safe": True, "parallel_write_safe": True}
