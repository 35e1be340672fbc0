"""Weights that the detector's file holds already are not kept twice: the bike network's file points into it.

ONNX keeps large weights in other files by location, offset and length ("external data" of its specification); the bytes
of a weight lie whole in the detector's file, so that file can be the other one. Only bytes are pointed at: numbers of
four bytes would have to lie at a multiple of four.
"""
import onnx
from onnx import TensorProto, numpy_helper

SMALLEST = 256


def share_weights(model, detector_path):
    """For a network on blocks that were not taught on. Each weight of the blocks must be the detector's own."""
    held = detector_path.read_bytes()
    graph = onnx.load_from_string(held).graph
    theirs = {tensor.name: tensor for tensor in graph.initializer}
    weights = {plain(node.input[1]): node.input[1] for node in graph.node if node.op_type == "Conv"}
    own = {tensor.name: tensor for tensor in model.graph.initializer}
    shared = 0
    for name in [name for name in own if name.startswith("net.backbone.") and name.endswith("/u8")]:
        stem = name[: -len("/u8")]
        source = weights[stem.rsplit("weights.", 1)[1]]
        for suffix in ("/step", "/least"):
            own[stem + suffix].CopyFrom(renamed(theirs[source + suffix], stem + suffix))
        codes = numpy_helper.to_array(theirs[source + "/u8"])
        if list(codes.shape) != list(own[name].dims):
            raise ValueError(f"Expected {source} to have the shape {list(own[name].dims)} but it has {codes.shape}.")
        if codes.nbytes < SMALLEST:
            own[name].CopyFrom(renamed(theirs[source + "/u8"], name))
            continue
        data = codes.tobytes()
        at = held.find(data)
        if at < 0:
            raise ValueError(f"Expected the bytes of {source} in one piece in {detector_path} but they are not.")
        point(own[name], detector_path.name, at, len(data))
        shared += len(data)
    print(f"{shared} bytes of weights are the detector's own")


def plain(name):
    return name.replace(".", "_").replace("/", "_")


def renamed(tensor, name):
    copy = TensorProto()
    copy.CopyFrom(tensor)
    copy.name = name
    return copy


def point(tensor, location, offset, length):
    tensor.ClearField("raw_data")
    tensor.data_location = TensorProto.EXTERNAL
    del tensor.external_data[:]
    for key, value in (("location", location), ("offset", offset), ("length", length)):
        entry = tensor.external_data.add()
        entry.key, entry.value = key, str(value)
