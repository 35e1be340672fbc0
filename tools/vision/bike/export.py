"""Bike network to ONNX with 8-bit weights, one scale an output channel."""
from pathlib import Path

import numpy as np
import onnx
import torch
from onnx import helper, numpy_helper

from network import EDGE, Shipped

SMALLEST = 256


def quantised(model):
    """Each large weight becomes bytes, code x step + least; these three are worked out once, when the model is opened."""
    kept, nodes = [], []
    axes = {name: 0 for node in model.graph.node if node.op_type in ("Conv", "Gemm") for name in node.input[1:2]}
    for tensor in model.graph.initializer:
        values = numpy_helper.to_array(tensor)
        if tensor.name not in axes or values.size < SMALLEST:
            kept.append(tensor)
            continue
        name, others = tensor.name, tuple(range(1, values.ndim))
        least = values.min(others, keepdims=True)
        step = np.maximum((values.max(others, keepdims=True) - least) / 255, 1e-8).astype(np.float32)
        codes = np.clip(np.round((values - least) / step), 0, 255).astype(np.uint8)
        for suffix, data in (("/u8", codes), ("/step", step), ("/least", least)):
            kept.append(numpy_helper.from_array(data, name + suffix))
        nodes.append(helper.make_node("Cast", [name + "/u8"], [name + "/float"], to=1))
        nodes.append(helper.make_node("Mul", [name + "/float", name + "/step"], [name + "/scaled"]))
        nodes.append(helper.make_node("Add", [name + "/scaled", name + "/least"], [name]))
    before = padded_as_tensorflow(list(model.graph.node))
    del model.graph.initializer[:]
    del model.graph.node[:]
    model.graph.initializer.extend(kept)
    model.graph.node.extend(nodes + before)
    model.ir_version = 8
    model.producer_name = "tyrewall tools/vision/bike/export.py"
    model.producer_version = ""
    return model


def padded_as_tensorflow(nodes):
    """A pad to the right and below before a convolution becomes that convolution's own: a pass over the picture less."""
    pads = {node.output[0]: node.input[0] for node in nodes if node.op_type == "Pad"}
    for node in nodes:
        if node.op_type == "Conv" and node.input[0] in pads:
            node.input[0] = pads[node.input[0]]
            for attribute in [a for a in node.attribute if a.name in ("pads", "auto_pad")]:
                node.attribute.remove(attribute)
            node.attribute.append(helper.make_attribute("auto_pad", "SAME_UPPER"))
    return [node for node in nodes if node.op_type != "Pad"]


def export(net, path):
    temporary = str(path) + ".float"
    sample = torch.zeros(1, EDGE, EDGE, 3)
    names = {"input_names": ["input"], "output_names": ["parts", "descriptor", "block9", "block13"]}
    torch.onnx.export(Shipped(net).eval(), sample, temporary, opset_version=13, dynamo=False, **names)
    model = quantised(onnx.load(temporary))
    onnx.checker.check_model(model)
    onnx.save(model, str(path))
    Path(temporary).unlink()

