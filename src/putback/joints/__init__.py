"""What a threaded joint bears: threads, strength, friction, stages, orders, wrenches."""


class JointError(ValueError):
    """A text about a fastener that cannot be understood. Its message is fit for the author."""

    def __init__(self, message: str, hint: str) -> None:
        super().__init__(message)
        self.hint = hint
        """What would be right."""
