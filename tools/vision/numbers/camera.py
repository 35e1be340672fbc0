"""What a camera, a small picture and JPEG do to a scene: tones, movement, focus, shrinking, sharpening, noise, blocks.

Works on batches (n, 3, S, S) 0-1 on any device. Digits that can no longer be read are marked in the label rows.
"""
import math
import random

import torch
import torch.nn.functional as F

from scenes import CENTRE_X, CENTRE_Y, COS, DIGIT, HEIGHT, LEAST_HEIGHT_PX, SIN, STATE, WIDTH, X, Y, marked, not_whole_where_unread, share_inside

# The standard's example quantisation tables (ITU-T T.81, 1992, tables K.1 and K.2), row by row.
LUMA_TABLE = [16, 11, 10, 16, 24, 40, 51, 61, 12, 12, 14, 19, 26, 58, 60, 55, 14, 13, 16, 24, 40, 57, 69, 56, 14, 17, 22, 29, 51, 87,
              80, 62, 18, 22, 37, 56, 68, 109, 103, 77, 24, 35, 55, 64, 81, 104, 113, 92, 49, 64, 78, 87, 103, 121, 120, 101, 72, 92,
              95, 98, 112, 100, 103, 99]
CHROMA_TABLE = [17, 18, 24, 47, 99, 99, 99, 99, 18, 21, 26, 66, 99, 99, 99, 99, 24, 26, 56, 99, 99, 99, 99, 99, 47, 66] + [99] * 38
# A digit must be this many times as high as the blur's deviation to count.
LEAST_HEIGHT_IN_BLURS = 5.2
# Sides of the smaller pictures that three quarters come from, from mild to strong; multiples of 16, as JPEG wants.
SMALL_SIDES = ((288, 256, 240), (240, 224, 192), (176, 160, 144))
JPEG_SHARE = 0.7


