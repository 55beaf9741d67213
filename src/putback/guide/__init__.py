"""A folder read as a whole: cover, machine, jobs, blocks, library, pages, and the names in them."""
