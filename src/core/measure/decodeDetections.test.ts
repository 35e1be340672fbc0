import { describe, expect, it } from 'vitest';
import {
  ANCHOR_COUNT,
  CLASS_COUNT,
  COCO_IDS,
  decodeDetections,
  makeAnchors,
  overlapOf,
  suppressOverlaps,
} from './decodeDetections.js';
import {
  cutPart,
  joinLooks,
  mirror,
  mirrorBack,
  partBesideBike,
  partToLookAgain,
  partToLookAtSmaller,
} from './lookAgain.js';
import type { Box } from './types.js';

const anchors = makeAnchors();
const anchorAt = (index: number) => anchors.slice(4 * index, 4 * index + 4);

function rawOutput(hits: readonly { anchor: number; id: number; score: number; offsets?: readonly number[] }[]) {
  const boxes = new Float32Array(4 * ANCHOR_COUNT);
  const scores = new Float32Array(CLASS_COUNT * ANCHOR_COUNT);
  for (const { anchor, id, score, offsets } of hits) {
    scores[anchor * CLASS_COUNT + Object.values(COCO_IDS).indexOf(id)] = score;
    boxes.set(offsets ?? [0, 0, 0, 0], 4 * anchor);
  }
  return { boxes, scores };
}

describe('anchors', () => {
  it('are 1,917, as the detection API generates for six grids', () => {
    expect(anchors).toHaveLength(4 * 1917);
    // 19·19·3 boxes in the lowest layer, then 10·10·6: the first of the second layer is square, a third of the picture.
    expect([...anchorAt(0)]).toEqual([0.5 / 19, 0.5 / 19, 0.1, 0.1].map(Math.fround));
    expect(anchorAt(1083)[2]).toBeCloseTo(0.35, 6);
    expect(anchorAt(1084)[3]! / anchorAt(1084)[2]!).toBeCloseTo(2, 6);
    expect(anchorAt(1916)[2]).toBeCloseTo(Math.sqrt(0.95), 6);
  });
});

describe('decoding', () => {
  const middle = 1083 + 6 * (5 * 10 + 5);

  it('gives the anchor itself for zero offsets, under the right class', () => {
    const { boxes, scores } = rawOutput([{ anchor: middle, id: 4, score: 0.9 }]);
    const [found, ...rest] = decodeDetections(boxes, scores, 0.3);
    expect(rest).toEqual([]);
    expect(found).toMatchObject({ what: 'motorcycle', score: Math.fround(0.9) });
    expect(found!.box.map((value) => Number(value.toFixed(4)))).toEqual([0.375, 0.375, 0.35, 0.35]);
  });

  it('moves by a tenth of the anchor and grows by e^(1/5) for each unit', () => {
    const { boxes, scores } = rawOutput([
      { anchor: middle, id: 1, score: 0.5, offsets: [1, -1, 5 * Math.log(1.2), 0] },
    ]);
    const [found] = decodeDetections(boxes, scores, 0.3);
    const [left, top, width, height] = found!.box;
    expect(left + width / 2).toBeCloseTo(0.55 - 0.035, 5);
    expect(top + height / 2).toBeCloseTo(0.55 + 0.035, 5);
    expect(width).toBeCloseTo(0.35, 5);
    expect(height).toBeCloseTo(0.35 * 1.2, 5);
  });

  it('keeps boxes inside the picture and leaves out low scores', () => {
    const { boxes, scores } = rawOutput([
      { anchor: 1083, id: 3, score: 0.8 },
      { anchor: middle + 1, id: 4, score: 0.29 },
    ]);
    const found = decodeDetections(boxes, scores, 0.3);
    expect(found).toHaveLength(1);
    expect(found[0]!.what).toBe('car');
    expect(found[0]!.box.slice(0, 2)).toEqual([0, 0]);
  });
});

describe('suppression', () => {
  it('keeps the surest of overlapping boxes of one class, and both of two classes', () => {
    const kept = suppressOverlaps(
      [
        { what: 'motorcycle', score: 0.6, box: [0.1, 0.1, 0.4, 0.4] },
        { what: 'motorcycle', score: 0.9, box: [0.12, 0.1, 0.4, 0.4] },
        { what: 'person', score: 0.5, box: [0.1, 0.1, 0.4, 0.4] },
        { what: 'motorcycle', score: 0.5, box: [0.5, 0.5, 0.3, 0.3] },
      ],
      0.6,
    );
    expect(kept.map(({ what, score }) => [what, score])).toEqual([
      ['motorcycle', 0.9],
      ['person', 0.5],
      ['motorcycle', 0.5],
    ]);
  });

  it('measures overlap as intersection over union', () => {
    expect(overlapOf([0, 0, 0.2, 0.2], [0.1, 0, 0.2, 0.2])).toBeCloseTo(1 / 3, 12);
    expect(overlapOf([0, 0, 0.2, 0.2], [0.5, 0.5, 0.2, 0.2])).toBe(0);
  });
});

