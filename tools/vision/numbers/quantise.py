"""The trained network with its middle in whole numbers, which is what ships: 15 ms a first look instead of 25.

    python3 export.py checkpoint.pt OUT/numbers
    python3 quantise.py OUT/numbers-f32.onnx SCENES OUT/numbers-u8.onnx

SCENES are invented ones from hold.py, of a seed of their own: the ranges of the activations are taken from them. The three
scales from an eighth on, two thirds of the work, get weights of eight bits, an output channel at a time, and activations of
eight. The rest stays in floating point, with weights kept as bytes.
One machine answers alike every time; processors without VNNI may cut off a large sum now and then and answer a little otherwise
(seven bits avoid that, quantize_static's reduce_range, at twice the error). Needs onnxruntime.
"""
import argparse
import glob
import os

import numpy as np
import onnx
from onnxruntime.quantization import CalibrationDataReader, QuantFormat, QuantType, quantize_static
from onnxruntime.quantization.shape_inference import quant_pre_process
from PIL import Image

from export import as_bytes

IN_WHOLE_NUMBERS = ('eighth', 'sixteenth', 'thirtysecond')


class Pictures(CalibrationDataReader):
    def __init__(self, folder):
        self.paths = iter(sorted(glob.glob(folder + '/*.png')))

    def get_next(self):
        path = next(self.paths, None)
        if path is None:
            return None
        return {'image': np.asarray(Image.open(path).convert('RGB'), np.float32).transpose(2, 0, 1)[None]}


def main():
    parser = argparse.ArgumentParser()
    for name in ('source', 'scenes', 'target'):
        parser.add_argument(name)
    o = parser.parse_args()
    prepared = o.target + '.prepared'
    quant_pre_process(o.source, prepared, skip_symbolic_shape=True)
    in_floats = [node.name for node in onnx.load(prepared).graph.node if not any(part in node.name for part in IN_WHOLE_NUMBERS)]
    quantize_static(prepared, prepared + '.whole', Pictures(o.scenes), quant_format=QuantFormat.QDQ, per_channel=True,
                    activation_type=QuantType.QUInt8, weight_type=QuantType.QInt8, nodes_to_exclude=in_floats)
    as_bytes(prepared + '.whole', o.target)
    os.remove(prepared + '.whole')
    os.remove(prepared)


if __name__ == '__main__':
    main()
