"""The clock tower at the end of a wet street, as the lamps come on."""

import random
from itertools import pairwise
from math import cos, pi, sin

import numpy as np

from .canvas import Pen, blend, curve, mix, noise, smooth, standing, taper
from .quillmarsh import AMBER, DARK, DIAL, belfry, bloom, dial, gulls, house, sky

SIZE = 3000, 4000
CLOCK = 1620, 1640, 250
METRE = CLOCK[2] / DIAL[1]
FOOT = CLOCK[1] + DIAL[0] * METRE
EYE = 1500, 3080
KEEP = "the clock and the spire", (CLOCK[0] - 420, 320, CLOCK[0] + 420, CLOCK[1] + 330)
ROUND = "the clock face", CLOCK


def draw(canvas):
    """Paint the street from the sky to the last leaves."""
    chance = random.Random(3)
    stops = (
        (0, (0.08, 0.12, 0.30)),
        (1100, (0.22, 0.27, 0.50)),
        (1900, (0.52, 0.43, 0.59)),
        (2500, (0.87, 0.58, 0.50)),
        (3000, (0.96, 0.74, 0.48)),
    )
    warm = (0, (0.60, 0.38, 0.50)), (1500, (0.92, 0.54, 0.46)), (2800, (1.0, 0.76, 0.48))
    sky(canvas, FOOT, stops, warm, 51)
    gulls(canvas, chance, (1950, 500, 2800, 1500), 7)
    terraces(canvas, chance)
    x, y, radius = CLOCK
    pen = Pen(canvas, (1100, 300, 2150, 3320), standing(x, FOOT, METRE), METRE)
    belfry(pen, chance)
    pen.lay(1.12 - 0.45 * smooth(1250, 2000, canvas.x[pen.window[1]]))
    canvas.shine(x, y, radius * 0.9, (0.30, 0.20, 0.08), 4)
    dial(canvas, x, y, radius)
    bloom(canvas)
    cobbles(canvas)
    lamps(canvas)
    walker(canvas)
    bough(canvas, random.Random(2))


def street(across, up, away):
    """Where a place in the street shows: metres to the right of the eye, above ground, away."""
    return EYE[0] + 4000 * across / away, EYE[1] + 4000 * (1.7 - up) / away


def facing(left, away):
    """A measure across and up a wall that faces the eye."""
    return lambda across, up: street(left + across, up, away)


def alongside(side, far):
    """A measure along and up a wall at the side of the street, from its far end."""
    return lambda along, up: street(side, up, far - along)


def terraces(canvas, chance):
    """The houses at the end of the street and down both sides."""
    palette = ((0.48, 0.25, 0.20), (0.52, 0.34, 0.26), (0.40, 0.28, 0.30), (0.56, 0.42, 0.32))
    haze = (0.66, 0.47, 0.50)
    pen = Pen(canvas, (700, 2200, 2400, 3300))
    left = -9
    while left < 9:
        wide, wall = chance.uniform(4, 6), blend(chance.choice(palette), haze, 0.35)
        pen.measure(facing(left, 58), 69)
        house(pen, chance, wide, wall, 0.5, 0.2, chance.random() < 0.5)
        left += wide
    pen.lay()
    for side, box, light in (
        (-7, (0, 1000, 1500, 3700), 0.5),
        (7.6, (1500, 1000, 3000, 3700), 0.68),
    ):
        pen, far = Pen(canvas, box), 56
        while far > 15:
            wide = min(chance.uniform(4.6, 7), far - 13)
            wall = blend(chance.choice(palette), haze, max(0, far - 25) / 110)
            pen.measure(alongside(side, far), 120)
            house(pen, chance, wide, wall, 0.45, 0.12)
            far -= wide
        pen.lay(light + 0.5 * smooth(1300, 3300, canvas.y[pen.window[0]]))


