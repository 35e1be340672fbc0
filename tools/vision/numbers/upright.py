"""Invented cut-outs as the upright look sees them: a number upright in the middle, more or less, or none.

A cut-out is 192 by 96 pixels, a digit's height a little less than half of it. Digits and letters are kept as distances to their
outline, so that bold, thin, outlined, hollow and lined figures are one sum. Panels, plates, stripes and words lie on the same
bent sheet as the number and turn away with it.

A label row: length 0-3 (0: no number here), three digits, which of them can be read (3), whole, middle x y and height in
pixels, direction (radians), and 0 where the cut-out is not to be counted.
"""
import math
from concurrent.futures import ProcessPoolExecutor

import numpy as np
import torch
import torch.nn.functional as F

from racing import MASK_PX, racing_set
from camera import LEAST_HEIGHT_IN_BLURS, Camera
from scenes import DIGITS, MOST_ROUND_CORNER, Scenes

HIGH, WIDE = 96, 192
NOMINAL_PX = 42
LENGTH, DIGIT, READABLE, WHOLE, X, Y, HEIGHT, TURN, COUNTS = 0, 1, 4, 7, 8, 9, 10, 11, 12
COLUMNS = 13
# Distances are kept on a grid of so many pixels for a digit's height, a quarter of it beyond the digit on every side.
CELL_PX, CELL_HIGH, CELL_WIDE = 40, 60, 72
LETTERS = 8
# Letters that alone or in twos are not taken for digits.
UNLIKE_DIGITS = [10 + 'ABCDEFGHIJKLMNOPQRSTUVWXYZ'.index(c) for c in 'ACEFHJKMNPRUVWXY']
NUMBER_SHARE = 0.68
AMONG_COUNTED = 0.75
LEAST_KEPT = 0.5


