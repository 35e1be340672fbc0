"""Rendered pictures on the GPU, taken in while the renderer is still writing them."""
import json
import threading
import time
from pathlib import Path

import numpy as np
import torch

SIZES = {"rgb": (224, 224, 3), "parts": (3, 112, 112), "paint": (8, 224, 224)}
LEAST_VIEWS, MEMBERS = 3, 4


class Pictures:
    """`most` bounds the memory taken; `families` lists those whose members all have pictures."""

    def __init__(self, folder, most, device):
        self.folder, self.most, self.device = Path(folder), most, device
        self.data = {kind: torch.empty((most, *size), dtype=torch.uint8, device=device) for kind, size in SIZES.items()}
        self.boxes = torch.zeros(most, 4, device=device)
        self.family = torch.zeros(most, dtype=torch.long, device=device)
        self.member = torch.zeros(most, dtype=torch.long, device=device)
        self.count, self.rows, self.held, self.families = 0, {}, [], []
        self.taken = {}
        self.lock = threading.Lock()

    def take(self):
        """Everything written since the last call; a line is written after its picture."""
        for lines in sorted(self.folder.glob("*.jsonl")):
            text = lines.read_bytes()
            done, whole = self.taken.get(lines, 0), text.count(b"\n")
            new = min(whole - done, self.most - self.count)
            if new <= 0:
                continue
            rows = [json.loads(line) for line in text.split(b"\n")[done : done + new]]
            to = slice(self.count, self.count + new)
            for kind, size in SIZES.items():
                each = int(np.prod(size))
                raw = np.fromfile(lines.with_suffix(f".{kind}"), np.uint8, new * each, offset=done * each)
                self.data[kind][to] = torch.from_numpy(raw.reshape(new, *size)).to(self.device)
            self.boxes[to] = torch.tensor([row["box"] for row in rows], device=self.device)
            self.family[to] = torch.tensor([row["family"] for row in rows], device=self.device)
            self.member[to] = torch.tensor([row["member"] for row in rows], device=self.device)
            with self.lock:
                for at, row in enumerate(rows, self.count):
                    if row["family"] % 20 == 7:
                        self.held.append(at)
                    else:
                        self.rows.setdefault(row["family"], {}).setdefault(row["member"], []).append(at)
                self.count += new
                self.taken[lines] = done + new
                self.families = [family for family, members in self.rows.items() if self.is_whole(members)]

    @staticmethod
    def is_whole(members):
        return len(members) == MEMBERS and min(map(len, members.values())) >= LEAST_VIEWS

    def keep_taking(self, seconds):
        def loop():
            ends = time.time() + seconds
            while time.time() < ends and self.count < self.most:
                self.take()
                time.sleep(2)

        threading.Thread(target=loop, daemon=True).start()

    def choose(self, rng, families, views):
        with self.lock:
            chosen = []
            for at in rng.choice(len(self.families), min(families, len(self.families)), replace=False):
                for rows in self.rows[self.families[at]].values():
                    chosen += list(rng.choice(rows, views, replace=len(rows) < views))
        return torch.tensor(np.array(chosen), device=self.device)
