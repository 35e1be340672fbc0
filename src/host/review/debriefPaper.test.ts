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
    minutesFrom: i === 0 ? 'frames' : i === 1 ? 'both' : 'said',
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
      sentence: 'Bikes about 40 m away and more: sharpness −10 % an hour. It points to the air: near ones fell less.',
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
    'sharpness −10 % an hour. It points to the air',
    '1.8 (1.4–2.1)',
    '57 min by frames, perhaps more',
    '57 min as said',
    '57 min partly as said, partly by frames',
    'N21: Beacon, not gone to',
  ])
    expect(text).toContain(words);
  expect(text.split('90 of 120, few').length - 1).toBe(SPOTS.length);
});

const MANY_SPOTS = Array.from({ length: 15 }, (_, i) => `Harbour ${i + 1}`);
const MANY_GROUPS = ['Novice', 'Inters', 'Fast', 'Ladies', 'Classics', 'Guests'];
/** Fifteen spots of four shutters, six groups, 42 sessions, and more that the day shows than a page holds. */
const LARGE: Debrief = {
  ...USUAL,
  bySpot: MANY_SPOTS.map((name) => madeUpRate({ spot: spotOf(name) })),
  byGroup: MANY_GROUPS.map((group) => madeUpRate({ group })),
  byShutterAtSpot: MANY_SPOTS.flatMap((name) =>
    [1 / 512, 1 / 256, 1 / 128, 1 / 64].map((shutterS) => madeUpRate({ spot: spotOf(name), shutterS })),
  ),
  spots: MANY_SPOTS.map((name) => ({ ...USUAL.spots[0]!, spot: spotOf(name) })),
  asPlanned: Array.from({ length: 42 }, (_, i) => ({ ...USUAL.asPlanned![0]!, session: `S${i + 1}` })),
  evidence: Array.from({ length: 90 }, (_, i) => ({
    is: 'slower-untried',
    sentence: `Seen ${i + 1} of ninety: 1/125, 28 of 30 (79–98 %) held, and nothing slower was tried there, which takes two lines.`,
  })),
};

itWith(
  'pdftotext',
  'RE14: what is longer than a page goes on in the next column: none of it lies below the paper’s edge',
  async () => {
    const text = await textOf(LARGE);
    for (const { sentence } of LARGE.evidence) expect(text).toContain(sentence);
    for (const { session } of LARGE.asPlanned!) expect(text).toContain(`${session}: Beacon`);
    for (const name of MANY_SPOTS) expect(text).toContain(`By shutter, ${spotOf(name)}`);
    expect(text).toContain('What the day shows, continued');
    const boxes = run('pdftotext', ['-bbox', join(folder, 'worked.pdf'), '-']);
    const ends = [...boxes.matchAll(/<word .*yMax="([\d.]+)"/g)].map(([, yMax]) => Number(yMax));
    expect(ends.length).toBeGreaterThan(2000);
    // 842 pt of A4 less its margin.
    expect(Math.max(...ends)).toBeLessThan(842 - 24);
  },
);

itWith('pdftotext', 'RE14: a spot of one moment stands on it without a rate', async () => {
  const [first, ...others] = USUAL.spots;
  const text = await textOf({ ...USUAL, spots: [...others, { ...first!, minutes: 0.4, keepersAMinute: null }] });
  expect(text).toContain('Less than a minute there: too short to say');
  expect(text).toContain('Beacon: 100 keepers of 300 bikes sharp and whole');
});

itWith('pdftotext', 'RE14: of nothing stand the sentence and no rate', async () => {
  const text = await textOf(NOTHING_FOUND);
  expect(text).toContain('No bike was judged yet, so nothing can be said of what worked.');
  expect(text).toContain('No frame is here yet.');
  expect(text).not.toMatch(/By |NaN|\b0\b/);
});
