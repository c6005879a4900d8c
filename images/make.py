"""Make the demo pictures: two views of Quillmarsh, an invented college town on the coast.

    python images/make.py [--out DIR] [--scale 0.1]

Each run writes the same bytes: the pictures, and pictures.toml which says what each one shows.
"""

import argparse
from dataclasses import dataclass
from pathlib import Path
from types import ModuleType

from PIL import ImageCms
from scenes import clock_tower, harbour
from scenes.canvas import Canvas


@dataclass(frozen=True)
class Picture:
    """A picture to make: the scene it shows, whose it is and the resolution it states."""

    file: str
    scene: ModuleType
    title: str
    by: str
    about: str
    ppi: int

    def save(self, folder, scale):
        """Draw the picture at a scale and save it."""
        canvas = Canvas(self.scene.SIZE, scale)
        self.scene.draw(canvas)
        canvas.image().save(
            folder / self.file,
            quality=92,
            subsampling=0,
            optimize=True,
            dpi=(self.ppi, self.ppi),
            icc_profile=srgb(),
        )

    def entry(self):
        """What pictures.toml says of the picture."""
        (keep, box), (ring, (x, y, radius)) = self.scene.KEEP, self.scene.ROUND
        circle = x - radius, y - radius, x + radius, y + radius
        return (
            f"[[picture]]\n"
            f'file = "{self.file}"\n'
            f'title = "{self.title}"\n'
            f'by = "{self.by}"\n'
            f'about = "{self.about}"\n'
            f'keep = {{ name = "{keep}", box = {self.fractions(box)} }}\n'
            f'round = {{ name = "{ring}", box = {self.fractions(circle)} }}\n'
        )

    def fractions(self, box):
        """A box as fractions of the picture's width and height."""
        return [
            round(place / side, 4) for place, side in zip(box, self.scene.SIZE * 2, strict=True)
        ]


PICTURES = (
    Picture(
        "harbour.jpg",
        harbour,
        "First light, Quillmarsh harbour",
        "Maud Ferrow",
        "A red fishing boat lies moored on still water before sunrise; behind it a town with lit "
        "windows climbs a hill under a full moon.",
        300,
    ),
    Picture(
        "clock-tower.jpg",
        clock_tower,
        "Eighteen minutes to seven",
        "Ivo Tanneray",
        "A brick clock tower with a glowing face stands at the end of a wet cobbled street at "
        "dusk; somebody walks home under a red umbrella.",
        72,
    ),
)


def srgb():
    """The sRGB profile without the hour it was made, so that it is always the same bytes."""
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    return profile[:24] + bytes(12) + profile[36:]


def main():
    """Make every picture and pictures.toml."""
    parser = argparse.ArgumentParser(description="Make the demo pictures.")
    parser.add_argument("--out", type=Path, default=Path(__file__).parent, metavar="DIR")
    parser.add_argument("--scale", type=float, default=1, help="1 is full size")
    options = parser.parse_args()
    options.out.mkdir(parents=True, exist_ok=True)
    for picture in PICTURES:
        picture.save(options.out, options.scale)
    heading = "# The demo pictures, as make.py makes them. Boxes are left, top, right, bottom.\n"
    entries = [heading, *(picture.entry() for picture in PICTURES)]
    (options.out / "pictures.toml").write_text("\n".join(entries), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
