"""What the scenes are drawn with: noise and curves, a canvas for light, a pen for crisp shapes.

Places are in pixels of the full-size picture, x to the right and y down; colours are sRGB from 0
to 1. Planes are arrays of one value for each pixel. They meet only + - * / and the square root,
which every processor rounds alike, and all chance is seeded: each drawing gives the same pixels.
"""

from itertools import pairwise
from math import ceil, floor, hypot

import numpy as np
from PIL import Image, ImageDraw

FINE = 3  # crisp shapes are drawn this many times too large, then reduced


def mix(a, b, t):
    """What lies the fraction t of the way from a to b."""
    return a + (b - a) * t


def blend(a, b, t):
    """Mix two places, two colours or two sets of planes."""
    return [mix(p, q, t) for p, q in zip(a, b, strict=True)]


def smooth(low, high, x):
    """0 up to low, 1 from high on, and a soft rise between."""
    t = np.clip((x - low) / (high - low), 0, 1)
    return t * t * (3 - 2 * t)


def ramp(x, *stops):
    """Planes that pass softly from colour to colour, each stop a place and its colour."""
    planes = stops[0][1]
    for (low, _), (high, colour) in pairwise(stops):
        planes = blend(planes, colour, smooth(low, high, x))
    return planes


def noise(u, v, seed, octaves=1):
    """Value noise from 0 to 1 at rows v and columns u (one row of columns, or one for each v)."""
    total = 0
    for octave in range(octaves):
        lattice = np.random.default_rng([seed, octave]).random((256, 256), dtype=np.float32)
        (i, s), (j, t) = ((np.floor(a).astype(int), a - np.floor(a)) for a in (u, v.ravel()))
        s, t = s * s * (3 - 2 * s), (t * t * (3 - 2 * t))[:, None]
        rows = mix(lattice[j & 255], lattice[j + 1 & 255], t)
        if u.ndim == 1:
            near, far = rows[:, i & 255], rows[:, i + 1 & 255]
        else:
            near, far = (np.take_along_axis(rows, k & 255, 1) for k in (i, i + 1))
        total = total + mix(near, far, s) / 2**octave
        u, v = u * 2, v * 2
    return total / (2 - 2 / 2**octaves)


def curve(points, steps=24):
    """Places along a Bézier curve: from the first point to the last, drawn towards the rest."""
    line = []
    for step in range(steps + 1):
        rest = points
        while len(rest) > 1:
            rest = [blend(a, b, step / steps) for a, b in pairwise(rest)]
        line.append(rest[0])
    return line


def taper(line, start, end):
    """The outline of a stroke along a line, so wide at its start and so at its end."""
    sides = [], []
    for k, (x, y) in enumerate(line):
        (x0, y0), (x1, y1) = line[max(0, k - 1)], line[min(len(line) - 1, k + 1)]
        half = mix(start, end, k / (len(line) - 1)) / 2 / hypot(x1 - x0, y1 - y0)
        for side, way in zip(sides, (half, -half), strict=True):
            side.append((x - (y1 - y0) * way, y + (x1 - x0) * way))
    return sides[0] + sides[1][::-1]


