"""The reference of the language, drawn from the schemas and from the records of the verbs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Any

from docutils import nodes
from docutils.parsers.rst import directives
from indexed import entry
from sphinx.errors import ExtensionError
from sphinx.util.docutils import SphinxDirective

from putback.model.verb import AnyVerb
from putback.model.verbs import VERBS
from putback.model.verbsaid import reversed_, taken
from putback.source.keys import Key, about_verb, keys_of, owners, written
from putback.sphinxext.building import Cell, table

if TYPE_CHECKING:
    from sphinx.application import Sphinx
    from sphinx.util.typing import ExtensionMetadata

SHORT = 70
"""An example of more characters stands on lines of its own."""


class Described(SphinxDirective):
    """What shows keys: each is in the index, has an anchor, and is found by the search."""

    def key_list(self, keys: Iterable[Key], owner: str, also: Iterable[str] = ()) -> nodes.definition_list:
        """Return a list of keys of one kind of mapping; `also` has the same keys."""
        listed = nodes.definition_list(classes=["keys"])
        for key in keys:
            term = nodes.term()
            for each in (owner, *also):
                term += self.place("key", key.name, f"key-{each}-{key.name}", called(each))
            term += nodes.literal(key.name, key.name)
            takes = nodes.classifier("", "", *self.takes(key))
            body = nodes.definition("", nodes.paragraph("", "", *self.parse_inline(key.about)[0]))
            body += list(_examples(key))
            item = nodes.definition_list_item("", term, takes, body)
            self.set_source_info(item)
            listed += item
        return listed

    def place(self, kind: str, name: str, ident: str, of: str = "") -> list[nodes.Node]:
        """Return the index entry and the anchor of a word; the anchor can be linked to."""
        found = entry(self.env, kind, name, ident, of)
        for node in found:
            if isinstance(node, nodes.target):
                node["names"] = [ident]
                self.state.document.note_explicit_target(node)
        return found

    def takes(self, key: Key) -> Iterator[nodes.Node]:
        """Yield what a key takes, whether it must be there, and what holds without it."""
        if key.choices:
            for number, choice in enumerate(key.choices):
                if number:
                    yield nodes.Text(" or " if number == len(key.choices) - 1 else ", ")
                yield nodes.literal(choice, choice)
        else:
            yield nodes.Text(key.takes)
        if key.required:
            yield nodes.Text("; ")
            yield nodes.strong("", "required")
        if key.default:
            yield nodes.Text("; without it ")
            yield nodes.literal(key.default, key.default)


class ShowKeys(Described):
    """Keys of one kind of mapping: all, those named, or those that are not left to another list."""

    required_arguments = 1
    option_spec = {"keys": directives.unchanged, "also": directives.unchanged, "without": directives.unchanged}  # noqa: RUF012

    def run(self) -> list[nodes.Node]:
        """Return one list."""
        owner = self.arguments[0]
        return [self.key_list(chosen(owner, self.options), owner, self.options.get("also", "").split())]


def chosen(owner: str, options: dict[str, str]) -> list[Key]:
    """Return the keys that a directive shows, in the order that it names them."""
    keys = keys_of(owner)
    names = options.get("keys", "").split() or list(keys)
    left = set(options.get("without", "").split())
    if strange := {*names, *left} - set(keys):
        raise ExtensionError(f"{owner} has no key {', '.join(sorted(strange))}")
    return [keys[name] for name in names if name not in left]


def called(owner: str) -> str:
    """Return what a kind of mapping is called in the index."""
    return "every thing of the machine" if owner == "thing" else owners()[owner].called


class ShowVerb(Described):
    """A verb: what it means, what it takes, its keys, its way back, and other words for it."""

    required_arguments = 1

    def run(self) -> list[nodes.Node]:
        """Return its nodes; the heading above is the page's."""
        verb = VERBS[self.arguments[0]]
        facts = nodes.bullet_list(bullet="-")
        for label, words in said_of(verb):
            line = nodes.paragraph("", "", nodes.strong("", f"{label}:"), nodes.Text(" "), *self.parse_inline(words)[0])
            facts += nodes.list_item("", line)
        shown = [
            *self.place("verb", verb.name, f"verb-{verb.name}"),
            nodes.paragraph("", "", *self.parse_inline(about_verb(verb.name).about)[0]),
            facts,
        ]
        keys = [key for name, key in keys_of(verb.name).items() if name != verb.name]
        return [*shown, self.key_list(keys, verb.name)] if keys else shown


class ShowVerbs(SphinxDirective):
    """The table of all verbs; each leads to its place on this page."""

    def run(self) -> list[nodes.Node]:
        """Return the table, in the order of the schema."""
        rows: list[list[Cell]] = []
        for name in owners():
            if name not in VERBS:
                continue
            link = nodes.reference("", "", nodes.literal(name, name), internal=True, refid=f"verb-{name}")
            what = about_verb(name).about.partition(". ")[0].rstrip(".")
            rows.append([nodes.paragraph("", "", link), *map(self.said, (what, taken(VERBS[name])))])
        return [table(["Verb", "What it does", "Takes"], rows, (16, 46, 38), "verbs", "sentences")]

    def said(self, words: str) -> nodes.paragraph:
        """Return words with their code."""
        return nodes.paragraph("", "", *self.parse_inline(words)[0])


class ShowReleasing(SphinxDirective):
    """The verbs at which what a tag warns of gets out."""

    def run(self) -> list[nodes.Node]:
        """Return a sentence."""
        names = ", ".join(f"`{verb.name}`" for verb in VERBS.values() if verb.releases)
        return [nodes.paragraph("", "", *self.parse_inline(f"The verbs that open, move or wet: {names}.")[0])]


def said_of(verb: AnyVerb) -> Iterator[tuple[str, str]]:
    """Yield what is said of a verb in a line each, with its label."""
    yield "Takes", taken(verb)
    yield "In reverse", reversed_(verb)
    if verb.other_words:
        yield "Other words", ", ".join(f"`{word}`" for word in verb.other_words)


def _examples(key: Key) -> Iterator[nodes.Node]:
    lines = [f"{key.name}: {written(example)}" for example in key.examples]
    short = [line for line in lines if len(line) <= SHORT]
    if short:
        shown = nodes.paragraph(classes=["examples"])
        for line in short:
            shown += [nodes.Text(" or ")] if shown.children else []
            shown += nodes.literal(line, line)
        yield shown
    for line in lines:
        if line not in short:
            text = block(key)
            yield nodes.literal_block(text, text, language="yaml")


def block(key: Key) -> str:
    """Return the first long example of a key over several lines."""
    value: Any = next(each for each in key.examples if len(f"{key.name}: {written(each)}") > SHORT)
    if isinstance(value, dict):
        return "\n".join([f"{key.name}:", *(f"  {name}: {written(inner)}" for name, inner in value.items())])
    if isinstance(value, list):
        return "\n".join([f"{key.name}:", *(f"  - {written(inner)}" for inner in value)])
    return f"{key.name}: {written(value)}"


def setup(app: Sphinx) -> ExtensionMetadata:
    """Register the directives."""
    app.add_directive("putback-keys", ShowKeys)
    app.add_directive("putback-verb", ShowVerb)
    app.add_directive("putback-verbs", ShowVerbs)
    app.add_directive("putback-releasing", ShowReleasing)
    return {"version": "1", "parallel_read_safe": True, "parallel_write_safe": True}
