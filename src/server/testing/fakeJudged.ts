/** What was judged of the made-up day's bikes: read off the drawing instead of the picture. */
import type { FrameId } from '../../core/ids.js';
import { type BikeJudgement, JUDGE_VERSION, type Judged, type SharpArea } from '../../core/judge/index.js';
import type { Box, FrameMeasured } from '../../core/measure/types.js';
import { degreesOf } from '../../core/units.js';
import { type DrawnBike, HEIGHT_PX, WIDTH_PX } from './fakePictures.js';

const FACING_RIGHT = { helmet: [28, -104, 30], number: [95, -27, 23] } as const;

export function fakeJudgements(
  pixels: ReadonlyMap<FrameId, FrameMeasured>,
  drawnOf: (frame: FrameId) => DrawnBike | null,
): ReadonlyMap<FrameId, readonly BikeJudgement[]> {
  const judgements = new Map<FrameId, readonly BikeJudgement[]>();
  for (const [frameId, { subjects }] of pixels) {
    const drawn = drawnOf(frameId);
    const bikes = subjects.map(({ box, isCut }): BikeJudgement => {
      const judged = judgedOf(drawn!, box, isCut);
      return { kind: 'judged', v: JUDGE_VERSION, frameId, box, judged };
    });
    if (drawn) judgements.set(frameId, bikes);
  }
  return judgements;
}

function judgedOf(drawn: DrawnBike, box: Box, isCut: boolean): Judged {
  const edgePx = drawn.blurPx > 0 ? 9.4 : 1.6;
  const area = (what: SharpArea['what']): SharpArea => ({
    what,
    box: placed(drawn, FACING_RIGHT[what]),
    edgePx,
  });
  const fine = drawn.blurPx > 0 ? 0.05 : 0.3;
  const margin = Math.max(0, Math.min(box[0], box[1], 1 - box[0] - box[2], 1 - box[1] - box[3]));
  return {
    focus: {
      kind: 'focus',
      fineness: { alongX: fine, alongDown: fine, alongY: fine, alongUp: fine, overall: fine },
      areas: [area('helmet'), ...(drawn.number === null ? [] : [area('number')])],
    },
    edge: isCut
      ? { kind: 'cut', what: 'wheel', share: 0.2, where: [box[0], box[1] + 0.7 * box[3], 0.1 * box[2], 0.3 * box[3]] }
      : { kind: 'whole', margin },
    size: Math.sqrt(0.6 * box[2] * box[3]),
    inFront: [],
    aspect: (box[2] * WIDTH_PX) / (box[3] * HEIGHT_PX),
    bright: { share: 0.004 },
    side: { kind: 'told', is: drawn.isMirrored ? 'left' : 'right', confidence: 0.9 },
    lean: {
      kind: 'lean',
      leanDeg: degreesOf(drawn.isMirrored ? -drawn.leanDeg : drawn.leanDeg),
      from: [box[0] + box[2] / 2, box[1] + box[3]],
      to: [box[0] + box[2] / 2, box[1]],
    },
    limb: { kind: 'absent', reason: 'seen-from-the-side' },
    head: { kind: 'absent', reason: 'no-visor-seen' },
  };
}

/** From the drawing's own coordinates to the picture's. */
function placed({ at, scale, leanDeg, isMirrored }: DrawnBike, [x, y, half]: readonly [number, number, number]): Box {
  const turn = (leanDeg * Math.PI) / 180;
  const across = (isMirrored ? -1 : 1) * scale * (x * Math.cos(turn) - y * Math.sin(turn)) + at[0] * WIDTH_PX;
  const down = scale * (x * Math.sin(turn) + y * Math.cos(turn)) + at[1] * HEIGHT_PX;
  const size = scale * half;
  return [(across - size) / WIDTH_PX, (down - size) / HEIGHT_PX, (2 * size) / WIDTH_PX, (2 * size) / HEIGHT_PX];
}
