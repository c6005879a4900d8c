"""A print room's own rules: the file an instructor edits, its reading, and what it says."""
