"""Bike network to ONNX with 8-bit weights, one scale an output channel: python3 export.py bike.pt bike-u8.onnx."""
import sys
from pathlib import Path

import numpy as np
import onnx
import torch
from onnx import helper, numpy_helper

from network import EDGE, Bike, Shipped

SMALLEST = 256


def quantised(model):
    """Each large weight becomes uint8 with a scale and a zero point, turned back by a node when the model is opened."""
    kept, nodes = [], []
    axes = {name: 0 for node in model.graph.node if node.op_type in ("Conv", "Gemm") for name in node.input[1:2]}
    axes.update({name: 1 for node in model.graph.node if node.op_type == "MatMul" for name in node.input[1:2]})
    for tensor in model.graph.initializer:
        values = numpy_helper.to_array(tensor)
        if tensor.name not in axes or values.size < SMALLEST:
            kept.append(tensor)
            continue
        axis = axes[tensor.name]
        others = tuple(a for a in range(values.ndim) if a != axis)
        low, high = np.minimum(values.min(others), 0), np.maximum(values.max(others), 0)
        scale = np.maximum((high - low) / 255, 1e-8).astype(np.float32)
        zero = np.clip(np.round(-low / scale), 0, 255).astype(np.uint8)
        shape = [-1 if a == axis else 1 for a in range(values.ndim)]
        codes = np.clip(np.round(values / scale.reshape(shape)) + zero.reshape(shape), 0, 255).astype(np.uint8)
        for suffix, data in (("_u8", codes), ("_scale", scale), ("_zero", zero)):
            kept.append(numpy_helper.from_array(data, tensor.name + suffix))
        inputs = [tensor.name + suffix for suffix in ("_u8", "_scale", "_zero")]
        nodes.append(helper.make_node("DequantizeLinear", inputs, [tensor.name], axis=axis))
    before = list(model.graph.node)
    del model.graph.initializer[:]
    del model.graph.node[:]
    model.graph.initializer.extend(kept)
    model.graph.node.extend(nodes + before)
    model.ir_version = 8
    model.producer_name = "tyrewall tools/vision/bike/export.py"
    model.producer_version = ""
    return model


def export(net, path):
    temporary = str(path) + ".float"
    sample = torch.zeros(1, EDGE, EDGE, 3)
    names = {"input_names": ["input"], "output_names": ["parts", "descriptor"]}
    torch.onnx.export(Shipped(net).eval(), sample, temporary, opset_version=13, dynamo=False, **names)
    model = quantised(onnx.load(temporary))
    onnx.checker.check_model(model)
    onnx.save(model, str(path))
    Path(temporary).unlink()


if __name__ == "__main__":
    bike = Bike()
    bike.load_state_dict(torch.load(sys.argv[1]))
    export(bike.eval(), sys.argv[2])
