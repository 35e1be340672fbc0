"""Cut-outs as a photographer's day makes them, from rendered pictures, on the GPU: shift, other backgrounds, light,
blur, JPEG, things in the way."""
import math

import torch
import torch.nn.functional as F

from liveries import paint_anew
from network import EDGE


def uniform(n, low, high, device, *shape):
    return low + (high - low) * torch.rand(n, *shape, device=device)


def cut(pictures, parts, boxes):
    """Stretched cut-outs around the boxes, margins -6 to 30 % a side, turned a little, mirrored by chance."""
    n, device = len(boxes), boxes.device
    low = boxes[:, :2] - boxes[:, 2:] * uniform(n, -0.06, 0.30, device, 2)
    high = boxes[:, :2] + boxes[:, 2:] * (1 + uniform(n, -0.06, 0.30, device, 2))
    centre, half = (low + high) - 1, high - low
    turn = (torch.randn(n, device=device) * 0.07).clamp(-0.2, 0.2)
    mirror = torch.where(torch.rand(n, device=device) < 0.5, -1.0, 1.0)
    c, s = torch.cos(turn), torch.sin(turn)
    matrix = torch.stack(
        [
            torch.stack([half[:, 0] * c * mirror, -half[:, 0] * s, centre[:, 0]], 1),
            torch.stack([half[:, 1] * s * mirror, half[:, 1] * c, centre[:, 1]], 1),
        ],
        1,
    )
    grid = F.affine_grid(matrix, (n, 3, EDGE, EDGE), align_corners=False)
    picture = F.grid_sample(pictures, grid, mode="bilinear", padding_mode="border", align_corners=False)
    share = F.grid_sample(parts, grid, mode="bilinear", padding_mode="zeros", align_corners=False)
    return picture, share


def elsewhere(pictures):
    """Backgrounds: a corner of another picture, enlarged, or coloured noise of several sizes."""
    n, device = len(pictures), pictures.device
    size = uniform(n, 0.16, 0.45, device)
    across = (1 - size) * torch.sign(torch.rand(n, device=device) - 0.5)
    down = (1 - size) * torch.sign(torch.rand(n, device=device) - 0.5)
    zero = torch.zeros(n, device=device)
    matrix = torch.stack([torch.stack([size, zero, across], 1), torch.stack([zero, size, down], 1)], 1)
    grid = F.affine_grid(matrix, (n, 3, EDGE, EDGE), align_corners=False)
    corner = F.grid_sample(pictures[torch.randperm(n, device=device)], grid, align_corners=False, padding_mode="border")
    noise = torch.rand(n, 3, 1, 1, device=device)
    for cells, weight in ((4, 0.25), (12, 0.15), (48, 0.12)):
        step = torch.rand(n, 3, cells, cells, device=device) - 0.5
        noise = noise + 2 * weight * F.interpolate(step, size=(EDGE, EDGE), mode="bilinear", align_corners=False)
    return torch.where(torch.rand(n, 1, 1, 1, device=device) < 0.25, noise.clamp(0, 1), corner)


def light(picture):
    """White balance, exposure, contrast, gamma and saturation of another hour and camera."""
    n, device = len(picture), picture.device
    one = (n, 1, 1)
    gain = torch.exp(torch.randn(n, 3, 1, 1, device=device) * 0.11 + torch.randn(n, 1, 1, 1, device=device) * 0.3)
    picture = (picture * gain).clamp(1e-4, 1)
    picture = picture ** torch.exp(0.22 * torch.randn(n, 1, 1, 1, device=device))
    grey = (picture * picture.new_tensor([0.299, 0.587, 0.114]).view(1, 3, 1, 1)).sum(1, keepdim=True)
    picture = grey + (picture - grey) * uniform(n, 0.5, 1.35, device, 1, 1, 1)
    middle = picture.mean((1, 2, 3), keepdim=True)
    return (middle + (picture - middle) * uniform(n, 0.7, 1.35, device, 1, 1, 1)).clamp(0, 1)


