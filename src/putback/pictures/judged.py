"""What is said of a picture: what it costs, or why it is not used."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture that may be shown."""

    kind: str
    """PNG, JPEG, GIF, WebP or SVG."""
    pixels: int = 0
    """Pixels that have to be unpacked; of an SVG, those of the pictures in it."""
    shapes: int = 0
    """Shapes that have to be drawn, repeated ones each time; 0 for a raster picture."""
    letters: str = ""
    """Every character that an SVG sets as text, each once, sorted."""
    without: tuple[str, ...] = ()
    """What an SVG has in it that could do something, and that is left out of what is published."""


class BadPictureError(Exception):
    """A picture that must not be opened; the message says why, of a file that the reader names before it."""

    def __init__(self, message: str, hint: str | None = None) -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint
        """What to do, when there is one good answer."""
