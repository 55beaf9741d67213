"""What a hint says: which step is missing or comes too late, where it goes, and in which line that is."""
