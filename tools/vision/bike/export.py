"""Bike network to ONNX with 8-bit weights, one scale an output channel."""
from pathlib import Path

import numpy as np
import onnx
import torch
from onnx import helper, numpy_helper

from network import EDGE, Shipped
from share import share_weights

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


def shorten(model):
    """Long names of layers take more room than small weights do."""
    graph = model.graph
    kept = {value.name for value in [*graph.input, *graph.output]} | {""}
    names = {}
    short = lambda name: name if name in kept else names.setdefault(name, f"v{len(names)}")
    for tensor in graph.initializer:
        tensor.name = short(tensor.name)
    for node in graph.node:
        node.input[:] = [short(name) for name in node.input]
        node.output[:] = [short(name) for name in node.output]
        node.ClearField("name")
        node.ClearField("doc_string")
    del graph.value_info[:]


def export(net, path, detector=None):
    """@param detector: path of the detector's model, which lends the weights of its blocks"""
    temporary = str(path) + ".float"
    sample = torch.zeros(1, EDGE, EDGE, 3)
    names = {"input_names": ["input"], "output_names": ["parts", "descriptor", "block9", "block13"]}
    torch.onnx.export(Shipped(net).eval(), sample, temporary, opset_version=13, dynamo=False, **names)
    model = quantised(onnx.load(temporary))
    if detector:
        share_weights(model, detector)
    shorten(model)
    onnx.save(model, str(path))
    Path(temporary).unlink()

