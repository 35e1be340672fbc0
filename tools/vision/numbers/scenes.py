"""Invented scenes with race numbers, painted in batches with torch: on a graphics card thousands a second.

A scene is a picture of S by S pixels, RGB 0-1, with up to three numbers of one to three digits, as plates or painted on
liveries, bent, turned and half hidden; and with words, stripes and patches that are no numbers. Backgrounds are drawn
tarmac, grass, sky and fences, or the demo's own renders of bikes without numbers. Photographs come in as
textures alone, from packages of free wallpapers.

A label row is one digit: digit 0-9 (or -1: no row), centre x y, width across and height in pixels, cosine and sine of
the reading direction (y down), place in the number, length of the number, the number's centre x y, state (0 to be
found, 1 not to be counted for or against), whole (1 where every digit of the number is in sight).
"""
import glob
import math
import random

import numpy as np
import torch
import torch.nn.functional as F
from PIL import Image

DIGIT, X, Y, WIDTH, HEIGHT, COS, SIN, PLACE, LENGTH, CENTRE_X, CENTRE_Y, STATE, WHOLE = range(13)
COLUMNS = 13
NUMBERS = 3
DIGITS = 3
ROWS = NUMBERS * DIGITS

# Paints of bikes, leathers and plates, sRGB 0-255: chosen by hand.
PALETTE = [
    (240, 240, 238), (250, 250, 250), (250, 250, 250), (15, 15, 18), (8, 8, 10), (20, 20, 22), (200, 16, 46), (225, 30, 30),
    (245, 210, 0), (255, 240, 30), (215, 255, 40), (0, 60, 170), (10, 20, 90), (0, 140, 220), (240, 110, 0), (255, 140, 20),
    (0, 130, 60), (60, 220, 60), (0, 180, 170), (230, 0, 120), (110, 40, 160), (120, 122, 126), (60, 62, 66), (200, 200, 200),
    (140, 100, 40), (190, 150, 60), (255, 90, 60),
]
LUMA = (0.30, 0.59, 0.11)
# Orders of red, green and blue.
SWAPS = ((0, 1, 2), (2, 1, 0), (1, 0, 2), (0, 2, 1))

# A decal is laid out in heights of its digits: 1 is a digit's height. Texture pixels for one height:
NUMBER_PX, NUMBER_TEXTURE = 50, (112, 232)
WORD_PX, WORD_TEXTURE, LETTERS = 36, (48, 288), 8
LEAST_HEIGHT_PX = 8.0
# Share of the numbers whose digits run into each other.
JOINED_SHARE = 0.2
# A digit whose surface is turned this far away, radians, cannot be read.
MOST_ROUND_CORNER = 1.2
# Nor can one of which no more than this share of its width is seen.
LEAST_OF_WIDTH = 0.2


