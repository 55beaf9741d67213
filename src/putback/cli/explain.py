"""`putback explain`: what a check means."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from putback.checks import KnownCheck


@click.command("explain")
@click.argument("check", required=False)
def command(check: str | None) -> None:
    """Explain CHECK: what is wrong, why it matters and how to fix it, with an example that fails and one that passes.

    Without CHECK, list all checks.
    """
    from putback.checks import all_checks
    from putback.source.nearest import nearest
    from putback.source.renamed import new_name, now_called

    checks = all_checks()
    if check is None:
        width = max(map(len, checks))
        for name, known in checks.items():
            brought = f" [{known.package}]" if known.package else ""
            click.echo(f"{name:<{width}}  {known.level.value:<7}  {known.summary}{brought}")
        return
    known_ = checks.get(check.replace("_", "-"))
    if known_ is None and (now := new_name("check", check.replace("_", "-"))):
        raise click.UsageError(now_called(check, now))
    if known_ is None:
        near = nearest(check, checks)
        hint = f"; did you mean '{near}'?" if near else "; 'putback explain' lists all"
        raise click.UsageError(f"there is no check '{check}'{hint}")
    click.echo(explained(known_))


def explained(check: KnownCheck) -> str:
    """Return what a check means, as it is shown in a terminal."""
    parts = [f"{check.name} ({check.level.value})", check.text]
    if not check.can_be_waived:
        parts.append("It cannot be waived: missing it can injure somebody.")
    if check.package:
        parts.append(f"It comes with the package '{check.package}'.")
    from putback.checks import all_checks
    from putback.checks.engine.related import related_to

    if related := related_to(check, all_checks()):
        parts.append(f"See also: {', '.join(related)}.")
    for title, text in (("This fails", check.module.FAILS), ("This passes", check.module.PASSES)):
        parts.append(f"{title}:")
        parts.append("\n".join(f"    {line}".rstrip() for line in text.strip("\n").split("\n")))
    return "\n\n".join(parts)
