"""First light over the harbour: a red boat, the town on its hill, the moon going down."""

import random

import numpy as np

from .canvas import Pen, blend, curve, mix, noise, smooth, standing, taper
from .quillmarsh import AMBER, CREAM, DARK, DIAL, belfry, bloom, bricks, dial, gulls, house, sky

SIZE = 4500, 3000
HORIZON = 1700
MOON = 3330, 560, 165
BOAT = 1560, 2330
TOWER = 3880, 1560, 13
KEEP = "the red boat", (BOAT[0] - 700, BOAT[1] - 1290, BOAT[0] + 600, BOAT[1] + 40)
ROUND = "the moon", MOON


def draw(canvas):
    """Paint the harbour from the sky to the reeds."""
    chance = random.Random(7)
    stops = (
        (0, (0.10, 0.16, 0.37)),
        (600, (0.28, 0.32, 0.55)),
        (1100, (0.60, 0.49, 0.63)),
        (1450, (0.90, 0.63, 0.55)),
        (1700, (0.95, 0.73, 0.52)),
    )
    sky(canvas, HORIZON, stops, ((600, (0.93, 0.56, 0.50)), (1600, (1.0, 0.80, 0.52))), 11)
    canvas.shine(1500, 1720, 700, (0.85, 0.60, 0.10), 4, 0.4)
    moon(canvas)
    hills(canvas)
    town(canvas, chance)
    ripples = sea(canvas)
    gulls(canvas, chance, (200, 800, 1350, 1450), 7)
    for x, y, size, hull in (
        (2420, 1752, 0.17, (0.20, 0.32, 0.46)),
        (3050, 1775, 0.20, (0.72, 0.66, 0.58)),
        (3700, 1800, 0.26, (0.17, 0.36, 0.34)),
        (*BOAT, 1, (0.74, 0.13, 0.10)),
    ):
        afloat(canvas, ripples, x, y, size, hull)
    jetty(canvas, chance)
    reeds(canvas, chance)


def moon(canvas):
    """The full moon, its dark seas and its glow."""
    x, y, radius = MOON

    def face(across, down):
        seas = smooth(0.44, 0.64, noise(across * 2.2 + 3, down * 2.2 + 7, 5, 7)) * 0.45
        limb = 0.95 - 0.10 * (across * across + down * down)
        return blend([limb, limb * 0.97, limb * 0.89], (0.66, 0.66, 0.68), seas)

    canvas.shine(x, y, radius * 1.1, (0.42, 0.42, 0.46), 6)
    canvas.disc(x, y, radius, face)


def hill(x):
    """How high the hill of the town stands above the quay."""
    return 560 * smooth(2250, 3700, np.float32(x))


def hills(canvas):
    """Ridge before ridge in the mist, and the wooded hill of the town."""
    x, y, level = canvas.x, canvas.y, np.zeros((1, 1), np.float32)
    for base, rise, wide, seed, colour in (
        (1560, 260, 900, 21, (0.70, 0.57, 0.62)),
        (1630, 200, 600, 22, (0.55, 0.47, 0.57)),
        (1680, 150, 420, 23, (0.38, 0.37, 0.48)),
    ):
        ridge = base - rise * (noise(x / wide, level, seed, 7) - 0.35)
        mist = smooth(ridge, HORIZON + 60, y) * 0.8
        canvas.paint(blend(colour, (0.95, 0.74, 0.60), mist), smooth(ridge - 1, ridge + 1, y))
    rows = canvas.window(0, 1000, 0, HORIZON + 20)[0]
    crest = 1690 - hill(x) - 70 * (noise(x / 160, level, 24, 7) - 0.5)
    leaves = smooth(0.25, 0.75, noise(x / 40, y[rows] / 28, 25, 5))
    wood = blend((0.12, 0.17, 0.22), (0.42, 0.39, 0.31), leaves * smooth(700, 1500, y[rows]))
    canvas.paint(wood, smooth(crest - 2, crest + 2, y[rows]), np.s_[rows, :])


