"""Teaches the bike network: python3 train.py <pictures> <out> <seconds> <detector.onnx> [earlier bike.pt].

Two at once on the same pictures: `frozen` keeps the detector's blocks as they are and learns only what is built on them,
`tuned` teaches the blocks on as well, held near what they saw before. Descriptor: supervised contrastive loss (P. Khosla
et al., NeurIPS 2020) over batches that hold whole families of look-alikes; mask: cross-entropy and overlap. One family
in twenty is held back for the printed figures.
"""
import copy
import json
import sys
import time
from pathlib import Path

import numpy as np
import torch
import torch.nn.functional as F

from augment import augment
from backbone import Backbone
from export import export
from network import EDGE, Bike
from pictures import MEMBERS, Pictures
from sheet import write_sheet

FAMILIES, VIEWS, TEMPERATURE = 24, 4, 0.08
FIRST_PICTURES = 2000
PEAK, BLOCKS_SHARE, NEAR = 2.5e-3, 0.08, 0.3
KINDS = ("frozen", "tuned")


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


def apart(taps, before):
    """How far the blocks have moved from what they saw before, in their own spread."""
    gaps = [
        (taps[name].float() - before[name].float()).square().mean() / (before[name].float().var() + 1e-4)
        for name in ("block9", "block12", "block13")
    ]
    return sum(gaps) / len(gaps)


def cut_plainly(boxes, margin):
    """Cut-outs as the program makes them, without any change."""
    low, size = boxes[:, :2] - margin * boxes[:, 2:], boxes[:, 2:] * (1 + 2 * margin)
    zero = torch.zeros_like(low[:, 0])
    centre = 2 * low + size - 1
    matrix = torch.stack(
        [torch.stack([size[:, 0], zero, centre[:, 0]], 1), torch.stack([zero, size[:, 1], centre[:, 1]], 1)], 1
    )
    return F.affine_grid(matrix, (len(boxes), 3, EDGE, EDGE), align_corners=False)


@torch.no_grad()
def judge(net, pictures):
    """Rank one among held-back riders and their look-alikes, each view asked against all others; mask overlap."""
    net.eval()
    with pictures.lock:
        held = torch.tensor(pictures.held[:1500], device=pictures.device)
    if len(held) < 8:
        net.train()
        return {}
    descriptors, overlap = [], []
    for chunk in held.split(250):
        grid = cut_plainly(pictures.boxes[chunk], 0.1)
        whole = pictures.data["rgb"][chunk].permute(0, 3, 1, 2).float() / 127.5 - 1
        odds, descriptor = net(F.grid_sample(whole, grid, padding_mode="border", align_corners=False))
        shares = F.grid_sample(pictures.data["parts"][chunk].float() / 255, grid, align_corners=False)
        there, seen = F.avg_pool2d(shares, 4) > 0.5, odds > 0
        descriptors.append(descriptor)
        overlap.append((there & seen).sum((0, 2, 3)) / (there | seen).sum((0, 2, 3)).clamp(min=1))
    every = torch.cat(descriptors)
    likeness = every @ every.T
    likeness.fill_diagonal_(-2)
    labels = pictures.family[held] * MEMBERS + pictures.member[held]
    hits = labels[likeness.argmax(1)] == labels
    net.train()
    iou = [round(v, 4) for v in torch.stack(overlap).mean(0).tolist()]
    return {"rank1": round(hits.float().mean().item(), 4), "maskIoU": iou, "count": len(held)}


class Taught:
    """One network with its optimiser and the running mean of its weights, which is what is kept."""

    def __init__(self, kind, blocks, device, earlier):
        self.kind, self.net = kind, Bike(copy.deepcopy(blocks)).to(device)
        if earlier:
            self.net.load_state_dict(earlier)
        self.net.to(memory_format=torch.channels_last)
        self.net.backbone.requires_grad_(kind == "tuned")
        head = [p for p in self.net.head.parameters()]
        self.groups = [
            {"params": [p for p in head if p.dim() > 1], "weight_decay": 0.02, "share": 1.0},
            {"params": [p for p in head if p.dim() <= 1], "weight_decay": 0.0, "share": 1.0},
        ]
        if kind == "tuned":
            self.groups.append({"params": list(self.net.backbone.parameters()), "weight_decay": 0.0, "share": BLOCKS_SHARE})
        self.optimiser = torch.optim.AdamW(self.groups, lr=PEAK)
        self.mean = {name: value.clone() for name, value in self.net.state_dict().items()}

    def step(self, rate, loss):
        for group in self.optimiser.param_groups:
            group["lr"] = rate * group["share"]
        self.optimiser.zero_grad(set_to_none=True)
        loss.backward()
        torch.nn.utils.clip_grad_norm_([p for p in self.net.parameters() if p.requires_grad], 2.0)
        self.optimiser.step()

    @torch.no_grad()
    def average(self, step):
        keep = min(0.998, (1 + step) / (10 + step))
        for name, value in self.net.state_dict().items():
            if value.dtype.is_floating_point:
                self.mean[name].lerp_(value, 1 - keep)
            else:
                self.mean[name].copy_(value)