def distances(masks, widths, device, at_once=64):
    """Signed distance, inside above zero, of masks (n, h, w) 0-1 with used widths (n), on the grid, in digit heights."""
    n, h, _ = masks.shape
    rows = (torch.arange(CELL_HIGH, device=device) + 0.5 - CELL_HIGH / 2) / CELL_PX
    columns = (torch.arange(CELL_WIDE, device=device) + 0.5 - CELL_WIDE / 2) / CELL_PX
    grid = torch.stack(torch.meshgrid(rows, columns, indexing='ij'), -1).view(1, -1, 2)
    out = torch.empty(n, CELL_HIGH, CELL_WIDE, dtype=torch.half, device=device)
    for low in range(0, n, at_once):
        ink = F.pad(masks[low:low + at_once].to(device).float()[:, None], (2, 2, 2, 2))
        ink = F.interpolate(ink, scale_factor=96 / h, mode='bilinear') if h != 96 else ink
        pad = 2 * 96 / h
        inside = ink[:, 0] > 0.5
        edge = inside & (F.max_pool2d((~inside).float()[:, None], 3, 1, 1)[:, 0] > 0)
        most = int(edge.sum((1, 2)).max())
        place = torch.where(edge.flatten(1), torch.arange(edge[0].numel(), device=device), 1 << 30).sort(1).values[:, :most]
        is_there = place < (1 << 30)
        place = place.clamp(max=edge[0].numel() - 1)
        wide = edge.shape[2]
        across = (place % wide + 0.5 - pad) / 96 - (widths[low:low + at_once].to(device) / h / 2)[:, None]
        down = (place // wide + 0.5 - pad) / 96 - 0.5
        points = torch.where(is_there[..., None], torch.stack([down, across], -1), torch.full((), 9.0, device=device))
        away = torch.cdist(grid.expand(len(points), -1, -1), points).amin(2).view(-1, CELL_HIGH, CELL_WIDE)
        gx = (grid[0, :, 1][None] + (widths[low:low + at_once].to(device) / h / 2)[:, None]) * 96 + pad
        gy = (grid[0, :, 0] + 0.5) * 96 + pad
        norm = torch.stack([gx / wide * 2 - 1, (gy / edge.shape[1] * 2 - 1).expand_as(gx)], -1)[:, None]
        is_in = F.grid_sample(ink, norm, align_corners=False).view(-1, CELL_HIGH, CELL_WIDE) > 0.5
        out[low:low + at_once] = torch.where(is_in, away + 0.5 / 96, 0.5 / 96 - away).half()
    return out


def racing_masks(sets, workers):
    """(sets * 10, MASK_PX, most width) uint8 and widths."""
    if workers > 1:
        with ProcessPoolExecutor(workers) as pool:
            drawn = list(pool.map(racing_set, range(sets), chunksize=8))
    else:
        drawn = [racing_set(seed) for seed in range(sets)]
    masks = [mask for digits in drawn for mask in digits]
    widths = [mask.shape[1] for mask in masks]
    out = np.zeros((len(masks), MASK_PX, max(widths)), np.uint8)
    for index, mask in enumerate(masks):
        out[index, :, :mask.shape[1]] = mask
    return torch.from_numpy(out), torch.tensor(widths).float()


class Upright(Scenes):
    """Paints cut-outs on `device`; `payload` is the folder prepare.py made, `racing` what racing_masks drew."""

    def __init__(self, payload, racing, device='cpu', seed=1, most_fonts=None):
        super().__init__(payload, device=device, seed=seed)
        ordinary = self.masks.float() / 255
        fonts = len(self.index) if most_fonts is None else most_fonts
        used = self.index[:fonts]
        kept = torch.unique(used[used >= 0])
        renamed = torch.full((len(ordinary),), -1, dtype=torch.long, device=device)
        renamed[kept] = torch.arange(len(kept), device=device)
        index = torch.where(used >= 0, renamed[used.clamp(min=0)], -1)
        masks, widths = racing
        sets = len(masks) // 10
        racing = torch.full((sets, index.shape[1]), -1, dtype=torch.long, device=device)
        racing[:, :10] = len(kept) + torch.arange(10 * sets, device=device).view(sets, 10)
        self.lettered = (index >= 0).all(1).nonzero()[:, 0]
        weight = torch.from_numpy(np.load(payload + '/glyphs.npz')['weight'])[:fonts].to(device)
        weight = weight / weight.sum() * 0.25 + 0.25 / fonts
        self.shapes = torch.cat([weight, torch.full((sets,), 0.5 / sets, device=device)]).cumsum(0)
        self.index = torch.cat([index, racing])
        self.breadth = torch.cat([self.widths[kept] / self.masks.shape[1], (widths / MASK_PX).to(device)])
        self.atlas = torch.cat([distances(ordinary[kept], self.widths[kept], device), distances(masks.float() / 255, widths, device)]).flatten()
        self.unlike_digits = torch.tensor(UNLIKE_DIGITS, device=device)
        del self.masks
        self.bikes, self.grounds = len(self.renders), torch.cat([self.renders, self.textures])
        del self.renders, self.textures
        self.grid_y, self.grid_x = torch.meshgrid(torch.arange(HIGH, device=device) + 0.5, torch.arange(WIDE, device=device) + 0.5, indexing='ij')

    def noise(self, count, channels=1):
        """(count, channels, H, W) of several grain sizes, about unit deviation."""
        total = torch.zeros(count, channels, HIGH, WIDE, device=self.device)
        weight = self.uniform(0, 1, count, 4, 1, 1, 1)
        for octave, cells in enumerate(((2, 4), (6, 12), (16, 12), (HIGH, WIDE))):
            total += weight[:, octave] * F.interpolate(self.normal(count, channels, *cells), (HIGH, WIDE), mode='bilinear')
        return total / weight.square().sum(1).sqrt().clamp(min=0.3)

    # Shapes ------------------------------------------------------------------------------------------------------
    def distance(self, glyph, x, y):
        """Signed distance to glyphs' outlines, in heights, at points (n, H, W) from their middles; `glyph` (n, H, W) or (n, 1, 1)."""
        u, v = x * CELL_PX + CELL_WIDE / 2 - 0.5, y * CELL_PX + CELL_HIGH / 2 - 0.5
        uc, vc = u.clamp(0, CELL_WIDE - 1.001), v.clamp(0, CELL_HIGH - 1.001)
        left, top = uc.floor(), vc.floor()
        fu, fv = uc - left, vc - top
        at = glyph * (CELL_HIGH * CELL_WIDE) + (top * CELL_WIDE + left).long()
        take = lambda offset: self.atlas[at + offset].float()
        inside = (take(0) * (1 - fu) + take(1) * fu) * (1 - fv) + (take(CELL_WIDE) * (1 - fu) + take(CELL_WIDE + 1) * fu) * fv
        return inside - torch.hypot(u - uc, v - vc) / CELL_PX

    def pictured(self, count, zoom=(0.3, 1.25)):
        """Parts of the demo's bikes or of textures, turned, their colours exchanged."""
        of_bikes = self.chance(0.72, count)
        pick = torch.where(of_bikes, self.integers(self.bikes, count), self.integers(len(self.grounds), count))
        chosen = self.grounds[pick].float() / 255
        size = chosen.shape[2]
        z = torch.exp(self.uniform(math.log(zoom[0]), math.log(zoom[1]), count))
        turn = self.uniform(-1.2, 1.2, count)
        flip = 1 - 2 * self.chance(0.5, count).float()
        a, b = z * WIDE / size, z * HIGH / size
        move = self.uniform(-0.75, 0.75, count, 2)
        theta = torch.stack([torch.stack([flip * a * turn.cos(), -b * turn.sin(), move[:, 0]], 1),
                             torch.stack([flip * a * turn.sin(), b * turn.cos(), move[:, 1]], 1)], 1)
        grid = F.affine_grid(theta, [count, 3, HIGH, WIDE], align_corners=False)
        picture = F.grid_sample(chosen, grid, padding_mode='reflection', align_corners=False)
        order = self.swaps[self.integers(len(self.swaps), count) * self.chance(0.6, count)]
        return torch.gather(picture, 1, order[:, :, None, None].expand_as(picture))

    # The sheet on which all of it lies -----------------------------------------------------------------------------
    def sheet(self, count):
        """Where each pixel lies on the sheet, in digit heights; pixels for a height; and how the number lies in the cut-out."""
        zero = torch.zeros(count, device=self.device)
        half = torch.full((count,), 2.3, device=self.device)
        place = self.placement(count, torch.zeros(count, 2, device=self.device), zero + 1, zero, half)
        points_x = torch.tensor([0.0, 0.3, -0.3, 0.0, 0.0], device=self.device).expand(count, -1)
        points_y = torch.tensor([0.0, 0.0, 0.0, 0.4, -0.4], device=self.device).expand(count, -1)
        px, py = self.forward_points(place, points_x, points_y)
        ax, ay = px[:, 1] - px[:, 2], py[:, 1] - py[:, 2]
        direction, width = torch.atan2(ay, ax), torch.hypot(ax, ay)
        apparent = (ax * (py[:, 3] - py[:, 4]) - ay * (px[:, 3] - px[:, 4])).abs() / width.clamp(min=1e-4) / 0.8
        grow = torch.where(self.chance(0.8, count), torch.exp(0.2 * self.normal(count)), torch.exp(self.uniform(-0.8, 0.5, count)))
        height = (NOMINAL_PX * grow).clamp(17, 72)
        turn = torch.where(self.chance(0.8, count), 0.09 * self.normal(count), self.uniform(-0.45, 0.45, count))
        off = torch.where(self.chance(0.72, count)[:, None], 0.22 * self.normal(count, 2), self.uniform(-0.85, 0.85, count, 2)) * height[:, None]
        off[:, 0] = 1.2 * off[:, 0]
        centre = torch.stack([WIDE / 2 + off[:, 0], HIGH / 2 + off[:, 1]], 1)
        # From pixels to the plane the sheet was placed in.
        k = apparent / height
        c, s = (direction - turn).cos() * k, (direction - turn).sin() * k
        e = lambda t: t[:, None, None]
        dx, dy = self.grid_x - e(centre[:, 0]), self.grid_y - e(centre[:, 1])
        qx, qy = e(px[:, 0]) + e(c) * dx - e(s) * dy, e(py[:, 0]) + e(s) * dx + e(c) * dy
        m = place['inverse']
        w = e(m[:, 2, 0]) * qx + e(m[:, 2, 1]) * qy + e(m[:, 2, 2])
        x = (e(m[:, 0, 0]) * qx + e(m[:, 0, 1]) * qy + e(m[:, 0, 2])) / w
        y = (e(m[:, 1, 0]) * qx + e(m[:, 1, 1]) * qy + e(m[:, 1, 2])) / w
        bend, phase, half, bow = (e(place[name]) for name in ('bend', 'phase', 'half', 'bow'))
        y = y - bow * x * x
        s = x * bend * torch.cos(phase) / half + torch.sin(phase)
        is_on = ((s.abs() < 0.999) & (w > 0)).float()
        x = half * (torch.asin(s.clamp(-0.999, 0.999)) - phase) / bend
        steep = (width / 0.6 / apparent.clamp(min=1e-3)).clamp(0.2, 1)
        return dict(x=x.nan_to_num(99.0).clamp(-30, 30), y=y.nan_to_num(99.0).clamp(-30, 30), is_on=is_on, px=height * steep.sqrt(), height=height,
                    turn=turn, centre=centre, steep=steep, bend=place['bend'], phase=place['phase'], half=place['half'])

    @staticmethod
    def soft(distance, px):
        """Cover 0-1 from a signed distance in heights."""
        return (distance * px[:, None, None] + 0.5).clamp(0, 1)

    def band(self, sheet, count, wide):
        """Distance inside a stripe or an ellipse anywhere on the sheet."""
        e = lambda t: t[:, None, None]
        turn = self.uniform(0, math.pi, count)
        cx, cy = self.uniform(-3, 3, count), self.uniform(-1.6, 1.6, count)
        dx, dy = sheet['x'] - e(cx), sheet['y'] - e(cy)
        u, v = dx * e(turn.cos()) + dy * e(turn.sin()), dy * e(turn.cos()) - dx * e(turn.sin())
        thick = torch.exp(self.uniform(math.log(wide[0]), math.log(wide[1]), count))
        long = torch.where(self.chance(0.55, count), torch.full_like(thick, 40.0), self.uniform(0.4, 3, count))
        v = v + e(self.uniform(-0.3, 0.3, count) * self.chance(0.5, count)) * u * u
        tapered = e(thick) * (1 + e(self.uniform(-0.3, 0.3, count) * self.chance(0.4, count)) * u).clamp(0.1, 3)
        return torch.minimum(tapered - v.abs(), e(long) - u.abs())

    def panel(self, picture, sheet, base):
        """The fairing the number is on: an area of the sheet with coloured stripes. Returns the picture and its cover."""
        count = len(picture)
        e = lambda t: t[:, None, None]
        inside = torch.full_like(sheet['x'], 9.0)
        for side in range(4):
            turn = side * math.pi / 2 + 0.3 * self.normal(count)
            reach = torch.exp(self.uniform(math.log(1.1 if side % 2 == 0 else 0.7), math.log(5), count))
            bulge = self.uniform(-0.12, 0.12, count)
            along = sheet['x'] * e(turn.cos()) + sheet['y'] * e(turn.sin())
            across = sheet['y'] * e(turn.cos()) - sheet['x'] * e(turn.sin())
            inside = torch.minimum(inside, e(reach) - along + e(bulge) * across * across)
        is_panel = self.chance(0.82, count).float()
        cover = self.soft(inside, sheet['px']) * sheet['is_on'] * e(is_panel)
        colour = base[:, :, None, None].expand_as(picture)
        for _ in range(4):
            band = self.soft(self.band(sheet, count, (0.04, 1.3)), sheet['px']) * e(self.chance(0.5, count).float())
            colour = colour + (self.colours(count)[:, :, None, None] - colour) * band[:, None]
        shade = 1 + self.uniform(-0.16, 0.16, count, 1, 1) * sheet['x'].clamp(-4, 4) + self.uniform(-0.12, 0.12, count, 1, 1) * sheet['y'].clamp(-3, 3)
        colour = colour * shade.clamp(0.25, 1.8)[:, None]
        rim = self.soft(0.06 - inside.abs(), sheet['px']) * e(self.chance(0.25, count).float())
        picture = picture + (colour - picture) * cover[:, None]
        return picture + (self.colours(count)[:, :, None, None] - picture) * (rim * cover)[:, None], cover

    # Words -------------------------------------------------------------------------------------------------------
    def word(self, sheet, cx, cy, height, turn, is_short):
        """Cover (n, H, W) of a word or a string of letters and figures that is no race number, its middle there on the sheet."""
        count = len(cx)
        e = lambda t: t[:, None, None]
        font = self.lettered[self.integers(len(self.lettered), count)]
        length = torch.where(is_short, 1 + self.integers(2, count), 3 + self.integers(LETTERS - 2, count))
        letters = 10 + self.integers(26, count, LETTERS)
        letters = torch.where(is_short[:, None], self.unlike_digits[self.integers(len(self.unlike_digits), count, LETTERS)], letters)
        kind = self.uniform(0, 1, count)[:, None]
        figures = self.integers(10, count, LETTERS)
        slot = torch.arange(LETTERS, device=self.device)
        is_serial = (kind > 0.92) & ~is_short[:, None]
        is_type = (kind > 0.82) & ~is_serial & (slot >= 2) & ~is_short[:, None]
        letters = torch.where(is_serial | is_type, figures, letters)
        length = torch.where(is_serial[:, 0], length.clamp(min=5), length)
        present = (slot < length[:, None]).float()
        glyph = self.index[font].gather(1, letters)
        narrow = self.uniform(0.6, 1.3, count)
        pitch = (self.breadth[glyph] * narrow[:, None] + self.uniform(0.02, 0.16, count)[:, None]) * present
        ends = pitch.cumsum(1)
        total = ends[:, -1]
        shear = self.uniform(-0.3, 0.3, count) * self.chance(0.4, count)
        dx, dy = (sheet['x'] - e(cx)) / e(height), (sheet['y'] - e(cy)) / e(height)
        x, y = dx * e(turn.cos()) + dy * e(turn.sin()), dy * e(turn.cos()) - dx * e(turn.sin())
        x = x - e(shear) * y + e(total / 2)
        which = (x[:, None] >= ends[:, :, None, None]).sum(1).clamp(max=LETTERS - 1)
        pick = lambda values: values.gather(1, which.flatten(1)).view_as(x)
        middle = pick(ends - pitch / 2)
        far = self.distance(pick(glyph), (x - middle) / e(narrow), y)
        far = torch.where((x < -0.1) | (x > e(total) + 0.1) | (pick(present) == 0), torch.full_like(far, -1.0), far)
        return self.soft((far + e(self.uniform(-0.02, 0.03, count))) * e(height), sheet['px'])

    # Numbers -----------------------------------------------------------------------------------------------------
    def figures(self, sheet):
        """Distances (n, 3, H, W) to the digits and what they are."""
        count = len(sheet['px'])
        draw = lambda low, high: self.uniform(low, high, count)
        zero = torch.zeros(count, device=self.device)
        length = torch.searchsorted(torch.tensor([0.17, 0.76], device=self.device), draw(0, 1)) + 1
        digits = self.integers(10, count, DIGITS)
        digits = torch.where(self.chance(0.1, count)[:, None], digits[:, :1].expand(-1, DIGITS), digits)
        present = (torch.arange(DIGITS, device=self.device) < length[:, None]).float()
        font = torch.searchsorted(self.shapes, draw(0, 1)).clamp(max=len(self.index) - 1)
        glyph = self.index[font].gather(1, digits)
        narrow = torch.where(self.chance(0.65, count), draw(0.65, 1.45), zero + 1)
        narrow = torch.minimum(narrow, 3.4 / (self.breadth[glyph] * present).sum(1).clamp(min=0.1))
        gap = torch.where(self.chance(0.68, count), draw(0.02, 0.24), draw(-0.2, 0.03))
        slant = torch.where(self.chance(0.75, count), draw(-0.4, 0.0), draw(0, 0.3))
        shear = torch.where(self.chance(0.5, count), slant, zero)
        uneven = torch.where(self.chance(0.22, count), draw(0.03, 0.2), zero)
        sizes = (1 + 0.6 * uneven[:, None] * self.normal(count, DIGITS)).clamp(0.65, 1.35)
        widths = self.breadth[glyph] * narrow[:, None] * sizes * present
        lefts = torch.cumsum(widths + gap[:, None] * present, 1) - widths - gap[:, None] * present
        total = (lefts + widths).amax(1)
        middles = lefts + widths / 2 - total[:, None] / 2
        # The tops of some rise along the number, as on a nose.
        rises = 0.5 * uneven[:, None] * self.normal(count, DIGITS) + (self.chance(0.12, count) * draw(-0.2, 0.2))[:, None] * middles
        turns = 0.5 * uneven[:, None] * self.normal(count, DIGITS)
        # No two hands draw alike: waists high or low, feet wide or narrow, outlines that swing a little; a number's digits alike.
        some = self.chance(0.6, count).float()
        waist, foot, swing = 0.16 * self.normal(count) * some, 0.18 * self.normal(count) * some, (0.03 * self.normal(count) * self.chance(0.5, count))
        waves, start = draw(3, 9), self.uniform(0, math.tau, count, DIGITS)
        upright_bold = draw(0, 0.05) * self.chance(0.25, count)
        c = lambda t: t[:, None, None]
        far = []
        for k in range(DIGITS):
            e = lambda t: t[:, k, None, None]
            x = sheet['x'] - shear[:, None, None] * sheet['y'] - e(middles)
            y = sheet['y'] - e(rises)
            x, y = x * e(turns.cos()) + y * e(turns.sin()), y * e(turns.cos()) - x * e(turns.sin())
            x, y = x / (c(narrow) * e(sizes)), y / e(sizes)
            x = x * (1 + c(foot) * y.clamp(-0.6, 0.6)) + c(swing) * torch.sin(c(waves) * y + e(start))
            y = y + c(waist) * (0.25 - y * y).clamp(min=0) + c(swing) * torch.sin(c(waves) * x + e(start) + 1)
            glyph_k = e(glyph)
            d = self.distance(glyph_k, x, y)
            # Upright strokes bolder than level ones.
            d = torch.where(c(upright_bold) > 0, torch.maximum(d, torch.maximum(self.distance(glyph_k, x - c(upright_bold), y), self.distance(glyph_k, x + c(upright_bold), y))), d)
            d = d * e(sizes) * narrow.clamp(max=1).sqrt()[:, None, None]
            far.append(torch.where(e(present) > 0, d, torch.full_like(d, -2.0)))
        return torch.stack(far, 1), dict(length=length, digits=digits, present=present, middles=middles, rises=rises, widths=widths, sizes=sizes, total=total, shear=shear)

    def number(self, picture, sheet, base, there):
        """Paints plates and numbers. Returns the picture, what of each digit is on the sheet and all of it (n, 3, H, W), the
        labels and the fill's colour."""
        count = len(picture)
        draw = lambda low, high: self.uniform(low, high, count)
        e = lambda t: t[:, None, None]
        px = sheet['px']
        far, about = self.figures(sheet)
        on = sheet['is_on'] * e(there)
        paint = lambda mask, colour: picture + ((colour[:, :, None, None] if colour.dim() == 2 else colour) - picture) * (mask * on)[:, None]
        # The plate.
        is_plate = self.chance(0.4, count)
        power = torch.where(self.chance(0.4, count), draw(2, 4), draw(5, 14))
        a, b = about['total'] / 2 + draw(0.12, 0.8), 0.5 + draw(0.08, 0.5)
        x = ((sheet['x'] - e(draw(-0.15, 0.15)) * sheet['y']) / e(a) * (1 + e(draw(-0.25, 0.25)) * (sheet['y'] / e(b)).clamp(-1.5, 1.5))).abs().clamp(1e-3, 4)
        away = (x ** e(power) + (sheet['y'] / e(b)).abs().clamp(1e-3, 4) ** e(power)) ** (1 / e(power))
        plate = self.soft((1 - away) * e(b), px) * e(is_plate.float())
        plate_colour = torch.where(self.chance(0.5, count)[:, None], self.plates[self.integers(len(self.plates), count)], self.colours(count))
        picture = paint(plate, plate_colour)
        rim = self.soft(e(draw(0.02, 0.07)) - ((away - e(draw(0.86, 0.98))) * e(b)).abs(), px) * e((self.chance(0.35, count)).float()) * plate
        picture = paint(rim, self.colours(count))
        half_plate = self.soft(self.band(sheet, count, (0.05, 0.8)), px) * plate * e((self.chance(0.2, count)).float())
        picture = paint(half_plate, self.colours(count))
        base = torch.where(is_plate[:, None], plate_colour, base)
        # Fill, outlines, shadow.
        fill, second = self.colours_against(base), self.colours(count)
        outline = torch.where(self.chance(0.7, count)[:, None], self.colours_against(fill), base)
        outer = torch.where(self.chance(0.6, count)[:, None], self.colours_against(outline), base)
        bold = torch.where(self.chance(0.4, count), draw(-0.035, 0.05), torch.zeros(count, device=self.device))
        far = far + bold[:, None, None, None]
        has_outline = self.chance(0.5, count)
        first = draw(0.02, 0.1) * has_outline
        then = first + draw(0.025, 0.1) * (has_outline & self.chance(0.4, count))
        ink = self.soft(far.flatten(1, 2), px).view_as(far)
        # Digits that meet: the later over the earlier with a seam between, or run together.
        seam = torch.maximum(first, draw(0.02, 0.06)) * self.chance(0.6, count)
        over = self.soft(far[:, 1:].flatten(1, 2) + e(seam), px).view(count, DIGITS - 1, HIGH, WIDE) * (seam > 0)[:, None, None, None]
        parted = torch.stack([ink[:, 0] * (1 - over[:, 0]) * (1 - over[:, 1]), ink[:, 1] * (1 - over[:, 1]), ink[:, 2]], 1)
        near = far.amax(1)
        shadow_at = (self.plain.randint(-3, 3), self.plain.randint(-3, 3))
        shadow = torch.roll(self.soft(near + e(then), px), shadow_at, (1, 2)) * e(self.chance(0.22, count).float())
        picture = paint(shadow, self.colours(count) * 0.5)
        picture = paint(self.soft(near + e(then), px) * e((then > first).float()), outer)
        picture = paint(self.soft(near + e(first), px) * e((first > 0).float()), outline)
        # Two tones, fading, striped and patterned fillings.
        kind = draw(0, 1)
        y = sheet['y'] + e(draw(-0.6, 0.6)) * sheet['x']
        level = e(draw(-0.25, 0.25))
        mix = torch.where(e(kind < 0.08), torch.sigmoid((y - level) * 60), torch.where(e(kind < 0.2), (y - level + 0.5).clamp(0, 1), torch.zeros_like(y)))
        mix = torch.where(e((kind > 0.2) & (kind < 0.24)), torch.sigmoid(((y * e(draw(4, 10))) % 1 - 0.5).abs() * 40 - 10), mix)
        second = torch.where(self.chance(0.5, count)[:, None], second, (fill * draw(0.5, 1.4)[:, None]).clamp(0, 1))
        stands_out = ((second - base).abs().amax(1) > 0.3).float()
        filling = fill[:, :, None, None] + (second - fill)[:, :, None, None] * (mix * e(stands_out))[:, None]
        # Hollow: the outline alone, thin or thick; a line along the strokes; speed lines cut out.
        is_hollow = self.chance(0.16, count)
        ring = e(draw(0.025, 0.07))
        within = far.amax(1)
        hole = self.soft(within - ring, px) * e(is_hollow.float())
        union = parted.amax(1)
        picture = paint(union * (1 - hole), filling)
        picture = paint(union * hole * e((self.chance(0.7, count)).float()), torch.where(self.chance(0.75, count)[:, None], base, self.colours(count)))
        line = self.soft(e(draw(0.01, 0.03)) - (within - e(draw(0.035, 0.09))).abs(), px) * union * e((self.chance(0.1, count) & ~is_hollow).float())
        picture = paint(line, torch.where(self.chance(0.5, count)[:, None], base, self.colours_against(fill)))
        cuts = torch.sigmoid((((sheet['y'] * e(draw(5, 12))) % 1 - 0.5).abs() - 0.3) * 30) * torch.sigmoid((e(draw(-0.1, 0.35)) - sheet['x'] / e(about['total'].clamp(min=0.3)) * e(1 - 2 * self.chance(0.5, count).float())) * -12)
        picture = paint(cuts * union * e((self.chance(0.05, count)).float()), base)
        # What a later digit covers is not asked for, unless it is the greater part.
        about['kept'] = parted.sum((2, 3)) / ink.sum((2, 3)).clamp(min=1)
        return picture, parted * on[:, None], parted, about, fill

    def labels(self, sheet, about, there, visible, ink):
        """Rows (n, COLUMNS) from what of each digit is in sight."""
        count = len(there)
        middles, widths = about['middles'], about['widths']
        c, s = sheet['turn'].cos()[:, None], sheet['turn'].sin()[:, None]
        # Roughly where the digit's box lies in the cut-out.
        bent = (sheet['bend'][:, None] * middles / sheet['half'][:, None] + sheet['phase'][:, None])
        squeeze = sheet['steep'][:, None]
        left, right = (middles - 0.45 * widths) * squeeze, (middles + 0.45 * widths) * squeeze
        inside = torch.zeros(count, DIGITS, device=self.device)
        for x in (left, right):
            for y in (-0.45, 0.45):
                px = sheet['centre'][:, :1] + sheet['height'][:, None] * (c * x - s * y)
                py = sheet['centre'][:, 1:] + sheet['height'][:, None] * (s * x + c * y)
                inside += ((px > 0) & (px < WIDE) & (py > 0) & (py < HIGH)).float() / 4
        share = visible.sum((2, 3)) / ink.sum((2, 3)).clamp(min=1) * inside
        present = about['present']
        thin = widths * squeeze * bent.cos().clamp(min=0) * sheet['height'][:, None] < 3.2
        is_one = about['digits'] == 1
        share = torch.where(about['kept'] < LEAST_KEPT, torch.zeros_like(share), share)
        share = torch.where((bent.abs() > MOST_ROUND_CORNER) | (thin & ~is_one), torch.zeros_like(share), share)
        readable = (share > AMONG_COUNTED).float() * present
        whole = (readable.sum(1) == about['length']).float() * there
        rows = torch.zeros(count, COLUMNS, device=self.device)
        rows[:, LENGTH] = about['length'] * there
        rows[:, DIGIT:DIGIT + 3] = about['digits'].float()
        rows[:, READABLE:READABLE + 3] = readable * there[:, None]
        rows[:, WHOLE] = whole
        rows[:, X:Y + 1] = sheet['centre']
        rows[:, HEIGHT], rows[:, TURN] = sheet['height'], sheet['turn']
        # A number of which hardly anything is left is neither one nor none.
        nothing = (there > 0) & (readable.sum(1) == 0)
        rows[:, COUNTS] = (~nothing).float()
        return rows

    # A whole cut-out -----------------------------------------------------------------------------------------------
    @torch.no_grad()
    def paint(self, count):
        """Pictures (count, 3, H, W) 0-1 before any camera, and label rows."""
        e = lambda t: t[:, None, None]
        draw = lambda low, high: self.uniform(low, high, count)
        there = self.chance(NUMBER_SHARE, count).float()
        sheet = self.sheet(count)
        far = self.pictured(count)
        plain = self.colours(count)[:, :, None, None] + 0.06 * self.noise(count)
        picture = torch.where(self.chance(0.75, count)[:, None, None, None], far, plain)
        base = self.colours(count)
        # Without a number most are what the picture shows, some a panel with words.
        sheet_on = sheet['is_on']
        sheet['is_on'] = sheet_on * e(torch.where((there == 0) & self.chance(0.45, count), 0.0, 1.0))
        picture, panel = self.panel(picture, sheet, base)
        is_panel = panel[:, HIGH // 2 - 8:HIGH // 2 + 8, WIDE // 2 - 12:WIDE // 2 + 12].mean((1, 2)) > 0.5
        ground = picture[:, :, HIGH // 2 - 16:HIGH // 2 + 16, WIDE // 2 - 32:WIDE // 2 + 32].mean((2, 3))
        base = torch.where(is_panel[:, None] & self.chance(0.7, count)[:, None], base, ground)
        same = self.chance(0.4, count)[:, None]
        # Numbers are cut where the panel ends; those not on a panel lie on what there is.
        sheet['is_on'] = sheet['is_on'] * torch.where(e(is_panel), panel, torch.ones_like(panel))
        picture, parted, ink, about, fill = self.number(picture, sheet, base, there)
        visible = parted
        sheet['is_on'] = sheet_on
        for slot in range(4):
            # Close above, below or beside the number; in its place where there is none.
            height = torch.exp(draw(math.log(0.14), math.log(0.62)))
            side = self.uniform(0, 1, count)
            sign = 1 - 2 * self.chance(0.5, count).float()
            if slot < 2:
                sign = torch.full_like(sign, 1.0 if slot else -1.0)
            clear = (0.5 + about['sizes'].amax(1) * 0.02 + 0.5 * height + torch.where(self.chance(0.5, count), draw(0.01, 0.14), draw(0.1, 0.8)))
            cx, cy = draw(-1.1, 1.1), sign * clear
            beside = side < (0.12 if slot < 2 else 0.5)
            cx = torch.where(beside, sign * (about['total'] / 2 + draw(0.3, 2.2)), cx)
            cy = torch.where(beside, draw(-0.6, 0.6), cy)
            middle = (there == 0) & (slot == 0) & self.chance(0.6, count)
            height = torch.where(middle, draw(0.5, 1.3), height)
            cx, cy = torch.where(middle, draw(-0.4, 0.4), cx), torch.where(middle, draw(-0.2, 0.2), cy)
            turn = torch.where(self.chance(0.85, count), 0.04 * self.normal(count), self.uniform(-0.6, 0.6, count))
            cover = self.word(sheet, cx, cy, height, turn, middle & self.chance(0.3, count))
            cover = cover * e(((self.uniform(0, 1, count) < (0.6 if slot < 2 else 0.4)) | middle).float()) * sheet['is_on']
            colour = torch.where(same, fill, self.colours_against(base))
            picture = self.lay(picture, cover, colour)
            visible = visible * (1 - cover[:, None])
        picture, visible = self.hidden(picture, visible, sheet)
        picture = self.lit(picture)
        return picture.clamp(0, 1), self.labels(sheet, about, there, visible, ink)

    def hidden(self, picture, visible, sheet):
        """Openings, slashes and rings beside the number; arms, levers and straps over it."""
        for share, kind in ((0.25, 'opening'), (0.15, 'ring'), (0.12, 'slash'), (0.12, 'slash'), (0.13, 'arm'), (0.08, 'bar')):
            here = self.some(len(picture), share)
            count = len(here)
            h = sheet['height'][here]
            at = self.uniform(0, math.tau, count)
            away = self.uniform(0.9, 3, count) if kind in ('opening', 'ring', 'slash') else self.uniform(0, 1.8, count)
            centre = sheet['centre'][here] + (h * away)[:, None] * torch.stack([1.5 * at.cos(), 0.75 * at.sin()], 1)
            long = h * self.uniform(0.2, 1.0, count)
            short = long * self.uniform(0.35, 1, count)
            if kind in ('slash', 'bar'):
                long, short = h * self.uniform(0.5, 3, count), h * self.uniform(0.04, 0.2, count)
            dark = torch.where(self.chance(0.5, count)[:, None], self.uniform(0, 0.2, count, 1).expand(-1, 3), self.colours(count))
            turn = self.uniform(0, math.pi, count, 1, 1)
            mask = self.one_patch(centre, long, short, turn, power=2.2 if kind in ('opening', 'ring') else 4)
            if kind == 'ring':
                share_in = self.uniform(0.5, 0.85, count)
                mask = mask * (1 - self.one_patch(centre, long * share_in, short * share_in, turn, power=2.2))
            picture[here] = self.lay(picture[here], mask, dark)
            visible[here] = visible[here] * (1 - mask[:, None])
        return picture, visible

    def lit(self, picture):
        """Uneven light, glare and dirt."""
        count = len(picture)
        slow = F.interpolate(self.normal(count, 1, 3, 5), (HIGH, WIDE), mode='bicubic')
        picture = picture * torch.exp(self.uniform(0, 0.3, count, 1, 1, 1) * slow)
        here = self.some(count, 0.15)
        count = len(here)
        centre = self.uniform(0, 1, count, 2) * torch.tensor([WIDE, HIGH], device=self.device)
        glare = self.patch(count, centre, 10, 90, (0.1, 0.6)) * self.uniform(0.15, 0.75, count, 1, 1)
        picture[here] = picture[here] + (1 - picture[here]).clamp(min=0) * glare[:, None]
        here = self.some(len(picture), 0.08)
        dirt = (self.noise(len(here)) - self.uniform(0.4, 1.6, len(here), 1, 1, 1)).clamp(0, 1) * self.uniform(0.2, 0.9, len(here), 1, 1, 1)
        picture[here] = picture[here] + (self.uniform(0.05, 0.5, len(here), 3, 1, 1) - picture[here]) * dirt
        return picture


class UprightCamera(Camera):
    """Cut-outs of small pictures, blurred and compressed ones."""

    # What the cut-out was enlarged from: sides a share of its own, multiples of 16.
    SIDES = ((96, 192), (96, 192), (80, 160), (64, 128), (64, 128), (48, 96), (48, 96), (32, 64))

    @torch.no_grad()
    def take(self, picture, rows):
        """Pictures as a reader meets them, 0-1, and the rows without what can no longer be read."""
        picture = self.toned(picture)
        count = len(picture)
        each = count // len(self.SIDES)
        factor = torch.tensor([HIGH / side[0] for side in self.SIDES], device=self.device).repeat_interleave(each)
        picture, variance = self.blurred(picture, torch.where(factor > 1, 0.42 * factor, torch.zeros_like(factor)))
        picture = torch.cat([self.shrunk(picture[at * each:(at + 1) * each], side) for at, side in enumerate(self.SIDES)])
        rows = rows.clone()
        lost = rows[:, HEIGHT] < LEAST_HEIGHT_IN_BLURS * variance.sqrt()
        rows[:, COUNTS] = torch.where(lost & (rows[:, LENGTH] > 0), torch.zeros_like(variance), rows[:, COUNTS])
        return picture.clamp(0, 1), rows

    def blurred(self, picture, softened):
        """Movement and missed focus as one product in frequencies; the blur's variance in pixels beside the pictures."""
        count = len(picture)
        some = self.chance(0.55, count)
        length = self.uniform(1.5, 10, count) * (some & self.chance(0.6, count))
        focus = self.uniform(0.4, 2.2, count) * (some & self.chance(0.6, count))
        turn = self.uniform(0, math.pi, count)
        y, x = torch.fft.fftfreq(HIGH, device=self.device)[:, None], torch.fft.rfftfreq(WIDE, device=self.device)[None]
        e = lambda t: t[:, None, None]
        variance = focus ** 2 + softened ** 2
        response = torch.sinc((x * e(turn.cos()) + y * e(turn.sin())) * e(length)) * torch.exp(-2 * math.pi ** 2 * e(variance) * (x * x + y * y))
        out = torch.fft.irfft2(torch.fft.rfft2(picture) * response[:, None], s=(HIGH, WIDE))
        return out, 0.25 + (length / 3.5) ** 2 + variance

    def shrunk(self, picture, small):
        count, whole = len(picture), picture.shape[2:]
        is_small = tuple(small) != tuple(whole)
        if is_small:
            picture = F.interpolate(picture, small, mode='bilinear')
        noise = self.uniform(0, 0.035, count, 1, 1, 1) * self.chance(0.5, count)[:, None, None, None]
        picture = picture + noise * self.normal(*picture.shape)
        sharper = self.uniform(0.3, 1.6, count, 1, 1, 1) * self.chance(0.4, count)[:, None, None, None]
        picture = (picture + sharper * (picture - F.avg_pool2d(picture, 3, 1, 1))).clamp(0, 1)
        written = round(0.6 * count)
        picture = torch.cat([self.as_jpeg(picture[:written]), picture[written:]])
        return F.interpolate(picture, whole, mode='bilinear') if is_small else picture
