"""The bike network: the detector's first blocks, a mask of three parts at stride 4, and a descriptor pooled under it.

Input: a cut-out stretched to 192 x 192, red green blue, -1 to 1. Outputs: coverage by bike and rider, by clothes and by
the helmet (three planes of 48 x 48, as odds), and 96 numbers of unit length that are alike for one bike with its rider.
The top-down merge after T.-Y. Lin et al., "Feature pyramid networks", CVPR 2017; pooling under part masks after Y. Sun
et al., "Beyond part models", ECCV 2018; colours learned point by point and averaged are a histogram with learned bins.
"""
import torch
import torch.nn.functional as F
from torch import nn

EDGE = 192
LENGTH = 96
COLOURS = 48
SHAPES = 64


def conv(inputs, outputs, size=1, groups=1):
    return nn.Sequential(
        nn.Conv2d(inputs, outputs, size, 1, size // 2, groups=groups, bias=False),
        nn.BatchNorm2d(outputs),
        nn.ReLU(inplace=True),
    )


def under(values, share):
    return (values * share).mean((2, 3)) / (share.mean((2, 3)) + 1e-2)


class Head(nn.Module):
    def __init__(self):
        super().__init__()
        self.down16 = conv(96, 64)
        self.across8 = conv(32, 64)
        self.merge8 = nn.Sequential(conv(64, 64, 3, groups=64), conv(64, 64))
        self.down8 = conv(64, 32)
        self.across4 = conv(24, 32)
        self.merge4 = nn.Sequential(conv(32, 32, 3, groups=32), conv(32, 32))
        self.parts = nn.Conv2d(32, 3, 1)
        self.colours = nn.Sequential(conv(3, 32), conv(32, COLOURS))
        self.shapes = conv(576, SHAPES)
        self.level = nn.BatchNorm1d(3 * (64 + 32 + COLOURS) + 3 * SHAPES + 64)
        self.join = nn.Linear(self.level.num_features, LENGTH)

    def forward(self, x, taps):
        up = lambda values: F.interpolate(values, scale_factor=2.0, mode="nearest")
        top8 = self.merge8(self.across8(taps["at8"]) + up(self.down16(taps["block12"])))
        top4 = self.merge4(self.across4(taps["at4"]) + up(self.down8(top8)))
        parts = self.parts(top4)
        shares = torch.sigmoid(parts).detach()
        whole, clothes, helmet = shares[:, 0:1], shares[:, 1:2], shares[:, 2:3]
        machine = whole * (1 - clothes) * (1 - helmet)
        colours = self.colours(F.avg_pool2d(x, 4))
        pooled = []
        for share in (machine, whole * clothes, whole * helmet):
            pooled += [under(top8, F.avg_pool2d(share, 2)), under(top4, share), under(colours, share)]
        all16 = F.avg_pool2d(whole, 4)
        shapes = self.shapes(taps["block13"])
        for row in range(3):
            rows = slice(4 * row, 4 * row + 4)
            pooled.append(under(shapes[:, :, rows], all16[:, :, rows]))
        pooled.append(under(taps["block9"], all16))
        joined = self.join(self.level(torch.cat(pooled, 1)))
        return parts, joined / torch.sqrt((joined * joined).sum(1, keepdim=True) + 1e-8)


class Bike(nn.Module):
    def __init__(self, backbone):
        super().__init__()
        self.backbone = backbone
        self.head = Head()

    def forward(self, x):
        return self.head(x, self.backbone(x))


class Shipped(nn.Module):
    """What the program runs: interleaved pixels in; shares 0-1, descriptor and the blocks' averages in three rows out."""

    def __init__(self, net):
        super().__init__()
        self.net = net

    def forward(self, picture):
        x = picture.permute(0, 3, 1, 2)
        taps = self.net.backbone(x)
        parts, descriptor = self.net.head(x, taps)
        rows = lambda values: F.avg_pool2d(values, (4, 12), (4, 12))
        return torch.sigmoid(parts), descriptor, rows(taps["block9"]), rows(taps["block13"])
