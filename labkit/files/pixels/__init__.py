"""Pixels on demand: decoded, whole or damaged, brought into the colours of a print file or of a paper."""
