"""The domain `putback`: roles that link to things, jobs and safety messages, and an index of them."""

from __future__ import annotations

from collections.abc import Iterable, Set
from typing import TYPE_CHECKING, Any, ClassVar, NamedTuple

from docutils import nodes
from sphinx.domains import Domain, ObjType
from sphinx.roles import XRefRole
from sphinx.util.docutils import SphinxRole
from sphinx.util.nodes import make_refnode

from putback.prose.references import Reference, role_target
from putback.sphinxext.building import link
from putback.sphinxext.outdated import depend_on
from putback.sphinxext.pointers import Pointers
from putback.sphinxext.sources import opened_for
from putback.units import QuantityError, parse_any, show
from putback.words import catalogue

if TYPE_CHECKING:
    from sphinx.addnodes import pending_xref
    from sphinx.builders import Builder
    from sphinx.environment import BuildEnvironment
    from sphinx.util.typing import RoleFunction


class Known(NamedTuple):
    """Where an object is described."""

    docname: str
    anchor: str
    title: str
    sought: str = ""
    """What the search finds it by, where that is more than its title."""
    inside: str = ""
    """How a thing is called within a sentence, where that is not its title: `drive belt`."""


class QuantityRole(SphinxRole):
    """A quantity, printed as steps print it: in the units of the guide that the page lies in."""

    def run(self) -> tuple[list[nodes.Node], list[nodes.system_message]]:
        """Return the quantity, or an error at the line of what is none."""
        opened = opened_for(self.env, self.env.docname)
        try:
            quantity = parse_any(self.text)
        except QuantityError as error:
            message = self.inliner.reporter.error(f"'putback:quantity': {error}", line=self.lineno)
            return [nodes.problematic(self.rawtext, self.rawtext)], [message]
        if opened is not None:
            depend_on(self.env, opened.guide, opened.guide.files)
        words = catalogue(opened).quantity(quantity) if opened is not None else show(quantity)
        return [nodes.Text(words)], []


class PointerRole(SphinxRole):
    """A step or a figure of a job, by the number of the step, or a limit: `drain-oil of gear-oil`."""

    def run(self) -> tuple[list[nodes.Node], list[nodes.system_message]]:
        """Return the link, or an error at the line of a name that is unknown."""
        kind, opened = self.name.rpartition(":")[2], opened_for(self.env, self.env.docname)
        target = role_target(self.text)
        if opened is not None and target is not None:
            depend_on(self.env, opened.guide, opened.guide.files)
            reference = Reference(kind, *target, 0, 0, (0, 0), (0, 0))
            pointed = Pointers(opened, catalogue(opened)).found(reference)
            if pointed is not None:
                title, named, _ = self.text.partition("<")
                words = title.strip() if named and title.strip() else pointed.words
                return [link(pointed.kind, pointed.target, words) if pointed.kind else nodes.Text(words)], []
        message = f"'putback:{kind}': no {kind} is called '{self.text}' in this guide, or more than one"
        return [nodes.problematic(self.rawtext, self.rawtext)], [self.inliner.reporter.error(message, line=self.lineno)]


