"""The pictures of a manual on their way to the press: looked at, copied, and kept account of."""

from __future__ import annotations

import shutil
from collections.abc import Collection, Iterable, Mapping
from pathlib import Path

from putback.pictures import BadPictureError, Picture, examine
from putback.typstpdf.escape import clusters

FOLDER = "pictures"
"""The folder beside the source that they are copied to."""


class Album:
    """All pictures of one manual, by their address in the project."""

    def __init__(self, work: Path, originals: Mapping[str, str] | None = None) -> None:
        """Take the folder of the source, and of which picture of the project each address is a copy."""
        self.work = work
        self.originals = originals or {}
        self.refused: dict[str, str] = {}
        """Why a picture is not printed."""
        self.taken: dict[str, Picture] = {}
        """What those cost that are printed."""
        self.names: dict[str, str] = {}
        """Where they lie, below the folder of the source."""

    def fill(self, images: Iterable[tuple[str, str]], project: Path) -> None:
        """Copy pictures, each given with its address in the project and the name it gets; leave out bad ones."""
        folder = self.work / FOLDER
        shutil.rmtree(folder, ignore_errors=True)
        folder.mkdir(parents=True)
        for address, name in images:
            # Where a picture may lie is for the project to say. What is behind its links is what is looked at.
            try:
                source = (project / address).resolve()
                picture = examine(source, source.parent)
                data = source.read_bytes()
            except BadPictureError as error:
                self.refused[address] = error.message
            except (OSError, RuntimeError, ValueError) as error:
                words = (getattr(error, "strerror", None) or "its name leads nowhere").lower()
                self.refused[address] = f"it cannot be copied: {words}"
            else:
                # What goes wrong here is no fault of the picture: the disk is full, for one.
                (folder / name).write_bytes(data)
                self.taken[address] = picture
                self.names[address] = f"{FOLDER}/{name}"

    def letters(self) -> set[str]:
        """Return every character that a drawing sets."""
        return {letter for picture in self.taken.values() for letter in picture.letters}

    def without(self, unprintable: Collection[str]) -> None:
        """Refuse the drawings with a character that no font has: PDF/UA-1 would refuse the whole manual."""
        for address, picture in [*self.taken.items()]:
            lost = next((letter for letter in clusters(picture.letters) if letter in unprintable), None)
            if lost:
                shown = " ".join(f"U+{ord(part):04X}" for part in lost)
                self.refuse(address, f"a text in it has the character {shown}, which no font of the manual has")

    def refuse(self, address: str, reason: str) -> None:
        """Leave out a picture that was taken."""
        self.refused[address] = reason
        del self.taken[address], self.names[address]

    def address_of(self, file: str) -> str | None:
        """Return the address of a picture by the name of its copy, with or without the folder."""
        name = file.removeprefix(f"{FOLDER}/")
        return next((address for address, taken in self.names.items() if taken == f"{FOLDER}/{name}"), None)

    def called(self, address: str) -> str:
        """Return the address by which the author knows a picture."""
        return self.originals.get(address, address)

    @property
    def pixels(self) -> int:
        """Pixels to unpack."""
        return sum(picture.pixels for picture in self.taken.values())

    @property
    def shapes(self) -> int:
        """Shapes to draw."""
        return sum(picture.shapes for picture in self.taken.values())
