"""Teaches the bike network: python3 train.py <pictures> <out> <seconds> [batch families].

Descriptor: supervised contrastive loss (P. Khosla et al., NeurIPS 2020) over batches that hold whole families of
look-alikes; mask: cross-entropy and overlap. One family in twenty is held back for the printed figures.
"""
import json
import sys
import time
from pathlib import Path

import numpy as np
import torch
import torch.nn.functional as F

from augment import augment
from export import export
from network import EDGE, Bike

MEMBERS, VIEWS, TEMPERATURE = 4, 4, 0.08


def load(folder):
    pictures, parts, boxes, families, members = [], [], [], [], []
    for lines in sorted(Path(folder).glob("*.jsonl")):
        rows = [json.loads(line) for line in lines.read_text().splitlines()]
        raw = np.fromfile(lines.with_suffix(".rgb"), np.uint8)
        planes = np.fromfile(lines.with_suffix(".parts"), np.uint8)
        count = min(len(rows), len(raw) // (224 * 224 * 3), len(planes) // (3 * 112 * 112))
        pictures.append(torch.from_numpy(raw[: count * 224 * 224 * 3].reshape(count, 224, 224, 3)))
        parts.append(torch.from_numpy(planes[: count * 3 * 112 * 112].reshape(count, 3, 112, 112)))
        for row in rows[:count]:
            boxes.append(row["box"])
            families.append(row["family"])
            members.append(row["member"])
    return torch.cat(pictures), torch.cat(parts), torch.tensor(boxes), torch.tensor(families), torch.tensor(members)


def contrast(descriptors, labels):
    likeness = descriptors @ descriptors.T / TEMPERATURE
    itself = torch.eye(len(labels), dtype=torch.bool, device=labels.device)
    likeness = likeness.masked_fill(itself, -1e4)
    same = (labels[:, None] == labels[None]) & ~itself
    share = likeness - torch.logsumexp(likeness, 1, keepdim=True)
    return -(share * same).sum(1).div(same.sum(1).clamp(min=1)).mean()


def mask_loss(odds, shares):
    weight = odds.new_tensor([1.0, 1.0, 2.0]).view(1, 3, 1, 1)
    wrong = (F.binary_cross_entropy_with_logits(odds, shares, reduction="none") * weight).mean()
    seen = torch.sigmoid(odds)
    common, both = (seen * shares).sum((2, 3)), (seen + shares).sum((2, 3))
    return wrong + 0.5 * (1 - (2 * common + 4) / (both + 4)).mean()


@torch.no_grad()
def plain(pictures, boxes, margin):
    """Cut-outs as the program makes them, without any change."""
    low, size = boxes[:, :2] - margin * boxes[:, 2:], boxes[:, 2:] * (1 + 2 * margin)
    zero = torch.zeros_like(low[:, 0])
    centre = 2 * low + size - 1
    matrix = torch.stack(
        [torch.stack([size[:, 0], zero, centre[:, 0]], 1), torch.stack([zero, size[:, 1], centre[:, 1]], 1)], 1
    )
    return F.affine_grid(matrix, (len(boxes), 3, EDGE, EDGE), align_corners=False)


@torch.no_grad()
def judge(net, data, held, device):
    """Rank one among held-back riders and their look-alikes, each view asked against all others; mask overlap."""
    net.eval()
    pictures, parts, boxes, families, members = data
    descriptors, overlap = [], []
    for chunk in held.split(256):
        grid = plain(None, boxes[chunk].to(device), 0.1)
        whole = pictures[chunk].to(device).permute(0, 3, 1, 2).float() / 127.5 - 1
        picture = F.grid_sample(whole, grid, padding_mode="border", align_corners=False)
        truth = F.avg_pool2d(F.grid_sample(parts[chunk].to(device).float() / 255, grid, align_corners=False), 4) > 0.5
        odds, descriptor = net(picture)
        descriptors.append(descriptor.float())
        claimed = odds > 0
        overlap.append((claimed & truth).sum((0, 2, 3)).float() / (claimed | truth).sum((0, 2, 3)).clamp(min=1))
    every = torch.cat(descriptors)
    likeness = every @ every.T
    likeness.fill_diagonal_(-2)
    labels = (families[held] * MEMBERS + members[held]).to(device)
    alone = torch.ones(len(held), dtype=torch.bool, device=device)
    hits = labels[likeness.argmax(1)] == labels
    net.train()
    iou = torch.stack(overlap).mean(0).tolist()
    return {"rank1": hits[alone].float().mean().item(), "maskIoU": [round(v, 4) for v in iou], "count": len(held)}


def main():
    folder, out, seconds = sys.argv[1], Path(sys.argv[2]), float(sys.argv[3])
    in_batch = int(sys.argv[4]) if len(sys.argv) > 4 else 32
    device = "cuda" if torch.cuda.is_available() else "cpu"
    torch.manual_seed(4)
    data = pictures, parts, boxes, families, members = load(folder)
    print(f"{len(pictures)} pictures of {len(torch.unique(families))} families", flush=True)
    data = tuple(part.to(device) for part in data)
    pictures, parts, boxes, families, members = data
    is_held = families % 20 == 7
    held = torch.nonzero(is_held).flatten()
    rows, of_family = {}, {}
    for at, (family, member) in enumerate(zip(families.tolist(), members.tolist())):
        if family % 20 != 7:
            rows.setdefault((family, member), []).append(at)
            of_family.setdefault(family, set()).add(member)
    known = sorted(of_family)
    net = Bike().to(device).to(memory_format=torch.channels_last)
    print(f"{sum(p.numel() for p in net.parameters())} parameters on {device}", flush=True)
    decayed = [p for p in net.parameters() if p.dim() > 1]
    plain_ones = [p for p in net.parameters() if p.dim() <= 1]
    peak = 2.5e-3
    optimiser = torch.optim.AdamW([{"params": decayed, "weight_decay": 0.02}, {"params": plain_ones, "weight_decay": 0}], lr=peak)
    average = {name: value.clone() for name, value in net.state_dict().items()}
    rng = np.random.default_rng(4)
    started, step, told = time.time(), 0, 0.0
    while True:
        gone = (time.time() - started) / seconds
        if gone >= 1:
            break
        rate = peak * min(1, (step + 1) / 200) * (0.02 + 0.98 * 0.5 * (1 + np.cos(np.pi * gone)))
        for group in optimiser.param_groups:
            group["lr"] = rate
        chosen = []
        for family in rng.choice(len(known), min(in_batch, len(known)), replace=False):
            for member in sorted(of_family[known[family]]):
                views = rows[known[family], member]
                chosen += list(rng.choice(views, VIEWS, replace=len(views) < VIEWS))
        at = torch.tensor(np.array(chosen), device=device)
        with torch.no_grad():
            picture, shares = augment(pictures[at], parts[at], boxes[at], families[at])
        with torch.autocast(device, dtype=torch.bfloat16, enabled=device == "cuda"):
            odds, descriptor = net(picture.contiguous(memory_format=torch.channels_last))
        telling = contrast(descriptor.float(), families[at] * MEMBERS + members[at])
        masking = mask_loss(odds.float(), shares)
        optimiser.zero_grad(set_to_none=True)
        (telling + 2 * masking).backward()
        torch.nn.utils.clip_grad_norm_(net.parameters(), 2.0)
        optimiser.step()
        with torch.no_grad():
            keep = min(0.998, (1 + step) / (10 + step))
            for name, value in net.state_dict().items():
                if value.dtype.is_floating_point:
                    average[name].lerp_(value, 1 - keep)
                else:
                    average[name].copy_(value)
        step += 1
        if time.time() - told > 20:
            told = time.time()
            line = f"{gone:5.1%} step {step} telling {telling.item():.3f} masking {masking.item():.3f}"
            print(line, json.dumps(judge(net, data, held, device)) if len(held) else "", flush=True)
    net.load_state_dict(average)
    if len(held):
        print("mean weights", json.dumps(judge(net, data, held, device)), flush=True)
    out.mkdir(parents=True, exist_ok=True)
    torch.save({name: value.cpu() for name, value in average.items()}, out / "bike.pt")
    export(net.cpu().eval(), out / "bike-u8.onnx")
    print(f"{step} steps, {time.time() - started:.0f} s", flush=True)


if __name__ == "__main__":
    main()
