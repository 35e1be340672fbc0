"""Trains the digit detector on scenes painted on the graphics card as it goes.

    python3 train.py PAYLOAD OUT [--minutes 9.2] [--resume OUT/checkpoint.pt]

Scenes go through a pool, and each is drawn a few times with other tones, blur and JPEG. Writes OUT/checkpoint.pt (the
averaged weights), OUT/train-log.txt, OUT/scenes.jpg (a sheet of what is trained on) and both ONNX files.
"""
import argparse
import copy
import json
import math
import os
import sys
import time

import torch

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from camera import Camera
from network import PARTS, DigitNetwork, loss, targets
from scenes import COLUMNS, DIGIT, ROWS, STATE, X, Y, Scenes

AVERAGING = 0.999


def options():
    parser = argparse.ArgumentParser()
    parser.add_argument('payload')
    parser.add_argument('out')
    parser.add_argument('--minutes', type=float, default=9.2)
    parser.add_argument('--resume')
    parser.add_argument('--batch', type=int, default=256)
    parser.add_argument('--paint', type=int, default=88, help='new scenes a step')
    parser.add_argument('--pool', type=int, default=24_000)
    parser.add_argument('--rate', type=float, default=3e-3)
    parser.add_argument('--seed', type=int, default=1)
    parser.add_argument('--steps', type=int, default=0, help='stop after so many, for a trial')
    parser.add_argument('--check', type=int, default=1024, help='scenes kept aside')
    return parser.parse_args()


