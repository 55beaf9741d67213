"""What the command line takes, drawn from its commands while the documentation is built."""

from __future__ import annotations

import inspect
from collections.abc import Iterator
from typing import TYPE_CHECKING

import click
from docutils import nodes
from indexed import entry
from sphinx.errors import ExtensionError
from sphinx.util.docutils import SphinxDirective

from putback.cli import cli
from putback.sphinxext.building import paragraph

if TYPE_CHECKING:
    from sphinx.application import Sphinx
    from sphinx.util.typing import ExtensionMetadata


def context(name: str = "") -> click.Context:
    """Return what a command is called in: `putback` itself, or one of its commands. Raises for an unknown one."""
    root = click.Context(cli, info_name="putback", help_option_names=["-h", "--help"])
    if not name:
        return root
    command = cli.get_command(root, name)
    if command is None:
        raise ExtensionError(f"there is no command 'putback {name}'")
    return click.Context(command, info_name=name, parent=root)


def options(ctx: click.Context) -> list[click.Option]:
    """Return the options of a command that are shown; `--help`, which all have, with `putback` itself."""
    params = ctx.command.params if ctx.parent else ctx.command.get_params(ctx)
    return [one for one in params if isinstance(one, click.Option) and not one.hidden]


class ShowCommand(SphinxDirective):
    """How a command is called: usage, what `--help` says, options; of `putback` itself without a name."""

    optional_arguments = 1

    def run(self) -> list[nodes.Node]:
        """Return the nodes."""
        ctx = context(self.arguments[0] if self.arguments else "")
        usage = ctx.get_usage().removeprefix("Usage: ").replace("\n", " ")
        said = inspect.cleandoc(ctx.command.help or "")
        words = [self.parse_text_to_nodes(words.replace("\n", " ")) for words in said.split("\n\n")]
        listed = nodes.definition_list(classes=["options"])
        listed += [self._option(ctx, option) for option in options(ctx)]
        return [
            *entry(self.env, "command", ctx.command_path, f"command-{ctx.info_name}"),
            nodes.literal_block(usage, usage, language="text"),
            *(node for part in words for node in part),
            listed,
        ]

    def _option(self, ctx: click.Context, option: click.Option) -> nodes.definition_list_item:
        first = max(option.opts, key=len)
        ident = f"{ctx.info_name}{first}"
        term = nodes.term("", "", *_names(ctx, option))
        about = paragraph(" ".join(_about(ctx, option)))
        marks = entry(self.env, "option", first, ident, of=ctx.command_path)
        return nodes.definition_list_item("", term, nodes.definition("", *marks, about))


def _names(ctx: click.Context, option: click.Option) -> Iterator[nodes.Node]:
    value = "" if option.is_flag or option.count else f" {option.make_metavar(ctx)}"
    for number, name in enumerate(option.opts):
        if number:
            yield nodes.Text(", ")
        yield nodes.literal(name, f"{name}{value}")


def _about(ctx: click.Context, option: click.Option) -> Iterator[str]:
    """Yield what an option is for, as sentences."""
    yield from (sentence for sentence in [(option.help or "").partition("  [")[0]] if sentence)
    if option.multiple:
        yield "May be given more than once."
    default = option.get_default(ctx)
    if isinstance(default, str) and not option.is_flag:
        yield f"Default: {default}."
    elif "[default: " in (option.help or ""):
        yield f"Default: {(option.help or '').partition('[default: ')[2].removesuffix(']')}."


def setup(app: Sphinx) -> ExtensionMetadata:
    """Register the directive."""
    app.add_directive("putback-command", ShowCommand)
    return {"version": "1", "parallel_read_safe": True, "parallel_write_safe": True}