def town(canvas, chance):
    """Houses up the hill, the clock tower among them, the quay and the morning mist."""
    pen = Pen(canvas, (2250, 900, 4500, 1720))
    palette = (
        (0.72, 0.52, 0.42),
        (0.62, 0.36, 0.32),
        (0.74, 0.64, 0.50),
        (0.46, 0.46, 0.54),
        (0.66, 0.44, 0.44),
        (0.52, 0.50, 0.44),
    )
    for row, start in enumerate((3200, 2940, 2800, 2690, 2600, 2510, 2430)):
        left, near, metre = start, row / 6, mix(6.5, 12, row / 6)
        if row == 4:
            pen.measure(standing(*TOWER), TOWER[2])
            belfry(pen, chance)
        while left < 4500:
            wide = chance.uniform(4.5, 9)
            foot = 1692 - (float(hill(left)) * 0.72 + chance.uniform(0, 14)) * (1 - near)
            pen.measure(standing(left, foot, metre), metre)
            crown = chance.uniform(-2, wide)
            for _ in range(16):
                across, up = crown + chance.uniform(-1.8, 1.8), chance.uniform(0, 7)
                green = blend((0.12, 0.17, 0.20), (0.38, 0.38, 0.29), chance.random())
                pen.dot(across, up, chance.uniform(0.4, 1.1), green)
            wall = blend(chance.choice(palette), (0.80, 0.58, 0.54), 0.45 * (1 - near))
            house(pen, chance, wide, wall, 0.35, 0.3, chance.random() < 0.4)
            left += (wide + (chance.random() < 0.3) * chance.uniform(1, 6)) * metre
    pen.measure(standing(0, HORIZON + 14, 1), 1)
    bricks(pen, chance, 2340, 0, 4500, 26, (0.27, 0.25, 0.29), 12)
    pen.lay(1.05 - 0.25 * smooth(2400, 4500, canvas.x[pen.window[1]]))
    x, y, metre = TOWER
    dial(canvas, x, y - DIAL[0] * metre, DIAL[1] * metre)
    bloom(canvas)
    rows = canvas.window(0, 1400, 0, HORIZON)[0]
    fog = smooth(0.35, 0.8, noise(canvas.x / 800, canvas.y[rows] / 60, 31, 4))
    fog *= smooth(1450, 1690, canvas.y[rows]) * 0.5
    canvas.paint((0.96, 0.76, 0.64), fog, np.s_[rows, :])


def sea(canvas):
    """Lay the water below the horizon and give back its ripples, from about -1 to 1."""
    first = int(HORIZON * canvas.scale)
    x, y = canvas.x, canvas.y[first:]
    away = y - HORIZON + 8
    u, v = (x - 1900) * 1300 / away, 3.4e6 / away
    swell = noise(u / 420, v / 170, 41, 3) - 0.5
    chop = np.abs(noise(u / 120, v / 46, 42, 5) - 0.5) * 2 - 0.25
    streaks = noise(x / 90, y / 4, 43, 2) - 0.5
    slope = mix(streaks * 0.6, swell * 1.1 - chop * 0.7, smooth(40, 420, away))
    rows, columns = np.arange(first, canvas.height)[:, None], np.arange(canvas.width)
    seen = np.zeros_like(canvas.planes[:, first:])
    for shift in (-0.02, 0.06, 0.14, 0.22):
        tilt = np.abs(slope + shift) * (10 + 0.8 * (y - HORIZON)) + 4
        source = np.clip(2 * first - rows - tilt * canvas.scale, 0, first - 1).astype(int)
        seen += canvas.planes[:, source, columns] / 4
    deep = smooth(-0.35, 0.45, slope) * smooth(HORIZON - 200, 2900, y) * 0.7
    canvas.planes[:, first:] = blend(seen * 0.97, (0.05, 0.14, 0.24), deep)
    return slope


def afloat(canvas, ripples, x, y, size, hull):
    """A boat and, in the ripples, its reflection."""
    k, tall = canvas.scale, 1330 * size
    box = x - 710 * size, y - tall, x + 680 * size, y + 60 * size
    pen = Pen(canvas, box, standing(x, y, size), size)
    boat(pen, hull)
    planes, (rows, columns) = pen.planes(), pen.window
    below = slice(int(y * k), min(canvas.height, int((y + tall) * k)))
    jolt = ripples[below.start - int(HORIZON * k) : below.stop - int(HORIZON * k), columns]
    depth = np.arange(below.start, below.stop)[:, None] - y * k
    across = np.arange(columns.stop - columns.start) + jolt * 26 * size * k
    across = np.clip(across, 0, planes.shape[2] - 1).astype(int)
    fade = (0.8 - 0.5 * depth / (tall * k)) / 2.2
    for shift in (-6, 0, 6):
        up = y * k - rows.start - depth + jolt * (0.2 * depth + 60 * size * k) + shift * size * k
        up = np.clip(up, 0, planes.shape[1] - 1).astype(int)
        *colour, cover = planes[:, up, across]
        canvas.paint([plane * 0.8 for plane in colour], cover * fade, (below, columns))
    pen.lay()


