"""The reader's own folder: name, units, picture, room, uploads and exports, and nothing anywhere else."""

import json
import os
from dataclasses import asdict, dataclass
from pathlib import Path

from labkit.errors import LabError, system_reason
from labkit.room.rules import SHIPPED, Room, load_room

VARIABLE = "LABKIT_HOME"
"""The environment variable that names another folder."""


@dataclass(frozen=True)
class Reader:
    """Who is reading, what they see first, what they work on, and whether in large type; "" where they
    have not said."""

    name: str = ""
    units: str = ""
    picture: str = ""
    large: bool = False


@dataclass(frozen=True)
class Home:
    """One reader's folder. Nothing is created before something is kept in it."""

    folder: Path

    @property
    def exports(self) -> Path:
        """Where print files and tickets go."""
        return self.folder / "exports"

    @property
    def record(self) -> Path:
        """The record of what was printed, where no other is named."""
        return self.folder / "record.csv"

    @property
    def uploads(self) -> Path:
        """Where the reader's own pictures are kept."""
        return self.folder / "uploads"

    def told(self, folder: Path) -> str:
        """Where ``folder`` is, as a person looks for it: inside the reader's own folder, or anywhere."""
        if not folder.is_relative_to(self.folder):
            return str(folder)
        if self.folder == Path.home() / "labkit":
            return f"{(Path('labkit') / folder.relative_to(self.folder)).as_posix()}, in your home folder"
        inside = folder.relative_to(self.folder).as_posix()
        return f"{inside}, in the folder that {VARIABLE} names"

    @property
    def room_file(self) -> Path:
        """``room.toml`` in the folder where there is one, else the one shipped."""
        own = self.folder / "room.toml"
        return own if own.exists() else SHIPPED

    def room(self) -> Room:
        """The room of that file."""
        return load_room(self.room_file)

    def reader(self) -> Reader:
        """What the reader has said so far; a file that cannot be read counts as nothing said."""
        try:
            said = json.loads((self.folder / "reader.json").read_text(encoding="utf-8"))
            known = asdict(Reader())
            return Reader(**{key: type(none)(said.get(key, none)) for key, none in known.items()})
        except (OSError, ValueError, AttributeError):
            return Reader()

    def keep(self, reader: Reader) -> None:
        """Remember what the reader said."""
        make_folder(self.folder)
        text = json.dumps(asdict(reader), ensure_ascii=False, indent=1)
        part = self.folder / "reader.json.part"
        part.write_text(text, encoding="utf-8")
        part.replace(self.folder / "reader.json")


def home() -> Home:
    """The folder named by ``LABKIT_HOME``, or ``labkit`` in the reader's home folder."""
    named = os.environ.get(VARIABLE)
    return Home(Path(named).expanduser() if named else Path.home() / "labkit")


def make_folder(folder: Path) -> Path:
    """The folder, made if it is missing; LabError if it cannot be."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        why = system_reason(error)
        raise LabError(f"the folder {folder} cannot be made ({why}): choose another.") from None
    return folder
