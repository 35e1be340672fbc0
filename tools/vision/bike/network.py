"""The bike network: one small encoder, a mask of three parts at stride 4, and a descriptor pooled under that mask.

Input: a cut-out stretched to 160 x 160, red green blue, -1 to 1. Outputs: coverage by bike and rider, by clothes and by
the helmet (three planes of 40 x 40, as odds), and 64 numbers of unit length that are alike for one bike with its rider.
Inverted residuals after M. Sandler et al., "MobileNetV2", CVPR 2018; the top-down merge after T.-Y. Lin et al., "Feature
pyramid networks", CVPR 2017; pooling under part masks after Y. Sun et al., "Beyond part models", ECCV 2018.
"""
import torch
import torch.nn.functional as F
from torch import nn

EDGE = 160
LENGTH = 64


def conv(inputs, outputs, size=1, stride=1, groups=1, bent=True):
    layers = [
        nn.Conv2d(inputs, outputs, size, stride, size // 2, groups=groups, bias=False),
        nn.BatchNorm2d(outputs),
    ]
    return nn.Sequential(*layers, nn.ReLU(inplace=True)) if bent else nn.Sequential(*layers)


class Block(nn.Module):
    def __init__(self, inputs, outputs, widen, stride=1):
        super().__init__()
        wide = inputs * widen
        self.path = nn.Sequential(
            conv(inputs, wide), conv(wide, wide, 3, stride, wide), conv(wide, outputs, bent=False)
        )
        self.adds = stride == 1 and inputs == outputs

    def forward(self, x):
        return x + self.path(x) if self.adds else self.path(x)


class Bike(nn.Module):
    def __init__(self):
        super().__init__()
        self.stem = conv(3, 16, 3, 2)
        self.stride4 = nn.Sequential(Block(16, 24, 3, 2), Block(24, 24, 3))
        self.stride8 = nn.Sequential(Block(24, 40, 4, 2), Block(40, 40, 4), Block(40, 40, 4))
        self.stride16 = nn.Sequential(
            Block(40, 72, 4, 2), Block(72, 72, 4), Block(72, 72, 4), Block(72, 96, 3), Block(96, 96, 3)
        )
        self.down16 = conv(96, 64)
        self.across8 = conv(40, 64)
        self.merge8 = conv(64, 64, 3, groups=64)
        self.down8 = conv(64, 32)
        self.across4 = conv(24, 32)
        self.merge4 = nn.Sequential(conv(32, 32, 3, groups=32), conv(32, 32))
        self.parts = nn.Conv2d(32, 3, 1)
        self.join = nn.Linear(3 * 64 + 3 * 32 + 96, LENGTH)

    def forward(self, x):
        at4 = self.stride4(self.stem(x))
        at8 = self.stride8(at4)
        at16 = self.stride16(at8)
        top8 = self.merge8(self.across8(at8) + F.interpolate(self.down16(at16), scale_factor=2.0, mode="nearest"))
        top4 = self.merge4(self.across4(at4) + F.interpolate(self.down8(top8), scale_factor=2.0, mode="nearest"))
        parts = self.parts(top4)
        shares = torch.sigmoid(parts).detach()
        whole, clothes, helmet = shares[:, 0:1], shares[:, 1:2], shares[:, 2:3]
        machine = whole * (1 - clothes) * (1 - helmet)
        pooled = [at16.mean((2, 3))]
        for share in (machine, whole * clothes, whole * helmet):
            half = F.avg_pool2d(share, 2)
            pooled.append((top8 * half).mean((2, 3)) / (half.mean((2, 3)) + 1e-2))
            pooled.append((top4 * share).mean((2, 3)) / (share.mean((2, 3)) + 1e-2))
        joined = self.join(torch.cat(pooled, 1))
        return parts, joined / torch.sqrt((joined * joined).sum(1, keepdim=True) + 1e-8)


class Shipped(nn.Module):
    """What the program runs: interleaved pixels in, shares 0-1 out."""

    def __init__(self, net):
        super().__init__()
        self.net = net

    def forward(self, picture):
        parts, descriptor = self.net(picture.permute(0, 3, 1, 2))
        return torch.sigmoid(parts), descriptor
