"""The trained weights as ONNX: numbers-f32.onnx and numbers-u8.onnx (weights as bytes, an output channel at a time).

    python3 export.py checkpoint.pt OUT/numbers

Input `image` (1, 3, H, W) float32 RGB 0-255, sides multiples of 32; output `maps` (1, 27, H/4, W/4), the channels of
network.py as probabilities. The file's bytes become floats again when a session is made, so the speed is the same.
"""
import copy
import sys

import numpy as np
import torch
import torch.nn as nn

from network import Convolution, DigitNetwork

LEAST_WEIGHTS = 512


def folded(network):
    """Batch normalisation folded into the convolutions."""
    network = copy.deepcopy(network).cpu().float().eval()
    for module in network.modules():
        if isinstance(module, Convolution):
            norm, plain = module.norm, module.convolution
            factor = norm.weight / torch.sqrt(norm.running_var + norm.eps)
            made = nn.Conv2d(plain.in_channels, plain.out_channels, plain.kernel_size, plain.stride, plain.padding)
            made.weight.data = plain.weight.data * factor[:, None, None, None]
            made.bias.data = norm.bias.data - norm.running_mean * factor
            module.convolution, module.norm = made, nn.Identity()
    return network


class WithProbabilities(nn.Module):
    def __init__(self, network):
        super().__init__()
        self.network = network

    def forward(self, image):
        y = self.network(image / 255.0 - 0.5)
        softmax, sigmoid = (lambda a, b: torch.softmax(y[:, a:b], 1)), (lambda a, b: torch.sigmoid(y[:, a:b]))
        return torch.cat([sigmoid(0, 2), softmax(2, 12), y[:, 12:20], softmax(20, 23), softmax(23, 26), sigmoid(26, 27)], 1)


def as_bytes(source, target):
    import onnx
    from onnx import helper, numpy_helper
    model = onnx.load(source)
    graph, kept, nodes = model.graph, [], []
    for tensor in graph.initializer:
        values = numpy_helper.to_array(tensor)
        if values.dtype != np.float32 or values.size < LEAST_WEIGHTS:
            kept.append(tensor)
            continue
        flat = values.reshape(values.shape[0], -1)
        low, high = flat.min(1), flat.max(1)
        step = np.maximum((high - low) / 255, 1e-9).astype(np.float32)
        codes = np.round((flat - low[:, None]) / step[:, None]).astype(np.uint8).reshape(values.shape)
        shape, name = [values.shape[0]] + [1] * (values.ndim - 1), tensor.name
        kept += [numpy_helper.from_array(codes, name + '.codes'), numpy_helper.from_array(step.reshape(shape), name + '.step'),
                 numpy_helper.from_array(low.astype(np.float32).reshape(shape), name + '.low')]
        nodes += [helper.make_node('Cast', [name + '.codes'], [name + '.float'], to=1),
                  helper.make_node('Mul', [name + '.float', name + '.step'], [name + '.scaled']),
                  helper.make_node('Add', [name + '.scaled', name + '.low'], [name])]
    nodes += list(graph.node)
    del graph.initializer[:], graph.node[:]
    graph.initializer.extend(kept)
    graph.node.extend(nodes)
    onnx.checker.check_model(model)
    onnx.save(model, target)


def export(network, path):
    """Writes path-f32.onnx and path-u8.onnx."""
    module = WithProbabilities(folded(network)).eval()
    torch.onnx.export(module, torch.rand(1, 3, 320, 320) * 255, path + '-f32.onnx', dynamo=False, opset_version=13, input_names=['image'],
                      output_names=['maps'], dynamic_axes={'image': {2: 'height', 3: 'width'}, 'maps': {2: 'rows', 3: 'columns'}})
    as_bytes(path + '-f32.onnx', path + '-u8.onnx')


if __name__ == '__main__':
    trained = DigitNetwork()
    trained.load_state_dict(torch.load(sys.argv[1], map_location='cpu')['weights'])
    export(trained, sys.argv[2])
