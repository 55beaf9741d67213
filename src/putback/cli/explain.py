"""`putback explain`: what a check means."""

from __future__ import annotations

import click


@click.command("explain")
@click.argument("check", required=False)
def command(check: str | None) -> None:
    """Say what CHECK means, why it matters, what to do, with an example that fails and one that passes.

    Without CHECK, list all checks.
    """
    from putback.checks import all_checks
    from putback.source.nearest import nearest

    checks = all_checks()
    if check is None:
        width = max(map(len, checks))
        for name, entry in checks.items():
            click.echo(f"{name:<{width}}  {entry.level.value:<7}  {entry.summary}")
        return
    entry_ = checks.get(check.replace("_", "-"))
    if entry_ is None:
        near = nearest(check, checks)
        hint = f"; did you mean '{near}'?" if near else "; 'putback explain' lists all"
        raise click.UsageError(f"there is no check '{check}'{hint}")
    doc = (entry_.module.__doc__ or "").strip()
    accepted = "" if entry_.can_be_accepted else "\n\nIt cannot be accepted: missing it can injure somebody."
    click.echo(f"{entry_.name} ({entry_.level.value})\n\n{doc}{accepted}")
    for title, text in (("This fails", entry_.module.FAILS), ("This passes", entry_.module.PASSES)):
        body = "\n".join(f"    {line}".rstrip() for line in text.strip("\n").split("\n"))
        click.echo(f"\n{title}:\n\n{body}")
