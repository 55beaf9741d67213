"""What is said beside a drawing or a picture, in English."""

from __future__ import annotations

from putback.words.english.safety import Safety


class OfDrawings(Safety):
    """What a catalogue of words says of drawings."""

    def drawn_before(self, number: str) -> str:
        """Return where a drawing stands already on the page."""
        return f"See the drawing of the order at step {number}."

    def sized_before(self, number: str) -> str:
        """Return where fasteners stand already at true size on the page."""
        return f"See the pieces at true size at step {number}."

    def pictured_before(self, number: str) -> str:
        """Return where a picture stands already on the page."""
        return f"See the picture at step {number}."