class Camera:
    def __init__(self, device='cpu', seed=1):
        self.device = device
        self.random = torch.Generator(device).manual_seed(seed)
        self.plain = random.Random(seed)
        k = torch.arange(8, dtype=torch.float32)
        dct = torch.cos((2 * k[None] + 1) * k[:, None] * math.pi / 16) * 0.5
        dct[0] /= math.sqrt(2)
        # Of a block of 64 pixels at once: row (i, l), column (j, k).
        self.dct = torch.einsum('ij,lk->iljk', dct, dct).reshape(64, 64).to(device)
        self.tables = torch.tensor([LUMA_TABLE, CHROMA_TABLE], dtype=torch.float32, device=device)

    def uniform(self, low, high, *shape):
        return low + (high - low) * torch.rand(shape, generator=self.random, device=self.device)

    def normal(self, *shape):
        return torch.randn(shape, generator=self.random, device=self.device)

    def chance(self, share, *shape):
        return torch.rand(shape, generator=self.random, device=self.device) < share

    @torch.no_grad()
    def take(self, picture, rows):
        """Pictures as a reader meets them, 0-1, and the rows with unreadable digits marked."""
        count, _, size, _ = picture.shape
        picture, rows = self.moved(picture, rows)
        picture = self.toned(picture)
        # A quarter stay large; the others come from smaller pictures, enlarged.
        bounds = [0, count // 4, count // 2, count - count // 4, count]
        sides = [size, *(round(size / 320 * self.plain.choice(some) / 16) * 16 for some in SMALL_SIDES)]
        factor = torch.cat([torch.full((high - low,), size / side) for low, high, side in zip(bounds[:-1], bounds[1:], sides)])
        softened = torch.where(factor > 1, 0.42 * factor, torch.zeros_like(factor)).to(self.device, non_blocking=True)
        picture, spread = self.blurred(picture, softened)
        picture = torch.cat([self.shrunk(picture[low:high], side) for low, high, side in zip(bounds[:-1], bounds[1:], sides) if high > low])
        lost = (rows[:, :, DIGIT] >= 0) & (rows[:, :, HEIGHT] < LEAST_HEIGHT_IN_BLURS * spread.sqrt()[:, None])
        rows[:, :, STATE] = torch.where(lost, torch.ones_like(rows[:, :, STATE]), rows[:, :, STATE])
        return picture.clamp(0, 1), not_whole_where_unread(rows)

    def moved(self, picture, rows):
        """Turned, scaled and shifted a little, so that a scene met again is another picture; beyond it one colour goes on."""
        count, _, size, _ = picture.shape
        some = self.chance(0.7, count).float()
        turn = 0.22 * self.normal(count).clamp(-2.5, 2.5) * some
        scale = torch.exp(0.16 * self.normal(count).clamp(-2.2, 1.8) * some)
        shift = self.uniform(-0.11, 0.11, 2, count) * size * some
        cos, sin = turn.cos(), turn.sin()
        back = torch.stack([torch.stack([cos, sin], 1), torch.stack([-sin, cos], 1)], 1) / scale[:, None, None]
        offset = -torch.einsum('nij,jn->ni', back, shift) * 2 / size
        grid = F.affine_grid(torch.cat([back, offset[:, :, None]], 2), list(picture.shape), align_corners=False)
        beyond = self.uniform(0, 1, count, 3, 1, 1)
        picture = F.grid_sample(picture - beyond, grid, align_corners=False) + beyond
        rows = rows.clone()
        for x_column, y_column in ((X, Y), (CENTRE_X, CENTRE_Y)):
            x, y = rows[:, :, x_column] - size / 2, rows[:, :, y_column] - size / 2
            rows[:, :, x_column] = scale[:, None] * (cos[:, None] * x - sin[:, None] * y) + shift[0, :, None] + size / 2
            rows[:, :, y_column] = scale[:, None] * (sin[:, None] * x + cos[:, None] * y) + shift[1, :, None] + size / 2
        c, s = rows[:, :, COS].clone(), rows[:, :, SIN].clone()
        rows[:, :, COS], rows[:, :, SIN] = cos[:, None] * c - sin[:, None] * s, sin[:, None] * c + cos[:, None] * s
        rows[:, :, WIDTH] *= scale[:, None]
        rows[:, :, HEIGHT] *= scale[:, None]
        rows[:, :, STATE] = torch.where(rows[:, :, HEIGHT] < LEAST_HEIGHT_PX, torch.ones_like(c), rows[:, :, STATE])
        return picture, marked(rows, share_inside(rows, size))

    def toned(self, picture):
        count = len(picture)
        gain = torch.exp(self.uniform(-0.35, 0.35, count, 1, 1, 1))
        white = torch.exp(self.uniform(-0.12, 0.12, count, 3, 1, 1))
        gamma = torch.exp(self.uniform(-0.4, 0.4, count, 1, 1, 1))
        picture = (picture * gain * white).clamp(1e-4, 1.2) ** gamma
        grey = picture.mean(1, keepdim=True)
        share = self.uniform(0, 0.5, count, 1, 1, 1) * self.chance(0.3, count)[:, None, None, None]
        share = torch.where(self.chance(0.05, count)[:, None, None, None], torch.ones_like(share), share)
        haze = self.uniform(0, 0.25, count, 1, 1, 1) * self.chance(0.2, count)[:, None, None, None]
        return (picture + (grey - picture) * share) * (1 - haze) + haze * self.uniform(0.5, 1, count, 1, 1, 1)

    def blurred(self, picture, softened):
        """Movement, missed focus and the softening before shrinking, as one product in frequencies.

        Returns the pictures and the blur's variance in pixels. A straight movement's spectrum is a sinc along it, a
        Gaussian's is a Gaussian.
        """
        count, _, size, _ = picture.shape
        some = self.chance(0.5, count)
        length = self.uniform(2, 10, count) * (some & self.chance(0.65, count))
        focus = self.uniform(0.4, 1.5, count) * (some & self.chance(0.6, count))
        turn = torch.where(self.chance(0.7, count), 0.3 * self.normal(count), self.uniform(0, math.pi, count))
        y = torch.fft.fftfreq(size, device=self.device)[:, None]
        x = torch.fft.rfftfreq(size, device=self.device)[None]
        e = lambda t: t[:, None, None]
        along = (x * e(turn.cos()) + y * e(turn.sin())) * e(length)
        variance = focus ** 2 + softened ** 2
        response = torch.sinc(along) * torch.exp(-2 * math.pi ** 2 * e(variance) * (x * x + y * y))
        out = torch.fft.irfft2(torch.fft.rfft2(picture) * response[:, None], s=(size, size))
        return out, 0.25 + (length / 3.5) ** 2 + variance

    def shrunk(self, picture, small):
        """Shrunk to a side, made noisy, sharpened, written as JPEG and enlarged again."""
        count, size = len(picture), picture.shape[2]
        if small < size:
            picture = F.interpolate(picture, (small, small), mode='bilinear')
        noise = self.uniform(0, 0.035, count, 1, 1, 1) * self.chance(0.5, count)[:, None, None, None]
        picture = picture + noise * self.normal(*picture.shape)
        sharper = self.uniform(0.3, 1.4, count, 1, 1, 1) * self.chance(0.35, count)[:, None, None, None]
        picture = (picture + sharper * (picture - F.avg_pool2d(picture, 3, 1, 1))).clamp(0, 1)
        written = round(JPEG_SHARE * count)
        picture = torch.cat([self.as_jpeg(picture[:written]), picture[written:]])
        if small < size:
            picture = F.interpolate(picture, (size, size), mode=self.plain.choice(('bilinear', 'bicubic')))
        return picture

    def as_jpeg(self, picture):
        """Rounding of 8 by 8 cosine blocks, colour at half size; sides must be multiples of 16."""
        red, green, blue = picture.unbind(1)
        luma = 0.299 * red + 0.587 * green + 0.114 * blue
        chroma = torch.stack([(blue - luma) * 0.564, (red - luma) * 0.713], 1)
        quality = self.uniform(25, 95, len(picture))
        # The scaling of tables by quality that common encoders use.
        scale = torch.where(quality < 50, 50 / quality, 2 - quality / 50)[:, None]
        luma = self.rounded(luma[:, None], self.tables[0] * scale)[:, 0]
        chroma = self.rounded(F.avg_pool2d(chroma, 2), self.tables[1] * scale)
        cb, cr = F.interpolate(chroma, scale_factor=2, mode='bilinear').unbind(1)
        red, blue = luma + cr / 0.713, luma + cb / 0.564
        return torch.stack([red, (luma - 0.299 * red - 0.114 * blue) / 0.587, blue], 1).clamp(0, 1)

    def rounded(self, planes, table):
        n, c, h, w = planes.shape
        blocks = F.pixel_unshuffle(planes * 255 - 128, 8).view(n, c, 64, -1)
        table = table.clamp(min=1)[:, None, :, None]
        waves = torch.round(torch.matmul(self.dct, blocks) / table) * table
        blocks = torch.matmul(self.dct.t(), waves).view(n, c * 64, h // 8, w // 8)
        return (F.pixel_shuffle(blocks, 8) + 128) / 255
