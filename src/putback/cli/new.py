"""`putback new`: start a guide."""

from __future__ import annotations

import shlex
from pathlib import Path

import click


@click.command("new")
@click.argument("guide")
def command(guide: str) -> None:
    """Start a new guide in the folder GUIDE.

    It is small, passes every check and can be printed; change it step by step into your own. If there is a folder
    `procedures`, a name without a path goes there.
    """
    from putback.guide.paths import shown_path
    from putback.placing.lock import BusyError
    from putback.source.plainly import printable
    from putback.starter import GuideExistsError, start_guide
    from putback.starter.schemas import FOLDER

    if not guide.strip():
        raise click.UsageError("the new guide needs a name")
    folder = Path(guide)
    if len(folder.parts) == 1 and not guide.startswith(".") and Path("procedures").is_dir():
        folder = Path("procedures") / folder
    try:
        files = start_guide(folder)
    except GuideExistsError as error:
        raise click.UsageError(str(error)) from None
    except BusyError:
        raise click.UsageError(f"another program is working in '{folder.parent}'; try again when it is done") from None
    except OSError as error:
        raise click.UsageError(f"'{folder}' cannot be written: {(error.strerror or str(error)).lower()}") from None
    for file in files:
        if file.parent.name != FOLDER:
            click.echo(f"wrote {printable(shown_path(file))}")
    click.echo(f"wrote {printable(shown_path(folder / FOLDER))}, the schemas for your editor")
    name = printable(shlex.quote(shown_path(folder)))
    click.echo(f"\nNext: putback lint {name}\n      putback build {name}")
