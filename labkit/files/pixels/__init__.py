"""Pixels on demand: decoded, whole or damaged, and brought into the colours of a print file."""
