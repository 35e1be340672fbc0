import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import type { GestureId, SpotId } from '../../core/ids.js';
import { createDesk, type Desk } from '../desk.js';
import { createFakeDay, type FakeDay } from '../testing/fakeDay.js';
import { atClock, TIMETABLE } from '../testing/madeUpDay.js';
import type { ProblemView } from '../types.js';
import type { BesideView, ReviewView } from './types.js';

const HOST = '127.0.0.1:4317';
const TOKEN = 'blue-kerb-seven';

let day: FakeDay;
let desk: Desk;
let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tyrewall-review-'));
  day = createFakeDay({ frames: 600, riders: 30 });
  desk = createDesk(day, { token: TOKEN, webFolder: '/nowhere', folder });
});
afterEach(async () => {
  await desk.close();
  await day.close();
  await rm(folder, { recursive: true });
});

const ask = (path: string, body?: string, name = 'debrief.json', from = desk) =>
  from.app.request(`http://${HOST}${path}`, {
    headers: { host: HOST, authorization: `Bearer ${TOKEN}`, 'x-file-name': name },
    ...(body === undefined ? {} : { method: 'POST', body }),
  });
const review = async (): Promise<ReviewView> => (await (await ask('/api/review')).json()) as ReviewView;
const beside = async (body: string) => (await (await ask('/api/review/beside', body)).json()) as BesideView;
const refused = async (body: string, name?: string): Promise<string> => {
  const response = await ask('/api/review/beside', body, name);
  expect(response.status).toBe(400);
  return ((await response.json()) as ProblemView).problem;
};
const kept = () => readFile(join(folder, 'made', 'debrief.json'), 'utf8');
const keptElsewhere = async (change: (rates: Rates) => void = () => undefined): Promise<string> => {
  const read = JSON.parse(await kept()) as { meeting: object; rates: Rates };
  // Of one name, as an organiser's meetings are.
  read.meeting = { ...read.meeting, id: 'another', firstDay: '2026-08-01', lastDay: '2026-08-02' };
  change(read.rates);
  return JSON.stringify(read);
};
interface Rates {
  byShutter: { of: { shutterS: number } }[];
  bySpot: { share: { share: number; from: number; to: number } }[];
}

test('RE12: a sentence says how things stand, and every rate carries its range, its count and frames that missed', async () => {
  const { headline, lead, shutters, tables, byHour } = await review();
  expect(headline).toMatch(
    /^Of \d+ bikes in the frames \d+ came out sharp and whole: \d+ in 100, and \d+ to \d+ by their range\.$/,
  );
  expect(lead).toContain('A range holds the truth 95 times in 100.');
  const rows = [...shutters, ...tables, byHour].flatMap(({ rows: own }) => own);
  expect(rows.length).toBeGreaterThan(15);
  for (const { from, share, to, hits, bikes, missed, missedWords } of rows) {
    expect(from).toBeLessThanOrEqual(share);
    expect(to).toBeGreaterThanOrEqual(share);
    expect(share).toBeCloseTo(hits / bikes, 10);
    expect(missed.length > 0).toBe(hits < bikes);
    expect(missedWords === null).toBe(hits === bikes);
  }
});

test('RE12: quickest shutter first in each spot’s panel, and the panels hold as many bikes as the spots', async () => {
  const { shutters, tables } = await review();
  expect(tables.map(({ rows }) => rows.map(({ label }) => label))).toEqual([
    ['1 Beacon', '2 Gannet', '3 Slipway', '4 Lifeboat'],
    ['Novice', 'Inters', 'Fast'],
    [],
  ]);
  const bikesOf = (rows: ReviewView['byHour']['rows']) => rows.reduce((sum, { bikes }) => sum + bikes, 0);
  expect(shutters.map(({ spot }) => spot)).toEqual(['1 Beacon', '2 Gannet', '3 Slipway', '4 Lifeboat']);
  for (const { rows } of shutters) expect(rows.map(({ label }) => label)).toEqual(['1/500', '1/125']);
  const bySpot = new Map(tables[0]!.rows.map(({ label, bikes }) => [label, bikes]));
  for (const { spot, rows } of shutters) expect(bikesOf(rows)).toBe(bySpot.get(spot));
});

test('RE12: what is not known of a bike is said in words, in no row and as no nought', async () => {
  const focal = (await review()).tables.find(({ title }) => title === 'By focal length')!;
  expect(focal.rows).toEqual([]);
  expect(focal.without).toMatch(/^Of \d+ bikes the focal length is not known: in no row here\.$/);
  const older = await kept();
  const empty = createFakeDay({ frames: 0, riders: 3 });
  const bare = createDesk(empty, { token: TOKEN, webFolder: '/nowhere', folder });
  const view = (await (await ask('/api/review', undefined, undefined, bare)).json()) as ReviewView;
  expect(view).toMatchObject({
    hasRates: false,
    kept: null,
    shows: [],
    spots: [],
    shutters: [],
    shuttersWithout: null,
  });
  expect(view.headline).toBe('No bike was judged yet, so nothing can be said of what worked.');
  expect(JSON.stringify(view)).not.toMatch(/NaN|null %/);
  expect(await kept(), 'what was kept of more stays').toBe(older);
  await bare.close();
  await empty.close();
});

