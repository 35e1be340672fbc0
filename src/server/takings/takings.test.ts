/** Takings at the desk. Rules OG20 to OG28 and DK180. */
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { writeSoldDay } from '../../../test/builders/soldDay.js';
import { writeAbout } from '../../host/meeting/about.js';
import { takingsElsewhere } from '../../host/review/index.js';
import { createDesk, type Desk } from '../desk.js';
import { createFakeDay, type FakeDay } from '../testing/fakeDay.js';
import type { TakingsView } from './types.js';

const HOST = '127.0.0.1:4317';
const TOKEN = 'blue-kerb-seven';

let root: string;
let folder: string;
let day: FakeDay;
let desk: Desk;
beforeEach(async () => {
  root = await mkdtemp(join(tmpdir(), 'tyrewall-takings-'));
  folder = join(root, 'here');
  day = createFakeDay({ frames: 400, riders: 20 });
  const otherTakings = () => takingsElsewhere(join(root, 'state'), day.state().about.id);
  desk = createDesk(day, { token: TOKEN, webFolder: '/nowhere', folder, otherTakings });
});
afterEach(async () => {
  await desk.close();
  await day.close();
  await rm(root, { recursive: true });
});

const ask = (path: string) =>
  desk.app.request(`http://${HOST}${path}`, { headers: { host: HOST, authorization: `Bearer ${TOKEN}` } });
const takings = async (): Promise<TakingsView> => (await (await ask('/api/takings')).json()) as TakingsView;

it('DK180: before anything is sold it says so', async () => {
  expect(await takings()).toMatchObject({
    headline: 'Nothing is sold yet, as far as orders were fetched.',
    currencies: [],
  });
});

it('DK180: a sentence says what is left, sums lead from what came to it, and charts tell where it came from', async () => {
  await writeSoldDay(folder, day.state(), 4);
  const { headline, lead, currencies } = await takings();
  // Three days of 45 and one picture of 12, one day given back; of the 102 left a sixth is tax of 20 %.
  expect([headline, lead]).toEqual(['€85.00 is left of 4 orders.', '€147.00 came and €45.00 went back.']);
  expect(currencies[0]!.sums.map(({ amount }) => amount)).toEqual(['€147.00', '-€45.00', '-€17.00', '€85.00']);
  expect(currencies[0]!.charts.map(({ title, bars }) => [title, bars.length > 0])).toEqual(
    ['By meeting', 'By product', 'By spot', 'By session'].map((title) => [title, true]),
  );
  for (const { bars } of currencies[0]!.charts)
    expect(Math.round(bars.reduce((sum, { amount }) => sum + amount, 0) * 100)).toBe(10_200);
});

it('DK180: beside it stands what other meetings of this machine took; one that cannot be read is said', async () => {
  await writeSoldDay(folder, day.state(), 4);
  const { about, arrangement } = day.state();
  const add = async (id: string, firstDay: string) => {
    const other = join(root, id);
    const its = { ...about, id, firstDay, lastDay: firstDay } as typeof about;
    await writeSoldDay(other, { about: its, arrangement }, 1);
    await writeAbout(other, its);
    await mkdir(join(root, 'state', 'meetings', id), { recursive: true });
    await writeFile(join(root, 'state', 'meetings', id, 'disks.json'), JSON.stringify([join(root, 'gone'), other]));
  };
  await add('3e0f0000-0000-4000-8000-000000000001', '2026-08-01');
  await add('no id', '2026-08-02');
  const { currencies, apart } = await takings();
  expect(currencies[0]!.charts[0]!.bars.map(({ label, text }) => [label, text])).toEqual([
    ['Ropewalk Track Days, 2026-09-19', '€102.00'],
    ['Ropewalk Track Days, 2026-08-01', '€45.00'],
  ]);
  expect(apart).toEqual([expect.stringContaining('no id/meeting.json')]);
});

it('OG26: the accountant’s table is a file to keep, with the number of each paper', async () => {
  await writeSoldDay(folder, day.state(), 2);
  const answer = await ask('/api/takings/csv');
  expect(answer.headers.get('content-disposition')).toBe('attachment; filename="takings-2026-09-19.csv"');
  const [header, ...rows] = (await answer.text()).trim().split('\r\n');
  expect(header).toContain('reference,paper,for');
  expect(rows.map((row) => /T2026-\d+/.exec(row)?.[0])).toEqual(['T2026-2', 'T2026-4', 'T2026-5']);
});
