"""Digits in the manner of racing lettering: built of strokes round superellipses, square or faceted, some cut like stencils.

Fonts hold few of these: open fours, sixes and nines with straight or cut tails, square-shouldered twos, bars for ones. Each
set draws its proportions once and all ten digits by them, so that its digits are of one hand.
"""
import math

import numpy as np
from PIL import Image, ImageDraw

MASK_PX = 96
MOST_WIDTH_PX = 116
OVER = 3


class Set:
    """Proportions of one set; y down, digits one high, before they are made narrow or wide."""

    def __init__(self, random):
        self.random = random
        self.squareness = random.choice([2.0, 2.4, 3.0, 4.0, 7.0, 30.0], p=[0.2, 0.16, 0.2, 0.18, 0.16, 0.1])
        self.facets = int(random.choice([0, 8, 16], p=[0.72, 0.2, 0.08]))
        self.waist = random.uniform(0.43, 0.56)
        self.stroke = random.uniform(0.13, 0.28)
        self.is_round = random.random() < 0.3
        self.tail = random.choice(['arc', 'short', 'straight', 'square'], p=[0.4, 0.2, 0.2, 0.2])
        self.four = random.choice(['closed', 'square', 'open', 'slanted'])
        self.two = random.choice(['slanted', 'square'], p=[0.65, 0.35])
        self.three = random.choice(['bowls', 'flat', 'square'], p=[0.6, 0.2, 0.2])
        self.one = random.choice(['bar', 'flag', 'slanted', 'footed'], p=[0.3, 0.35, 0.2, 0.15])
        self.seven = random.choice(['straight', 'bent', 'ticked', 'square'], p=[0.5, 0.2, 0.2, 0.1])
        self.ends = random.uniform(15, 70)
        self.stencil = random.choice(['', 'upright', 'level', 'slanted'], p=[0.87, 0.06, 0.04, 0.03])
        self.stretch = random.uniform(0.42, 1.0)
        # Slits from the outside into a stroke, of one direction all through a set, and outer corners cut off.
        self.slits = int(random.choice([0, 1, 2], p=[0.62, 0.23, 0.15]))
        self.slit = random.uniform(0.02, 0.055)
        self.slit_turn = random.choice([0, 90, -35, 35, 60]) + random.normal(0, 6)
        self.bevel = random.uniform(0.08, 0.24) * (random.random() < 0.2)

    def arc(self, cy, ry, low, high):
        """Along a superellipse about (0.5, cy), degrees clockwise from the right."""
        if self.facets:
            step = 360 / self.facets
            inner = [a for a in np.arange(-720, 721, step) + step / 2 if min(low, high) < a < max(low, high)]
            angles = np.array([low, *(inner if high > low else inner[::-1]), high])
        else:
            angles = np.linspace(low, high, 40)
        c, s = np.cos(np.radians(angles)), np.sin(np.radians(angles))
        power = 2 / (2.0 if self.facets else self.squareness)
        grow = 1 / math.cos(math.radians(180 / self.facets)) if self.facets else 1.0
        x, y = np.sign(c) * np.abs(c) ** power * grow, np.sign(s) * np.abs(s) ** power * grow
        return [(0.5 + 0.5 * float(np.clip(a, -1, 1)), cy + ry * float(np.clip(b, -1, 1))) for a, b in zip(x, y)]

    def strokes(self, digit):
        w, e = self.waist, self.ends
        top, low = (w / 2, w / 2), ((1 + w) / 2, (1 - w) / 2)
        if digit == 0:
            return [self.arc(0.5, 0.5, 0, 360)]
        if digit == 1:
            return {'bar': [[(0.5, 0), (0.5, 1)]], 'flag': [[(0.18, 0.2), (0.55, 0), (0.55, 1)]], 'slanted': [[(0.62, 0), (0.4, 1)]],
                    'footed': [[(0.2, 0.18), (0.5, 0), (0.5, 1)], [(0.15, 1), (0.85, 1)]]}[self.one]
        if digit == 2:
            if self.two == 'square':
                return [[*self.arc(*top, 180 + e / 2, 360), (1, w / 2), *self.arc(*top, 0, 90)[1:], *self.arc(*low, 270, 180), (0, 1), (1, 1)]]
            return [[*self.arc(*top, 180 + e / 3, 380), (0, 1), (1, 1)]]
        if digit == 3:
            bowl = [*self.arc(*low, -90, 180 - e / 2)]
            if self.three == 'flat':
                return [[(0.02, 0), (0.96, 0), (0.42, w)], bowl]
            if self.three == 'square':
                return [[(0, 0), (1, 0), (1, 1), (0, 1)], [(0.25, w), (1, w)]]
            return [[*self.arc(*top, 180 + e / 2, 450)], [(0.34, w), *bowl]]
        if digit == 4:
            return {'closed': [[(0.72, 1), (0.72, 0), (0, 0.68), (1, 0.68)]], 'square': [[(0, 0), (0, 0.6), (1, 0.6)], [(0.82, 0), (0.82, 1)]],
                    'open': [[(0.5, 0), (0, 0.68), (1, 0.68)], [(0.74, 0.3), (0.74, 1)]],
                    'slanted': [[(0.3, 0), (0.02, 0.64), (1, 0.64)], [(0.78, 0.12), (0.7, 1)]]}[self.four]
        if digit == 5:
            return [[(0.96, 0), (0.06, 0), (0.03, w), *self.arc(*low, 270 - e / 8, 360), *self.arc(*low, 0, 180 - e / 2)]]
        if digit in (6, 9):
            ways = {'arc': self.arc(0.5, 0.5, 180, 360 - e), 'short': self.arc(0.5, 0.5, 180, 290), 'straight': [(0, low[0]), (0.2, 0.4), (0.78, 0)],
                    'square': [(0, low[0]), (0, 0), (0.92, 0)]}
            six = [self.arc(*low, 0, 360), ways[self.tail]]
            return six if digit == 6 else [[(1 - x, 1 - y) for x, y in line] for line in six]
        if digit == 7:
            return {'straight': [[(0, 0), (1, 0), (0.35, 1)]], 'bent': [[(0, 0), (1, 0), (0.5, 0.5), (0.36, 1)]],
                    'ticked': [[(0, 0.16), (0, 0), (1, 0), (0.3, 1)]], 'square': [[(0, 0), (1, 0), (1, 1)]]}[self.seven]
        if self.squareness > 6:
            return [self.arc(0.5, 0.5, 0, 360), [(0.05, w), (0.95, w)]]
        inset = self.random.uniform(0, 0.05)
        return [[(inset + (1 - 2 * inset) * x, y) for x, y in self.arc(*top, 0, 360)], self.arc(*low, 0, 360)]

    def mask(self, digit):
        """0-255, MASK_PX high, as wide as the digit is."""
        high = MASK_PX * OVER
        wide, thick = high * 0.72, self.stroke * high
        image = Image.new('L', (int(wide + 8), high), 0)
        draw = ImageDraw.Draw(image)
        at = lambda x, y: (4 + thick / 2 + x * (wide - thick), thick / 2 + y * (high - thick))
        for line in self.strokes(digit):
            points = [at(*point) for point in line]
            for index, (a, b) in enumerate(zip(points[:-1], points[1:])):
                long = math.hypot(b[0] - a[0], b[1] - a[1])
                if long < 0.5:
                    continue
                nx, ny = -(b[1] - a[1]) / long * thick / 2, (b[0] - a[0]) / long * thick / 2
                draw.polygon([(a[0] + nx, a[1] + ny), (b[0] + nx, b[1] + ny), (b[0] - nx, b[1] - ny), (a[0] - nx, a[1] - ny)], fill=255)
            joints = points if self.is_round else points[1:-1] + ([points[0]] if math.dist(line[0], line[-1]) < 1e-6 else [])
            for x, y in joints:
                box = (x - thick / 2, y - thick / 2, x + thick / 2, y + thick / 2)
                draw.rectangle(box, fill=255) if self.squareness > 6 and not self.facets and not self.is_round else draw.ellipse(box, fill=255)
        self.cut(draw, image.size)
        ink = np.asarray(image)
        columns = np.where(ink.max(0) > 60)[0]
        image = image.crop((columns[0], 0, columns[-1] + 1, high))
        width = min(MOST_WIDTH_PX, max(12, round(image.size[0] / OVER * self.stretch / 0.72)))
        return np.asarray(image.resize((width, MASK_PX), Image.BOX))

    def cut(self, draw, size):
        """The bridges of a stencil, slits and corners."""
        wide, high = size
        gap = self.stroke * high * 0.16
        if self.stencil == 'upright':
            draw.rectangle((wide / 2 - gap, 0, wide / 2 + gap, high), fill=0)
        if self.stencil == 'level':
            draw.rectangle((0, high / 2 - gap, wide, high / 2 + gap), fill=0)
        if self.stencil == 'slanted':
            draw.line((wide * 0.2, high * 0.75, wide * 0.8, high * 0.25), fill=0, width=int(2 * gap))
        for _ in range(self.slits):
            turn = math.radians(self.slit_turn)
            x, y = (0.5 + self.random.choice([-1, 1]) * self.random.uniform(0.2, 0.5)) * wide, self.random.uniform(0.05, 0.95) * high
            reach = self.stroke * high * self.random.uniform(0.5, 1.1)
            dx, dy = math.cos(turn) * reach, math.sin(turn) * reach
            draw.line((x - dx, y - dy, x + dx, y + dy), fill=0, width=max(2, int(self.slit * high)))
        off = self.bevel * high
        if off:
            for corner in ((0, 0), (wide, 0), (wide, high), (0, high)):
                if self.random.random() < 0.6:
                    x, y = corner
                    draw.polygon([(x, y), (x + (off if x == 0 else -off), y), (x, y + (off if y == 0 else -off))], fill=0)


def racing_set(seed):
    """Masks of the digits 0-9."""
    drawn = Set(np.random.default_rng(seed))
    return [drawn.mask(digit) for digit in range(10)]