def sheet(pictures, rows, path):
    """Twenty-four scenes with a dot on every digit: green to be found, red not counted."""
    from PIL import Image, ImageDraw
    side = pictures.shape[2]
    whole = Image.new('RGB', (6 * side, 4 * side))
    for index in range(min(24, len(pictures))):
        picture = Image.fromarray((pictures[index].permute(1, 2, 0).clamp(0, 1) * 255).byte().cpu().numpy())
        draw = ImageDraw.Draw(picture)
        for row in rows[index].cpu().numpy():
            if row[DIGIT] >= 0:
                colour = 'red' if row[STATE] else ('lime' if row[12] else 'cyan')
                draw.ellipse((row[X] - 2, row[Y] - 2, row[X] + 2, row[Y] + 2), fill=colour)
                draw.text((row[X] + 4, row[Y] + 3), str(int(row[DIGIT])), fill='magenta')
        whole.paste(picture, (index % 6 * side, index // 6 * side))
    whole.save(path, quality=85)


def main():
    o = options()
    began = time.time()
    os.makedirs(o.out, exist_ok=True)
    log = open(o.out + '/train-log.txt', 'a')

    def say(*words):
        print(*words, flush=True)
        print(*words, file=log, flush=True)

    device = 'cuda' if torch.cuda.is_available() else 'cpu'
    torch.backends.cudnn.benchmark = True
    torch.set_float32_matmul_precision('high')
    torch.manual_seed(o.seed)
    say('options', json.dumps(vars(o)), 'torch', torch.__version__, torch.cuda.get_device_name() if device == 'cuda' else 'cpu')
    scenes, camera = Scenes(o.payload, device=device, seed=o.seed), Camera(device, o.seed + 1)
    say('fonts', len(scenes.index), 'renders', 0 if scenes.renders is None else len(scenes.renders))
    network = DigitNetwork().to(device).to(memory_format=torch.channels_last)
    if o.resume:
        network.load_state_dict(torch.load(o.resume, map_location=device)['weights'])
    average = copy.deepcopy(network).eval()
    values = lambda module, is_float: [v for v in module.state_dict().values() if v.is_floating_point() == is_float]
    averaged, current = values(average, True), values(network, True)
    average_counts, counts = values(average, False), values(network, False)
    say('weights', sum(p.numel() for p in network.parameters()))
    heavy = [p for p in network.parameters() if p.ndim > 1]
    light = [p for p in network.parameters() if p.ndim <= 1]
    optimiser = torch.optim.AdamW([{'params': heavy, 'weight_decay': 0.03}, {'params': light, 'weight_decay': 0.0}], lr=o.rate, betas=(0.9, 0.98), fused=device == 'cuda')
    size = scenes.size
    pool = torch.zeros(o.pool, 3, size, size, dtype=torch.uint8, device=device)
    pool_rows = torch.full((o.pool, ROWS, COLUMNS), -1.0, device=device)
    filled = head = painted = 0

    def paint(count):
        nonlocal filled, head, painted
        pictures, rows = scenes.paint(count)
        if head + count > o.pool:
            head = 0
        pool[head:head + count] = (pictures.nan_to_num(0.5) * 255).round().byte()
        pool_rows[head:head + count] = rows
        head += count
        filled, painted = max(filled, head), painted + count

    check = []
    for _ in range(max(1, o.check // o.paint)):
        pictures, rows = camera.take(*scenes.paint(o.paint))
        check.append(((pictures * 255).round().byte(), rows))
    sheet(check[0][0].float() / 255, check[0][1], o.out + '/scenes.jpg')
    while filled < min(o.pool // 4, 20 * o.batch) and not (o.steps and filled >= o.batch):
        paint(o.paint)
    say(f'pool {filled} at {time.time() - began:.0f} s')
    step, started, seen = 0, time.time(), 0
    length_s = 60 * o.minutes - (started - began)
    sums = None
    while True:
        done = step / o.steps if o.steps else (time.time() - started) / length_s
        if done >= 1:
            break
        rate = o.rate * min(1, (step + 1) / 300) * (0.5 * (1 + math.cos(math.pi * done)) * 0.995 + 0.005)
        for group in optimiser.param_groups:
            group['lr'] = rate
        paint(o.paint)
        chosen = torch.randint(filled, (o.batch,), device=device)
        pictures, rows = camera.take(pool[chosen].float() / 255, pool_rows[chosen])
        with torch.autocast(device, torch.bfloat16):
            maps = network((pictures - 0.5).contiguous(memory_format=torch.channels_last))
        total, parts = loss(maps, targets(rows, size // 4))
        optimiser.zero_grad(set_to_none=True)
        total.backward()
        length = torch.nn.utils.clip_grad_norm_(network.parameters(), 5.0)
        if torch.isfinite(length):
            optimiser.step()
        else:
            say('step', step, 'left out: its gradient is not finite')
        step, seen = step + 1, seen + o.batch
        with torch.no_grad():
            keep = min(AVERAGING, (step + 1) / (step + 10))
            torch._foreach_lerp_(averaged, current, 1 - keep)
            torch._foreach_copy_(average_counts, counts)
        sums = parts if sums is None else sums + parts
        every = 250 if device == 'cuda' else 5
        if step % every == 0:
            means = (sums / every).tolist()
            words = ' '.join(f'{name} {value:.3f}' for name, value in zip((*PARTS, 'right'), means))
            say(f'{time.time() - began:5.0f} s step {step} rate {rate:.1e} painted {painted} seen {seen} {seen / (time.time() - started):.0f}/s  {words}')
            sums = None
            if step % (8 * every) == 0:
                torch.save({'weights': average.state_dict()}, o.out + '/checkpoint.pt')
    torch.save({'weights': average.state_dict()}, o.out + '/checkpoint.pt')
    with torch.no_grad():
        results = []
        for pictures, rows in check:
            with torch.autocast(device, torch.bfloat16):
                results.append(loss(average(pictures.float() / 255 - 0.5), targets(rows, size // 4))[1])
    words = ' '.join(f'{name} {value:.4f}' for name, value in zip((*PARTS, 'right'), torch.stack(results).mean(0).tolist()))
    say(f'ended after {step} steps, {painted} scenes painted, {seen} seen, {time.time() - began:.0f} s; on scenes kept aside: {words}')
    try:
        from export import export
        export(average, o.out + '/numbers')
        say('exported', os.path.getsize(o.out + '/numbers-u8.onnx'), 'bytes')
    except Exception as error:  # the weights are safe; export.py can be run on them again
        say('not exported:', repr(error))


if __name__ == '__main__':
    main()
