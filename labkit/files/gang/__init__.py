"""Finished prints that share a roll or sheets: read, laid out, drawn strip by strip, told."""
