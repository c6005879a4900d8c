"""What the record sums to: by course, by owner, by paper."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from labkit.files.record.entry import Entry

BY = ("course", "owner", "paper", "printer")
"""What totals are told by."""


@dataclass(frozen=True, slots=True)
class Total:
    """Of all entries that have ``name`` in common.

    ``prints`` counts good copies, ``spoiled`` the others; areas are in square metres. ``price`` is what
    the good copies cost, and ``unpriced`` how many of them have no price; ``spoiled_price`` is what the
    spoiled ones would have cost: nobody is asked for it, so it is the room's own loss (common practice, no
    source).
    """

    name: str
    prints: int = 0
    spoiled: int = 0
    area_m2: Decimal = Decimal(0)
    waste_m2: Decimal = Decimal(0)
    price: Decimal = Decimal(0)
    unpriced: int = 0
    spoiled_price: Decimal = Decimal(0)

    def with_entry(self, entry: Entry) -> "Total":
        """The total once ``entry`` is counted too."""
        is_good = entry.result == "good"
        good = entry.copies if is_good else 0
        price = entry.price or Decimal(0)
        return Total(
            self.name,
            self.prints + good,
            self.spoiled + entry.copies - good,
            self.area_m2 + entry.area_m2,
            self.waste_m2 + entry.waste_m2,
            self.price + (price if is_good else 0),
            self.unpriced + (good if entry.price is None else 0),
            self.spoiled_price + (0 if is_good else price),
        )


def totals(entries: Iterable[Entry], by: str, since: date | None = None) -> tuple[Total, ...]:
    """A total for each course, owner, paper or printer (``by``, one of :data:`BY`), by name, of the
    entries since a day."""
    found: dict[str, Total] = {}
    for entry in entries:
        if since is None or entry.date >= since:
            name = getattr(entry, by)
            key = name.casefold().strip()
            found[key] = found.get(key, Total(name.strip())).with_entry(entry)
    return tuple(found[key] for key in sorted(found))
