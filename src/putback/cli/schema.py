"""`putback schema`: the schemas for editors, in a guide."""

from __future__ import annotations

from pathlib import Path

import click


@click.command("schema")
@click.argument("guides", metavar="GUIDE ...", nargs=-1, required=True)
def command(guides: tuple[str, ...]) -> None:
    """Put the schemas for your editor into each GUIDE, in the folder `.schema`, or renew them.

    GUIDE is the folder of a guide, or of a library of your own. An editor that understands YAML reads the schemas to
    complete keys, explain them and mark slips while you type. Commit them with the guide. Run this again after each
    update of Putback.
    """
    from putback.source.plainly import printable
    from putback.starter.schemas import has_schemas

    folders = [Path(guide) for guide in guides]
    for folder in folders:
        if not has_schemas(folder):
            raise click.UsageError(f"'{folder}' is not a guide: it has no guide.yaml and no machine.yaml")
    for folder in folders:
        try:
            lines = _renew(folder)
        except OSError as error:
            reason = (error.strerror or str(error)).lower()
            raise click.UsageError(f"the schemas cannot be written into '{folder}': {reason}") from None
        for line in lines:
            click.echo(printable(line))


def _renew(folder: Path) -> list[str]:
    """Renew the schemas of one guide, and return what to say of it."""
    from putback.guide.paths import shown_path
    from putback.starter.schemas import FOLDER, first_lines, renew_schemas

    place = shown_path(folder / FOLDER)
    written = renew_schemas(folder)
    lines = [f"wrote {shown_path(file)}" for file in written] or [f"{place} is up to date"]
    lacking = first_lines(folder)
    if lacking:
        width = max(map(len, lacking))
        lines += ["", "Your editor finds them by the first line of each file. Add it to:"]
        lines += [f"  {name:<{width}}  {line}" for name, line in lacking.items()]
    return lines
