"""What one person, or several, may lift by hand: the revised NIOSH lifting equation."""

NOT_COVERED = (
    "lifting with one hand",
    "lifting for more than 8 hours a day",
    "lifting while seated or kneeling",
    "lifting in a restricted space",
    "lifting an unstable load",
    "lifting while carrying, pushing or pulling",
    "lifting with a wheelbarrow or a shovel",
    "lifting faster than about 75 cm/s (30 in/s)",
    "standing on a slippery floor, with a coefficient of friction below 0.4",
    "working far outside 19–26 °C (66–79 °F), or outside 35–50 % humidity",
)
"""Where the equation does not apply: DHHS (NIOSH) 94-110, revised 9/2021, section 1.2, p. 6; read in a reproduction
that cites the pages."""


class LiftError(ValueError):
    """A lift that cannot be. Its message is fit for the author."""

    def __init__(self, message: str, hint: str) -> None:
        super().__init__(message)
        self.hint = hint
        """What would be right."""
