"""The digit detector: a plain residual network, its targets and its loss.

Input (n, 3, H, W) RGB 0-1, sides multiples of 32. Output (n, 27, H/4, W/4), a cell for each 4 by 4 pixels:
0 a digit's middle here, 1 a number's middle here, 2-11 which digit, 12-13 from the cell to the digit's middle (cells),
14-15 log of the digit's width and height / 16 px, 16-17 cosine and sine of the reading direction, 18-19 from the cell to
the number's middle (digit heights), 20-22 the digit's place in its number, 23-25 the number's length, 26 the number is
whole. 0, 1 and 26 are log-odds, 2-11 and 20-25 unnormalised log-probabilities.
"""
import torch
import torch.nn as nn
import torch.nn.functional as F

from scenes import CENTRE_X, CENTRE_Y, COS, DIGIT, DIGITS, HEIGHT, LENGTH, PLACE, SIN, STATE, WHOLE, WIDTH, X, Y

CHANNELS = 27
CELL_PX = 4


class Convolution(nn.Module):
    """Convolution, batch normalisation, and a ramp where one is wanted."""

    def __init__(self, inside, outside, kernel=3, stride=1, ramp=True):
        super().__init__()
        self.convolution = nn.Conv2d(inside, outside, kernel, stride, kernel // 2, bias=False)
        self.norm = nn.BatchNorm2d(outside, momentum=0.03)
        self.ramp = ramp

    def forward(self, x):
        x = self.norm(self.convolution(x))
        return F.relu(x) if self.ramp else x


class Residual(nn.Module):
    def __init__(self, channels):
        super().__init__()
        self.first = Convolution(channels, channels)
        self.second = Convolution(channels, channels, ramp=False)

    def forward(self, x):
        return F.relu(x + self.second(self.first(x)))


def stage(inside, outside, blocks):
    return nn.Sequential(Convolution(inside, outside, stride=2), *[Residual(outside) for _ in range(blocks)])


class DigitNetwork(nn.Module):
    """About 1.3 million weights. Four scales going down, merged again going up."""

    def __init__(self, widths=(16, 24, 64, 120, 128), blocks=(1, 2, 2, 1), merged=(24, 48, 64), head=32):
        super().__init__()
        w = widths
        self.stem = nn.Sequential(Convolution(3, w[0], stride=2), stage(w[0], w[1], blocks[0]))
        self.eighth, self.sixteenth, self.thirtysecond = stage(w[1], w[2], blocks[1]), stage(w[2], w[3], blocks[2]), stage(w[3], w[4], blocks[3])
        side = lambda inside, outside: Convolution(inside, outside, 1, ramp=False)
        self.from32, self.from16, self.from8, self.from4 = side(w[4], merged[2]), side(w[3], merged[2]), side(w[2], merged[1]), side(w[1], merged[0])
        self.to8, self.to4 = side(merged[2], merged[1]), side(merged[1], merged[0])
        self.at16, self.at8, self.at4 = Convolution(merged[2], merged[2]), Convolution(merged[1], merged[1]), Convolution(merged[0], merged[0])
        self.head = Convolution(merged[0], head)
        self.out = nn.Conv2d(head, CHANNELS, 1)
        self.begin()

    def begin(self):
        for module in self.modules():
            if isinstance(module, nn.Conv2d):
                nn.init.kaiming_normal_(module.weight, mode='fan_out', nonlinearity='relu')
            if isinstance(module, Residual):
                nn.init.zeros_(module.second.norm.weight)
        nn.init.normal_(self.out.weight, std=0.01)
        nn.init.zeros_(self.out.bias)
        with torch.no_grad():
            # Middles are rare: a chance of one in a hundred to begin with.
            self.out.bias[:2] = -4.6

    def forward(self, x):
        x4 = self.stem(x)
        x8 = self.eighth(x4)
        x16 = self.sixteenth(x8)
        x32 = self.thirtysecond(x16)
        up = lambda t: F.interpolate(t, scale_factor=2.0, mode='nearest')
        y16 = self.at16(F.relu(self.from16(x16) + up(self.from32(x32))))
        y8 = self.at8(F.relu(self.from8(x8) + up(self.to8(y16))))
        y4 = self.at4(F.relu(self.from4(x4) + up(self.to4(y8))))
        return self.out(self.head(y4))


def targets(rows, cells):
    """Label rows (n, m, columns) to maps (n, …, cells, cells)."""
    n, m, _ = rows.shape
    at = (torch.arange(cells, device=rows.device) + 0.5) * CELL_PX
    x, y = at[None, None, None, :], at[None, None, :, None]
    e = lambda column: rows[:, :, column, None, None]
    there = rows[:, :, DIGIT] >= 0
    unsure = there & (rows[:, :, STATE] > 0)
    sure = there & ~unsure
    dx, dy = x - e(X), y - e(Y)
    u, v = dx * e(COS) + dy * e(SIN), dy * e(COS) - dx * e(SIN)
    width, height = e(WIDTH), e(HEIGHT)
    far = lambda t: torch.full_like(t, 1e6)
    off = (u / (0.30 * width + 1)) ** 2 + (v / (0.30 * height + 1)) ** 2
    off = torch.where(sure[..., None, None], off, far(off))
    nearest, which = off.min(1)
    heat = torch.exp(-1.15 * nearest)
    heat = torch.where(heat < 0.02, torch.zeros_like(heat), heat)
    positive = nearest < 1
    left_out = ((u.abs() < 0.6 * width + 2) & (v.abs() < 0.6 * height + 2) & unsure[..., None, None]).any(1) & ~positive
    # A number counts as one where it is whole and every digit of it can be read.
    readable = (sure.view(n, -1, DIGITS).sum(2) == rows.view(n, -1, DIGITS, rows.shape[2])[..., LENGTH].amax(2)).repeat_interleave(DIGITS, 1)
    complete = sure & readable & (rows[:, :, WHOLE] > 0)
    off_number = ((x - e(CENTRE_X)) ** 2 + (y - e(CENTRE_Y)) ** 2) / (0.30 * height + 1) ** 2
    first = complete & (rows[:, :, PLACE] == 0)
    number = torch.exp(-torch.where(first[..., None, None], off_number, far(off_number)).amin(1))
    number = torch.where(number < 0.02, torch.zeros_like(number), number)
    number_left_out = ((off_number < 6) & (there & ~complete)[..., None, None]).any(1) & (number < 0.3)
    take = lambda column: torch.gather(rows[:, :, column], 1, which.view(n, -1)).view(n, cells, cells)
    h = take(HEIGHT).clamp(min=1)
    xc, yc = at[None, None, :], at[None, :, None]
    shape = torch.stack([
        (take(X) - xc) / CELL_PX, (take(Y) - yc) / CELL_PX, torch.log(take(WIDTH).clamp(min=1) / 16), torch.log(h / 16),
        take(COS), take(SIN), (take(CENTRE_X) - xc) / h, (take(CENTRE_Y) - yc) / h], 1)
    return dict(
        heat=heat, heat_weight=(~left_out).float(), positive=positive, number=number, number_weight=(~number_left_out).float(),
        digit=take(DIGIT).clamp(min=0).long(), shape=shape, place=take(PLACE).long().clamp(0, 2), length=(take(LENGTH) - 1).long().clamp(0, 2),
        complete=torch.gather(complete.float(), 1, which.view(n, -1)).view(n, cells, cells), whole=take(WHOLE))


def quality_focal(logits, target, weight):
    """Generalised focal loss, Li et al. 2020 (arXiv 2006.04388), equation 2 with beta 2."""
    chance = torch.sigmoid(logits)
    return F.binary_cross_entropy_with_logits(logits, target, reduction='none') * (chance - target).square() * weight


PARTS = ('digit', 'number', 'class', 'shape', 'link', 'place', 'length', 'whole')
WEIGHTS = (4.0, 2.0, 1.4, 0.5, 0.7, 0.3, 0.3, 0.3)


def loss(y, t):
    """The whole loss, and its parts with the share of cells whose digit is right."""
    y = y.float()
    found, numbers = t['positive'].sum().clamp(min=1), (t['number'] > 0.37).sum().clamp(min=1)
    digit = quality_focal(y[:, 0], t['heat'], t['heat_weight']).sum() / found
    number = quality_focal(y[:, 1], t['number'], t['number_weight']).sum() / numbers
    mask = t['positive'].float()
    weight = t['heat'] * mask
    weight = weight / weight.sum().clamp(min=1e-6)
    complete = t['complete'] * weight
    near = lambda a, b: F.smooth_l1_loss(a, b, reduction='none', beta=0.2)
    cross = lambda low, high, wanted, smooth=0.0: F.cross_entropy(y[:, low:high], wanted, reduction='none', label_smoothing=smooth)
    kind = (cross(2, 12, t['digit'], 0.01) * weight).sum()
    apart = near(y[:, 12:20], t['shape'])
    shape = ((apart[:, :2].sum(1) + 2 * apart[:, 2:6].sum(1)) * weight).sum()
    link = (apart[:, 6:8].sum(1) * complete).sum()
    place = (cross(20, 23, t['place']) * complete).sum()
    length = (cross(23, 26, t['length']) * complete).sum()
    whole = (F.binary_cross_entropy_with_logits(y[:, 26], t['whole'], reduction='none') * weight).sum()
    parts = (digit, number, kind, shape, link, place, length, whole)
    right = ((y[:, 2:12].argmax(1) == t['digit']).float() * weight).sum()
    return sum(w * p for w, p in zip(WEIGHTS, parts)), torch.stack([*parts, right]).detach()
