"""`putback new`: start a guide."""

from __future__ import annotations

from pathlib import Path

import click


@click.command("new")
@click.argument("guide", type=click.Path(path_type=Path))
def command(guide: Path) -> None:
    """Write a new guide into the folder GUIDE. It checks clean and builds; fill it in step by step.

    A bare name goes into `procedures/` where there is such a folder.
    """
    from putback.guide import shown_path
    from putback.starter import GuideExistsError, start_guide

    if len(guide.parts) == 1 and Path("procedures").is_dir() and not guide.is_absolute():
        guide = Path("procedures") / guide
    try:
        files = start_guide(guide)
    except GuideExistsError as error:
        raise click.UsageError(str(error)) from None
    except OSError as error:
        raise click.UsageError(f"'{guide}' cannot be written: {(error.strerror or str(error)).lower()}") from None
    for file in files:
        click.echo(f"wrote {shown_path(file)}")
    click.echo(f"\nNext: putback lint {shown_path(guide)}\n      putback build {shown_path(guide)}")
