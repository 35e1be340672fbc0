"""Trains the upright reader on cut-outs painted on the graphics card as it goes.

    python3 train_reader.py PAYLOAD OUT --minutes 15 [--resume OUT/reader.pt] [--compile]

One schedule over the minutes. Every minute OUT/reader.pt is renewed, from which --resume goes on; OUT/reader-log.txt tells
how it goes. At its end OUT/reader-f32.onnx is written, OUT/cutouts.jpg shows what was trained on, and OUT/kept-aside.npz holds
cut-outs of other seeds with their label rows: for the ranges of whole numbers, and for telling what they cost.
"""
import argparse
import copy
import json
import math
import os
import sys
import time

import numpy as np
import torch

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from checkpoint import save
from export import folded
from reader import PARTS, Reader, loss
from upright import COLUMNS, COUNTS, DIGIT, HIGH, LENGTH, READABLE, WHOLE, WIDE, Upright, UprightCamera, racing_masks

AVERAGING = 0.9993
WARM_STEPS = 400
SAVE_EVERY_S = 60
CHECK_SEED, CHECK_BATCHES = 999_331, 4
KEPT_ASIDE = 256
TOLD = (*PARTS, 'right', 'invented', 'overlooked')


def options():
    parser = argparse.ArgumentParser()
    parser.add_argument('payload')
    parser.add_argument('out')
    parser.add_argument('--minutes', type=float, default=15, help='of the whole schedule, from the first step')
    parser.add_argument('--resume', help='a checkpoint: the same schedule goes on')
    parser.add_argument('--begin-with', help='a checkpoint: its averaged weights begin a new schedule')
    parser.add_argument('--batch', type=int, default=1024)
    parser.add_argument('--reuse', type=float, default=4, help='times a cut-out is drawn on the whole')
    parser.add_argument('--pool', type=int, default=98_304)
    parser.add_argument('--begin', type=int, default=16_384, help='cut-outs painted before the first step')
    parser.add_argument('--rate', type=float, default=2.5e-3)
    parser.add_argument('--sets', type=int, default=900, help='sets of racing digits')
    parser.add_argument('--fonts', type=int, help='no more fonts than this')
    parser.add_argument('--seed', type=int, default=1)
    parser.add_argument('--steps', type=int, default=10**9)
    parser.add_argument('--log-every', type=float, default=20, help='seconds')
    parser.add_argument('--compile', action='store_true')
    return parser.parse_args()


class Pool:
    """Cut-outs painted lately, as bytes, and their rows."""

    def __init__(self, upright, size, paint):
        self.upright, self.size, self.paint = upright, size, paint
        self.pictures = torch.zeros(size, 3, HIGH, WIDE, dtype=torch.uint8, device=upright.device)
        self.rows = torch.zeros(size, COLUMNS, device=upright.device)
        self.filled = self.head = self.painted = 0

    def add(self):
        pictures, rows = self.upright.paint(self.paint)
        if self.head + self.paint > self.size:
            self.head = 0
        here = slice(self.head, self.head + self.paint)
        self.pictures[here], self.rows[here] = as_bytes(pictures), rows
        self.head += self.paint
        self.filled, self.painted = max(self.filled, self.head), self.painted + self.paint

    def draw(self, count):
        chosen = torch.randint(self.filled, (count,), device=self.rows.device)
        return self.pictures[chosen].float() / 255, self.rows[chosen]


def as_bytes(pictures):
    return (pictures.nan_to_num(0.5).clamp(0, 1) * 255).round().byte()


