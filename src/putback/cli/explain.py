"""`putback explain`: what a check, a verb or a key means."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from putback.checks import KnownCheck


@click.command("explain")
@click.argument("name", required=False)
def command(name: str | None) -> None:
    """Explain NAME, a check, a verb, a key, or a kind of thing.

    Of a check: what is wrong, why it matters and how to fix it, with an example that fails and one that passes. Of a
    kind of thing, such as part, fastener, job or step: its keys. Without NAME, list all checks.
    """
    from putback.checks import all_checks
    from putback.source.nearest import nearest
    from putback.source.renamed import new_name, now_called

    checks = all_checks()
    if name is None:
        width = max(map(len, checks))
        for each, known in checks.items():
            brought = f" [{known.package}]" if known.package else ""
            click.echo(f"{each:<{width}}  {known.level.value:<7}  {known.summary}{brought}")
        return
    key = name.replace("_", "-")
    if found := checks.get(key):
        click.echo(explained(found))
        return
    if now := new_name("check", key):
        raise click.UsageError(now_called(name, now))
    from putback.cli.meaning import meaning, names

    if said := meaning(key):
        click.echo(said)
        return
    near = nearest(name, [*checks, *names()])
    hint = f"; did you mean '{near}'?" if near else "; 'putback explain' lists all checks"
    raise click.UsageError(f"there is no check, verb, key or kind of thing called '{name}'{hint}")


def explained(check: KnownCheck) -> str:
    """Return what a check means, as it is shown in a terminal."""
    parts = [f"{check.name} ({check.level.value})", *map(_folded, check.text.split("\n\n"))]
    if not check.can_be_waived:
        parts.append("It cannot be waived: missing it can injure somebody.")
    if check.package:
        parts.append(f"It comes with the package '{check.package}'.")
    from putback.checks import all_checks
    from putback.checks.engine.related import related_to
    from putback.cli.meaning import wrapped

    if related := related_to(check, all_checks()):
        parts.append(wrapped(f"See also: {', '.join(related)}."))
    for title, text in (("This fails", check.module.FAILS), ("This passes", check.module.PASSES)):
        parts.append(f"{title}:")
        parts.append("\n".join(f"    {line}".rstrip() for line in text.strip("\n").split("\n")))
    return "\n\n".join(parts)


def _folded(paragraph: str) -> str:
    """Return a paragraph in lines for a terminal; what has lines of its own, as a list, keeps them."""
    from putback.cli.meaning import wrapped

    return paragraph if "\n-" in f"\n{paragraph}" or "\n " in paragraph else wrapped(paragraph)
