"""Trains the digit detector on scenes painted on the graphics card as it goes.

    python3 train.py PAYLOAD OUT --minutes 9 --total-minutes 25 [--begin-with EARLIER] [--resume OUT/checkpoint.pt] [--compile]

One schedule runs over the total minutes, in as many calls as it takes: each stops by itself after its minutes and
leaves OUT/checkpoint.pt, from which the next goes on. Scenes are painted many at once into a pool; each is drawn a few
times, moved and with other tones, blur and JPEG. Writes OUT/train-log.txt, OUT/scenes.jpg (a sheet of what is trained
on) and both ONNX files of the averaged weights.
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
from checkpoint import save
from network import PARTS, DigitNetwork, loss, targets
from scenes import COLUMNS, DIGIT, ROWS, STATE, WHOLE, X, Y, Scenes

AVERAGING = 0.999
WARM_STEPS = 300
# The first part of the schedule is easier, less and less.
EASY_SHARE = 0.15
SAVE_EVERY_S = 120
CHECK_SEED, CHECK_BATCHES = 999_331, 4


def options():
    parser = argparse.ArgumentParser()
    parser.add_argument('payload')
    parser.add_argument('out')
    parser.add_argument('--minutes', type=float, default=9, help='of this call, everything included')
    parser.add_argument('--total-minutes', type=float, default=25, help='of training in all calls')
    parser.add_argument('--resume', help='a checkpoint: the same schedule goes on')
    parser.add_argument('--begin-with', help='a checkpoint: its averaged weights begin a new schedule')
    parser.add_argument('--batch', type=int, default=256)
    parser.add_argument('--paint', type=int, default=512, help='scenes painted at once')
    parser.add_argument('--reuse', type=float, default=5, help='times a scene is drawn on the whole')
    parser.add_argument('--pool', type=int, default=61_440)
    parser.add_argument('--begin', type=int, default=8192, help='scenes painted before the first step')
    parser.add_argument('--rate', type=float, default=3e-3)
    parser.add_argument('--seed', type=int, default=1)
    parser.add_argument('--log-every', type=float, default=15, help='seconds')
    parser.add_argument('--compile', action='store_true')
    parser.add_argument('--profile', action='store_true', help='tell where the time of a few steps goes')
    return parser.parse_args()


class Pool:
    """Scenes painted lately, as bytes, and their label rows."""

    def __init__(self, scenes, size, paint):
        self.scenes, self.size, self.paint = scenes, size, paint
        self.pictures = torch.zeros(size, 3, scenes.size, scenes.size, dtype=torch.uint8, device=scenes.device)
        self.rows = torch.full((size, ROWS, COLUMNS), -1.0, device=scenes.device)
        self.filled = self.head = self.painted = 0

    def add(self, ease):
        pictures, rows = self.scenes.paint(self.paint, ease)
        if self.head + self.paint > self.size:
            self.head = 0
        here = slice(self.head, self.head + self.paint)
        self.pictures[here] = as_bytes(pictures)
        self.rows[here] = rows
        self.head += self.paint
        self.filled, self.painted = max(self.filled, self.head), self.painted + self.paint

    def draw(self, count):
        chosen = torch.randint(self.filled, (count,), device=self.rows.device)
        return self.pictures[chosen].float() / 255, self.rows[chosen]


class Watch:
    """How long the parts of a step take on the device, without waiting for it between logs."""

    def __init__(self, device):
        self.is_card, self.marks = device == 'cuda', []

    def mark(self, part):
        """The time until now belongs to this part."""
        if self.is_card:
            event = torch.cuda.Event(enable_timing=True)
            event.record()
            self.marks.append((part, event))
        else:
            self.marks.append((part, time.time() * 1e3))

    def told(self):
        """Milliseconds a part since the last time."""
        if self.is_card:
            torch.cuda.synchronize()
        sums = {}
        for (_, before), (part, after) in zip(self.marks[:-1], self.marks[1:]):
            sums[part] = sums.get(part, 0) + (before.elapsed_time(after) if self.is_card else after - before)
        self.marks = self.marks[-1:]
        return sums


def as_bytes(pictures):
    return (pictures.nan_to_num(0.5).clamp(0, 1) * 255).round().byte()


def sheet(pictures, rows, path):
    """Twenty-four scenes with a dot on every digit: green to be found, red not counted, blue of a number not whole."""
    from PIL import Image, ImageDraw
    side = pictures.shape[2]
    whole = Image.new('RGB', (6 * side, 4 * side))
    for index in range(min(24, len(pictures))):
        picture = Image.fromarray((pictures[index].permute(1, 2, 0).clamp(0, 1) * 255).byte().cpu().numpy())
        draw = ImageDraw.Draw(picture)
        for row in rows[index].cpu().numpy():
            if row[DIGIT] >= 0:
                colour = 'red' if row[STATE] else ('lime' if row[WHOLE] else 'cyan')
                draw.ellipse((row[X] - 2, row[Y] - 2, row[X] + 2, row[Y] + 2), fill=colour)
                draw.text((row[X] + 4, row[Y] + 3), str(int(row[DIGIT])), fill='magenta')
        whole.paste(picture, (index % 6 * side, index // 6 * side))
    whole.save(path, quality=85)


def checked(average, check, size, device):
    with torch.no_grad():
        results = []
        for pictures, rows in check:
            with torch.autocast(device, torch.bfloat16):
                maps = average((pictures.float() / 255 - 0.5).contiguous(memory_format=torch.channels_last))
            results.append(loss(maps, targets(rows, size // 4))[1])
    return told(torch.stack(results).mean(0))


def told(parts):
    return ' '.join(f'{name} {value:.4f}' for name, value in zip((*PARTS, 'right'), parts.tolist()))


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
    scenes, camera = Scenes(o.payload, device=device, seed=CHECK_SEED), Camera(device, CHECK_SEED)
    say('fonts', len(scenes.index), 'renders', 0 if scenes.renders is None else len(scenes.renders))
    network = DigitNetwork().to(device).to(memory_format=torch.channels_last)
    heavy = [p for p in network.parameters() if p.ndim > 1]
    light = [p for p in network.parameters() if p.ndim <= 1]
    optimiser = torch.optim.AdamW([{'params': heavy, 'weight_decay': 0.03}, {'params': light, 'weight_decay': 0.0}], lr=o.rate, betas=(0.9, 0.98), fused=device == 'cuda')
    if o.begin_with and not o.resume:
        network.load_state_dict(torch.load(o.begin_with, map_location=device)['weights'])
        say('begins with the weights of', o.begin_with)
    average = copy.deepcopy(network).eval()
    step, seen, painted, done_before = 0, 0, 0, 0.0
    if o.resume:
        saved = torch.load(o.resume, map_location=device)
        network.load_state_dict(saved['network'])
        average.load_state_dict(saved['weights'])
        optimiser.load_state_dict(saved['optimiser'])
        step, seen, painted, done_before = (saved[name] for name in ('step', 'seen', 'painted', 'done'))
        say(f'goes on from step {step}, {100 * done_before:.1f} % of the schedule')
    values = lambda module, is_float: [v for v in module.state_dict().values() if v.is_floating_point() == is_float]
    averaged, current = values(average, True), values(network, True)
    average_counts, counts = values(average, False), values(network, False)
    say('weights', sum(p.numel() for p in network.parameters()))
    size = scenes.size
    check = [(as_bytes(pictures), rows) for pictures, rows in (camera.take(*scenes.paint(o.batch)) for _ in range(CHECK_BATCHES))]
    sheet(check[0][0].float() / 255, check[0][1], o.out + '/scenes.jpg')
    scenes.begin(o.seed + step)
    camera.random.manual_seed(o.seed + step + 1)
    torch.manual_seed(o.seed + step + 2)
    easy = lambda done: 0.0 if o.begin_with else round(10 * max(0.0, 1 - done / EASY_SHARE)) / 10
    pool = Pool(scenes, o.pool, o.paint)
    while pool.filled < o.begin:
        pool.add(easy(done_before))

    def cost(pictures, rows):
        with torch.autocast(device, torch.bfloat16):
            maps = network((pictures - 0.5).contiguous(memory_format=torch.channels_last))
        return loss(maps, targets(rows, size // 4))

    if device == 'cuda':
        torch.cuda.synchronize()
    say(f'pool {pool.filled} at {time.time() - began:.0f} s')
    pace = torch.compile(cost, dynamic=False) if o.compile else cost
    if o.compile:
        try:
            pace(*camera.take(*pool.draw(o.batch)))[0].backward()
            say(f'compiled at {time.time() - began:.0f} s')
        except Exception as error:  # the plain way is slower, no worse
            say('not compiled:', repr(error)[:300])
            pace = cost
    started = last_told = last_saved = time.time()
    call_s = max(6, 60 * o.minutes - (started - began) - 12)
    drawn = first_step = 0
    sums, watch, profiler = None, Watch(device), None
    watch.mark('')
    progress = lambda: {'step': step, 'seen': seen, 'painted': painted + pool.painted, 'done': done}
    while True:
        passed = time.time() - started
        done = min(1.0, done_before + passed / (60 * o.total_minutes))
        if done >= 1 or passed >= call_s:
            break
        if o.profile and first_step in (20, 32):
            if first_step == 20:
                profiler = torch.profiler.profile(acc_events=True)
                profiler.__enter__()
            else:
                profiler.__exit__(None, None, None)
                say(profiler.key_averages().table(sort_by='self_cuda_time_total' if device == 'cuda' else 'self_cpu_time_total', row_limit=40, max_name_column_width=70))
        rate = o.rate * min(1, (step + 1) / WARM_STEPS) * (0.5 * (1 + math.cos(math.pi * done)) * 0.995 + 0.005)
        for group in optimiser.param_groups:
            group['lr'] = rate
        while (pool.painted - o.begin) * o.reuse <= drawn:
            pool.add(easy(done))
        watch.mark('paint')
        pictures, rows = camera.take(*pool.draw(o.batch))
        watch.mark('camera')
        total, parts = pace(pictures, rows)
        optimiser.zero_grad(set_to_none=True)
        total.backward()
        watch.mark('learn')
        length = torch.nn.utils.clip_grad_norm_(network.parameters(), 5.0)
        if torch.isfinite(length):
            optimiser.step()
        else:
            say('step', step, 'left out: its gradient is not finite')
        step, seen, drawn, first_step = step + 1, seen + o.batch, drawn + o.batch, first_step + 1
        with torch.no_grad():
            keep = min(AVERAGING, (step + 1) / (step + 10))
            torch._foreach_lerp_(averaged, current, 1 - keep)
            torch._foreach_copy_(average_counts, counts)
        watch.mark('renew')
        sums = (parts, 1) if sums is None else (sums[0] + parts, sums[1] + 1)
        now = time.time()
        if now - last_told > o.log_every:
            times = ' '.join(f'{part} {ms / sums[1]:.1f}' for part, ms in watch.told().items() if part)
            say(f'{now - began:5.0f} s step {step} done {done:.3f} rate {rate:.1e} ease {easy(done)} painted {painted + pool.painted} seen {seen} '
                f'{sums[1] * o.batch / (now - last_told):.0f}/s  ms a step: {times}  {told(sums[0] / sums[1])}')
            sums, last_told = None, now
            if now - last_saved > SAVE_EVERY_S:
                save(o.out + '/checkpoint.pt', network, average, optimiser, progress())
                last_saved = now
    if profiler and first_step < 32:
        profiler.__exit__(None, None, None)
    save(o.out + '/checkpoint.pt', network, average, optimiser, progress())
    say(f'{100 * done:.1f} % of the schedule after {step} steps, {painted + pool.painted} scenes painted, {seen} seen, {time.time() - began:.0f} s; '
        f'on scenes kept aside: {checked(average, check, size, device)}')
    if device == 'cuda':
        say(f'memory at most {torch.cuda.max_memory_allocated() / 2**30:.1f} GiB')
    from export import export
    export(average, o.out + '/numbers')
    say('exported', os.path.getsize(o.out + '/numbers-u8.onnx'), 'bytes', f'at {time.time() - began:.0f} s')


if __name__ == '__main__':
    main()