def sheet(pictures, rows, path):
    """Sixty cut-outs with what is wanted of each."""
    from PIL import Image, ImageDraw
    whole = Image.new('RGB', (6 * (WIDE + 4), 10 * (HIGH + 4)))
    for index in range(min(60, len(pictures))):
        picture = Image.fromarray(pictures[index].permute(1, 2, 0).cpu().numpy())
        row = rows[index].tolist()
        text = ''.join(str(int(row[DIGIT + k])) if row[READABLE + k] else '?' for k in range(int(row[LENGTH]))) or '-'
        ImageDraw.Draw(picture).text((2, 1), text + (' whole' if row[WHOLE] else '') + ('' if row[COUNTS] else ' left out'), fill='lime', stroke_width=1, stroke_fill='black')
        whole.paste(picture, (index % 6 * (WIDE + 4), index // 6 * (HIGH + 4)))
    whole.save(path, quality=85)


def told(parts):
    return ' '.join(f'{name} {value:.4f}' for name, value in zip(TOLD, parts.tolist()))


def export(average, path):
    """Input `image` (n, 3, 96, 192) RGB 0-255; output `number` (n, 39): the chances, the place as the network says it."""
    class Chances(torch.nn.Module):
        def __init__(self, network):
            super().__init__()
            self.network = network

        def forward(self, image):
            y = self.network(image / 255.0 - 0.5)
            chances = [torch.softmax(y[:, low:high], 1) for low, high in ((0, 4), (4, 14), (14, 24), (24, 34))]
            return torch.cat([*chances, torch.sigmoid(y[:, 34:35]), y[:, 35:]], 1)

    torch.onnx.export(Chances(folded(average)).eval(), torch.rand(2, 3, HIGH, WIDE) * 255, path, dynamo=False, opset_version=13, input_names=['image'],
                      output_names=['number'], dynamic_axes={'image': {0: 'n'}, 'number': {0: 'n'}})


def main():
    o = options()
    began = time.time()
    os.makedirs(o.out, exist_ok=True)
    log = open(o.out + '/reader-log.txt', 'a')

    def say(*words):
        print(f'{time.time() - began:5.0f} s', *words, flush=True)
        print(f'{time.time() - began:5.0f} s', *words, file=log, flush=True)

    # Drawn before the graphics card is touched, for it is drawn in other processes.
    racing = racing_masks(o.sets, os.cpu_count())
    device = 'cuda' if torch.cuda.is_available() else 'cpu'
    torch.set_float32_matmul_precision('high')
    torch.manual_seed(o.seed)
    say('options', json.dumps(vars(o)), 'torch', torch.__version__, torch.cuda.get_device_name() if device == 'cuda' else 'cpu')
    upright = Upright(o.payload, racing, device, CHECK_SEED, o.fonts)
    camera = UprightCamera(device, CHECK_SEED)
    say('sets of digits', len(upright.index), 'shapes', len(upright.breadth), 'grounds', len(upright.grounds))
    network = Reader().to(device).to(memory_format=torch.channels_last)
    heavy = [p for p in network.parameters() if p.ndim > 1]
    light = [p for p in network.parameters() if p.ndim <= 1]
    optimiser = torch.optim.AdamW([{'params': heavy, 'weight_decay': 0.03}, {'params': light, 'weight_decay': 0.0}], lr=o.rate, betas=(0.9, 0.98), fused=device == 'cuda')
    if o.begin_with and not o.resume:
        network.load_state_dict(torch.load(o.begin_with, map_location=device)['weights'])
        say('begins with the weights of', o.begin_with)
    average = copy.deepcopy(network).eval()
    step = seen = painted = 0
    done_before = 0.0
    if o.resume:
        saved = torch.load(o.resume, map_location=device)
        network.load_state_dict(saved['network'])
        average.load_state_dict(saved['weights'])
        optimiser.load_state_dict(saved['optimiser'])
        step, seen, painted, done_before = (saved[name] for name in ('step', 'seen', 'painted', 'done'))
        say(f'goes on from step {step}, {100 * done_before:.1f} % of the schedule')
    values = lambda module, is_float: [v for v in module.state_dict().values() if v.is_floating_point() == is_float]
    averaged, current = values(average, True), values(network, True)
    say('weights', sum(p.numel() for p in network.parameters()))
    check = []
    for _ in range(CHECK_BATCHES):
        pictures, rows = upright.paint(o.batch)
        order = torch.randperm(o.batch, generator=upright.random, device=device)
        pictures, rows = camera.take(pictures[order], rows[order])
        check.append((as_bytes(pictures), rows))
    mixed = torch.randperm(o.batch)[:KEPT_ASIDE]
    np.savez_compressed(o.out + '/kept-aside.npz', pictures=check[0][0][mixed.to(device)].cpu().numpy(), rows=check[0][1][mixed.to(device)].cpu().numpy())
    sheet(check[0][0][mixed.to(device)], check[0][1][mixed.to(device)], o.out + '/cutouts.jpg')
    upright.begin(o.seed + step)
    camera.random.manual_seed(o.seed + step + 1)
    torch.manual_seed(o.seed + step + 2)
    pool = Pool(upright, o.pool, o.batch)
    while pool.filled < o.begin:
        pool.add()
    if device == 'cuda':
        torch.cuda.synchronize()
    say('pool', pool.filled)

    def cost(pictures, rows):
        with torch.autocast(device, torch.bfloat16):
            said = network((pictures - 0.5).contiguous(memory_format=torch.channels_last))
        return loss(said, rows)

    def checked():
        with torch.no_grad():
            return told(torch.stack([loss(average((pictures.float() / 255 - 0.5).contiguous(memory_format=torch.channels_last)), rows)[1] for pictures, rows in check]).mean(0))

    pace = cost
    if o.compile:
        try:
            pace = torch.compile(cost, dynamic=False)
            pace(*camera.take(*pool.draw(o.batch)))[0].backward()
            say('compiled')
        except Exception as error:  # the plain way is slower, no worse
            say('not compiled:', repr(error)[:300])
            pace = cost
    started = last_told = last_saved = time.time()
    sums, drawn, done = None, 0, done_before
    progress = lambda: {'step': step, 'seen': seen, 'painted': painted + pool.painted, 'done': done}
    while True:
        done = min(1.0, done_before + (time.time() - started) / (60 * o.minutes))
        if done >= 1 or step >= o.steps:
            break
        rate = o.rate * min(1, (step + 1) / WARM_STEPS) * (0.5 * (1 + math.cos(math.pi * done)) * 0.997 + 0.003)
        for group in optimiser.param_groups:
            group['lr'] = rate
        while (pool.painted - o.begin) * o.reuse <= drawn:
            pool.add()
        total, parts = pace(*camera.take(*pool.draw(o.batch)))
        optimiser.zero_grad(set_to_none=True)
        total.backward()
        length = torch.nn.utils.clip_grad_norm_(network.parameters(), 5.0)
        # A gradient that is not finite takes no part, and nothing waits for the card to learn it.
        for p in network.parameters():
            p.grad.nan_to_num_(0.0, 0.0, 0.0)
        optimiser.step()
        step, seen, drawn = step + 1, seen + o.batch, drawn + o.batch
        with torch.no_grad():
            torch._foreach_lerp_(averaged, current, 1 - min(AVERAGING, (step + 1) / (step + 10)))
        sums = (parts, 1) if sums is None else (sums[0] + parts, sums[1] + 1)
        now = time.time()
        if now - last_told > o.log_every:
            say(f'step {step} done {done:.3f} rate {rate:.1e} painted {painted + pool.painted} seen {seen} gradient {float(length):.2f} '
                f'{sums[1] * o.batch / (time.time() - last_told):.0f}/s  {told(sums[0] / sums[1])}')
            sums, last_told = None, now
            if now - last_saved > SAVE_EVERY_S:
                save(o.out + '/reader.pt', network, average, optimiser, progress())
                last_saved = now
    save(o.out + '/reader.pt', network, average, optimiser, progress())
    say(f'{100 * done:.1f} % of the schedule after {step} steps, {painted + pool.painted} cut-outs painted, {seen} seen; kept aside: {checked()}')
    if device == 'cuda':
        say(f'memory at most {torch.cuda.max_memory_allocated() / 2**30:.1f} GiB')
    export(average, o.out + '/reader-f32.onnx')
    say('exported', os.path.getsize(o.out + '/reader-f32.onnx'), 'bytes')


if __name__ == '__main__':
    main()
