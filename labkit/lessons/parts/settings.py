"""What the reader chose for all lessons, and what follows it at once: name, picture, unit, size of type."""

from collections.abc import Callable
from dataclasses import asdict, replace
from functools import cache, wraps
from pathlib import Path

import traitlets

from labkit.home import Reader, home


class Settings(traitlets.HasTraits):
    """What the reader said, as it stands in their folder; apps observe it.

    ``units`` is "in", "mm" or "" where they have not said. ``trouble`` says why the picture they chose
    cannot be shown, if it cannot.
    """

    name, units, picture, trouble = (traitlets.Unicode() for _ in range(4))
    large = traitlets.Bool()

    def keep(self, **said) -> None:
        """Remember what the reader said, for this lesson and the next; LabError if it cannot be kept."""
        home().keep(replace(home().reader(), **said))
        self.take(home().reader())

    def take(self, reader: Reader) -> None:
        """Stand at what ``reader`` says."""
        if reader.picture != self.picture:
            self.trouble = ""
        for name, value in asdict(reader).items():
            setattr(self, name, value)


def settings() -> Settings:
    """The reader's settings, read again from their folder."""
    kept = _settings_of(home().folder)
    kept.take(home().reader())
    return kept


@cache
def _settings_of(folder: Path) -> Settings:
    return Settings()


def follows_picture(build: Callable) -> Callable:
    """A lesson's function that builds a figure of the reader's picture: when they choose another, the
    figure begins anew with it. One that is given a picture stays with that."""

    @wraps(build)
    def built(picture: str | Path | None = None):
        app = build(picture)

        def begin_anew():
            app.become(build(None))
            app.say(settings().trouble)

        if picture is None:
            app.say(settings().trouble)
            app.follow("picture", begin_anew)
        return app

    return built
