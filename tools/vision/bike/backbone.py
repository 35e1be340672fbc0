"""The detector's first blocks (of ssdlite-mobilenetv2-u8.onnx) as a PyTorch module, so that they can be taught on.

What they know of pictures in general comes with them: renders alone teach too little of that.
"""
import onnx
import torch
import torch.nn.functional as F
from onnx import numpy_helper
from torch import nn

BODY = "FeatureExtractor/MobilenetV2/"
ADDED = "ArithmeticOptimizer/AddOpsRewrite_add"
LAST = f"{BODY}expanded_conv_13/expand/Relu6"
TAPS = {
    f"{BODY}expanded_conv_2/{ADDED}": "at4",
    f"{BODY}expanded_conv_5/{ADDED}": "at8",
    f"{BODY}expanded_conv_9/{ADDED}": "block9",
    f"{BODY}expanded_conv_12/{ADDED}": "block12",
    LAST: "block13",
}


def constants(graph):
    """Initialisers by name; eight-bit weights turned back: code x step + least."""
    raw = {tensor.name: torch.from_numpy(numpy_helper.to_array(tensor).copy()) for tensor in graph.initializer}
    for name in [name[: -len("/u8")] for name in raw if name.endswith("/u8")]:
        raw[name] = raw[f"{name}/u8"].float() * raw[f"{name}/step"] + raw[f"{name}/least"]
    return raw


class Backbone(nn.Module):
    def __init__(self, path):
        super().__init__()
        graph = onnx.load(path).graph
        known = constants(graph)
        self.steps, self.weights = [], nn.ParameterDict()
        keep = lambda name: self.weights.update({name.replace(".", "_").replace("/", "_"): nn.Parameter(known[name])})
        plain = lambda name: name.replace(".", "_").replace("/", "_")
        for node in graph.node:
            inputs, output = list(node.input), node.output[0]
            if node.op_type == "Conv":
                attributes = {a.name: a for a in node.attribute}
                stride, groups = attributes["strides"].ints[0], attributes["group"].i
                for name in inputs[1:]:
                    keep(name)
                kernel = known[inputs[1]].shape[-1]
                self.steps.append(("conv", inputs[0], [plain(n) for n in inputs[1:]], output, stride, groups, kernel))
            elif node.op_type == "Clip":
                self.steps.append(("clip", inputs[0], [], output, 1, 1, 1))
            elif node.op_type == "Add" and not output.startswith("w"):
                if inputs[1] in known:
                    keep(inputs[1])
                    self.steps.append(("shift", inputs[0], [plain(inputs[1])], output, 1, 1, 1))
                else:
                    self.steps.append(("add", inputs[0], [inputs[1]], output, 1, 1, 1))
            elif node.op_type == "Transpose" and not self.steps:
                self.first = output
            if output == LAST:
                break

    def forward(self, x):
        values, taps = {self.first: x}, {}
        for kind, source, others, output, stride, groups, kernel in self.steps:
            value = values[source]
            if kind == "conv":
                # As TensorFlow pads: what is left over goes to the right and the bottom.
                if stride == 2 and kernel > 1:
                    value, pad = F.pad(value, (0, 1, 0, 1)), 0
                else:
                    pad = kernel // 2
                value = F.conv2d(value, self.weights[others[0]], self.weights[others[1]], stride, pad, 1, groups)
            elif kind == "clip":
                value = value.clamp(0, 6)
            elif kind == "shift":
                value = value + self.weights[others[0]]
            else:
                value = value + values[others[0]]
            values[output] = value
            if output in TAPS:
                taps[TAPS[output]] = value
        return taps