class Canvas:
    """Three planes of colour, with the place of every column (x) and row (y)."""

    def __init__(self, size, scale):
        self.scale = scale
        self.width, self.height = (round(side * scale) for side in size)
        self.x, y = (
            (np.arange(n, dtype=np.float32) + 0.5) / scale for n in (self.width, self.height)
        )
        self.y = y[:, None]
        self.planes = np.zeros((3, self.height, self.width), np.float32)

    def window(self, left, top, right, bottom):
        """The rows and columns of a box, as far as the canvas reaches."""
        k = self.scale
        rows = slice(max(0, floor(top * k)), min(self.height, ceil(bottom * k)))
        return rows, slice(max(0, floor(left * k)), min(self.width, ceil(right * k)))

    def paint(self, colour, cover=1, window=np.s_[:, :]):
        """Cover the window with a colour, or with planes of it, as far as cover says (0 to 1)."""
        for plane, value in zip(self.planes, colour, strict=True):
            plane[window] += (value - plane[window]) * cover

    def shine(self, x, y, radius, colour, reach=9, tall=1):
        """Add the glow round a light; a tall one is its streak on something wet."""
        far = radius * reach
        rows, columns = window = self.window(x - far, y - far * tall, x + far, y + far * tall)
        square = (self.x[columns] - x) ** 2 + ((self.y[rows] - y) / tall) ** 2
        glow = np.maximum(0, 1 - square / far**2) ** 2 / (1 + square / radius**2)
        for plane, value in zip(self.planes, colour, strict=True):
            plane[window] += (1 - plane[window]) * (value * glow)

    def disc(self, x, y, radius, paint):
        """Paint a perfectly round disc; paint gives its planes from the places across and down."""
        edge = radius + 1 / self.scale
        rows, columns = window = self.window(x - edge, y - edge, x + edge, y + edge)
        across, down = (self.x[columns] - x) / radius, (self.y[rows] - y) / radius
        inside = (1 - np.sqrt(across * across + down * down)) * (radius * self.scale)
        self.paint(paint(across, down), np.clip(inside + 0.5, 0, 1), window)

    def image(self):
        """The picture in whole values, a little darker towards its corners."""
        across, down = (a / a[-1] - 0.5 for a in (self.x, self.y))
        light = 1.06 - 0.5 * (across * across + down * down)
        dither = np.random.default_rng(0).random((self.height, self.width), dtype=np.float32)
        bands = [
            np.clip(plane * light * 255 + dither, 0, 255).astype(np.uint8) for plane in self.planes
        ]
        return Image.merge("RGB", [Image.fromarray(band) for band in bands])


class Pen:
    """Draws crisp shapes in a box of the canvas, in whatever measure place turns into pixels.

    Widths and radii are in units: so many pixels each.
    """

    def __init__(self, canvas, box, place=lambda x, y: (x, y), unit=1):
        self.canvas, self.window, self.place, self.unit = canvas, canvas.window(*box), place, unit
        rows, columns = self.window
        self.corner = columns.start, rows.start
        size = (columns.stop - columns.start) * FINE, (rows.stop - rows.start) * FINE
        self.sheet = Image.new("RGBA", size)
        self.draw = ImageDraw.Draw(self.sheet)

    def measure(self, place, unit):
        """From here on, measure like this."""
        self.place, self.unit = place, unit

    def spots(self, points):
        """Where points fall on the enlarged sheet."""
        k, (left, top) = self.canvas.scale, self.corner
        placed = (self.place(*point) for point in points)
        return [((x * k - left) * FINE, (y * k - top) * FINE) for x, y in placed]

    def shape(self, points, colour):
        """A filled polygon."""
        self.draw.polygon(self.spots(points), ink(colour))

    def box(self, left, bottom, right, top, colour):
        """A filled box, square in the pen's measure."""
        self.shape([(left, bottom), (right, bottom), (right, top), (left, top)], colour)

    def line(self, points, colour, width):
        """A line through points."""
        thick = max(1, round(width * self.unit * self.canvas.scale * FINE))
        self.draw.line(self.spots(points), ink(colour), thick, "curve" if thick > 4 else None)

    def dot(self, x, y, radius, colour):
        """A filled circle."""
        (middle,) = self.spots([(x, y)])
        self.draw.circle(middle, radius * self.unit * self.canvas.scale * FINE, ink(colour))

    def planes(self):
        """Red, green, blue and cover of what was drawn."""
        return np.moveaxis(np.asarray(self.sheet.reduce(FINE), np.float32), 2, 0) / 255

    def lay(self, light=1):
        """Put what was drawn on the canvas, so brightly lit."""
        *colour, cover = self.planes()
        self.canvas.paint([plane * light for plane in colour], cover, self.window)


def ink(colour):
    """A colour in whole values, as the pen's sheet takes it."""
    return tuple(round(min(1, max(0, value)) * 255) for value in colour)


def standing(x, y, unit):
    """A measure across and up from a foot at x, y, in units of so many pixels."""
    return lambda across, up: (x + across * unit, y - up * unit)