def soften(picture):
    """Small and enlarged again (a distant bike), blurred along a line (a missed pan), or left as it is."""
    n = len(picture)
    quarter = n // 4
    order = torch.randperm(n, device=picture.device)
    out = picture.clone()
    for chunk in order[: 2 * quarter].split(max(1, quarter // 4)):
        small = int(torch.randint(36, 130, (1,)))
        shrunk = F.interpolate(picture[chunk], size=(small, small), mode="area")
        out[chunk] = F.interpolate(shrunk, size=(EDGE, EDGE), mode="bilinear", align_corners=False)
    for chunk in order[2 * quarter : 3 * quarter].split(max(1, quarter // 4)):
        reach, tall = int(torch.randint(1, 9, (1,))), int(torch.randint(0, 3, (1,)))
        padded = F.pad(out[chunk], (reach, reach, tall, tall), mode="replicate")
        out[chunk] = F.avg_pool2d(padded, (2 * tall + 1, 2 * reach + 1), 1)
    return out


_STEPS = torch.arange(8).float()
DCT = torch.cos((2 * _STEPS[None] + 1) * _STEPS[:, None] * math.pi / 16) * torch.where(_STEPS[:, None] == 0, 0.5**0.5, 1.0) / 2


def jpeg(picture):
    """Rounding of 8 x 8 cosine coefficients, coarser for higher frequencies and for colour, as JPEG does."""
    n, device = len(picture), picture.device
    dct = DCT.to(device)
    y = (picture * picture.new_tensor([0.299, 0.587, 0.114]).view(1, 3, 1, 1)).sum(1, keepdim=True)
    planes = torch.cat([y, picture[:, 2:] - y, picture[:, :1] - y], 1)
    blocks = planes.view(n, 3, EDGE // 8, 8, EDGE // 8, 8).permute(0, 1, 2, 4, 3, 5)
    waves = dct @ blocks @ dct.T
    rise = (1 + _STEPS[:, None] + _STEPS[None]).to(device) / 255
    step = rise * uniform(n, 0.4, 7, device, 1, 1, 1, 1, 1) * picture.new_tensor([1, 2, 2]).view(1, 3, 1, 1, 1, 1)
    back = dct.T @ (torch.round(waves / step) * step) @ dct
    y, b, r = back.permute(0, 1, 2, 4, 3, 5).reshape(n, 3, EDGE, EDGE).split(1, 1)
    blue, red = y + b, y + r
    green = (y - 0.299 * red - 0.114 * blue) / 0.587
    return torch.cat([red, green, blue], 1).clamp(0, 1)


def cover(picture, share, other):
    """A post, a rider or a rail in front of three in ten: what it hides is no part of the bike."""
    n, device = len(picture), picture.device
    size = uniform(n, 0.08, 0.42, device, 2)
    low = torch.rand(n, 2, device=device) * (1 - size)
    at = (torch.arange(EDGE, device=device) + 0.5) / EDGE
    inside = lambda axis: (at > low[:, axis : axis + 1]) & (at < (low + size)[:, axis : axis + 1])
    hidden = (inside(1)[:, None, :, None] & inside(0)[:, None, None, :]) & (torch.rand(n, 1, 1, 1, device=device) < 0.3)
    return torch.where(hidden, other, picture), share * ~hidden


def augment(pictures, parts, planes, boxes, families, members):
    """uint8 pictures (n, 224, 224, 3), parts (n, 3, 112, 112) and planes (n, 8, 224, 224), boxes 0-1 -> pictures -1 to 1
    and shares at stride 4."""
    whole = paint_anew(pictures.permute(0, 3, 1, 2).float() / 255, planes, families, members)
    picture, share = cut(whole, parts.float() / 255, boxes)
    other = elsewhere(whole)
    swap = (torch.rand(len(boxes), 1, 1, 1, device=boxes.device) < 0.5).float()
    picture = picture + (other - picture) * (1 - share[:, :1]) * swap
    picture, share = cover(picture, share, other.flip(0))
    picture = soften(light(picture))
    picture = torch.where(torch.rand(len(boxes), 1, 1, 1, device=boxes.device) < 0.6, jpeg(picture), picture)
    picture = (picture + torch.randn_like(picture) * uniform(len(boxes), 0, 0.03, boxes.device, 1, 1, 1)).clamp(0, 1)
    return picture * 2 - 1, F.avg_pool2d(share, 4)