def save(out, taught, blocks, calls, detector):
    weights = {each.kind: {name: value.cpu() for name, value in each.mean.items()} for each in taught}
    torch.save({"weights": weights, "calls": calls}, out / "bike.pt")
    for each in taught:
        net = Bike(copy.deepcopy(blocks).cpu())
        net.load_state_dict(weights[each.kind])
        if each.kind == "frozen":
            export(net.eval(), out / "bike-u8.onnx", detector)
        else:
            export(net.eval(), out / "bike-tuned-u8.onnx")


def main():
    folder, out, seconds, detector = sys.argv[1], Path(sys.argv[2]), float(sys.argv[3]), sys.argv[4]
    started = time.time()
    out.mkdir(parents=True, exist_ok=True)
    device = "cuda" if torch.cuda.is_available() else "cpu"
    torch.manual_seed(4)
    earlier = torch.load(sys.argv[5], map_location="cpu") if len(sys.argv) > 5 else None
    calls = 1 + (earlier["calls"] if earlier else 0)
    pictures = Pictures(folder, 44_000 if device == "cuda" else 400, device)
    blocks = Backbone(detector).to(device)
    taught = [Taught(kind, blocks, device, earlier and earlier["weights"][kind]) for kind in KINDS]
    print(f"call {calls}, {sum(p.numel() for p in taught[0].net.parameters())} parameters on {device}", flush=True)
    pictures.keep_taking(seconds)
    first = min(FIRST_PICTURES, 40) if device == "cpu" else FIRST_PICTURES
    while (pictures.count < first or not pictures.families) and time.time() - started < 0.5 * seconds:
        time.sleep(1)
    print(f"{pictures.count} pictures after {time.time() - started:.0f} s", flush=True)
    rng = np.random.default_rng(4 + calls)
    begun, step, told, sheet_done = time.time(), 0, time.time(), False
    ends = started + seconds - 12
    peak = PEAK * (1 if calls == 1 else 0.5)
    while time.time() < ends:
        gone = (time.time() - begun) / (ends - begun)
        rate = peak * min(1, (step + 1) / 200) * (0.02 + 0.98 * 0.5 * (1 + np.cos(np.pi * gone)))
        at = pictures.choose(rng, FAMILIES if device == "cuda" else 2, VIEWS)
        family, member = pictures.family[at], pictures.member[at]
        with torch.no_grad():
            planes = [pictures.data[kind][at] for kind in ("rgb", "parts", "paint")]
            picture, shares = augment(*planes, pictures.boxes[at], family, member)
            picture = picture.contiguous(memory_format=torch.channels_last)
        if not sheet_done:
            write_sheet(out / "sheet.jpg", picture, shares)
            sheet_done = True
        labels, before, line = family * MEMBERS + member, None, []
        for each in taught:
            with torch.autocast(device, dtype=torch.bfloat16, enabled=device == "cuda"):
                with torch.set_grad_enabled(each.kind == "tuned"):
                    taps = each.net.backbone(picture)
                odds, descriptor = each.net.head(picture, taps)
            telling, masking = contrast(descriptor.float(), labels), mask_loss(odds.float(), shares)
            loss = telling + 2 * masking
            if each.kind == "frozen":
                before = taps
            else:
                moved = apart(taps, before)
                loss = loss + NEAR * moved
            each.step(rate, loss)
            each.average(step)
            line.append((each.kind, telling, masking))
        step += 1
        if time.time() - told > 15:
            told = time.time()
            parts = [f"{kind}: telling {t.item():.3f} masking {m.item():.3f}" for kind, t, m in line]
            print(f"{gone:5.1%} step {step} pictures {pictures.count} {'; '.join(parts)} moved {moved.item():.3f}", flush=True)
            if step % 4 == 0:
                print({each.kind: judge(each.net, pictures) for each in taught}, flush=True)
    for each in taught:
        each.net.load_state_dict(each.mean)
        print(f"mean weights {each.kind}", json.dumps(judge(each.net, pictures)), flush=True)
    save(out, taught, blocks, calls, detector)
    print(f"{step} steps, {time.time() - started:.0f} s", flush=True)


if __name__ == "__main__":
    main()