def cobbles(canvas):
    """Wet stones, and in them what stands above: each column mirrored at the foot of its wall."""
    first = int(3180 * canvas.scale)
    x, y = canvas.x, canvas.y[first:]
    away = 6800 / (y - EYE[1])
    across = (x - EYE[0]) * away / 4000
    row = np.floor(away / 0.30)
    u = across / 0.24 + 0.5 * (row % 2) + 0.25 * noise(across / 0.5, away / 0.5, 62)
    s, t = u - np.floor(u) - 0.5, away / 0.30 - row - 0.5
    tones = np.random.default_rng(61).random((64, 64), np.float32)
    tone = tones[row.astype(int) & 63, np.floor(u).astype(int) & 63]
    near = smooth(3230, 3480, y)
    dome = mix(0.7, smooth(0.30, 0.14, s * s + t * t), near)
    wet = smooth(0.35, 0.65, noise(across / 1.3, away / 2.2, 63, 4))
    walls = np.where(x < EYE[0], (EYE[0] - x) / 7, (x - EYE[0]) / 7.6) * 1.7
    foot = EYE[1] + np.maximum(117, walls)
    foot = np.where(np.abs(x - CLOCK[0]) < 3.9 * METRE, FOOT, foot)
    jolt = np.abs((tone - 0.5) * 90 + t * (140 - 80 * wet)) * near
    mirror = np.zeros_like(canvas.planes[:, first:])
    for blur in (0, 20, 45, 80):
        above = np.minimum(2 * foot - y - jolt - blur, foot - 2) * canvas.scale
        mirror += canvas.planes[:, np.maximum(above, 0).astype(int), np.arange(canvas.width)] / 4
    stone, shine = (
        (0.5 + 0.5 * tone) * (0.35 + 0.65 * dome),
        (0.25 + 0.6 * wet) * (0.4 + 0.6 * dome),
    )
    ground = [
        value * stone + plane * shine
        for value, plane in zip((0.21, 0.21, 0.27), mirror, strict=True)
    ]
    canvas.paint(ground, smooth(foot - 1, foot + 1, y), np.s_[first:, :])


def lamps(canvas):
    """Strings of bulbs from roof to roof, and street lamps with their streaks in the wet."""
    pen = Pen(canvas, (0, 1900, 3000, 3700))
    lights = []
    for away, high in ((44, 6.2), (34, 6.6), (26, 7.0), (20.5, 7.4)):
        ends = (-7, high), (-2, high - 1.6), (3, high - 1.6), (7.6, high)
        wire = curve([street(x, up, away) for x, up in ends], 30)
        pen.measure(lambda x, y: (x, y), 1)
        pen.line(wire, DARK, 60 / away)
        for x, y in wire[1:-1]:
            pen.dot(x, y + 160 / away, 220 / away, (1.0, 0.82, 0.52))
            lights.append((x, y + 160 / away, 420 / away, 0.30))
    for away, side in ((42, -5.4), (42, 6), (30, -5.4), (30, 6), (21.5, 6), (18, -5.4)):
        pen.measure(facing(side, away), 4000 / away)
        for half, bottom, top in ((0.16, 0, 0.5), (0.055, 0, 3.5), (0.4, 3.0, 3.06)):
            pen.box(-half, bottom, half, top, DARK)
        pen.shape([(-0.17, 3.5), (0.17, 3.5), (0.27, 4.1), (-0.27, 4.1)], (1.0, 0.86, 0.56))
        pen.shape([(-0.33, 4.1), (0.33, 4.1), (0.06, 4.42), (-0.06, 4.42)], DARK)
        for rib in (-0.17, 0, 0.17):
            pen.line([(rib, 3.5), (rib * 1.6, 4.1)], DARK, 0.03)
        pen.dot(0, 4.48, 0.07, DARK)
        lights.append((*street(side, 3.8, away), 1500 / away, 0.75))
        x, y = street(side, -2.2, away)
        canvas.shine(x, y, 800 / away, (0.62, 0.36, 0.12), 5, 5)
    pen.lay()
    for x, y, radius, strength in lights:
        canvas.shine(x, y, radius, [value * strength for value in AMBER], 8)