class Scenes:
    """Paints scenes of `size` pixels on `device`; `payload` is the folder prepare.py made."""

    def __init__(self, payload, size=320, device='cpu', seed=1):
        self.size, self.device = size, device
        self.random = torch.Generator(device)
        self.begin(seed)
        glyphs = np.load(payload + '/glyphs.npz')
        self.masks = torch.from_numpy(glyphs['masks']).to(device)
        self.widths = torch.from_numpy(glyphs['widths']).to(device).float()
        self.index = torch.from_numpy(glyphs['index']).to(device).long()
        weight = torch.from_numpy(glyphs['weight']).to(device)
        # Mostly by how ordinary the shapes are, the rest evenly; and, to begin with, the ordinary ones alone.
        self.ordinary = (weight / weight.sum()).cumsum(0)
        self.all_shapes = (weight / weight.sum() * 0.6 + 0.4 / len(weight)).cumsum(0)
        self.lettered = (self.index >= 0).all(1).nonzero()[:, 0]
        self.palette = torch.tensor(PALETTE, device=device).float() / 255
        self.luma = torch.tensor(LUMA, device=device)
        self.plates = self.palette[[0, 1, 2, 4, 6, 8, 9, 3]]
        self.swaps = torch.tensor(SWAPS, device=device)
        self.renders = self.load_pictures(payload + '/render*.jpg')
        self.textures = self.load_pictures(payload + '/texture*.jpg')
        steps = torch.arange(size, device=device).float() + 0.5
        self.grid_y, self.grid_x = torch.meshgrid(steps, steps, indexing='ij')

    def load_pictures(self, pattern):
        """(count, 3, size, size) uint8, each enlarged to fill the square's long side and continued at its edges; or None."""
        pictures = []
        for path in sorted(glob.glob(pattern)):
            picture = Image.open(path).convert('RGB')
            scale = self.size / max(picture.size)
            picture = picture.resize([max(8, round(v * scale)) for v in picture.size], Image.BICUBIC)
            a = np.asarray(picture)
            down, right = self.size - a.shape[0], self.size - a.shape[1]
            a = np.pad(a, ((down // 2, down - down // 2), (right // 2, right - right // 2), (0, 0)), mode='reflect' if
                       max(down, right) < min(a.shape[:2]) else 'edge')
            pictures.append(torch.from_numpy(np.ascontiguousarray(a.transpose(2, 0, 1))))
        return torch.stack(pictures).to(self.device) if pictures else None

    def begin(self, seed):
        """Starts the chances anew. What is asked of `plain` never waits for the graphics card."""
        self.random.manual_seed(seed)
        self.plain = random.Random(seed)

    # Chance ------------------------------------------------------------------------------------------------------
    def uniform(self, low, high, *shape):
        return low + (high - low) * torch.rand(shape, generator=self.random, device=self.device)

    def normal(self, *shape):
        return torch.randn(shape, generator=self.random, device=self.device)

    def chance(self, share, *shape):
        return torch.rand(shape, generator=self.random, device=self.device) < share

    def integers(self, below, *shape):
        return torch.randint(below, shape, generator=self.random, device=self.device)

    def some(self, count, share):
        """Indices of a fixed share of the pictures, at random: work on the others is not done in vain."""
        return torch.rand(count, generator=self.random, device=self.device).argsort()[:round(share * count)]

    def colours(self, count):
        """(count, 3): mostly paints, some at random."""
        paint = self.palette[self.integers(len(self.palette), count)] + 0.04 * self.normal(count, 3)
        free = self.uniform(0, 1, count, 3)
        return torch.where(self.chance(0.72, count)[:, None], paint, free).clamp(0, 1)

    def colours_against(self, below):
        """(count, 3): colours that stand out from `below` (count, 3)."""
        count, tries = len(below), 8
        tried = self.colours(count * tries).view(count, tries, 3)
        by_light = ((tried - below[:, None]) @ self.luma).abs()
        by_hue = (tried - below[:, None]).abs().amax(2)
        stands_out = (by_light > 0.36) | ((by_light > 0.16) & (by_hue > 0.48))
        first = stands_out.float().argmax(1)
        found = tried[torch.arange(count, device=self.device), first]
        plain = torch.where(((below @ self.luma) < 0.5)[:, None], torch.full_like(below, 0.97), torch.full_like(below, 0.05))
        return torch.where(stands_out.any(1)[:, None], found, plain)

    # Backgrounds -------------------------------------------------------------------------------------------------
    def noise(self, count, channels=1):
        """(count, channels, S, S) of many grain sizes, about unit deviation, some of it drawn out to streaks."""
        size = self.size
        total = torch.zeros(count, channels, size, size, device=self.device)
        weight = self.uniform(0, 1, count, 6, 1, 1, 1)
        for octave, cells in enumerate((3, 8, 20, 50, 120, size)):
            across = max(2, cells // (4 if octave % 2 else 1))
            total += weight[:, octave] * F.interpolate(self.normal(count, channels, cells, across), (size, size), mode='bilinear')
        return total / weight.square().sum(1).sqrt().clamp(min=0.3)

    def drawn_backgrounds(self, count):
        """Sky, fence and trees above a tilted line, tarmac and grass below it."""
        x, y = self.grid_x / self.size - 0.5, self.grid_y / self.size - 0.5
        turn = self.uniform(-0.5, 0.5, count, 1, 1)
        level = self.uniform(-0.6, 0.5, count, 1, 1)
        below = torch.sigmoid((y * turn.cos() - x * turn.sin() - level) * self.uniform(8, 120, count, 1, 1))[:, None]
        grey = self.uniform(0.15, 0.62, count, 1)
        tarmac = grey + 0.03 * self.normal(count, 3)
        grass = torch.stack([self.uniform(0.2, 0.6, count), self.uniform(0.3, 0.6, count), self.uniform(0.08, 0.35, count)], 1)
        sky = torch.stack([self.uniform(0.4, 0.95, count), self.uniform(0.5, 0.97, count), self.uniform(0.6, 1, count)], 1)
        anything = self.colours(count)
        choose = lambda share, a, b: torch.where(self.chance(share, count)[:, None], a, b)[:, :, None, None]
        ground = choose(0.6, tarmac, grass)
        above = choose(0.35, sky, choose(0.5, grass, anything)[:, :, 0, 0])
        grain = self.uniform(0.005, 0.12, count, 1, 1, 1) * self.noise(count)
        tint = self.uniform(0, 0.05, count, 1, 1, 1) * self.noise(count, 3)
        wires = self.fence(count)
        picture = above * (1 - below) + ground * below + grain + tint
        return picture * (1 - wires * (1 - below)) + self.colours(count)[:, :, None, None] * wires * (1 - below)

    def fence(self, count):
        """(count, 1, S, S): a net or posts, in a third of the scenes."""
        turn = self.uniform(0, math.pi, count, 1, 1)
        step = self.uniform(8, 60, count, 1, 1)
        along = (self.grid_x * turn.cos() + self.grid_y * turn.sin()) / step
        across = (self.grid_y * turn.cos() - self.grid_x * turn.sin()) / step
        is_net = self.chance(0.5, count)[:, None, None]
        near = torch.minimum((along % 1 - 0.5).abs(), torch.where(is_net, (across % 1 - 0.5).abs(), torch.ones_like(across)))
        share = self.uniform(0.2, 0.9, count, 1, 1) * self.chance(0.33, count)[:, None, None]
        return (torch.sigmoid((self.uniform(0.03, 0.12, count, 1, 1) - near) * step) * share)[:, None]

    def pictured_backgrounds(self, pictures, count):
        """The demo's bikes or photographed textures, turned, moved, enlarged, and with their colours exchanged."""
        chosen = pictures[self.integers(len(pictures), count)].float() / 255
        order = self.swaps[self.integers(len(SWAPS), count) * self.chance(0.6, count)]
        chosen = torch.gather(chosen, 1, order[:, :, None, None].expand_as(chosen))
        turn, scale = self.uniform(-0.3, 0.3, count), self.uniform(0.55, 1.15, count)
        flip = 1 - 2 * self.chance(0.5, count).float()
        move = self.uniform(-0.35, 0.35, count, 2)
        theta = torch.stack([
            torch.stack([flip * scale * turn.cos(), -scale * turn.sin(), move[:, 0]], 1),
            torch.stack([flip * scale * turn.sin(), scale * turn.cos(), move[:, 1]], 1)], 1)
        grid = F.affine_grid(theta, list(chosen.shape), align_corners=False)
        return F.grid_sample(chosen, grid, padding_mode='reflection', align_corners=False)

    def backgrounds(self, count):
        """Pictures, and which of them show rendered bikes: those first, then textures, then drawn ones."""
        rendered = round(0.45 * count) if self.renders is not None else 0
        textured = round(0.25 * count) if self.textures is not None else 0
        parts = [self.drawn_backgrounds(count - rendered - textured)]
        if textured:
            parts.insert(0, self.pictured_backgrounds(self.textures, textured))
        if rendered:
            parts.insert(0, self.pictured_backgrounds(self.renders, rendered))
        return torch.cat(parts).clamp(0, 1), torch.arange(count, device=self.device) < rendered

    # Patches -----------------------------------------------------------------------------------------------------
    def patch(self, count, centre, least, most, flat=(0.15, 1.0)):
        """Mask (count, S, S): an ellipse, rounded box or stripe."""
        long = torch.exp(self.uniform(math.log(least), math.log(most), count, 1, 1))
        short = long * self.uniform(*flat, count, 1, 1)
        turn, bend = self.uniform(0, math.pi, count, 1, 1), self.uniform(-0.5, 0.5, count, 1, 1)
        x, y = self.grid_x - centre[:, 0, None, None], self.grid_y - centre[:, 1, None, None]
        u, v = (x * turn.cos() + y * turn.sin()) / long, (y * turn.cos() - x * turn.sin()) / short
        v = v + bend * u * u
        power = torch.where(self.chance(0.5, count), 2.0, 7.0)[:, None, None]
        away = (u.abs().clamp(max=6) ** power + v.abs().clamp(max=6) ** power + 1e-9) ** (1 / power)
        return torch.sigmoid((1 - away) * short * self.uniform(0.5, 3, count, 1, 1))

    def lay(self, picture, mask, colour):
        """Colour (count, 3) or (count, 3, S, S) over the picture where the mask (count, S, S) is."""
        colour = colour[:, :, None, None] if colour.dim() == 2 else colour
        return picture + (colour - picture) * mask[:, None]

    def liveries(self, picture, is_rendered):
        """Coloured patches like panels, leathers and wheels; fewer on renders."""
        for step in range(7):
            here = self.some(len(picture), 0.5)
            count = len(here)
            wanted = torch.where(is_rendered[here], 0.35, 1.0)
            present = (self.uniform(0, 1, count) < wanted).float()[:, None, None]
            centre = self.uniform(-0.1, 1.1, count, 2) * self.size
            mask = self.patch(count, centre, *((50, 230) if step < 3 else (12, 110)), flat=(0.06, 0.9)) * present
            slope = self.uniform(-0.3, 0.3, count, 1, 1) * (self.grid_x - centre[:, 0, None, None]) / self.size
            slope = slope + self.uniform(-0.3, 0.3, count, 1, 1) * (self.grid_y - centre[:, 1, None, None]) / self.size
            picture[here] = self.lay(picture[here], mask, self.colours(count)[:, :, None, None] + slope[:, None])
        return picture.clamp(0, 1)

    # Text on a decal ---------------------------------------------------------------------------------------------
    def text(self, glyphs, present, texture, px, gap, narrow, shear, uneven, tidy):
        """Masks (count, n, height, width) of the glyphs side by side, their places and widths (count, n) in heights.

        glyphs (count, n) indices into the masks; present (count, n); gap, narrow (count); uneven (count) deviation of a
        glyph's size, place and turn.
        """
        count, n = glyphs.shape
        sizes = (1 + 0.6 * uneven[:, None] * self.normal(count, n)).clamp(0.6, 1.4)
        widths = self.widths[glyphs] / self.masks.shape[1] * narrow[:, None] * sizes * present
        lefts = torch.cumsum(widths + gap[:, None] * present, 1) - widths - gap[:, None] * present
        total = (lefts + widths).amax(1, keepdim=True)
        middles = lefts + widths / 2 - total / 2
        rises = 0.5 * uneven[:, None] * self.normal(count, n)
        turns = 0.5 * uneven[:, None] * self.normal(count, n)
        high, wide = texture
        v = (torch.arange(high, device=self.device) + 0.5 - high / 2) / px
        u = (torch.arange(wide, device=self.device) + 0.5 - wide / 2) / px
        v, u = v.view(1, 1, high, 1), u.view(1, 1, 1, wide)
        e = lambda t: t[:, :, None, None]
        x = u - e(shear[:, None]) * v - e(middles)
        y = v - e(rises)
        x, y = x * e(turns.cos()) + y * e(turns.sin()), y * e(turns.cos()) - x * e(turns.sin())
        gx, gy = x / e(widths).clamp(min=1e-3) * 2, y / e(sizes) * 2
        cell_w, cell_h = self.masks.shape[2], self.masks.shape[1]
        used = e(self.widths[glyphs])
        grid = torch.stack([((gx + 1) / 2 * used) / cell_w * 2 - 1, gy.expand_as(gx)], -1)
        cells = self.masks[glyphs].view(count * n, 1, cell_h, cell_w).float() / 255
        drawn = F.grid_sample(cells, grid.reshape(count * n, high, wide, 2), align_corners=False).view(count, n, high, wide)
        inside = (gx.abs() < 1.06) & (gy.abs() < 1.06)
        drawn = drawn * inside * e(present)
        # Enlarged masks are soft: their edge is drawn together again.
        return ((drawn - 0.5) * 1.8 + 0.5).clamp(0, 1), middles, widths, sizes, rises, total[:, 0]

    @staticmethod
    def grown(mask):
        """(count, 9, h, w): the mask widened by 0…8 pixels, in eight directions."""
        steps = [mask]
        for step in range(8):
            now = steps[-1]
            if step % 2:
                now = F.max_pool2d(now[:, None], 3, 1, 1)[:, 0]
            else:
                now = torch.maximum(F.max_pool2d(now[:, None], (3, 1), 1, (1, 0))[:, 0], F.max_pool2d(now[:, None], (1, 3), 1, (0, 1))[:, 0])
            steps.append(now)
        return torch.stack(steps, 1)

    # Placing a decal ---------------------------------------------------------------------------------------------
    def placement(self, count, centre, height, roll, half_width):
        """How decals lie in the picture: a bent sheet turned in space. Returns a dictionary of (count,) values."""
        yaw = (0.42 * self.normal(count)).clamp(-1.05, 1.05)
        # Some are seen from far to the side, like a number on the front of a bike that passes.
        to_side = self.uniform(0.75, 1.25, count) * (1 - 2 * self.chance(0.5, count).float())
        yaw = torch.where(self.chance(0.17, count), to_side, yaw)
        pitch = (0.34 * self.normal(count)).clamp(-0.9, 0.9)
        far = self.uniform(5, 16, count)
        bent = self.chance(0.55, count)
        bend = torch.where(bent, self.uniform(0.1, 1.15, count), torch.full((count,), 0.02, device=self.device))
        phase = torch.where(bent, self.uniform(-0.35, 0.35, count), torch.zeros(count, device=self.device)) * (1.2 - bend).clamp(0, 1)
        # Some go round a corner: what is far round it cannot be read.
        corner = self.chance(0.14, count)
        side = 1 - 2 * self.chance(0.5, count).float()
        bend = torch.where(corner, self.uniform(1.2, 2.6, count), bend)
        phase = torch.where(corner, side * self.uniform(0.2, 0.9, count), phase)
        bow = torch.where(self.chance(0.3, count), self.uniform(-0.06, 0.06, count), torch.zeros(count, device=self.device))
        cr, sr, cy, sy, cp, sp = roll.cos(), roll.sin(), yaw.cos(), yaw.sin(), pitch.cos(), pitch.sin()
        # Columns of Rz(roll) Rx(pitch) Ry(yaw) for the sheet's two directions.
        first = torch.stack([cr * cy - sr * sp * sy, sr * cy + cr * sp * sy, -cp * sy], 1)
        second = torch.stack([-sr * cp, cr * cp, sp], 1)
        scale = height * far
        row = lambda axis: torch.stack([scale * first[:, axis] + centre[:, axis] * first[:, 2],
                                        scale * second[:, axis] + centre[:, axis] * second[:, 2], centre[:, axis] * far], 1)
        matrix = torch.stack([row(0), row(1), torch.stack([first[:, 2], second[:, 2], far], 1)], 1)
        return dict(matrix=matrix, inverse=inverse_of(matrix), bend=bend, phase=phase, bow=bow, half=half_width,
                    height=height * torch.minimum(cy, cp).clamp(min=0.3))

    @staticmethod
    def forward_points(place, x, y):
        """Points on decals (count, n), in heights, to pixels."""
        k, phase, half, bow = (place[name][:, None] for name in ('bend', 'phase', 'half', 'bow'))
        x = half * (torch.sin(k * x / half + phase) - torch.sin(phase)) / (k * torch.cos(phase))
        y = y + bow * x * x
        at = torch.einsum('bij,bjn->bin', place['matrix'], torch.stack([x, y, torch.ones_like(x)], 1))
        return at[:, 0] / at[:, 2], at[:, 1] / at[:, 2]

    def warped(self, texture, place, px):
        """Decal textures (count, c, h, w) seen in the picture (count, c, S, S), zero outside."""
        small = place['height'] / px
        # A decal drawn small is averaged first, or its edges would sparkle.
        for least, kernel in ((0.55, 3), (0.33, 5), (0.22, 7)):
            softer = F.avg_pool2d(texture, kernel, 1, kernel // 2)
            texture = torch.where((small < least)[:, None, None, None], softer, texture)
        k, phase, half, bow = (place[name][:, None, None] for name in ('bend', 'phase', 'half', 'bow'))
        m = place['inverse']
        c = lambda row, column: m[:, row, column, None, None]
        depth = c(2, 0) * self.grid_x + c(2, 1) * self.grid_y + c(2, 2)
        x = (c(0, 0) * self.grid_x + c(0, 1) * self.grid_y + c(0, 2)) / depth
        y = (c(1, 0) * self.grid_x + c(1, 1) * self.grid_y + c(1, 2)) / depth
        y = y - bow * x * x
        s = x * k * torch.cos(phase) / half + torch.sin(phase)
        x = half * (torch.asin(s.clamp(-0.999, 0.999)) - phase) / k
        high, wide = texture.shape[2:]
        x = torch.where((s.abs() < 0.999) & (depth > 0), x * px / wide * 2, torch.full_like(x, 9))
        grid = torch.stack([x, (y * px / high * 2).nan_to_num(9.0).clamp(-9, 9)], -1)
        return F.grid_sample(texture, grid, align_corners=False)

    def colour_below(self, picture, centre):
        """Mean colour of the picture around points (count, 2)."""
        small = F.avg_pool2d(picture, 16, 16)
        grid = (centre / self.size * 2 - 1).view(-1, 1, 1, 2)
        return F.grid_sample(small, grid, padding_mode='border', align_corners=False)[:, :, 0, 0]

    # Numbers -----------------------------------------------------------------------------------------------------
    def number_layers(self, picture, centre, height, roll, ease):
        """Colour (n, 3, S, S), cover (n, S, S), masks of each digit (n, 3, S, S) and label rows (n, 3, COLUMNS)."""
        count = len(centre)
        draw = lambda low, high: self.uniform(low, high, count)
        length = 1 + (self.uniform(0, 1, count) > 0.2).long() + (self.uniform(0, 1, count) > 0.66).long() * 1
        length = torch.where(self.chance(0.03, count), torch.ones_like(length), length).clamp(max=DIGITS)
        digits = self.integers(10, count, DIGITS)
        present = (torch.arange(DIGITS, device=self.device) < length[:, None]).float()
        at = self.uniform(0, 1, count)
        font = torch.where(self.chance(ease, count), torch.searchsorted(self.ordinary, at), torch.searchsorted(self.all_shapes, at)).clamp(max=len(self.index) - 1)
        glyphs = self.index[font].gather(1, digits)
        narrow = torch.where(self.chance(0.6, count), draw(0.65, 1.45), torch.ones(count, device=self.device))
        # Three wide digits must fit the sheet.
        widest = (self.widths[glyphs] / self.masks.shape[1] * present).sum(1)
        narrow = torch.minimum(narrow, 3.4 / widest.clamp(min=0.1))
        gap = torch.where(self.chance(0.8, count), draw(0.03, 0.26), draw(-0.1, 0.04))
        shear = torch.where(self.chance(0.45, count), draw(-0.32, 0.32), torch.zeros(count, device=self.device))
        uneven = torch.where(self.chance(0.16, count), draw(0.03, 0.2), torch.zeros(count, device=self.device))
        # Figures drawn as one emblem: run into each other, of unlike sizes, the later one before the earlier.
        joined = torch.arange(count, device=self.device) < round(JOINED_SHARE * count)
        gap = torch.where(joined, draw(-0.2, 0.0), gap)
        uneven = torch.where(joined & self.chance(0.7, count), draw(0.04, 0.22), uneven)
        each, middles, widths, sizes, rises, total = self.text(glyphs, present, NUMBER_TEXTURE, NUMBER_PX, gap, narrow, shear, uneven, True)
        each = self.parted(each, round(JOINED_SHARE * count))
        colour, cover = self.dressed(each.amax(1), total, self.colour_below(picture, centre))
        half = torch.full((count,), NUMBER_TEXTURE[1] / NUMBER_PX / 2, device=self.device)
        place = self.placement(count, centre, height, roll, half)
        seen = self.warped(torch.cat([colour, cover[:, None], each], 1), place, NUMBER_PX)
        rows = self.rows_of(place, digits, length, middles, widths, sizes, rises, shear)
        return seen[:, :3], seen[:, 3], seen[:, 4:], rows

    @staticmethod
    def parted(each, count):
        """Of the first `count` numbers each digit ends a little before the next one (n, 3, h, w)."""
        before = F.max_pool2d(each[:count, 1:], 5, 1, 2)
        return torch.cat([torch.cat([each[:count, :-1] * (1 - before), each[:count, -1:]], 1), each[count:]])

    def dressed(self, ink, total, below):
        """A number's colour (n, 3, h, w) and cover (n, h, w): plate, shadow, outlines, filling."""
        count, high, wide = ink.shape
        draw = lambda low, high_: self.uniform(low, high_, count)
        at = lambda steps, k: steps[torch.arange(count, device=self.device), k]
        steps = self.grown(ink)
        # Bolder or thinner than the font.
        bold = torch.where(self.chance(0.25, count), self.integers(3, count) + 1, torch.zeros(count, dtype=torch.long, device=self.device))
        thin = self.chance(0.1, count)
        eroded = -F.max_pool2d(-ink[:, None], 3, 1, 1)[:, 0]
        ink = torch.where(thin[:, None, None], eroded, at(steps, bold))
        v = ((torch.arange(high, device=self.device) + 0.5 - high / 2) / NUMBER_PX).view(1, high, 1)
        u = ((torch.arange(wide, device=self.device) + 0.5 - wide / 2) / NUMBER_PX).view(1, 1, wide)
        is_plate = self.chance(0.45, count)
        plate_colour = torch.where(self.chance(0.5, count)[:, None], self.plates[self.integers(len(self.plates), count)], self.colours(count))
        base = torch.where(is_plate[:, None], plate_colour, below)
        # The plate: from ellipse to box, a little askew.
        a, b = total / 2 + draw(0.12, 0.75), 0.5 + draw(0.08, 0.5)
        power = torch.where(self.chance(0.35, count), draw(2, 4), draw(5, 16))
        c = lambda t: t[:, None, None]
        x = (u - c(draw(-0.15, 0.15)) * v) / c(a) * (1 + c(draw(-0.2, 0.2)) * v)
        away = (x.abs().clamp(1e-4, 4) ** c(power) + (v / c(b)).abs().clamp(1e-4, 4) ** c(power)) ** (1 / c(power))
        plate = torch.sigmoid((1 - away) * NUMBER_PX * c(b) * 0.8) * c(is_plate.float())
        fill = self.colours_against(base)
        outline = self.colours_against(fill)
        second = self.colours_against(outline)
        colour = c2d(base, high, wide) + c(draw(-0.15, 0.15))[:, None] * v[:, None] + c(draw(-0.1, 0.1))[:, None] * u[:, None]
        cover = plate
        paint = lambda colour_, mask, with_: colour_ + (with_ - colour_) * mask[:, None]
        striped = torch.sigmoid(((u * c(draw(-3, 3)) + v * c(draw(-3, 3)) + c(draw(-1, 1))) % 2 - 1).abs() * 30 - c(draw(20, 29)))
        colour = paint(colour, striped * plate * c((self.chance(0.3, count)).float() * draw(0.2, 1)), c2d(self.colours(count), high, wide))
        rim = torch.sigmoid((away - c(draw(0.86, 0.95))) * 60) * c(self.chance(0.4, count).float())
        colour = paint(colour, rim * plate, c2d(self.colours(count), high, wide))
        style = self.uniform(0, 1, count)
        has_outline = (style < 0.5) | (~is_plate & (style < 0.72))
        has_second = has_outline & self.chance(0.3, count)
        has_shadow = self.chance(0.14, count)
        thick = bold + 1 + self.integers(4, count)
        thicker = (thick + 1 + self.integers(3, count)).clamp(max=8)
        outlined = at(steps, thick) * c(has_outline.float())
        twice = at(steps, thicker) * c(has_second.float())
        # Without a plate what surrounds the ink takes the outermost colour, so that soft edges do not darken.
        edge = torch.where(has_second[:, None], second, torch.where(has_outline[:, None], outline, fill))
        colour = torch.where(is_plate[:, None, None, None], colour, c2d(edge, high, wide))
        drop = (self.plain.randint(2, 6), self.plain.choice((-1, 1)) * self.plain.randint(1, 5))
        shadow = torch.roll(torch.maximum(ink, outlined), drop, (1, 2)) * c(has_shadow.float())
        colour, cover = paint(colour, shadow, c2d(self.colours(count) * 0.5, high, wide)), torch.maximum(cover, shadow)
        colour, cover = paint(colour, twice, c2d(second, high, wide)), torch.maximum(cover, twice)
        colour, cover = paint(colour, outlined, c2d(outline, high, wide)), torch.maximum(cover, outlined)
        shaded = c2d(fill, high, wide) + (self.normal(count, 3) * 0.16 * self.chance(0.2, count)[:, None])[:, :, None, None] * v[:, None] * 2
        is_hollow = has_outline & self.chance(0.2, count)
        filling = torch.where(is_hollow[:, None, None, None], c2d(base, high, wide), shaded)
        colour, cover = paint(colour, ink, filling), torch.maximum(cover, ink)
        # A line along the middle of the strokes.
        line = -F.max_pool2d(-eroded[:, None], 5, 1, 2)[:, 0] * c((self.chance(0.1, count) & ~is_hollow).float())
        line_colour = torch.where(self.chance(0.5, count)[:, None], base, self.colours_against(fill))
        colour = paint(colour, line, c2d(line_colour, high, wide))
        return colour.clamp(0, 1), cover

    def rows_of(self, place, digits, length, middles, widths, sizes, rises, shear):
        """Label rows (n, 3, COLUMNS); how much is hidden is found out later."""
        count = len(digits)
        half_w, half_h = widths / 2, sizes / 2
        lean = shear[:, None]
        points = [(middles + lean * rises, rises), (middles + half_w + lean * rises, rises), (middles - half_w + lean * rises, rises),
                  (middles + lean * (rises + half_h), rises + half_h), (middles + lean * (rises - half_h), rises - half_h)]
        (cx, cy), (rx, ry), (lx, ly), (bx, by), (tx, ty) = (self.forward_points(place, x, y) for x, y in points)
        ax, ay, dx, dy = rx - lx, ry - ly, bx - tx, by - ty
        width = (ax * ax + ay * ay).sqrt().clamp(min=0.5)
        height = (ax * dy - ay * dx).abs() / width
        zero = torch.zeros(count, 1, device=self.device)
        nx, ny = self.forward_points(place, zero, zero)
        rows = torch.zeros(count, DIGITS, COLUMNS, device=self.device)
        slots = torch.arange(DIGITS, device=self.device)
        is_there = slots < length[:, None]
        for column, value in ((DIGIT, torch.where(is_there, digits.float(), torch.full_like(cx, -1))), (X, cx), (Y, cy),
                              (WIDTH, width), (HEIGHT, height), (COS, ax / width), (SIN, ay / width),
                              (PLACE, slots.expand_as(cx).float()), (LENGTH, length[:, None].expand_as(cx).float()),
                              (CENTRE_X, nx.expand_as(cx)), (CENTRE_Y, ny.expand_as(cx)), (WHOLE, torch.ones_like(cx))):
            rows[:, :, column] = value
        tiny = (height < LEAST_HEIGHT_PX) | (width < 1.6) | ((width < 3.2) & (digits != 1))
        round_corner = (place['bend'][:, None] * middles / place['half'][:, None] + place['phase'][:, None]).abs() > MOST_ROUND_CORNER
        edge_on = width / height.clamp(min=1) < LEAST_OF_WIDTH * widths / sizes
        rows[:, :, STATE] = ((tiny | round_corner | edge_on) & is_there).float()
        return rows

    # Words -------------------------------------------------------------------------------------------------------
    def word_layer(self, picture, centre, height, roll):
        """Words, and strings that hold digits but are no race numbers: colour and cover as for numbers."""
        count = len(centre)
        font = self.lettered[self.integers(len(self.lettered), count)]
        length = 2 + self.integers(LETTERS - 1, count)
        letters = 10 + self.integers(26, count, LETTERS)
        kind = self.uniform(0, 1, count)[:, None]
        figures = self.integers(10, count, LETTERS)
        place = torch.arange(LETTERS, device=self.device)
        is_serial = (kind > 0.9)
        length = torch.where(is_serial[:, 0], length.clamp(min=5), length)
        # A type name: letters, then digits.
        is_type = (kind > 0.78) & ~is_serial & (place >= 2)
        letters = torch.where(is_serial | is_type, figures, letters)
        length = torch.where(is_type.any(1), length.clamp(min=3, max=6), length)
        # O and I alone read as digits: not in short words.
        short = (length < 4)[:, None]
        letters = torch.where(short & ((letters == 24) | (letters == 18)), letters + 1, letters)
        present = (place < length[:, None]).float()
        glyphs = self.index[font].gather(1, letters)
        gap = self.uniform(-0.02, 0.14, count)
        narrow = self.uniform(0.6, 1.1, count)
        total = (self.widths[glyphs] / self.masks.shape[1] * narrow[:, None] * present).sum(1) + gap * length
        narrow = narrow * (7.6 / total.clamp(min=7.6))
        shear = self.uniform(-0.3, 0.3, count) * self.chance(0.5, count)
        each, *_, total = self.text(glyphs, present, WORD_TEXTURE, WORD_PX, gap, narrow, shear, torch.zeros(count, device=self.device), True)
        ink = each.amax(1)
        fill = self.colours_against(self.colour_below(picture, centre))
        half = torch.full((count,), WORD_TEXTURE[1] / WORD_PX / 2, device=self.device)
        seen = self.warped(ink[:, None], self.placement(count, centre, height, roll, half), WORD_PX)[:, 0]
        return fill, seen

    # A whole scene -----------------------------------------------------------------------------------------------
    @torch.no_grad()
    def paint(self, count, ease=0.0):
        """Pictures (count, 3, S, S) 0-1 before any blur, and label rows (count, ROWS, COLUMNS).

        `ease` 0-1: so much larger and more ordinary are the numbers, to begin learning with.
        """
        size = self.size
        picture, is_rendered = self.backgrounds(count)
        picture = self.liveries(picture, is_rendered)
        lean = torch.where(self.chance(0.75, count), self.uniform(-1.25, 1.25, count), 0.2 * self.normal(count))
        anchors = self.anchors(count)
        seen_by = torch.zeros(count, ROWS, size, size, device=self.device, dtype=torch.half)
        whole_ink = torch.zeros(count, ROWS, device=self.device)
        rows = torch.full((count, ROWS, COLUMNS), 0.0, device=self.device)
        rows[:, :, DIGIT] = -1
        main = torch.exp(self.uniform(math.log(17 + 13 * ease), math.log(92), count))
        for _ in range(3):
            self.add_word(picture, seen_by, lean, None, main)
        for slot, share in enumerate((0.93, 0.45 * (1 - 0.6 * ease), 0.2 * (1 - ease))):
            here = self.some(count, share)
            if not len(here):
                continue
            height = main if slot == 0 else torch.exp(self.uniform(math.log(12), math.log(64), count))
            roll = lean + 0.14 * self.normal(count) + torch.where(self.chance(0.12, count), self.uniform(-0.6, 0.6, count), torch.zeros(count, device=self.device))
            centre = self.kept_inside(anchors[:, slot], height)
            colour, cover, masks, found = self.number_layers(picture[here], centre[here], height[here], roll[here], ease)
            picture[here] = self.lay(picture[here], cover, colour)
            under = seen_by[here] * (1 - cover[:, None]).half()
            span = slice(slot * DIGITS, (slot + 1) * DIGITS)
            under[:, span] = masks.half()
            seen_by[here] = under
            whole_ink[here, span] = masks.sum((2, 3))
            rows[here, span] = found
        self.add_word(picture, seen_by, lean, rows, main)
        self.add_openings(picture, seen_by, rows, main)
        self.add_hiding(picture, seen_by, rows)
        picture = self.lit(picture)
        return picture.clamp(0, 1), self.judged(rows, seen_by, whole_ink)

    def anchors(self, count):
        """(count, 3, 2) centres in separate quarters of the picture."""
        order = self.uniform(0, 1, count, 4).argsort(1)[:, :NUMBERS]
        corner = torch.stack([(order % 2).float(), (order // 2).float()], -1)
        centre = (0.27 + 0.46 * corner + 0.13 * self.normal(count, NUMBERS, 2)) * self.size
        free = self.uniform(0.05, 0.95, count, 1, 2) * self.size
        centre[:, :1] = torch.where(self.chance(0.5, count)[:, None, None], free, centre[:, :1])
        return centre

    def kept_inside(self, centre, height):
        """Mostly away from the picture's edge; now and then cut by it."""
        margin = torch.where(self.chance(0.88, len(centre)), (1.15 * height).clamp(max=0.42 * self.size), torch.zeros_like(height))[:, None]
        return torch.minimum(torch.maximum(centre, margin), self.size - margin)

    def hide(self, picture, seen_by, here, mask, colour):
        """Lays colour over the pictures of these indices, and takes it from what is seen of their digits."""
        picture[here] = self.lay(picture[here], mask, colour)
        seen_by[here] = seen_by[here] * (1 - mask[:, None]).half()

    def add_word(self, picture, seen_by, lean, rows, main):
        here = self.some(len(picture), 0.6)
        count, lean, main = len(here), lean[here], main[here]
        height = torch.exp(self.uniform(math.log(6), math.log(44), count))
        centre = self.uniform(0, 1, count, 2) * self.size
        roll = lean + 0.3 * self.normal(count)
        if rows is not None:
            # Beside the number, on the same panel.
            first = rows[here, 0]
            height = main * self.uniform(0.15, 0.7, count)
            along = self.uniform(-1.2, 1.2, count) * main
            off = (0.5 + 0.5 * height / main + self.uniform(0, 0.5, count)) * main * (1 - 2 * self.chance(0.5, count).float())
            co, si = first[:, COS], first[:, SIN]
            near = torch.stack([first[:, CENTRE_X] + along * co - off * si, first[:, CENTRE_Y] + along * si + off * co], 1)
            is_near = (self.chance(0.6, count) & (first[:, DIGIT] >= 0))
            centre = torch.where(is_near[:, None], near, centre)
            roll = torch.where(is_near, torch.atan2(si, co) + 0.04 * self.normal(count), roll)
        colour, cover = self.word_layer(picture[here], centre, height, roll)
        self.hide(picture, seen_by, here, cover, colour)

    def add_openings(self, picture, seen_by, rows, main):
        """Intakes, lamps, wheels and badges, many beside the number: round and dark like an 0, and none."""
        for share in (0.3, 0.15):
            here = self.some(len(picture), share)
            count = len(here)
            first, height = rows[here, 0], main[here]
            long = height * self.uniform(0.2, 0.75, count)
            away = (1 - 2 * self.chance(0.5, count).float()) * (self.uniform(0.5, 1.2, count) + 0.32 * first[:, LENGTH]) * height + long
            across = self.uniform(-0.7, 0.7, count) * height
            co, si = first[:, COS], first[:, SIN]
            near = torch.stack([first[:, CENTRE_X] + away * co - across * si, first[:, CENTRE_Y] + away * si + across * co], 1)
            is_near = self.chance(0.6, count) & (first[:, DIGIT] >= 0)
            centre = torch.where(is_near[:, None], near, self.uniform(0, 1, count, 2) * self.size)
            is_ring = self.chance(0.25, count)
            short = long * torch.where(is_ring, self.uniform(0.8, 1, count), self.uniform(0.3, 1, count))
            rim = self.uniform(1, 1.35, count) * torch.where(is_ring, 1.15, 1.0)
            dark = torch.where(self.chance(0.75, count)[:, None], self.uniform(0, 0.16, count, 1).expand(-1, 3), self.colours(count))
            outer, inner = self.two_patches(centre, long, short, rim)
            self.hide(picture, seen_by, here, outer, torch.where(is_ring[:, None], dark, self.colours(count)))
            self.hide(picture, seen_by, here, inner, torch.where(is_ring[:, None], self.colours(count), dark))

    def add_hiding(self, picture, seen_by, rows):
        """Arms, knees, levers and straps over digits, in a quarter of the scenes."""
        for _ in range(2):
            here = self.some(len(picture), 0.2)
            count = len(here)
            which = self.integers(DIGITS, count) + DIGITS * (self.chance(0.25, count)).long()
            chosen = rows[here, which]
            scale = chosen[:, HEIGHT].clamp(8, 90)
            centre = chosen[:, [X, Y]] + 0.75 * scale[:, None] * self.normal(count, 2)
            is_bar = self.chance(0.45, count)
            long = scale * torch.where(is_bar, self.uniform(1.5, 6, count), self.uniform(0.35, 1.6, count))
            short = torch.where(is_bar, scale * self.uniform(0.05, 0.3, count), long * self.uniform(0.4, 1, count))
            mask = self.one_patch(centre, long, short) * (chosen[:, DIGIT] >= 0)[:, None, None]
            shade = self.colours(count)[:, :, None, None] + 0.05 * self.noise(count)
            self.hide(picture, seen_by, here, mask, shade.clamp(0, 1))

    def two_patches(self, centre, long, short, rim):
        """An ellipse and the same grown by the factor `rim`: the grown one first."""
        turn = self.uniform(0, math.pi, len(centre), 1, 1)
        return [self.one_patch(centre, long * factor, short * factor, turn, power=2.2) for factor in (rim, torch.ones_like(rim))]

    def one_patch(self, centre, long, short, turn=None, power=4):
        turn = self.uniform(0, math.pi, len(centre), 1, 1) if turn is None else turn
        x, y = self.grid_x - centre[:, 0, None, None], self.grid_y - centre[:, 1, None, None]
        u = (x * turn.cos() + y * turn.sin()) / long[:, None, None]
        v = (y * turn.cos() - x * turn.sin()) / short[:, None, None]
        away = ((u.abs() ** power).clamp(max=1e4) + (v.abs() ** power).clamp(max=1e4) + 1e-9) ** (1 / power)
        return torch.sigmoid((1 - away) * short[:, None, None] * 2)

    def lit(self, picture):
        """Uneven light, and a glare in a few."""
        count = len(picture)
        slow = F.interpolate(self.normal(count, 1, 4, 4), (self.size, self.size), mode='bicubic')
        picture = picture * torch.exp(self.uniform(0, 0.35, count, 1, 1, 1) * slow)
        here = self.some(count, 0.12)
        count = len(here)
        glare = self.patch(count, self.uniform(0, 1, count, 2) * self.size, 8, 60, (0.15, 0.6)) * self.uniform(0.2, 0.8, count, 1, 1)
        picture[here] = picture[here] + glare[:, None]
        return picture

    def judged(self, rows, seen_by, whole_ink):
        """Marks digits that are hidden or cut, and the numbers that are not whole for it."""
        left = seen_by.sum((2, 3), dtype=torch.float32) / whole_ink.clamp(min=1e-3) * share_inside(rows, self.size)
        return marked(rows, left)


def share_inside(rows, size):
    """What of each digit's box lies in the picture, 0-1, by five points."""
    x, y, h, w, co, si = (rows[:, :, column] for column in (X, Y, HEIGHT, WIDTH, COS, SIN))
    inside = torch.zeros_like(x)
    for du, dv in ((0, 0), (0.42, 0.42), (-0.42, 0.42), (0.42, -0.42), (-0.42, -0.42)):
        px, py = x + du * w * co - dv * h * si, y + du * w * si + dv * h * co
        inside += ((px > 0) & (py > 0) & (px < size) & (py < size)).float() / 5
    return inside


def marked(rows, left):
    """The rows where of each digit the share `left` is in sight: hardly any takes the row away, half makes it not count."""
    there = rows[:, :, DIGIT] >= 0
    hidden = there & (left < 0.3)
    half = there & (left < 0.78) & ~hidden
    broken = (hidden | half).view(-1, NUMBERS, DIGITS).any(2, keepdim=True).expand(-1, -1, DIGITS).reshape(rows.shape[:2])
    out = rows.clone()
    out[:, :, WHOLE] = torch.where(broken, torch.zeros_like(left), rows[:, :, WHOLE])
    out[:, :, STATE] = torch.where(half, torch.ones_like(left), rows[:, :, STATE])
    out[:, :, DIGIT] = torch.where(hidden, torch.full_like(left, -1), rows[:, :, DIGIT])
    return not_whole_where_unread(out)


def not_whole_where_unread(rows):
    """A number of which one digit cannot be read is not whole, whatever the others say."""
    unread = (rows[:, :, DIGIT] >= 0) & (rows[:, :, STATE] > 0)
    some = unread.view(-1, NUMBERS, DIGITS).any(2, keepdim=True).expand(-1, -1, DIGITS).reshape(unread.shape)
    rows[:, :, WHOLE] = torch.where(some, torch.zeros_like(rows[:, :, WHOLE]), rows[:, :, WHOLE])
    return rows


def c2d(colour, high, wide):
    """(n, 3) as (n, 3, high, wide)."""
    return colour[:, :, None, None].expand(-1, -1, high, wide)


def inverse_of(matrix):
    """Of (n, 3, 3), by cross products: a library's would wait for the graphics card."""
    a, b, c = matrix.unbind(1)
    across = torch.stack([torch.linalg.cross(b, c), torch.linalg.cross(c, a), torch.linalg.cross(a, b)], 2)
    return across / (a * across[:, :, 0]).sum(1)[:, None, None]