test('RE12: minutes that a person said carry their initials; minutes by frames do not', async () => {
  const said = (await review()).spots;
  expect(said.length).toBeGreaterThan(2);
  for (const { minutes } of said) expect(minutes).toMatchObject({ voice: 'initialled', initials: 'RQ' });
  const unsaid = createFakeDay({ frames: 600, riders: 30, hasStands: false });
  const other = createDesk(unsaid, { token: TOKEN, webFolder: '/nowhere' });
  const { spots } = (await (await ask('/api/review', undefined, undefined, other)).json()) as ReviewView;
  for (const { minutes } of spots) {
    expect(minutes.voice).toBe('printed');
    expect(minutes.text).toMatch(/from first frame to last, perhaps more$/);
  }
  expect(spots.length).toBe(said.length);
  await other.close();
  await unsaid.close();
});

test('RE12: the plan taken stands beside where one stood', async () => {
  expect((await review()).asPlanned).toBeNull();
  const stays = ['N1', 'I1'].map((stretch, i) => ({
    photographer: 0,
    stretch,
    spot: (i === 0 ? 'beacon' : 'gannet') as SpotId,
  }));
  await day.decide('plan' as GestureId, [
    { kind: 'timetable', timetable: TIMETABLE },
    { kind: 'plan-taken', at: atClock(8), stays },
  ]);
  const rows = (await review()).asPlanned!;
  expect(rows.find(({ session }) => session === 'N1')).toMatchObject({ went: 'as planned', planned: ['1 Beacon'] });
  expect(rows.find(({ session }) => session === 'I1')).toMatchObject({ went: 'elsewhere', stood: ['1 Beacon'] });
});

test('RE12: nobody is told what to do', async () => {
  expect(JSON.stringify(await review())).not.toMatch(/\b(should|must|try|go|use|ride|avoid|next time)\b/i);
});

test('RE14: the desk gives it as a file for paper', async () => {
  const response = await ask('/api/review/paper');
  expect(response.headers.get('Content-Type')).toBe('application/pdf');
  expect(
    Buffer.from(await response.arrayBuffer())
      .subarray(0, 5)
      .toString(),
  ).toBe('%PDF-');
});

test('RE13: opening it keeps the rates in the meeting’s folder, and a folder that takes none is told in a sentence', async () => {
  expect((await review()).kept).toEqual({ is: true, sentence: expect.stringContaining('made/debrief.json') });
  expect(JSON.parse(await kept())).toMatchObject({ v: 1, meeting: { name: 'Ropewalk Track Days' } });
  const file = join(folder, 'a file');
  await writeFile(file, '');
  const other = createDesk(day, { token: TOKEN, webFolder: '/nowhere', folder: file });
  const { kept: not } = (await (await ask('/api/review', undefined, undefined, other)).json()) as ReviewView;
  expect(not).toMatchObject({
    is: false,
    sentence: expect.stringMatching(/^Expected to keep the rates in .* but .*\.$/),
  });
  await other.close();
});

test('RE13: another meeting’s file is set beside this one: alike rates lie together, and one that differs lies apart and stands first', async () => {
  await review();
  const alike = await beside(await keptElsewhere());
  expect(alike.there).toBe('Ropewalk Track Days, 2026-08-01 to 2026-08-02');
  expect(alike.here).toBe('Ropewalk Track Days, 2026-09-19');
  expect(alike.sentence).toMatch(
    /^\d+ rates can be set beside each other, and 0 of them lie apart; .* by chance alone\.$/,
  );
  for (const { rows } of alike.tables) for (const row of rows) expect(row.isApart).toBe(false);
  const changed = await beside(
    await keptElsewhere(({ bySpot }) => {
      bySpot.at(-1)!.share = { share: 0.02, from: 0.01, to: 0.03 };
    }),
  );
  const bySpot = changed.tables.find(({ title }) => title === 'By spot')!;
  expect(bySpot.rows.map(({ isApart }) => isApart)).toEqual([true, ...bySpot.rows.slice(1).map(() => false)]);
  expect(bySpot.rows[0]!.words).toMatch(/^\+\d+ to \+\d+ in 100$/);
});

test('RE13: no file of rates, this meeting’s own, and one that is far too large are refused in a sentence', async () => {
  await review();
  expect(await refused('not at all', 'holiday.txt')).toMatch(/^Expected rates .* in holiday\.txt but it is no JSON\./);
  expect(await refused('{"v":1}')).toMatch(/meeting: /);
  expect(await refused(await kept())).toContain('holds this meeting’s own');
  expect(await refused(' '.repeat(5 * 1024 ** 2))).toContain('has 5 MiB');
});
