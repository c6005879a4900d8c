"""What is typed on the command line, read; what cannot be read is refused in one sentence."""

import argparse
from typing import NoReturn


class Parser(argparse.ArgumentParser):
    """Reads the options of a command, numbers as people write them: with a point or a comma."""

    def __init__(self, *given, **options):
        super().__init__(*given, **options)
        self.register("type", int, _whole)
        self.register("type", float, _number)

    def error(self, message: str) -> NoReturn:
        """End with the sentence alone, and with code 2."""
        named = message.removeprefix("argument ")
        more = f" `{self.prog} --help` lists what can be said." if named == message else ""
        self.exit(2, f"labkit: {named.rstrip('.')}.{more}\n")


def _whole(text: str) -> int:
    try:
        return int(text)
    except ValueError:
        raise argparse.ArgumentTypeError(
            f"“{text}” is no whole number: write it like 3, without a unit"
        ) from None


def _number(text: str) -> float:
    try:
        return float(text.replace(",", "."))
    except ValueError:
        raise argparse.ArgumentTypeError(
            f"“{text}” is no number: write it like 0.3, without a unit"
        ) from None
