"""Picture files and print files: what they say of themselves, and how they are written and checked."""
