"""The upright reader: from a cut-out of 192 by 96 pixels, RGB 0-1, to the number in its middle, or none.

Output (n, 39): 0-3 none, one, two or three digits; 4-33 the digits' ten figures each, from left to right; 34 all of it is in sight; 35-38
where the number is: from the middle in units of 42 pixels x and y, log of the height over 42, the direction in radians.
0-33 are unnormalised log-probabilities, 34 log-odds.
"""
import torch
import torch.nn as nn
import torch.nn.functional as F

from network import Convolution, Residual, stage
from upright import COUNTS, DIGIT, HEIGHT, HIGH, LENGTH, NOMINAL_PX, READABLE, TURN, WHOLE, WIDE, X, Y

DIGITS = 3
OUTPUTS = 4 + 10 * DIGITS + 1 + 4
PARTS = ('length', 'class', 'whole', 'place')
WEIGHTS = (1.0, 1.0, 0.4, 0.25)


class Reader(nn.Module):
    """A residual network to an eighth; for each digit it looks where that digit is, and says which it is."""

    def __init__(self, widths=(24, 40, 88, 144), blocks=(2, 3, 2)):
        super().__init__()
        w = widths
        self.stem = Convolution(3, w[0], stride=2)
        self.fourth, self.eighth, self.sixteenth = stage(w[0], w[1], blocks[0]), stage(w[1], w[2], blocks[1]), stage(w[2], w[3], blocks[2])
        self.down = Convolution(w[3], w[2], 1, ramp=False)
        self.merged = Convolution(w[2], w[2])
        cells = (HIGH // 8, WIDE // 8)
        self.place = nn.Parameter(torch.zeros(1, w[2], *cells))
        self.where = nn.Conv2d(w[2], DIGITS + 1, 1)
        self.which = nn.Linear(w[2], 10)
        self.each = nn.Linear(w[2], w[2])
        self.whole = nn.Linear(2 * w[2], 96)
        self.out = nn.Linear(96, 9)
        for module in self.modules():
            if isinstance(module, nn.Conv2d):
                nn.init.kaiming_normal_(module.weight, mode='fan_out', nonlinearity='relu')
            if isinstance(module, Residual):
                nn.init.zeros_(module.second.norm.weight)
        nn.init.normal_(self.where.weight, std=0.05)

    def forward(self, x):
        eighth = self.eighth(self.fourth(self.stem(x)))
        up = F.interpolate(self.down(self.sixteenth(eighth)), scale_factor=2.0, mode='nearest')
        y = F.relu(self.merged(F.relu(eighth + up)) + self.place)
        look = torch.softmax(self.where(y).flatten(2).float(), 2).to(y.dtype)
        seen = torch.matmul(look, y.flatten(2).transpose(1, 2))
        figures = self.which(F.relu(self.each(seen[:, :DIGITS])))
        about = self.out(F.relu(self.whole(torch.cat([seen[:, DIGITS], y.mean((2, 3))], 1))))
        return torch.cat([about[:, :4], figures.flatten(1), about[:, 4:]], 1)


def loss(y, rows):
    """The whole loss; its parts, the share of numbers read wholly right, of none taken for one, and of numbers overlooked."""
    y = y.float()
    counts = rows[:, COUNTS]
    n = counts.sum().clamp(min=1)
    there = (rows[:, LENGTH] > 0).float() * counts
    whole = rows[:, WHOLE] * counts
    # How many digits an unwhole number has cannot always be told.
    sure = counts * torch.where(there > 0, 0.25 + 0.75 * whole, torch.ones_like(there))
    length = (F.cross_entropy(y[:, :4], rows[:, LENGTH].long(), reduction='none', label_smoothing=0.01) * sure).sum() / n
    figures = y[:, 4:34].view(-1, DIGITS, 10)
    # Digits of a broken number are asked for only where none is lost before them.
    readable = rows[:, READABLE:READABLE + 3] * counts[:, None]
    readable = readable.cumprod(1)
    kind = F.cross_entropy(figures.transpose(1, 2), rows[:, DIGIT:DIGIT + 3].long(), reduction='none', label_smoothing=0.01)
    kind = (kind * readable).sum() / readable.sum().clamp(min=1)
    in_sight = (F.binary_cross_entropy_with_logits(y[:, 34], rows[:, WHOLE], reduction='none') * there).sum() / there.sum().clamp(min=1)
    wanted = torch.stack([(rows[:, X] - WIDE / 2) / NOMINAL_PX, (rows[:, Y] - HIGH / 2) / NOMINAL_PX, torch.log(rows[:, HEIGHT].clamp(min=4) / NOMINAL_PX), rows[:, TURN]], 1)
    place = (F.smooth_l1_loss(y[:, 35:39], wanted, reduction='none', beta=0.1).sum(1) * there).sum() / there.sum().clamp(min=1)
    parts = (length, kind, in_sight, place)
    said = y[:, :4].argmax(1)
    slots = torch.arange(DIGITS, device=y.device) < rows[:, LENGTH, None]
    all_right = ((figures.argmax(2) == rows[:, DIGIT:DIGIT + 3]) | ~slots).all(1) & (said == rows[:, LENGTH])
    none = (1 - (rows[:, LENGTH] > 0).float()) * counts
    told = torch.stack([*parts, (all_right * whole).sum() / whole.sum().clamp(min=1), ((said > 0) * none).sum() / none.sum().clamp(min=1),
                        ((said == 0) * whole).sum() / whole.sum().clamp(min=1)])
    return sum(w * p for w, p in zip(WEIGHTS, parts)), told.detach()
