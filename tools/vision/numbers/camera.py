"""What a camera, a small picture and JPEG do to a scene: tones, movement, focus, shrinking, sharpening, noise, blocks.

Works on batches (n, 3, S, S) 0-1 on any device. Digits that can no longer be read are marked in the label rows.
"""
import math

import torch
import torch.nn.functional as F

from scenes import DIGIT, HEIGHT, STATE

KERNEL = 13
# The standard's example quantisation tables (ITU-T T.81, 1992, tables K.1 and K.2), row by row.
LUMA_TABLE = [16, 11, 10, 16, 24, 40, 51, 61, 12, 12, 14, 19, 26, 58, 60, 55, 14, 13, 16, 24, 40, 57, 69, 56, 14, 17, 22, 29, 51, 87,
              80, 62, 18, 22, 37, 56, 68, 109, 103, 77, 24, 35, 55, 64, 81, 104, 113, 92, 49, 64, 78, 87, 103, 121, 120, 101, 72, 92,
              95, 98, 112, 100, 103, 99]
CHROMA_TABLE = [17, 18, 24, 47, 99, 99, 99, 99, 18, 21, 26, 66, 99, 99, 99, 99, 24, 26, 56, 99, 99, 99, 99, 99, 47, 66] + [99] * 38
# A digit must be this many times as high as the blur's deviation to count.
LEAST_HEIGHT_IN_BLURS = 5.2


