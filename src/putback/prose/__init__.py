"""Words of pages and texts, each with its place, and what they say of torques."""
