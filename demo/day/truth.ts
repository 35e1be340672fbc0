/**
 * Everything true of the day, as one record. The day's code says all of it but where each rider came to lie in the picture:
 * that only rendering shows, and `demo/boxes.json` keeps it.
 */
import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import type { Rendered } from '../render/frame.js';
import { focalLengthMm } from '../render/frame.js';
import type { DemoTruth, TrueFrame } from '../truthTypes.js';
import { FIELD } from './field.js';
import { type NumberedExposure, numbered } from './files.js';
import { BODIES, bodyKeyOf, MEETING, SESSIONS, SPOTS, standsOf, TIMETABLE } from './meeting.js';
import { photographTheDay } from './photograph.js';
import { isoFor, shotOf } from './shots.js';

export const BOXES_FILE = fileURLToPath(new URL('../boxes.json', import.meta.url));

/** The card it lies on and its place in the list of that card's frames. */
const DAMAGED = { card: 'afternoon-b', index: 31 } as const;

type Boxes = Rendered['boxes'];

interface KeptBoxes {
  /** Of the truth as it was when the pictures were made: the day's code may not change without them. */
  readonly truthSha256: string;
  /** One list an exposure, in the day's order, and in it one box a rider. */
  readonly boxes: readonly Boxes[];
}

const wallText = (ms: number): string => new Date(ms).toISOString().slice(0, 23);
const rounded = (n: number): number => Number(n.toFixed(4));
export const roundedBoxes = (boxes: Boxes): Boxes =>
  boxes.map((box) => box && [rounded(box[0]), rounded(box[1]), rounded(box[2]), rounded(box[3])]);

function frameTruth(numbered: NumberedExposure, boxes: Boxes, isDamaged: boolean): TrueFrame {
  const { exposure } = numbered;
  const shot = shotOf(exposure);
  return {
    card: exposure.card,
    path: numbered.path,
    body: bodyKeyOf(exposure.body),
    wall: wallText(exposure.wall),
    session: exposure.session.name,
    spot: exposure.spot,
    role: isDamaged ? 'damaged' : exposure.role,
    bikes: exposure.riders.flatMap((rider, i) => {
      const box = boxes[i];
      return box ? [{ rider: rider.truth.key, box, pass: exposure.pass }] : [];
    }),
    blur: exposure.blur,
    picture: numbered.picture,
    ...(numbered.rawPath === null ? {} : { raw: numbered.rawPath }),
    taken: {
      shutterS: shot.shutterS,
      fNumber: shot.fNumber,
      iso: isoFor(exposure),
      focalLengthMm: exposure.role === 'divider' ? 150 : Math.round(focalLengthMm(shot)),
      orientation: exposure.isPortrait ? 8 : 1,
    },
  };
}

/** The whole day's truth, given the boxes of its exposures in their order. */
function dayTruth(boxes: readonly Boxes[]): DemoTruth {
  let onCard = 0;
  const frames = numbered(photographTheDay()).map((frame, i) => {
    const isDamaged = frame.exposure.card === DAMAGED.card && onCard++ === DAMAGED.index;
    return frameTruth(frame, boxes[i] ?? [], isDamaged);
  });
  return {
    meeting: MEETING,
    spots: SPOTS,
    timetable: TIMETABLE,
    stands: standsOf(),
    riders: FIELD.map((r) => r.truth),
    sessions: SESSIONS.map((s) => ({ name: s.name, group: s.group, start: wallText(s.start), end: wallText(s.end) })),
    clocks: BODIES.map((b) => ({ body: bodyKeyOf(b), fastS: b.fastS })),
    frames,
  };
}

export const digestOf = (truth: DemoTruth): string => createHash('sha256').update(JSON.stringify(truth)).digest('hex');

/** `boxes.json` as text: one line an exposure, so that a change is seen as the lines it changes. */
export function boxesText(boxes: readonly Boxes[]): string {
  const kept = boxes.map(roundedBoxes);
  const lines = kept.map((of) => JSON.stringify(of)).join(',\n');
  return `{"truthSha256":"${digestOf(dayTruth(kept))}","boxes":[\n${lines}\n]}\n`;
}

export const readBoxes = async (): Promise<KeptBoxes> => JSON.parse(await readFile(BOXES_FILE, 'utf8')) as KeptBoxes;

export const readTruth = async (): Promise<DemoTruth> => dayTruth((await readBoxes()).boxes);
