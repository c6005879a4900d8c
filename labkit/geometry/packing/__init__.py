"""Pieces laid out on a roll or on sheets, so that straight cuts part them.

``pack`` is the way in. Lengths become whole numbers (``job``); the engines (``rows``, ``spaces``,
``exact``) make trees of cuts (``part``); ``search`` keeps the best that ``cutting`` finds makeable;
``result`` is what comes back. ``pack_rows`` takes rows that a person chose. ``loose`` is prints that a person
lays anywhere, and ``parting`` says whether straight cuts then get them out.
"""

from labkit.geometry.packing.byhand import pack_rows
from labkit.geometry.packing.pack import pack
from labkit.geometry.packing.result import Cut, LeftOut, Packing, Placed
from labkit.geometry.packing.stock import Cutter, Piece, Roll, Sheets

__all__ = [
    "Cut",
    "Cutter",
    "LeftOut",
    "Packing",
    "Piece",
    "Placed",
    "Roll",
    "Sheets",
    "pack",
    "pack_rows",
]
