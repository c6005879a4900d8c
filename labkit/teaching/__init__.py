"""Exercises without widgets: what is asked of a reader, and how what they hand in is judged."""
