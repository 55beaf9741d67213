"""`putback build`: make the manual."""

from __future__ import annotations

from functools import partial
from pathlib import Path

import click


@click.command("build")
@click.argument("paths", metavar="[PATH ...]", nargs=-1, type=click.Path(path_type=Path))
@click.option("--to", "forms", default="html,pdf", show_default=True, metavar="html,pdf", help="What to make.")
@click.option(
    "--paper",
    type=click.Choice(["a4", "letter"], case_sensitive=False),
    default="a4",
    show_default=True,
    help="Paper of the PDF.",
)
@click.option(
    "--out", type=click.Path(path_type=Path, file_okay=False), help="Folder to put it in.  [default: build/GUIDE]"
)
@click.option("--strict", is_flag=True, help="Exit with 1 when there is a warning, such as a job that no page lists.")
@click.option("--draft", is_flag=True, help="Print although there are errors, marked as not checked on every page.")
@click.option(
    "--variant", "choices", metavar="OPTION=VALUE", multiple=True, help="Print only variants with this choice."
)
def command(
    paths: tuple[Path, ...],
    forms: str,
    paper: str,
    out: Path | None,
    draft: bool,
    choices: tuple[str, ...],
    strict: bool,
) -> None:
    """Make the manual of every guide under PATH, or under the current folder.

    A guide with errors is not printed: somebody would work by it. Only what Putback itself made for this guide is
    replaced.
    """
    wanted = [form.strip().lower() for form in forms.split(",") if form.strip()]
    unknown = [form for form in wanted if form not in ("html", "pdf")]
    if unknown or not wanted:
        raise click.UsageError(f"--to takes html, pdf, or both with a comma, and not '{forms}'")

    from putback.cli.choice import parse_choice
    from putback.cli.paint import painter, progress
    from putback.guide.reading import shown_path
    from putback.ledger.opened import open_guide
    from putback.lint.report import text
    from putback.lint.run import NoGuideError, NoVariantError, open_guides, result_of
    from putback.source.plainly import printable
    from putback.sphinxext.targets import TargetError, check_targets, target_for

    try:
        guides = open_guides(paths or (Path(),), parse_choice(choices))
    except (NoGuideError, NoVariantError) as error:
        raise click.UsageError(str(error)) from None
    except PermissionError as error:
        raise click.UsageError(f"'{error.filename}' cannot be read: permission denied") from None
    places = {
        guide.root: out if out and len(guides) == 1 else (out or Path("build")) / (guide.root.name or "guide")
        for guide, _, _ in guides
    }
    try:
        # Before anything is made: a fault of the last guide must not come when the others have been printed.
        check_targets([target_for(guide, only, wanted, places[guide.root], paper) for guide, only, _ in guides])
    except TargetError as error:
        raise click.ClickException(str(error)) from None
    worst = 0
    for guide, only, _ in guides:
        opened = open_guide(guide, only)
        result = result_of(opened)
        findings = result.findings
        if findings or result.exit_code:
            click.echo(text.write(result, painter()), err=True)
        # What cannot be read at all would hold Sphinx up: a pipe that nobody writes to.
        stuck = any(fault.check == "unread-file" and fault.span.path in guide.unread for fault in guide.faults)
        stuck = stuck or result.boundless
        if result.exit_code and (not draft or stuck or guide.machine is None or guide.cover is None):
            how = ", not even as a draft: mend these first" if draft else ": mend the errors first, or see `--draft`"
            click.echo(f"\n{printable(guide.shown)} is not printed{how}", err=True)
            worst = max(worst, result.exit_code)
            continue
        from putback.sphinxext.manual import BuildError, PagesError, build_manual

        place = places[guide.root]
        busy = f"another build is at work in '{shown_path(place)}'; waiting for it"
        try:
            with progress(f"making the manual of {guide.shown}"):
                make = partial(
                    build_manual, opened, wanted, place, paper=paper, waiting=partial(click.echo, busy, err=True)
                )
                try:
                    built = make(draft=draft and bool(result.exit_code))
                except PagesError:
                    # What is wrong with prose pages is known only when they are read.
                    if not draft:
                        raise
                    built = make(draft=True)
        except BuildError as error:
            raise click.ClickException(str(error)) from None
        for warning in built.warnings:
            click.echo(printable(warning), err=True)
        if strict and (built.warnings or findings):
            worst = max(worst, 1)
        for file in built.files:
            click.echo(f"made {printable(shown_path(file))}")
    if worst:
        raise click.exceptions.Exit(worst)
