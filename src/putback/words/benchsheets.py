"""Words of the sheets of a job on a screen, and of the files that they are kept in. Each language fills these in."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetLabels:
    """The sheets of a job, one for each person or machine, and the file that one is kept in."""

    title: str
    """Heading."""
    lead: str
    """What a sheet is, and where it is kept."""
    unnamed: str
    """A sheet without a name: pattern with `date`, when it was begun."""
    row: str
    """A sheet in the list: pattern with `name`, `done` and `date`."""
    open_now: str
    """The sheet that is open."""
    open: str
    """Opens a sheet: pattern with `name`."""
    name: str
    """Where a name is written."""
    new: str
    """Begins a new sheet."""
    put_away: str
    """Puts the open sheet away."""
    take_out: str
    """Takes it out again."""
    away: str
    """Said of a sheet that is put away."""
    older: str
    """Said of a sheet that was begun with another edition of the job."""
    drop: str
    """Deletes the open sheet."""
    drop_sure: str
    """Asks whether it is to go: pattern with `name`."""
    drop_yes: str
    """Deletes it."""
    keep: str
    """Does not delete it, does not take a file."""
    note: str
    """Where a note is written."""
    kept: str
    """Everything is kept in this browser."""
    screen_on: str
    """When the screen stays on."""
    file: str
    """Heading: keep a sheet in a file."""
    file_lead: str
    """What a file is good for."""
    export: str
    """Writes the file."""
    take: str
    """Names the place to choose a file."""
    taken: str
    """What is in a file: pattern with `name` and `date`."""
    as_own: str
    """Takes it as a sheet of its own."""
    merge: str
    """Puts it into the sheet that is here already."""
    twin: str
    """The sheet of the file is here already."""
    equal: str
    """The same, and nothing in it differs."""
    other_edition: str
    """The file is of another edition: pattern with `kept`, `lost`, and `steps`, the numbers of those then."""
    edition: str
    """The open sheet was begun with another edition: the same pattern."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RefusalLabels:
    """Why a file is not taken."""

    empty: str
    """There is nothing in it."""
    too_big: str
    """It is too large."""
    not_json: str
    """It is no JSON."""
    not_a_record: str
    """It is no sheet."""
    newer_version: str
    """It was written by a newer Putback."""
    other_guide: str
    """It is of another guide: pattern with `guide`."""
    other_job: str
    """It is of another job: pattern with `title`."""
    broken: str
    """Something in it is wrong: pattern with `where`."""
    full: str
    """There is no room for it."""
    unread: str
    """It could not be read."""
