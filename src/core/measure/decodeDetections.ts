/**
 * Turns the raw output of the SSDLite detector into boxes. W. Liu et al., "SSD: Single Shot MultiBox Detector", ECCV
 * 2016; anchors as the TensorFlow Object Detection API generates them for SSDLite-MobileNetV2 at 300×300 (six layers,
 * least scale 0.2, largest 0.95, ratios 1, 2, 1/2, 3, 1/3, three boxes in the lowest layer).
 */
import type { Box } from './types.js';

export type DetectedClass = 'person' | 'bicycle' | 'car' | 'motorcycle';

/** COCO ids of the classes the program uses, in the order of the scores; the model file holds no others. */
export const COCO_IDS: Readonly<Record<DetectedClass, number>> = { person: 1, bicycle: 2, car: 3, motorcycle: 4 };

export interface Detection {
  readonly what: DetectedClass;
  /** 0–1. */
  readonly score: number;
  readonly box: Box;
}

const WANTED = Object.keys(COCO_IDS) as readonly DetectedClass[];

export const ANCHOR_COUNT = 1917;
export const CLASS_COUNT = WANTED.length;
const GRIDS = [19, 10, 5, 3, 2, 1] as const;
const LEAST_SCALE = 0.2;
const LARGEST_SCALE = 0.95;
const RATIOS = [1, 2, 1 / 2, 3, 1 / 3] as const;
/** Box offsets are divided by these before use. */
const CENTRE_SCALE = 10;
const SIZE_SCALE = 5;

const scaleOfLayer = (layer: number): number =>
  layer === GRIDS.length ? 1 : LEAST_SCALE + ((LARGEST_SCALE - LEAST_SCALE) * layer) / (GRIDS.length - 1);

/** [scale, width / height] of the boxes at each place of a layer. */
function boxesOfLayer(layer: number): readonly (readonly [number, number])[] {
  const scale = scaleOfLayer(layer);
  if (layer === 0) {
    return [
      [0.1, 1],
      [scale, 2],
      [scale, 1 / 2],
    ];
  }
  const between = Math.sqrt(scale * scaleOfLayer(layer + 1));
  return [...RATIOS.map((ratio) => [scale, ratio] as const), [between, 1]];
}

/** `[centreY, centreX, height, width]` of all 1,917 anchors, 0–1, flattened. */
export function makeAnchors(): Float32Array {
  const values: number[] = [];
  for (const [layer, grid] of GRIDS.entries()) {
    for (let y = 0; y < grid; y += 1) {
      for (let x = 0; x < grid; x += 1) {
        for (const [scale, ratio] of boxesOfLayer(layer)) {
          values.push((y + 0.5) / grid, (x + 0.5) / grid, scale / Math.sqrt(ratio), scale * Math.sqrt(ratio));
        }
      }
    }
  }
  return Float32Array.from(values);
}

const ANCHORS = makeAnchors();

function decodeBox(encoded: Float32Array, index: number): Box {
  const at = 4 * index;
  const centreY = (encoded[at]! / CENTRE_SCALE) * ANCHORS[at + 2]! + ANCHORS[at]!;
  const centreX = (encoded[at + 1]! / CENTRE_SCALE) * ANCHORS[at + 3]! + ANCHORS[at + 1]!;
  const height = Math.exp(encoded[at + 2]! / SIZE_SCALE) * ANCHORS[at + 2]!;
  const width = Math.exp(encoded[at + 3]! / SIZE_SCALE) * ANCHORS[at + 3]!;
  return clipBox(centreX - width / 2, centreY - height / 2, centreX + width / 2, centreY + height / 2);
}

/** The part of a box (left, top, right, bottom) inside the picture. */
export function clipBox(left: number, top: number, right: number, bottom: number): Box {
  const clip = (value: number) => Math.min(1, Math.max(0, value));
  return [clip(left), clip(top), clip(right) - clip(left), clip(bottom) - clip(top)];
}

/**
 * @param encoded 1917×4 box offsets
 * @param scores 1917×4, as in `COCO_IDS`
 */
export function decodeDetections(encoded: Float32Array, scores: Float32Array, leastScore: number): Detection[] {
  const found: Detection[] = [];
  for (let index = 0; index < ANCHOR_COUNT; index += 1) {
    for (const [place, what] of WANTED.entries()) {
      const score = scores[index * CLASS_COUNT + place]!;
      if (score >= leastScore) found.push({ what, score, box: decodeBox(encoded, index) });
    }
  }
  return found;
}

export function areaOf([, , width, height]: Box): number {
  return width * height;
}

export function intersectionOf(a: Box, b: Box): number {
  const width = Math.min(a[0] + a[2], b[0] + b[2]) - Math.max(a[0], b[0]);
  const height = Math.min(a[1] + a[3], b[1] + b[3]) - Math.max(a[1], b[1]);
  return Math.max(0, width) * Math.max(0, height);
}

/** Intersection over union, 0–1. */
export function overlapOf(a: Box, b: Box): number {
  const common = intersectionOf(a, b);
  return common === 0 ? 0 : common / (areaOf(a) + areaOf(b) - common);
}

/** Greedy non-maximum suppression within a class: the surest box stays, what overlaps it more than `most` goes. */
export function suppressOverlaps(detections: readonly Detection[], most: number): Detection[] {
  const kept: Detection[] = [];
  for (const each of [...detections].sort((a, b) => b.score - a.score)) {
    if (!kept.some((other) => other.what === each.what && overlapOf(other.box, each.box) > most)) kept.push(each);
  }
  return kept;
}
