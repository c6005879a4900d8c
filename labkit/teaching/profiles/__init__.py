"""Two invented paper profiles, for lessons in a room that has none of its own; ``make`` makes them."""

from pathlib import Path

GLOSS = Path(__file__).with_name("gloss.icc")
"""A bright, glossy paper: no measurement of any."""
MATT = Path(__file__).with_name("matt.icc")
"""A dull, matt paper: no measurement of any."""
