import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import type { HitRate } from '../core/review/debrief/index.js';
import { madeUpRate, NOTHING_FOUND } from '../core/review/debrief/testing.js';
import { wallMsOf } from '../core/units.js';
import { keepDebrief, readDebrief } from '../host/review/index.js';
import { comparedLines, debriefLines } from './debriefLines.js';

const root = mkdtempSync(join(tmpdir(), 'tyrewall-debrief-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

const spotName = (spot: string): string => (spot === 's1' ? 'Beacon' : spot);

test('RE11: a meeting of which nothing was judged says so in a sentence, and no table stands empty', () => {
  expect(debriefLines(NOTHING_FOUND, spotName)).toEqual([
    '0 frames, 0 with a bike, 0 keepers',
    'No bike was judged yet: nothing is said of what worked',
  ]);
});

test('rates stand with their range, few ones say so, and crossed ones of few passes are counted, not listed', () => {
  const spot = 's1' as HitRate['of']['spot'] & string;
  const lines = debriefLines(
    {
      ...NOTHING_FOUND,
      all: madeUpRate({}),
      bySpot: [madeUpRate({ spot }, true)],
      crossed: [
        madeUpRate({ spot, group: 'N', focalMm: 200, shutterS: 1 / 250 }),
        madeUpRate({ spot, group: 'F' }, true),
      ],
      asPlanned: [
        {
          session: 'N1',
          group: 'N',
          planned: [spot],
          stood: [],
          is: 'not-gone',
          hits: 0,
          movedMs: (7 * 60_000) as never,
        },
      ],
      byHour: [{ ...madeUpRate({}), hour: wallMsOf(10 * 3_600_000) }],
    },
    spotName,
  );
  expect(lines).toContain('Sharp and whole: 75 % (66–82 %), 90 of 120 in 40 passes; 24 soft, 6 cut');
  expect(lines).toContain('  Beacon                    75 % (66–82 %), 90 of 120 in 4 passes, few; 24 soft, 6 cut');
  expect(lines).toContain('  Beacon, N, about 200 mm, 1/250  75 % (66–82 %), 90 of 120 in 40 passes; 24 soft, 6 cut');
  expect(lines).toContain('  1 more of fewer than ten passes each; --json has them');
  expect(lines).toContain('  N1     not gone to: Beacon planned, nowhere stood; 0 sharp and whole, moved by 7 min');
  expect(lines).toContain('  10:00  75 % (66–82 %), 90 of 120 in 40 passes; 24 soft, 6 cut');
});

test('RE10: beside another meeting only what lies apart is listed, with how many would by chance', () => {
  const row = (isApart: boolean) => ({
    before: madeUpRate({ group: 'N' }),
    after: madeUpRate({ group: isApart ? 'N' : 'F' }),
    difference: { difference: 0.2, from: 0.1, to: 0.3 },
    isApart,
  });
  const tables = { byShutter: [], bySpot: [], byGroup: [row(true), row(false)], byFocalLength: [], crossed: [] };
  expect(comparedLines('May', { all: null, tables, apartByChance: 0 }, spotName)).toEqual([
    '',
    'Beside May',
    '  2 rates can be compared, 1 lie apart; about 0 would by chance alone',
    '  N: 75 % then, 75 % now (+10 to +30 points)',
  ]);
});

test('a file that is no debrief, and a folder without one, are named with what to do', async () => {
  const path = join(root, 'debrief.json');
  writeFileSync(path, '{"v":1,"meeting":{"id":"x"}}');
  await expect(readDebrief(path)).rejects.toThrow(
    /^Expected rates as tyrewall debrief keeps them in .*debrief\.json but meeting\.name: .*Run it for that meeting again/,
  );
  writeFileSync(path, 'no');
  await expect(readDebrief(path)).rejects.toThrow(/but it is no JSON\./);
  await expect(readDebrief(root)).rejects.toThrow(
    /there are none to read\. Run tyrewall debrief for that meeting once/,
  );
});

test('of nothing nothing is kept: what an older file knows stays', async () => {
  const folder = join(root, 'nothing judged');
  const nothing = {
    meeting: { id: 'm' as never, name: 'May', firstDay: '2031-05-01', lastDay: '2031-05-01' },
    spotNames: new Map(),
  };
  expect(await keepDebrief(folder, { ...nothing, debrief: { ...NOTHING_FOUND, all: madeUpRate({}) } })).toBe(true);
  expect(await keepDebrief(folder, { ...nothing, debrief: NOTHING_FOUND })).toBe(false);
  expect((await readDebrief(folder)).rates.all).toEqual(madeUpRate({}));
});

test('rates that were kept are read again as they were, by folder or by file, without the pictures of that meeting', async () => {
  const folder = join(root, 'meeting');
  mkdirSync(folder);
  const shown = { ...madeUpRate({ shutterS: 1 / 250 }), evidence: [{ frameId: 'f' as never, look: null }] };
  await keepDebrief(folder, {
    meeting: { id: 'm' as never, name: 'May', firstDay: '2031-05-01', lastDay: '2031-05-01' },
    spotNames: new Map([['s1' as never, 'Beacon']]),
    debrief: { ...NOTHING_FOUND, all: shown, byShutter: [shown] },
  });
  for (const place of [folder, join(folder, 'made', 'debrief.json')]) {
    const { meeting, rates, spotName: nameOf } = await readDebrief(place);
    expect([meeting, nameOf('s1' as never), nameOf('s2' as never)]).toEqual(['May, 2031-05-01', 'Beacon', 's2']);
    expect(rates.byShutter).toEqual([madeUpRate({ shutterS: 1 / 250 })]);
  }
});
