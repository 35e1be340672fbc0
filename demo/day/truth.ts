/** Everything true of the day, as one record. */

import type { Rendered } from '../render/frame.js';
import { focalLengthMm } from '../render/frame.js';
import type { DemoTruth, TrueFrame } from '../truthTypes.js';
import { FIELD } from './field.js';
import type { NumberedExposure } from './files.js';
import { BODIES, bodyKeyOf, MEETING, SESSIONS, SPOTS, standsOf, TIMETABLE } from './meeting.js';
import { isoFor, shotOf } from './shots.js';

/** The card it lies on and its place in the list of that card's frames. */
export const DAMAGED = { card: 'afternoon-b', index: 31 } as const;

export const wallText = (ms: number): string => new Date(ms).toISOString().slice(0, 23);
const rounded = (n: number, digits = 4): number => Number(n.toFixed(digits));

export function frameTruth(numbered: NumberedExposure, boxes: Rendered['boxes'], isDamaged: boolean): TrueFrame {
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
      return box
        ? [{ rider: rider.truth.key, box: box.map((n) => rounded(n)) as unknown as typeof box, pass: exposure.pass }]
        : [];
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

export const dayTruth = (frames: readonly TrueFrame[]): DemoTruth => ({
  meeting: MEETING,
  spots: SPOTS,
  timetable: TIMETABLE,
  stands: standsOf(),
  riders: FIELD.map((r) => r.truth),
  sessions: SESSIONS.map((s) => ({ name: s.name, group: s.group, start: wallText(s.start), end: wallText(s.end) })),
  clocks: BODIES.map((b) => ({ body: bodyKeyOf(b), fastS: b.fastS })),
  frames,
});