def walker(canvas):
    """Somebody going home under an umbrella, and their reflection."""
    pen = Pen(canvas, (700, 2700, 1500, 3900))
    brolly = (0.80, 0.26, 0.20)
    rim = [(-0.72, 1.68), (-0.34, 1.77), (0.06, 1.80), (0.5, 1.80), (0.90, 1.72)]
    dome = curve([rim[-1], (0.75, 2.4), (-0.42, 2.38), rim[0]])
    coat = (-0.27, 0.5), (0.29, 0.5), (0.21, 1.42), (0.1, 1.5), (-0.1, 1.5), (-0.2, 1.42)
    for way, cover in ((-0.9, 0.4), (1, 1)):
        pen.measure(lambda x, up, way=way: street(x - 1.9, up * way, 19), 210)
        for foot in (-0.16, 0.2):
            pen.shape(taper([(foot * 0.4, 0.8), (foot, 0.04)], 0.17, 0.12), (*DARK, cover))
        pen.shape(coat, (0.15, 0.17, 0.27, cover))
        pen.dot(0, 1.60, 0.13, (*DARK, cover))
        pen.box(-0.14, 1.42, 0.14, 1.5, (*AMBER, cover))
        pen.line([(0.16, 1.1), (0.20, 2.2)], (*DARK, cover), 0.03)
        pen.shape(rim + dome, (*brolly, cover))
        for k, panel in enumerate(pairwise(rim)):
            pen.shape([*panel, (0.14, 2.22)], (*blend(brolly, DARK, 0.12 * k), cover))
    pen.lay()


def leaf(pen, chance, x, y, size, flat=1):
    """One leaf hanging from x, y; lying on the ground it is flat."""
    turn = chance.uniform(0.1 * pi, 0.9 * pi)
    across, down = size * cos(turn), size * sin(turn) * flat
    middle, bulge = (x + across / 2, y + down / 2), (-down * 0.55, across * 0.55)
    edges = [
        curve(
            [
                (x, y),
                (middle[0] + bulge[0] * way, middle[1] + bulge[1] * way),
                (x + across, y + down),
            ],
            6,
        )
        for way in (1, -1)
    ]
    pen.shape(
        edges[0] + edges[1][::-1], blend((0.40, 0.14, 0.10), (0.94, 0.56, 0.18), chance.random())
    )


def bough(canvas, chance):
    """A bough with the last leaves, reaching in from the upper left, and those that fell."""
    pen = Pen(canvas, (0, 0, 1500, 1600))

    def grow(x, y, turn, length, width):
        tip = x + length * cos(turn), y + length * sin(turn)
        bend = mix(x, tip[0], 0.6), mix(y, tip[1], 0.6) + length * 0.08
        branch = curve([(x, y), bend, tip], 8)
        pen.shape(taper(branch, width, width * 0.66), (0.09, 0.07, 0.10))
        pen.dot(*tip, width * 0.33, (0.09, 0.07, 0.10))
        if width > 5:
            for spread in (-0.5, 0.08, 0.55):
                if chance.random() < 0.85:
                    grow(
                        *tip,
                        turn + spread + chance.uniform(-0.2, 0.2),
                        length * chance.uniform(0.62, 0.86),
                        width * 0.66,
                    )
        for place in branch[3::5] if width < 10 else ():
            if chance.random() < 0.6:
                leaf(pen, chance, *place, chance.uniform(28, 52))

    grow(-120, 560, -0.2, 330, 52)
    grow(-100, 160, 0.3, 275, 40)
    pen.lay()
    pen = Pen(canvas, (0, 3450, 3000, 4000))
    for _ in range(70):
        y = 3480 + 500 * chance.random()
        leaf(pen, chance, 3000 * chance.random(), y, (y - 3080) / 15, 0.35)
    pen.lay()