class Camera:
    def __init__(self, device='cpu', seed=1):
        self.device = device
        self.random = torch.Generator(device).manual_seed(seed)
        k = torch.arange(8, dtype=torch.float32)
        dct = torch.cos((2 * k[None] + 1) * k[:, None] * math.pi / 16) * 0.5
        dct[0] /= math.sqrt(2)
        self.dct = dct.to(device)
        self.tables = torch.tensor([LUMA_TABLE, CHROMA_TABLE], dtype=torch.float32, device=device).view(2, 8, 8)

    def uniform(self, low, high, *shape):
        return low + (high - low) * torch.rand(shape, generator=self.random, device=self.device)

    def chance(self, share, *shape):
        return torch.rand(shape, generator=self.random, device=self.device) < share

    @torch.no_grad()
    def take(self, picture, rows):
        """Pictures as a reader meets them, 0-1, and the rows with unreadable digits marked."""
        count = len(picture)
        picture = self.toned(picture)
        picture, spread = self.blurred(picture)
        # A quarter stay large; the others come from smaller pictures, enlarged.
        parts, bounds = [], [0, count // 4, count // 2, count - count // 6, count]
        factors = [1.0, *(f for f in self.shrinking())]
        for low, high, factor in zip(bounds[:-1], bounds[1:], factors):
            if high > low:
                parts.append(self.shrunk(picture[low:high], factor))
                spread[low:high] += (0.42 * factor) ** 2 if factor > 1 else 0
        picture = torch.cat(parts)
        rows = rows.clone()
        lost = (rows[:, :, DIGIT] >= 0) & (rows[:, :, HEIGHT] < LEAST_HEIGHT_IN_BLURS * spread.sqrt()[:, None])
        rows[:, :, STATE] = torch.where(lost, torch.ones_like(rows[:, :, STATE]), rows[:, :, STATE])
        return picture.clamp(0, 1), rows

    def shrinking(self):
        """Three factors for this batch, mild to strong."""
        choices = (320 / 288, 320 / 256, 320 / 224, 320 / 192, 320 / 160, 320 / 144, 320 / 128)
        pick = lambda low, high: choices[int(torch.randint(low, high, (1,), generator=self.random, device=self.device))]
        return pick(0, 3), pick(2, 5), pick(4, 7)

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

    def blurred(self, picture):
        """Movement and missed focus in one kernel a picture. Returns pictures and the blur's variance in pixels."""
        count, _, size, _ = picture.shape
        # Every second picture at most: shapes stay the same from batch to batch, and nothing has to be chosen anew.
        every_second = torch.arange(count, device=self.device) % 2 == 0
        length = self.uniform(2, 9, count) * self.chance(0.65, count) * every_second
        focus = self.uniform(0.4, 1.5, count) * self.chance(0.6, count) * every_second
        turn = torch.where(self.chance(0.7, count), 0.3 * torch.randn(count, generator=self.random, device=self.device), self.uniform(0, math.pi, count))
        steps = torch.arange(KERNEL, device=self.device).float() - KERNEL // 2
        y, x = torch.meshgrid(steps, steps, indexing='ij')
        u = x * turn.cos()[:, None, None] + y * turn.sin()[:, None, None]
        v = y * turn.cos()[:, None, None] - x * turn.sin()[:, None, None]
        wide = (0.09 + focus * focus)[:, None, None]
        beyond = (u.abs() - length[:, None, None] / 2).clamp(min=0)
        kernel = torch.exp(-0.5 * (beyond ** 2 + v * v) / wide)
        kernel = kernel / kernel.sum((1, 2), keepdim=True)
        out = picture.clone()
        some = picture[::2].reshape(1, -1, size, size)
        weights = kernel[::2].repeat_interleave(3, 0)[:, None]
        some = F.conv2d(F.pad(some, [KERNEL // 2] * 4, mode='replicate'), weights, groups=weights.shape[0])
        out[::2] = some.view(-1, 3, size, size)
        return out, 0.25 + (length / 3.5) ** 2 + focus ** 2

    def shrunk(self, picture, factor):
        """Shrunk, made noisy, written as JPEG, sharpened and enlarged again."""
        size = picture.shape[2]
        small = round(size / factor)
        if small < size:
            picture = F.interpolate(picture, (small, small), mode='bilinear', antialias=True)
        count = len(picture)
        noise = self.uniform(0, 0.035, count, 1, 1, 1) * self.chance(0.5, count)[:, None, None, None]
        picture = picture + noise * torch.randn(picture.shape, generator=self.random, device=self.device)
        sharpened = picture + self.uniform(0.3, 1.4, count, 1, 1, 1) * (picture - F.avg_pool2d(picture, 3, 1, 1))
        picture = torch.where(self.chance(0.35, count)[:, None, None, None], sharpened, picture).clamp(0, 1)
        picture = torch.where(self.chance(0.7, count)[:, None, None, None], self.as_jpeg(picture), picture)
        if small < size:
            mode = 'bilinear' if self.chance(0.5, 1).item() else 'bicubic'
            picture = F.interpolate(picture, (size, size), mode=mode)
        return picture

    def as_jpeg(self, picture):
        """Rounding of 8 by 8 cosine blocks, colour at half size; sides must be multiples of 16."""
        red, green, blue = picture.unbind(1)
        luma = 0.299 * red + 0.587 * green + 0.114 * blue
        chroma = torch.stack([(blue - luma) * 0.564, (red - luma) * 0.713], 1)
        quality = self.uniform(25, 95, len(picture))
        # The scaling of tables by quality that common encoders use.
        scale = torch.where(quality < 50, 50 / quality, 2 - quality / 50)[:, None, None]
        luma = self.rounded(luma[:, None], self.tables[0] * scale)[:, 0]
        chroma = self.rounded(F.avg_pool2d(chroma, 2), self.tables[1] * scale)
        cb, cr = F.interpolate(chroma, scale_factor=2, mode='bilinear').unbind(1)
        red, blue = luma + cr / 0.713, luma + cb / 0.564
        return torch.stack([red, (luma - 0.299 * red - 0.114 * blue) / 0.587, blue], 1).clamp(0, 1)

    def rounded(self, planes, table):
        n, c, h, w = planes.shape
        blocks = (planes * 255 - 128).view(n, c, h // 8, 8, w // 8, 8)
        waves = torch.einsum('ij,ncyjxk,lk->ncyixl', self.dct, blocks, self.dct)
        table = table.clamp(min=1)[:, None, None, :, None, :]
        waves = torch.round(waves / table) * table
        return (torch.einsum('ij,ncyixl,lk->ncyjxk', self.dct, waves, self.dct).reshape(n, c, h, w) + 128) / 255
