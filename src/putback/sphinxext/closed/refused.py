"""Directives and roles that read files or write raw HTML: in a guide they only say what to do instead."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from docutils import nodes
from docutils.parsers.rst import directives
from docutils.parsers.rst.languages import get_language
from sphinx.directives.patches import CSVTable
from sphinx.util.docutils import SphinxDirective, SphinxRole

from putback.sphinxext.closed.told import tell

if TYPE_CHECKING:
    from sphinx.application import Sphinx

INSTEAD = {
    "include": "put the text in the page",
    "literalinclude": "put the text in the page",
    "raw": "write it in Markdown",
    "eval-rst": "write it in Markdown",
}
"""What is off, and what to do instead."""


class _AnyOption(dict[str, Callable[[str], Any]]):
    """Takes every option: what it means does not matter any more."""

    def __missing__(self, key: str) -> Callable[[str], Any]:
        return directives.unchanged


class RefusedMarkup(SphinxDirective):
    """Says that it is off, and shows nothing."""

    required_arguments = 0
    optional_arguments = 1
    final_argument_whitespace = True
    has_content = True
    option_spec = _AnyOption()

    def run(self) -> list[nodes.Node]:
        """Tell of it at its line."""
        path, line = self.get_source_info()
        name = self.canonical()
        tell(path, line, f"'{name}' is off in a guide", INSTEAD[name])
        return []

    def canonical(self) -> str:
        """Return the name in English."""
        if self.name in INSTEAD:
            return self.name
        translated = _translated(str(self.config.language))
        return translated.get(self.name.lower(), "raw")


class Table(CSVTable):
    """A table whose rows stand in the page."""

    def run(self) -> list[nodes.Node]:  # type: ignore[override]  # as Sphinx declares it, and docutils does not
        """Refuse rows that stand in a file or at an address."""
        for key in ("file", "url"):
            if key in self.options:
                path, line = self.state_machine.get_source_and_line(self.lineno)
                tell(path or "", line or 1, f"'csv-table' with '{key}' is off in a guide", "put the rows in the page")
                return []
        return super().run()


class RefusedRole(SphinxRole):
    """Says that it is off, and shows nothing."""

    options = {"format": directives.unchanged}  # noqa: RUF012 - docutils reads an attribute

    def run(self) -> tuple[list[nodes.Node], list[nodes.system_message]]:
        """Tell of it at its line."""
        path, line = self.get_source_info()
        tell(path, line, "'raw' is off in a guide", INSTEAD["raw"])
        return [], []


def _translated(language: str) -> dict[str, str]:
    """Return the names that directives have in a language, each with the English one."""
    module = get_language(language.partition("_")[0].lower())
    names: dict[str, str] = getattr(module, "directives", {})
    return names


def forbid(app: Sphinx) -> None:
    """Put these in the place of docutils' and Sphinx' own, in English and in the language of the guide."""
    names = dict.fromkeys(("include", "literalinclude", "raw"), RefusedMarkup) | {"csv-table": Table}
    for name, directive in names.items():
        app.add_directive(name, directive, override=True)
    for name, english in _translated(str(app.config.language)).items():
        if english in names:
            app.add_directive(name, names[english], override=True)
    app.add_role("raw", RefusedRole(), override=True)