def boat(pen, hull):
    """A little fishing boat with its bow to the left, from the middle of its waterline."""
    wood, rust = (0.50, 0.30, 0.19), (0.93, 0.50, 0.16)
    rigging(pen, wood)
    pen.box(105, 80, 300, 300, CREAM)
    pen.box(245, 80, 300, 300, blend(CREAM, DARK, 0.3))
    for board in range(116, 300, 16):
        pen.line([(board, 90), (board, 300)], blend(CREAM, DARK, 0.35), 1.6)
    for left, right in ((122, 172), (184, 234), (254, 290)):
        pen.box(left, 200, right, 280, wood)
        pen.box(left + 6, 206, right - 6, 274, AMBER)
    pen.shape([(84, 296), (92, 318), (312, 318), (322, 296)], (0.24, 0.36, 0.42))
    pen.line([(270, 318), (270, 372)], DARK, 9)
    net = curve([(-60, 70), (-20, 210), (60, 190), (96, 70)])
    pen.shape(net, (0.20, 0.34, 0.33))
    for k in range(1, 12):
        pen.line([net[k], net[k + 12]], (0.38, 0.52, 0.45), 2)
        pen.line([net[24 - k], net[12 - k]], (0.38, 0.52, 0.45), 2)
    planking(pen, hull)
    for x, y in ((-260, 34), (-30, 20), (215, 24)):
        pen.line([(x, y + 80), (x, y)], CREAM, 3)
        pen.dot(x, y, 27, DARK)
        pen.dot(x, y, 12, blend(hull, DARK, 0.4))
    for x, y, tone in ((-432, 204, rust), (-392, 188, (0.95, 0.78, 0.35)), (402, 186, rust)):
        pen.dot(x, y, 30, tone)
        pen.dot(x - 8, y + 9, 10, blend(tone, (1, 1, 1), 0.5))


def rigging(pen, wood):
    """Two masts, their stays and ratlines, the furled sails and a pennant."""
    head, mizzen, bow, stern, sprit = (-120, 1230), (335, 800), (-545, 225), (478, 170), (-690, 262)
    rope, sail, rust = (0.17, 0.12, 0.14), (0.90, 0.62, 0.40), (0.93, 0.50, 0.16)
    stays = [(head, bow), (head, sprit), (head, (470, 175)), (head, mizzen)]
    stays += [((-120, 760), sprit), (mizzen, stern), (mizzen, (120, 110))]
    stays += [((-120, 900), (foot, 100)) for foot in (-205, -165, -75, -35)]
    for stay in stays:
        pen.line(stay, rope, 2.6)
    for rung in range(1, 17):
        up = rung / 17
        ends = [(mix(foot, -120, up), mix(100, 900, up)) for foot in (-205, -35)]
        pen.line(ends, rope, 2)
    for (x, top), foot, width in ((head, 90, 20), (mizzen, 120, 16)):
        mast = [(x, foot), (x, top + 20)]
        lit = [(x - width / 4, foot), (x - 1.5, top + 20)]
        pen.shape(taper(mast, width, 7), wood)
        pen.shape(taper(lit, width / 3, 2), blend(wood, CREAM, 0.5))
    pen.line([bow, sprit], wood, 14)
    for left, right, peak in ((-110, 250, head), (345, 560, mizzen)):
        pen.line([(left, 330), (right, 354)], wood, 13)
        pen.line([(right, 354), peak], rope, 2.6)
        top = curve([(left, 400), (mix(left, right, 0.3), 392), (right - 12, 356)])
        fold = curve([(left, 354), (mix(left, right, 0.5), 338), (right - 12, 354)])
        sag = curve([(left, 318), (mix(left, right, 0.5), 296), (right - 12, 350)])
        pen.shape(top + sag[::-1], blend(sail, rust, 0.4))
        pen.shape(top + fold[::-1], sail)
        pen.line(fold, (0.55, 0.30, 0.20), 4)
        for k in range(3, 23, 3):
            pen.line([top[k], sag[k]], blend(wood, DARK, 0.4), 4)
    fly = curve([(-120, 1246), (-20, 1290), (10, 1220), (110, 1240)])
    pen.shape([*fly, (-120, 1214)], (0.86, 0.52, 0.14))


