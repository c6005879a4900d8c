"""What both pictures show of Quillmarsh: its sky, gulls, houses, clock tower and lights."""

from math import ceil, cos, pi, sin

import numpy as np
from PIL import Image, ImageFilter

from .canvas import Pen, blend, curve, mix, noise, ramp, smooth, standing, taper

DARK, CREAM, AMBER = (0.10, 0.08, 0.12), (0.90, 0.80, 0.66), (1.0, 0.74, 0.38)
DIAL = 16.1, 2.5  # its height on the tower and its radius, in metres


def sky(canvas, horizon, stops, warm, seed):
    """The sky down to the horizon: stops of colour, and clouds lit warm from below."""
    rows = slice(0, ceil(horizon * canvas.scale))
    x, y = canvas.x, canvas.y[rows]
    up = horizon + 200 - y
    u, v = (x - 1500) / up * 3.4 + y / 4000, 7000 / up
    body, below = noise(u, v, seed, 7), noise(u, v + 0.1, seed, 4)
    cover = smooth(0.50, 0.74, body) * smooth(horizon - 10, horizon - 250, y) * 0.85
    lit = smooth(-0.12, 0.16, body - below)
    canvas.paint(ramp(y, *stops), 1, np.s_[rows, :])
    canvas.paint(blend((0.26, 0.26, 0.44), ramp(y, *warm), lit), cover, np.s_[rows, :])


def gulls(canvas, chance, box, count):
    """A few gulls, one wing in the light."""
    pen = Pen(canvas, box)
    left, top, right, bottom = box
    for _ in range(count):
        x, y = chance.uniform(left + 90, right - 90), chance.uniform(top + 90, bottom - 90)
        size, lift = chance.uniform(22, 60), chance.uniform(-0.5, 0.2)
        for way, tone in ((-1, (0.80, 0.70, 0.70)), (1, (0.24, 0.22, 0.30))):
            tip = x + way * size, y + lift * size
            wing = curve([(x, y), (x + way * size * 0.5, y - size * 0.7), tip])
            pen.shape(taper(wing, size * 0.14, 1), tone)
    pen.lay()


def bricks(pen, chance, left, bottom, right, top, wall, course):
    """A wall in courses of bricks, each a little different."""
    pen.box(left, bottom, right, top, blend(wall, DARK, 0.35))
    for row in range(ceil((top - bottom) / course)):
        low, start = bottom + row * course, left - row % 2 * course * 1.25
        high = min(top, low + course * 0.86)
        while start < right:
            tone = blend(wall, DARK, chance.random() ** 2 * 0.45)
            pen.box(max(left, start), low, min(right, start + course * 2.4), high, tone)
            start += course * 2.5


def house(pen, chance, wide, wall, lit, course, gable=False):
    """A house front in metres: chimney, roof, bricks, a door, and windows of which some are lit."""
    storeys = chance.choice((2, 2, 3))
    high, slate = 3 * storeys, blend((0.22, 0.20, 0.27), (0.42, 0.24, 0.20), chance.random())
    trim, stack = blend(wall, CREAM, 0.4), chance.uniform(0.15, 0.65) * wide
    pen.box(stack, high, stack + 0.9, high + 3.6, blend(wall, slate, 0.7))
    pen.box(stack - 0.15, high + 3.4, stack + 1.05, high + 3.7, slate)
    if gable:
        pen.shape([(-0.3, high), (wide / 2, high + wide * 0.6), (wide + 0.3, high)], slate)
        pen.shape([(0, high), (wide / 2, high + wide * 0.5), (wide, high)], blend(wall, DARK, 0.12))
        pen.dot(wide / 2, high + wide * 0.18, wide * 0.09, trim)
        pen.dot(wide / 2, high + wide * 0.18, wide * 0.06, slate)
    else:
        for row in range(9):
            tone = blend(slate, DARK, 0.3 * chance.random())
            pen.box(0, high + row * 0.3, wide, high + row * 0.3 + 0.3, tone)
    bricks(pen, chance, 0, 0, wide, high, wall, course)
    bays = max(1, int(wide / 2.1))
    door = chance.randrange(bays)
    for place in range(storeys * bays):
        storey, bay = divmod(place, bays)
        left, sill, head = (bay + 0.5) * wide / bays - 0.5, storey * 3 + 0.9, storey * 3 + 2.5
        glass = blend((0.12, 0.15, 0.26), (0.26, 0.28, 0.40), chance.random())
        if place == door:
            sill, glass = 0.2, blend((0.16, 0.30, 0.32), (0.40, 0.16, 0.15), chance.random())
        elif chance.random() < lit:
            glass = blend((1.0, 0.64, 0.26), (1.0, 0.82, 0.50), chance.random())
        pen.box(left - 0.14, sill - 0.2, left + 1.14, head + 0.14, trim)
        pen.box(left, sill, left + 1, head, glass)
        for part in (1 / 3, 2 / 3):
            across, up, bar = left + part, mix(sill, head, part), blend(glass, DARK, 0.6)
            pen.box(across - 0.03, sill, across + 0.03, head, bar)
            pen.box(left, up - 0.03, left + 1, up + 0.03, bar)