describe('the third look', () => {
  const picture = { width: 900, height: 600 };

  it('takes in the whole picture in a larger square where somebody was seen but no bike', () => {
    const part = partToLookAtSmaller([{ what: 'person', score: 0.8, box: [0.1, 0, 0.7, 1] }], picture)!;
    expect(part.right - part.left).toBe(1170);
    expect([part.left + part.right, part.top + part.bottom]).toEqual([900, 600]);
  });

  it('is not taken where nothing was seen, nor where a bike was', () => {
    expect(partToLookAtSmaller([], picture)).toBeNull();
    expect(partToLookAtSmaller([{ what: 'car', score: 0.9, box: [0, 0, 0.5, 0.5] }], picture)).toBeNull();
    expect(partToLookAtSmaller([{ what: 'motorcycle', score: 0.5, box: [0, 0, 0.5, 0.5] }], picture)).toBeNull();
  });

  it('mirrors the picture, and what is found in it back', () => {
    const image = { width: 2, height: 1, data: Uint8Array.of(1, 2, 3, 4, 5, 6) };
    expect([...mirror(image).data]).toEqual([4, 5, 6, 1, 2, 3]);
    const [found] = mirrorBack([{ what: 'motorcycle', score: 0.5, box: [0.25, 0.5, 0.25, 0.125] }]);
    expect(found!.box).toEqual([0.5, 0.5, 0.25, 0.125]);
  });
});

describe('the second look', () => {
  const picture = { width: 900, height: 600 };
  const rider = { what: 'person', score: 0.8, box: [0.4, 0.4, 0.1, 0.2] } as const;

  it('is taken at a true square about the largest person where no bike was found', () => {
    const part = partToLookAgain([rider], picture)!;
    expect(part.right - part.left).toBe(part.bottom - part.top);
    expect(part.left).toBeLessThan(0.4 * 900);
    expect(part.bottom).toBeGreaterThan(0.6 * 600);
  });

  it('is taken at the middle square where nobody was found', () => {
    expect(partToLookAgain([], picture)).toEqual({ left: 150, top: 0, right: 750, bottom: 600 });
  });

  it('is not taken where a bike was found', () => {
    expect(partToLookAgain([rider, { what: 'motorcycle', score: 0.5, box: [0.4, 0.5, 0.2, 0.2] }], picture)).toBeNull();
  });

  it('brings boxes back to where they lie in the whole picture', () => {
    const part = { left: 450, top: -150, right: 1350, bottom: 750 };
    const second = [{ what: 'motorcycle', score: 0.7, box: [0.1, 0.5, 0.2, 0.1] }] as const;
    const joined = joinLooks([rider], second, part, picture, 0.6);
    const box = joined.find(({ what }) => what === 'motorcycle')!.box;
    expect(box.map((value) => Number(value.toFixed(6)))).toEqual([0.6, 0.5, 0.2, 0.15]);
  });

  it('sees middle grey beyond the picture', () => {
    const image = { width: 2, height: 1, data: Uint8Array.of(1, 2, 3, 4, 5, 6) };
    const cut = cutPart(image, { left: 0, top: -1, right: 2, bottom: 1 });
    expect([...cut.data]).toEqual([127, 127, 127, 127, 127, 127, 1, 2, 3, 4, 5, 6]);
  });
});

describe('the look beside a bike', () => {
  const picture = { width: 900, height: 600 };
  const bike = (score: number, box: Box) => ({ what: 'motorcycle', score, box }) as const;
  const found = bike(0.8, [0.1, 0.3, 0.3, 0.4]);

  it('is taken closer about another that was only hinted at', () => {
    const part = partBesideBike([found, bike(0.35, [0.6, 0.4, 0.2, 0.3])], picture)!;
    expect(part.right - part.left).toBe(part.bottom - part.top);
    expect(part.right - part.left).toBeLessThan(600);
    expect(part.left).toBeGreaterThan(0.4 * 900);
  });

  it('is not taken about a part of the found bike, about a mere trace, or where no bike was found', () => {
    expect(partBesideBike([found, bike(0.35, [0.15, 0.35, 0.3, 0.3])], picture)).toBeNull();
    expect(partBesideBike([found, bike(0.19, [0.6, 0.4, 0.2, 0.3])], picture)).toBeNull();
    expect(partBesideBike([bike(0.35, [0.6, 0.4, 0.2, 0.3])], picture)).toBeNull();
  });

  const person = (score: number, box: Box) => ({ what: 'person', score, box }) as const;
  const rider = person(0.9, [0.15, 0.2, 0.2, 0.35]);

  it('is taken about somebody who rides none of the bikes found', () => {
    const part = partBesideBike([found, rider, person(0.4, [0.6, 0.2, 0.15, 0.3])], picture)!;
    expect(part.left).toBeLessThan(0.6 * 900);
    expect(part.right).toBeGreaterThan(0.75 * 900);
    expect(part.right - part.left).toBe(part.bottom - part.top);
  });

  it('is not taken about the rider seen twice, a mere trace of somebody, or somebody far behind', () => {
    expect(partBesideBike([found, rider, person(0.5, [0.16, 0.22, 0.2, 0.5])], picture)).toBeNull();
    expect(partBesideBike([found, rider, person(0.29, [0.6, 0.2, 0.15, 0.3])], picture)).toBeNull();
    expect(partBesideBike([found, rider, person(0.9, [0.6, 0.2, 0.1, 0.1])], picture)).toBeNull();
  });
});
