"""Scenes held back from training, for calibrating and testing the reader: pictures, and the numbers in them.

    python3 hold.py PAYLOAD OUT [--scenes 1200] [--seed 20260]

Writes OUT/NNNNN.png and OUT/truth.json: for each picture its numbers with text (`?` for a digit that cannot be read),
middle and digit height in pixels, and whether it is whole. Training draws its chances from other seeds.
"""
import argparse
import json
import os

import torch
from PIL import Image

from camera import Camera
from scenes import CENTRE_X, CENTRE_Y, COLUMNS, DIGIT, DIGITS, HEIGHT, LENGTH, NUMBERS, STATE, WHOLE, Scenes

AT_ONCE = 24


def numbers_in(rows):
    """Of one scene's label rows: the numbers of which something can be seen."""
    found = []
    for digits in rows.view(NUMBERS, DIGITS, COLUMNS).tolist():
        seen = [d for d in digits if d[DIGIT] >= 0]
        if not seen:
            continue
        length = int(seen[0][LENGTH])
        text = ''.join(str(int(d[DIGIT])) if d[DIGIT] >= 0 and d[STATE] == 0 else '?' for d in digits[:length])
        if set(text) == {'?'}:
            continue
        found.append({'text': text, 'x': round(seen[0][CENTRE_X], 1), 'y': round(seen[0][CENTRE_Y], 1),
                      'height': round(sum(d[HEIGHT] for d in seen) / len(seen), 1), 'isWhole': '?' not in text and seen[0][WHOLE] > 0})
    return found


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument('payload')
    parser.add_argument('out')
    parser.add_argument('--scenes', type=int, default=1200)
    parser.add_argument('--seed', type=int, default=20260)
    o = parser.parse_args()
    os.makedirs(o.out, exist_ok=True)
    torch.set_num_threads(1)
    scenes, camera = Scenes(o.payload, seed=o.seed), Camera(seed=o.seed + 1)
    truth = {}
    while len(truth) < o.scenes:
        pictures, rows = scenes.paint(AT_ONCE)
        order = torch.randperm(AT_ONCE, generator=scenes.random)
        pictures, rows = camera.take(pictures[order], rows[order])
        for picture, labels in zip((pictures.permute(0, 2, 3, 1) * 255).round().byte().numpy(), rows):
            name = f'{len(truth):05d}.png'
            Image.fromarray(picture).save(f'{o.out}/{name}')
            truth[name] = numbers_in(labels)
        with open(o.out + '/truth.json', 'w') as file:
            json.dump(truth, file)


if __name__ == '__main__':
    main()
