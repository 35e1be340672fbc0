"""Weights that the detector's file holds already are not kept twice: the bike network's file points into it.

ONNX keeps large weights in other files by location, offset and length ("external data" of its specification); the bytes
of a weight lie whole in the detector's file, so that file can be the other one.
"""
import onnx
from onnx import TensorProto, numpy_helper

SMALLEST = 128


def share_weights(model, detector_path):
    """For a network on blocks that were not taught on. Each weight of the blocks must be the detector's own."""
    held = detector_path.read_bytes()
    theirs = {plain(tensor.name): tensor for tensor in onnx.load_from_string(held).graph.initializer}
    shared = 0
    for tensor in model.graph.initializer:
        if not tensor.name.startswith("net.backbone."):
            continue
        name = tensor.name
        source = theirs[plain(name.rsplit("weights.", 1)[1])]
        data = numpy_helper.to_array(source).tobytes()
        if list(source.dims) != list(tensor.dims) or source.data_type != tensor.data_type:
            raise ValueError(f"Expected {source.name} to be like {name}: {list(tensor.dims)}, but it is {list(source.dims)}.")
        at = held.find(data)
        tensor.CopyFrom(source)
        tensor.name = name
        if at >= 0 and len(data) >= SMALLEST:
            point(tensor, detector_path.name, at, len(data))
            shared += len(data)
    print(f"{shared} bytes of weights are the detector's own")


def plain(name):
    return name.replace(".", "_").replace("/", "_")


def point(tensor, location, offset, length):
    tensor.ClearField("raw_data")
    tensor.data_location = TensorProto.EXTERNAL
    del tensor.external_data[:]
    for key, value in (("location", location), ("offset", offset), ("length", length)):
        entry = tensor.external_data.add()
        entry.key, entry.value = key, str(value)
