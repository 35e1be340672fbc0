"""What a training leaves behind when it is stopped, to go on from."""
import copy
import os

import torch


def save(path, network, average, optimiser, progress):
    """Moments and averaged weights in half the bytes; the file is never half written."""
    halved = copy.deepcopy(optimiser.state_dict())
    for state in halved['state'].values():
        for name in ('exp_avg', 'exp_avg_sq'):
            state[name] = state[name].bfloat16()
    as_half = {name: v.half() if v.is_floating_point() else v for name, v in average.state_dict().items()}
    torch.save({'network': network.state_dict(), 'weights': as_half, 'optimiser': halved, **progress}, path + '.part')
    os.replace(path + '.part', path)