def planking(pen, hull):
    """The hull, strake by strake from the rail to the waterline."""
    sheer = curve([(-545, 225), (-220, 70), (180, 78), (478, 170)], 60)
    keel = curve([(-450, -10), (-200, -24), (200, -24), (430, -12)], 60)
    for k in range(10):
        pair = [[blend(p, q, t / 10) for p, q in zip(sheer, keel, strict=True)] for t in (k, k + 1)]
        upper, lower = pair
        tone = blend(blend(hull, AMBER, 0.28 - 0.03 * k), DARK, 0.045 * k)
        tone = {1: CREAM, 9: blend(hull, DARK, 0.75)}.get(k, tone)
        for step in range(60):
            plank = upper[step : step + 2] + lower[step : step + 2][::-1]
            pen.shape(plank, blend(tone, DARK, 1.6 * (step / 60 - 0.4) ** 2))
        pen.line(lower, blend(tone, DARK, 0.5), 2)
    pen.line(sheer, (0.42, 0.25, 0.16), 15)
    pen.line([(x, y + 5) for x, y in sheer], (0.88, 0.66, 0.46), 4)


def jetty(canvas, chance):
    """A plank jetty running in from the lower right, a lantern and a mooring rope at its end."""
    pen = Pen(canvas, (1900, 1800, 4500, 3000))

    def deck(side, along, up=0):
        """A place on the deck: side 0 to 1, along 0 (near) to 1 (far), up in pixels if near."""
        far = 1 / (1 + 1.9 * along)
        return mix(2180, mix(3150, 4750, side), far), mix(HORIZON, 3140, far) - up * far

    def post(side, along, tall):
        wide = 78 / (1 + 1.9 * along)
        line = [deck(side, along, up) for up in np.linspace(-190, tall, 5)]
        drowned = [deck(side, along, up) for up in np.linspace(-190, -560, 14)]
        drowned = [(x + chance.uniform(-9, 9), y) for x, y in drowned]
        pen.shape(taper(drowned, wide, wide * 0.7), (0.08, 0.09, 0.15, 0.55))
        pen.shape(taper(line, wide, wide), (0.14, 0.12, 0.15))
        lit = [(x - wide * 0.3, y) for x, y in line]
        pen.shape(taper(lit, wide * 0.4, wide * 0.4), (0.42, 0.30, 0.27))

    for k in range(8, -1, -1):
        post(1, k / 8, 210)
        post(0, k / 8, 0 if k < 8 else 210)
    for k in range(44, -1, -1):
        tone = blend((0.25, 0.21, 0.26), (0.56, 0.40, 0.35), chance.random())
        near, far, jut = k / 45 - 0.01, (k + 0.87) / 45 - 0.01, chance.uniform(-0.012, 0.012)
        front, back = [deck(jut, near), deck(1 + jut, near)], [deck(1 + jut, far), deck(jut, far)]
        pen.shape(front + back, tone)
        pen.line(front, blend(tone, DARK, 0.6), 9 / (1 + 1.9 * near))
        for _ in range(7):
            side, along = chance.random(), chance.uniform(near, far)
            grain = [deck(side, along), deck(min(1, side + 0.2), along)]
            pen.line(grain, blend(tone, DARK, 0.22), 1.6)
    (x, y), stern = deck(0, 1, 200), (BOAT[0] + 470, BOAT[1] - 160)
    rope = curve([stern, ((x + stern[0]) / 2, BOAT[1] + 40), (x, y + 40)])
    pen.line(rope, (0.62, 0.50, 0.40), 5)
    pen.box(x - 16, y, x + 16, y - 46, AMBER)
    pen.box(x - 20, y - 46, x + 20, y - 56, DARK)
    pen.lay()
    canvas.shine(x, y - 24, 40, (0.75, 0.45, 0.15))
    canvas.shine(x, y + 330, 16, (0.50, 0.32, 0.12), 6, 6)


def reeds(canvas, chance):
    """Reeds in the lower left, dark against the water."""
    pen = Pen(canvas, (0, 1700, 1700, 3000))
    for _ in range(190):
        foot = 1250 * chance.random() * chance.random() ** 0.5 - 60
        tall = mix(1050, 300, min(1, foot / 1150)) * chance.uniform(0.5, 1.05)
        lean = chance.uniform(-0.22, 0.42) * tall
        stem = [(foot, 3020), (foot + lean * 0.1, 3020 - tall * 0.6), (foot + lean, 3020 - tall)]
        stem = curve(stem)
        tone = blend((0.05, 0.07, 0.09), (0.40, 0.33, 0.20), chance.random() ** 2)
        if chance.random() < 0.3:
            pen.shape(taper(stem, 8, 4), tone)
            brown = blend((0.17, 0.09, 0.07), (0.48, 0.27, 0.17), chance.random())
            pen.line(stem[19:24], brown, 19)
            for place in stem[19:24]:
                pen.dot(*place, 9.5, brown)
        else:
            pen.shape(taper(stem, chance.uniform(9, 17), 1), tone)
    pen.lay()
