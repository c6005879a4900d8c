"""What to write in place of settings that room files had before papers were kept by size."""

from decimal import Decimal

from labkit.room.schema import Place

_ROLL = '{ width = "24in", length = "3000cm", price_per_metre = 15.00 }'


def _tell(sentence: str):
    def told(value, place: Place) -> None:
        place.tell(f"{place.name} {sentence}")

    return told


def _rolls(value, place: Place) -> None:
    many = value if isinstance(value, list) else [value]
    for index in range(len(many)):
        place.at(index).tell(
            "a roll now stands with each paper that is kept on it: take this group out, and under "
            f"[[papers]] write rolls = [ {_ROLL} ]."
        )


def _sheet_prices(value, place: Place) -> None:
    prices = value.items() if isinstance(value, dict) else ()
    priced = [
        f'{{ size = "{size}", price = {price} }}'
        for size, price in prices
        if isinstance(price, int | Decimal)
    ]
    kept = ", ".join(priced) or '{ size = "A3", price = 4.80 }'
    place.tell(f"{place.name} is now what the paper is kept in: write sheets = [ {kept} ].")


ROOM = {
    "sheets": _tell(
        "now stands with each paper that is kept in them: take this line out, and under [[papers]] write "
        'sheets = [ { size = "A3", price = 4.80 } ].'
    ),
    "rolls": _rolls,
}
"""Above the first heading, and [[rolls]]."""
PAPER = {
    "profile": _tell(
        "now stands with the paper and the printer it is for: move it to their [[settings]]."
    ),
    "sheet_prices": _sheet_prices,
    "price_per_square_metre": _tell(
        "is now a price for a metre of each roll: this price times the roll's width in metres is its "
        f"price_per_metre. Write rolls = [ {_ROLL} ]."
    ),
}
"""Under [[papers]]."""
PRINTER = {
    "minutes_per_square_metre": _tell(
        "now stands with each paper on this printer: move it to their [[settings]]."
    )
}
"""Under [[printers]]."""
FEED = {
    "offset": _tell(
        "is now measured for each paper: under [[settings]], [settings.measured], write offset_across and "
        "offset_along."
    ),
    "scale": _tell(
        "is now measured for each paper: under [[settings]], [settings.measured], write across and along."
    ),
}
"""Under [printers.sheet] and [printers.roll]."""