def belfry(pen, chance):
    """The clock tower in metres from the middle of its foot, all but the dial."""
    brick, stone, shade = (0.55, 0.28, 0.21), (0.66, 0.55, 0.46), (0.15, 0.16, 0.25)
    bricks(pen, chance, -3.53, 0, 3.53, 21.6, brick, 0.12)
    bricks(pen, chance, -3.55, 13.2, 3.55, 18.8, blend(stone, brick, 0.2), 0.4)
    for k in range(36):
        for side in (-1, 1):
            inner, tone = 2.85 + k % 2 * 0.18, blend(stone, DARK, 0.3 * chance.random())
            pen.box(side * 3.55, k * 0.6, side * inner, k * 0.6 + 0.56, tone)
    for half, bottom, top in (
        (3.9, 0, 1.1),
        (3.75, 6.4, 6.8),
        (3.9, 12.9, 13.3),
        (3.8, 18.6, 18.8),
        (3.95, 18.8, 19.1),
        (3.8, 21.5, 21.8),
        (4.05, 21.8, 22),
    ):
        pen.box(-half, bottom, half, top, stone)
        pen.box(-half, bottom, half, bottom + 0.08, blend(stone, DARK, 0.6))
        pen.box(-half, top - 0.06, half, top, blend(stone, CREAM, 0.5))

    def arch(middle, half, bottom, top, colour):
        turns = [k * pi / 24 for k in range(25)]
        vault = [(middle + half * cos(turn), top - half + half * sin(turn)) for turn in turns]
        pen.shape([(middle + half, bottom), *vault, (middle - half, bottom)], colour)

    for middle, half, bottom, top, inside in (
        (0, 1.35, 0, 4.6, shade),
        (0, 0.45, 7.6, 9.6, AMBER),
        (0, 0.45, 10.4, 12.2, shade),
        (-1.7, 0.3, 8.2, 9.6, shade),
        (1.7, 0.3, 8.2, 9.6, AMBER),
        (-2, 0.62, 19.3, 21.2, DARK),
        (0, 0.62, 19.3, 21.2, DARK),
        (2, 0.62, 19.3, 21.2, DARK),
    ):
        for k in range(5):
            rim = 0.32 - 0.08 * k
            arch(middle, half + rim, bottom, top + rim, blend(stone, DARK, 0.12 * k))
        arch(middle, half, bottom, top, inside)
        for up in np.arange(bottom + 0.1, top - 0.4, 0.24) if inside == DARK else ():
            pen.box(middle - half, up, middle + half, up + 0.1, (0.40, 0.32, 0.28))
    for k in range(14):
        depth = blend((0.42, 0.22, 0.12), (1.0, 0.84, 0.52), k / 13)
        arch(0, 1.35 - 0.06 * k, 0, 4.6 - 0.17 * k, depth)
    spire(pen, (0.80, 0.64, 0.38))
    for radius, tone in ((0.45, stone), (0.3, blend(stone, DARK, 0.5)), (0.18, DARK)):
        pen.dot(0, DIAL[0], DIAL[1] + radius, tone)


