/** A day small enough to be made into a gallery in a test: riders, two spots, sessions, and the files behind them. */
import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import type { Fill } from '../../src/core/bringin/types.js';
import { chooseKeepers } from '../../src/core/choose/index.js';
import { cover } from '../../src/core/cover/index.js';
import type { MeetingId } from '../../src/core/ids.js';
import type { Decision } from '../../src/core/log/types.js';
import type { ColourName } from '../../src/core/measure/types.js';
import type { EpochMs } from '../../src/core/units.js';
import type { MeetingAbout } from '../../src/host/meeting/types.js';
import { buildDay, logOf, type PassSpec, type RiderSpec } from './arrangement.js';
import { drawPicture } from './pictures.js';

const SESSIONS = [
  { name: 'N1', group: 'N', start: '09:00', end: '09:18' },
  { name: 'F1', group: 'F', start: '09:20', end: '09:38' },
  { name: 'N2', group: 'N', start: '10:00', end: '10:18' },
  { name: 'F2', group: 'F', start: '10:20', end: '10:38' },
  { name: 'N3', group: 'N', start: '11:00', end: '11:18' },
] as const;
const COLOURS: readonly ColourName[] = ['orange', 'black', 'blue', 'red', 'yellow', 'green'];
const PAINT: Readonly<Record<string, string>> = {
  orange: '#ee7f1c',
  black: '#1a1b1d',
  blue: '#2347c9',
  red: '#c8201c',
  yellow: '#f0ce22',
  green: '#16994f',
};

export const GALLERY_ABOUT: MeetingAbout = {
  id: '00000000-0000-4000-8000-00000000000b' as MeetingId,
  format: 1,
  name: 'Ebbstone',
  firstDay: '2026-09-19',
  lastDay: '2026-09-19',
  zone: 'Europe/London',
  spots: [
    { id: 'beacon', number: 1, name: 'Beacon' },
    { id: 'gannet', number: 2, name: 'Gannet' },
    { id: 'strand', number: 3, name: 'Strand' },
  ],
  creator: 'R. Quill',
};

export interface GalleryDaySpec {
  readonly riders?: number;
  readonly decisions?: readonly Decision[];
  /** More about single riders, `r0`, `r1`, …: ids, numbers. */
  readonly about?: Readonly<Record<string, RiderSpec>>;
  /** Another rider's name for a rider's passes, as after a merge. */
  readonly sameAs?: Readonly<Record<string, string>>;
}

/** Every rider goes out in two sessions, one pass of two frames each; no file is needed for it. */
export function galleryDay({ riders = 6, decisions = [], about = {}, sameAs = {} }: GalleryDaySpec = {}) {
  const passes: PassSpec[] = [];
  const specs: Record<string, RiderSpec> = {};
  for (let i = 0; i < riders; i++) {
    const name = `r${i}`;
    const colour = COLOURS[i % COLOURS.length]!;
    const number = i % 3 === 0 ? { number: String(7 + i) } : {};
    specs[name] = { colours: [colour], livery: `${colour}, white leathers`, ...number, ...about[name] };
    for (const [half, spot] of [
      [0, 'beacon'],
      [1, 'gannet'],
    ] as const) {
      const session = (i % 2) + half * 2;
      const second = String((i * 4) % 60).padStart(2, '0');
      const at = `${9 + half}:${String((i % 2) * 20 + 3 + Math.floor((i * 4) / 60)).padStart(2, '0')}:${second}`;
      passes.push({ rider: sameAs[name] ?? name, session, spot, at, frames: [{ sharp: 1 }, { sharp: 0.9 }] });
    }
  }
  const day = buildDay({ sessions: SESSIONS, passes, riders: specs });
  const log = logOf(decisions);
  const coverage = cover({ ...day, stands: [], spots: [], timetable: null, entries: null, now: null });
  const keepers = chooseKeepers({ ...day, coverage, log });
  const timetable = {
    groups: [
      { key: 'N', name: 'Novice' },
      { key: 'F', name: 'Fast' },
    ],
    slots: [],
    slipRule: 'sliding',
  } as const;
  const fills: readonly Fill[] = [
    { id: day.arrangement.exposures[0]!.fill, folder: 'a1', firstBroughtIn: 0 as EpochMs, files: [], generations: 1 },
  ];
  return { ...day, coverage, keepers, log, timetable, fills, about: GALLERY_ABOUT };
}

/** Draws the files of a day under `cards/a1`. */
export async function drawDay(day: ReturnType<typeof galleryDay>, meetingFolder: string): Promise<void> {
  await mkdir(join(meetingFolder, 'cards/a1/DCIM/100INVEN'), { recursive: true });
  const riderOf = new Map(
    day.arrangement.passes.flatMap((pass) => pass.bikes.map((bike) => [bike.frameId, pass.rider])),
  );
  for (const exposure of day.arrangement.exposures) {
    const rider = day.arrangement.riders.find((one) => one.key === riderOf.get(exposure.frameId));
    await drawPicture(join(meetingFolder, 'cards/a1', exposure.path), {
      bike: PAINT[rider?.mainColours[0] ?? 'black']!,
    });
  }
}
