"""A sheet of what the network is shown, with the mask beside, to be looked at by a person."""
import numpy as np
from PIL import Image

ACROSS, ROWS = 12, 8


def write_sheet(path, pictures, shares):
    count = min(len(pictures), ACROSS * ROWS)
    seen = ((pictures[:count] + 1) * 127.5).clamp(0, 255).byte().permute(0, 2, 3, 1).cpu().numpy()
    masks = (shares[:count] * 255).byte().permute(0, 2, 3, 1).repeat_interleave(4, 1).repeat_interleave(4, 2).cpu().numpy()
    tiles = [np.concatenate([a, b], 1)[::2, ::2] for a, b in zip(seen, masks)]
    tiles += [np.zeros_like(tiles[0])] * (-len(tiles) % ACROSS)
    rows = [np.concatenate(tiles[at : at + ACROSS], 1) for at in range(0, len(tiles), ACROSS)]
    Image.fromarray(np.concatenate(rows, 0)).save(path, quality=85)
