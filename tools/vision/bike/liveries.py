"""New liveries for rendered bikes: every step of teaching paints body, leathers and helmet anew where they lie in space.

A picture comes with its paint, what it mirrors, its place on the bike and its part, pixel by pixel (`Surfaces` of the
renderer). Light thrown back is (paint + mirrored) x light, so another paint is a ratio. Look-alikes stay look-alikes: of
a family's four members, the first three share the bike, all but the second the leathers, first and last the helmet.
"""
import math

import torch

BODY, SUIT, HELMET, RIMS, BOOTS, GLOVES, BLACK = 1, 2, 3, 4, 5, 6, 7
SLOTS = 8
# By part plus one, in the order of the renderer's parts.
SLOT_OF_PART = [0] + [BODY] * 4 + [0, 0, RIMS, 0, 0, 0, BLACK, 0, 0, 0, BLACK, SUIT, HELMET, GLOVES, BOOTS, SUIT]
# How often a slot is painted anew, where its owner is at all.
OFTEN = [0, 1, 1, 1, 0.7, 0.6, 0.6, 0.1]
VISOR = 0.016
LAYERS = 4


def colours(count, device):
    """A third black or grey, some white, the rest any hue; linear light."""
    hue = torch.rand(count, 1, device=device) * 2 * math.pi
    thirds = torch.tensor([[0.0, 2.1, 4.2]], device=device)
    pure = (0.5 + 0.5 * torch.cos(hue - thirds)) ** uniform(count, 0.8, 2.5, device)
    value = uniform(count, 0.03, 0.85, device)
    grey = uniform(count, 0.0, 0.35, device) ** 2
    coloured = (pure * (1 - grey) + grey) * value
    dark = torch.full((count, 3), 1.0, device=device) * uniform(count, 0.07, 0.3, device) ** 2
    pale = torch.full((count, 3), 1.0, device=device) * uniform(count, 0.35, 0.85, device)
    tint = torch.exp(0.08 * torch.randn(count, 3, device=device))
    which = torch.rand(count, 1, device=device)
    return torch.where(which < 0.3, dark * tint, torch.where(which < 0.45, pale * tint, coloured)).clamp(0.004, 0.9)


def uniform(count, low, high, device):
    return low + (high - low) * torch.rand(count, 1, device=device)


def owners(families, members):
    """For every slot, whose paint it is: a number that look-alikes share."""
    bike = families * 4 + torch.where(members == 3, 3, 0)
    suit = families * 4 + torch.where(members == 1, 1, 0)
    helmet = families * 4 + torch.where((members == 1) | (members == 2), members, 0)
    return [bike, bike, suit, helmet, bike, suit, suit, bike]


def pattern(place, owner):
    """A paint over space: a ground and four shapes on it: a half, a band, stripes or a patch, with wavy edges."""
    known, row = torch.unique(owner, return_inverse=True)
    count, device = len(known), place.device
    spread = lambda values: values[row].view(len(owner), -1, 1, 1)
    paint = spread(colours(count, device))
    both_sides = spread((torch.rand(count, 1, device=device) < 0.85).float())
    z = place[:, 2:3]
    place = torch.cat([place[:, :2], both_sides * z.abs() + (1 - both_sides) * z], 1)
    plain = torch.rand(count, 1, device=device) < 0.15
    for _ in range(LAYERS):
        along = lambda scale: spread(torch.randn(count, 3, device=device) * scale)
        line = (place * along(1.0)).sum(1, keepdim=True)
        line = line + spread(uniform(count, 0, 0.12, device)) * torch.sin((place * along(9.0)).sum(1, keepdim=True))
        line = line - spread(0.9 * torch.randn(count, 1, device=device))
        width = spread(uniform(count, 0.02, 0.25, device))
        stripes = torch.sin(line * spread(uniform(count, 8, 45, device))) - spread(uniform(count, -0.6, 0.8, device))
        cross = (place * along(1.0)).sum(1, keepdim=True) - spread(0.7 * torch.randn(count, 1, device=device))
        patch = torch.minimum(width - line.abs(), 1.6 * width - cross.abs())
        small = torch.minimum(patch, 0.05 * torch.sin((place * along(40.0)).sum(1, keepdim=True)) + 0.02)
        which = spread(torch.rand(count, 1, device=device))
        edge = torch.where(which < 0.25, line, torch.where(which < 0.5, width - line.abs(), patch))
        edge = torch.where(which > 0.7, torch.where(which < 0.85, 0.04 * stripes, small), edge)
        is_there = spread(((torch.rand(count, 1, device=device) < 0.75) & ~plain).float())
        share = torch.sigmoid(edge * 180) * is_there
        paint = paint + (spread(colours(count, device)) - paint) * share
    return paint


def paint_anew(pictures, planes, families, members):
    """Pictures 0-1 (n, 3, h, w) with two in three owners' paint replaced."""
    device = pictures.device
    paint = (planes[:, :3].float() / 255) ** 2
    mirrored = (planes[:, 3:4].float() / 255) ** 2
    scale = planes.new_tensor([2.4, 1.7, 1.4]).float().view(1, 3, 1, 1)
    shift = planes.new_tensor([1, 0, 1]).float().view(1, 3, 1, 1) * planes.new_tensor([1.2, 0, 0.7], dtype=torch.float32).view(1, 3, 1, 1)
    place = planes[:, 4:7].float() / 255 * scale - shift
    slot = torch.tensor(SLOT_OF_PART, device=device)[planes[:, 7:8].long()]
    fresh, chosen = paint, torch.zeros_like(mirrored)
    for index, owner in enumerate(owners(families, members)):
        if index == 0:
            continue
        known, row = torch.unique(owner, return_inverse=True)
        often = torch.rand(len(known), device=device) < 0.67 * OFTEN[index]
        here = (slot == index) & often[row].view(-1, 1, 1, 1)
        if index == HELMET:
            here = here & (paint.amax(1, keepdim=True) > VISOR)
        if index in (BODY, SUIT, HELMET):
            new = pattern(place, owner)
        else:
            new = colours(len(known), device)[row].view(-1, 3, 1, 1)
        fresh = torch.where(here, new, fresh)
        chosen = torch.where(here, torch.ones_like(chosen), chosen)
    linear = pictures**2.2
    ratio = (fresh + mirrored + 0.002) / (paint + mirrored + 0.002)
    painted = (linear * ratio).clamp(1e-5, 1) ** (1 / 2.2)
    return pictures + (painted - pictures) * chosen