def spire(pen, gold):
    """The copper roof of the tower and the fish that turns in the wind."""
    edge = curve([(3.9, 22), (2.2, 23.2), (0.9, 25), (0.06, 27.6)])
    for k in range(-7, 7):
        rib, other = ([(x * turn / 7, up) for x, up in edge] for turn in (k, k + 1))
        tone = blend((0.45, 0.50, 0.46), (0.07, 0.12, 0.18), (k + 7) / 14)
        pen.shape(rib + other[::-1], tone)
        pen.line(rib, blend(tone, DARK, 0.5), 0.03)
    pen.line([(0, 27.4), (0, 29.2)], gold, 0.08)
    pen.dot(0, 27.7, 0.15, gold)
    back = curve([(-0.95, 28.9), (-0.2, 29.3), (0.5, 28.9), (0.9, 28.6)])
    pen.shape([*back, (0.95, 29.1), (0.45, 28.75), (-0.2, 28.5)], gold)


def dial(canvas, x, y, radius):
    """A lit clock face saying eighteen minutes to seven."""

    def face(across, down):
        light = 1 / (1 + (across * across + down * down) / 1.4)
        return [0.72 + 0.25 * light, 0.52 + 0.39 * light, 0.28 + 0.42 * light]

    def spoke(turn, away, aside=0.0):
        a = 2 * pi * turn
        return away * sin(a) + aside * cos(a), away * cos(a) - aside * sin(a)

    canvas.disc(x, y, radius, face)
    box = x - radius, y - radius, x + radius, y + radius
    pen = Pen(canvas, box, standing(x, y, radius), radius)
    for minute in range(60):
        ends = [spoke(minute / 60, away) for away in (0.84, 0.91)]
        pen.line(ends, DARK, 0.01 if minute % 5 else 0.035)
    strokes = {"I": [(0, 0)], "V": [(-0.04, 0), (0.04, 0)], "X": [(-0.04, 0.04), (0.04, -0.04)]}
    numerals = "XII", "I", "II", "III", "IIII", "V", "VI", "VII", "VIII", "IX", "X", "XI"
    for hour, numeral in enumerate(numerals):
        widths = [0.045 if letter == "I" else 0.11 for letter in numeral]
        aside = -sum(widths) / 2
        for letter, width in zip(numeral, widths, strict=True):
            for outer, inner in strokes[letter]:
                ends = ((0.78, outer), (0.60, inner))
                line = [spoke(hour / 12, away, aside + width / 2 + end) for away, end in ends]
                pen.line(line, DARK, 0.024)
            aside += width
    for turn, far, half in ((6.7 / 12, 0.52, 0.045), (0.7, 0.80, 0.032)):
        outline = [(-0.16, 1), (far * 0.7, 1.5), (far, 0), (far * 0.7, -1.5), (-0.16, -1)]
        pen.shape([spoke(turn, away, half * side) for away, side in outline], DARK)
    pen.dot(0, 0, 0.065, (0.62, 0.46, 0.24))
    pen.lay()


def bloom(canvas):
    """Let lit windows and lamps spill over a little."""
    step = max(1, round(10 * canvas.scale))
    red, _, blue = (np.asarray(Image.fromarray(plane).reduce(step)) for plane in canvas.planes)
    bright = np.clip((red - 0.80) * 4, 0, 1) * np.clip((red - blue - 0.25) * 4, 0, 1)
    spill = Image.fromarray((bright * 255).astype(np.uint8)).filter(ImageFilter.GaussianBlur(7))
    spill = spill.resize((canvas.width, canvas.height), Image.Resampling.BICUBIC)
    spill = np.asarray(spill, np.float32) / 255
    for k, value in enumerate((0.50, 0.32, 0.12)):
        canvas.planes[k] += (1 - canvas.planes[k]) * spill * value
