import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import type { SpotId } from '../../core/ids.js';
import type { Debrief } from '../../core/review/debrief/index.js';
import { madeUpRate, NOTHING_FOUND } from '../../core/review/debrief/testing.js';
import { wallMsOf } from '../../core/units.js';
import { itWith } from '../bringin/testing/oracles.js';
import type { DebriefOfDay } from './debriefOfDay.js';
import { debriefPaper } from './debriefPaper.js';

const folder = mkdtempSync(join(tmpdir(), 'tyrewall-worked-'));
afterAll(() => rmSync(folder, { recursive: true }));

const MADE_AT = new Date(Date.UTC(2031, 4, 17, 20));
const SPOTS = ['Beacon', 'Gannet', 'Slipway', 'Lifeboat', 'Strand', 'Coble'];
const spotOf = (name: string) => name.toLowerCase() as SpotId;
/** A usual day: six spots of three shutters, three groups, eight hours, 21 sessions. */
const USUAL: Debrief = {
  ...NOTHING_FOUND,
  exposures: 7412,
  withBike: 5903,
  keepers: 1320,
  unsure: 41,
  all: madeUpRate({}),
  bySpot: SPOTS.map((name) => madeUpRate({ spot: spotOf(name) })),
  byGroup: ['Novice', 'Inters', 'Fast'].map((group) => madeUpRate({ group })),
  byFocalLength: [madeUpRate({ focalMm: 400 })],
  byShutterAtSpot: SPOTS.flatMap((name) =>
    [1 / 512, 1 / 256, 1 / 128].map((shutterS) => madeUpRate({ spot: spotOf(name), shutterS }, shutterS > 1 / 200)),
  ),
  byHour: Array.from({ length: 8 }, (_, i) => ({ ...madeUpRate({}), hour: wallMsOf((9 + i) * 3_600_000) })),
  spots: SPOTS.map((name, i) => ({
    kind: 'measurement',
    spot: spotOf(name),
    sessions: 3,
    minutes: 57,
    minutesFrom: i === 0 ? 'frames' : 'said',
    riders: 44,
    hits: 300,
    keepers: 100,
    keepersAMinute: { rate: 1.75, from: 1.44, to: 2.13 },
  })),
  asPlanned: Array.from({ length: 21 }, (_, i) => ({
    session: `N${i + 1}`,
    group: 'Novice',
    planned: [spotOf('Beacon')],
    stood: i === 20 ? [] : [spotOf('Beacon')],
    is: i === 20 ? 'not-gone' : 'as-planned',
    hits: i === 20 ? 0 : 88,
    movedMs: null,
  })),
  shimmer: [
    {
      kind: 'measurement',
      far: { slope: -0.1, from: -0.15, to: -0.05, points: 140 },
      near: { slope: 0, from: -0.02, to: 0.02, points: 200 },
      points: 'to the air',
      evidence: [],
      sentence: 'go nearer',
    },
  ],
  evidence: [{ is: 'spots-apart', sentence: 'Coble gave 101 keepers in 56 min, Gannet 119 in 112 min.' }],
};
const found = (debrief: Debrief): DebriefOfDay => ({
  meeting: {
    id: 'm' as DebriefOfDay['meeting']['id'],
    name: 'Ropewalk',
    firstDay: '2031-05-17',
    lastDay: '2031-05-17',
  },
  spotNames: new Map(SPOTS.map((name) => [spotOf(name), name])),
  debrief,
});

const run = (program: string, args: readonly string[]): string => execFileSync(program, args, { encoding: 'utf8' });

async function textOf(debrief: Debrief): Promise<string> {
  const { pdf } = await debriefPaper(found(debrief), MADE_AT);
  const file = join(folder, 'worked.pdf');
  writeFileSync(file, pdf);
  return run('pdftotext', [file, '-']).replace(/\s+/g, ' ');
}

test('RE14: a usual day goes on one sheet of A4, and no letter is missing', async () => {
  expect(await debriefPaper(found(USUAL), MADE_AT)).toMatchObject({ pages: 1, missing: [] });
});

test('RE14: what has no room goes on over another sheet', async () => {
  const asPlanned = [...USUAL.asPlanned!, ...USUAL.asPlanned!, ...USUAL.asPlanned!, ...USUAL.asPlanned!];
  expect((await debriefPaper(found({ ...USUAL, asPlanned }), MADE_AT)).pages).toBe(2);
});

itWith('pdftotext', 'RE14: the sentence, every count and whose minutes they are stand on it', async () => {
  const text = await textOf(USUAL);
  for (const words of [
    'Of 120 bikes in the frames 90 came out sharp and whole: 75 in 100, and 66 to 82 by their range.',
    '41 bikes could not be judged and stand in no rate.',
    'Coble gave 101 keepers in 56 min',
    'By focal length',
    // e to the power of −0.1, −0.15 and −0.05, less one.
    'by −10 % (−14 to −5 %) an hour, over 140 passes. Near ones fell less',
    '1.8 (1.4–2.1)',
    '57 min by frames, perhaps more',
    '57 min as said',
    'N21: Beacon, not gone to',
  ])
    expect(text).toContain(words);
  expect(text).not.toContain('go nearer');
  expect(text.split('90 of 120, few').length - 1).toBe(SPOTS.length);
});

itWith('pdftotext', 'RE14: of nothing stand the sentence and no rate', async () => {
  const text = await textOf(NOTHING_FOUND);
  expect(text).toContain('No bike was judged yet, so nothing can be said of what worked.');
  expect(text).toContain('No frame is here yet.');
  expect(text).not.toMatch(/By |NaN|\b0\b/);
});
