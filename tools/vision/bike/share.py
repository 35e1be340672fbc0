"""Weights that are the detector's own go into the bike network's file as the detector has them, to the byte.

The two are packed together (tools/vision/packModels.ts), and what is alike to the byte is kept once.
"""
import onnx


def share_weights(model, detector_path):
    """For a network on blocks that were not taught on. Each weight of the blocks must be the detector's own."""
    theirs = {plain(tensor.name): tensor for tensor in onnx.load(detector_path).graph.initializer}
    for tensor in model.graph.initializer:
        if not tensor.name.startswith("net.backbone."):
            continue
        name = tensor.name
        source = theirs[plain(name.rsplit("weights.", 1)[1])]
        if list(source.dims) != list(tensor.dims) or source.data_type != tensor.data_type:
            raise ValueError(f"Expected {source.name} to be like {name}: {list(tensor.dims)}, but it is {list(source.dims)}.")
        tensor.CopyFrom(source)
        tensor.name = name


def plain(name):
    return name.replace(".", "_").replace("/", "_")
