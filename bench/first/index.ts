/**
 * Measuring as the first version did it, kept runnable so that today's cost can be told against it: one second look at
 * most, the detector's blocks for the descriptor, the mask by colour, no parts, no numbers. What has not changed since is
 * today's code; one thing is a little dearer than it was: the blocks come out of the whole bike network.
 */
import {
  assembleSubjects,
  LEAST_DETECTION_SCORE,
  LEAST_PERSON_SCORE,
  MOST_OVERLAP,
} from '../../src/core/measure/assembleSubjects.js';
import { type Detection, decodeDetections, suppressOverlaps } from '../../src/core/measure/decodeDetections.js';
import { describeScene } from '../../src/core/measure/describeScene.js';
import { estimateLight } from '../../src/core/measure/estimateLight.js';
import {
  fitLongEdge,
  greyOf,
  halve,
  type PixelRect,
  type RgbImage,
  rectOf,
  resize,
  wholeRect,
} from '../../src/core/measure/images.js';
import { cutPart, joinLooks, partToLookAgain } from '../../src/core/measure/lookAgain.js';
import { maskSubject, type SubjectMask } from '../../src/core/measure/maskSubject.js';
import { measureExposure } from '../../src/core/measure/measureExposure.js';
import { measureSharpness } from '../../src/core/measure/measureSharpness.js';
import { scoreDivider } from '../../src/core/measure/scoreDivider.js';
import type { Networks } from '../../src/host/vision/index.js';
import { firstColours } from './colours.js';
import { firstDescriptor } from './descriptor.js';

const DETECTOR_EDGE_PX = 300;
const BLOCKS_EDGE_PX = 192;
const SMALL_EDGE = 96;
const MOST_SUBJECTS = 8;

export async function measureAsFirst(networks: Networks, image: RgbImage): Promise<unknown> {
  const half = halve(image);
  const detections = await detect(networks, half);
  const { width, height } = fitLongEdge(wholeRect(half), SMALL_EDGE);
  const small = resize(half, wholeRect(half), width, height);
  const light = estimateLight(small);
  const found = assembleSubjects(detections).slice(0, MOST_SUBJECTS);
  const subjects: unknown[] = [];
  for (const subject of found) {
    const input = filled(resize(half, rectOf(subject.box, half), BLOCKS_EDGE_PX, BLOCKS_EDGE_PX));
    const blocks = subject.what === 'person' ? undefined : await networks.lookAtBike(input);
    const mask = maskSubject(half, subject);
    const colours = firstColours(mask, half, subject, light);
    const sharpness = sharpnessInside(image, rectOf(subject.box, image), mask, half.width / image.width);
    subjects.push({ colours, sharpness, descriptor: firstDescriptor(mask, blocks) });
  }
  const surest = Math.max(0, ...detections.map(({ score }) => (score < LEAST_PERSON_SCORE ? 0 : score)));
  const boxes = found.map(({ box }) => box);
  return {
    subjects,
    ...measureExposure(small),
    divider: scoreDivider(small, surest),
    scene: describeScene(small, boxes),
  };
}

async function detect(networks: Networks, image: RgbImage): Promise<Detection[]> {
  const first = await look(networks, image);
  const part = partToLookAgain(first, image);
  return part ? joinLooks(first, await look(networks, cutPart(image, part)), part, image, MOST_OVERLAP) : first;
}

async function look(networks: Networks, image: RgbImage): Promise<Detection[]> {
  const picture = resize(image, wholeRect(image), DETECTOR_EDGE_PX, DETECTOR_EDGE_PX);
  const { boxes, scores } = await networks.detect(filled(picture));
  return suppressOverlaps(decodeDetections(boxes, scores, LEAST_DETECTION_SCORE), MOST_OVERLAP);
}

const NETWORK_VALUE = Float32Array.from({ length: 256 }, (_, code) => code / 127.5 - 1);

function filled({ data }: RgbImage): Float32Array {
  const values = new Float32Array(data.length);
  for (let index = 0; index < data.length; index += 1) values[index] = NETWORK_VALUE[data[index]!]!;
  return values;
}

function sharpnessInside(image: RgbImage, rect: PixelRect, mask: SubjectMask, share: number) {
  const { picture, rect: around, inside } = mask;
  const scaleX = picture.width / (around.right - around.left);
  const scaleY = picture.height / (around.bottom - around.top);
  const columns = Int32Array.from({ length: rect.right - rect.left }, (_, x) =>
    Math.min(picture.width - 1, Math.floor(((x + rect.left) * share - around.left) * scaleX)),
  );
  const rows = Int32Array.from({ length: rect.bottom - rect.top }, (_, y) =>
    Math.min(picture.height - 1, Math.floor(((y + rect.top) * share - around.top) * scaleY)),
  );
  const longEdge = Math.max(image.width, image.height);
  return measureSharpness(greyOf(image, rect), longEdge, { inside, width: picture.width, columns, rows });
}