class PutbackDomain(Domain):
    """Objects of all guides of a project, each named in its guide: two guides may both have an `impeller`."""

    name = "putback"
    label = "Putback"
    object_types = {  # noqa: RUF012 - Sphinx reads a class attribute
        "thing": ObjType("thing", "thing", "part", "fastener", "line", "fluid", "control"),
        "job": ObjType("job", "job"),
        "block": ObjType("block"),
        "caution": ObjType("safety message", "caution"),
        "step": ObjType("step"),
        "symptom": ObjType("sign"),
    }
    roles: ClassVar[dict[str, RoleFunction]] = {
        role: XRefRole(innernodeclass=nodes.inline, warn_dangling=True)
        for role in ("thing", "part", "fastener", "line", "fluid", "control", "job", "caution")
    } | {"quantity": QuantityRole(), "step": PointerRole(), "limit": PointerRole(), "figure": PointerRole()}
    initial_data = {"objects": {}}  # noqa: RUF012
    data_version = 3
    dangling_warnings = {  # noqa: RUF012
        role: f"no {role} is called '%(target)s' in this guide" for role in roles
    }

    @property
    def objects(self) -> dict[tuple[str, str, str], Known]:
        """Objects by guide (folder in the project), kind and name."""
        found: dict[tuple[str, str, str], Known] = self.data["objects"]
        return found

    def note(self, kind: str, name: str, anchor: str, title: str, sought: str = "", inside: str = "") -> None:
        """Note that the current page describes an object."""
        docname = self.env.docname
        self.objects[guide_folder(docname), kind, name] = Known(docname, anchor, title, sought, inside)

    def clear_doc(self, docname: str) -> None:
        """Forget what a page described."""
        for key, known in list(self.objects.items()):
            if known.docname == docname:
                del self.objects[key]

    def merge_domaindata(self, docnames: Set[str], otherdata: dict[str, Any]) -> None:
        """Take over what another process has read."""
        for key, known in otherdata["objects"].items():
            if known[0] in docnames:
                self.objects[key] = Known(*known)

    def find(self, fromdoc: str, role: str, target: str) -> Known | None:
        """Return an object: of the page's own guide, else of the only guide that has it."""
        kind = role if role in ("job", "caution", "step", "symptom") else "thing"
        own = self.objects.get((guide_folder(fromdoc), kind, target))
        if own is not None:
            return own
        others = [known for (_, k, name), known in self.objects.items() if k == kind and name == target]
        return others[0] if len(others) == 1 else None

    def resolve_xref(
        self,
        env: BuildEnvironment,
        fromdocname: str,
        builder: Builder,
        typ: str,
        target: str,
        node: pending_xref,
        contnode: nodes.Element,
    ) -> nodes.reference | None:
        """Link to an object; the title stands for its name when the author gave no words."""
        del env
        known = self.find(fromdocname, typ, target)
        if known is None:
            return None
        if builder.format == "typst" and typ == "thing" and node.get("refexplicit"):
            # On paper, a page number after every part of every step would only be in the way.
            return None
        if not node.get("refexplicit"):
            called = known.inside if known.inside and _within_a_sentence(node) else known.title
            contnode = nodes.inline(called, called, classes=["thing"])
        shown = contnode.astext()
        # A tip that says what the words say is only weight, and read aloud it comes twice.
        tip = "" if known.title.casefold() in shown.casefold() else known.title
        words = nodes.Text(shown) if builder.format == "html" and contnode["classes"] == ["thing"] else contnode
        return make_refnode(builder, fromdocname, known.docname, known.anchor, words, tip)

    def resolve_any_xref(
        self,
        env: BuildEnvironment,
        fromdocname: str,
        builder: Builder,
        target: str,
        node: pending_xref,
        contnode: nodes.Element,
    ) -> list[tuple[str, nodes.reference]]:
        """Offer the objects of a name to the role `any`."""
        found = []
        for kind in ("thing", "job", "caution"):
            made = self.resolve_xref(env, fromdocname, builder, kind, target, node, contnode)
            if made is not None:
                found.append((f"putback:{kind}", made))
        return found

    def get_type_name(self, type: ObjType, primary: bool = False) -> str:
        """Return what the search calls a kind of object."""
        del primary
        return str(type.lname)

    def get_objects(self) -> Iterable[tuple[str, str, str, str, str, int]]:
        """Yield all objects, for the search."""
        for (_, kind, name), known in self.objects.items():
            yield name, known.sought or known.title, kind, known.docname, known.anchor, 1


def _within_a_sentence(node: nodes.Node) -> bool:
    """Tell whether words stand before a node in its paragraph that end no sentence."""
    parent = node.parent
    siblings = parent.children[: parent.index(node)] if parent else []
    before = "".join(each.astext() for each in siblings).rstrip(" \"'“‘(*")
    return bool(before) and not before.endswith((".", "!", "?", ":"))


def guide_folder(docname: str) -> str:
    """Return the folder of a page's guide in the project: that of the page, or the one above `jobs` or `blocks`."""
    folder = docname.rpartition("/")[0]
    return folder.rpartition("/")[0] if folder.rpartition("/")[2] in ("jobs", "blocks") else folder
