"""Findings in the forms that people and machines read: `text` and `data` (JSON)."""
