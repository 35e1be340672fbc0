import { mkdtemp, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { buildPocketPage } from '../../test/builders/builtPocketPage.js';
import type { GestureId } from '../core/ids.js';
import { codeOfTaps, MOST_QR_LETTERS, type PocketTaps, readCode, type Tap } from '../core/plan/pocket/index.js';
import { readQr } from '../host/cards/readQr.js';
import { openOffice } from '../host/office/officeFile.js';
import { MOST_FILE_BYTES, zlibSqueezer } from '../host/pocket/index.js';
import { createDesk } from './desk.js';
import type { CarriedView, PocketView, TapsView } from './pocketTypes.js';
import { createFakeDay, type FakeDay } from './testing/fakeDay.js';
import { atClock, DAY, SPOTS } from './testing/madeUpDay.js';
import type { ProblemView } from './types.js';

const HOST = '127.0.0.1:4317';
const TOKEN = 'blue-kerb-seven';
const ADDRESS = 'https://pictures.example/pocket/';

let folder: string;
let day: FakeDay;
beforeAll(buildPocketPage, 60_000);
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tyrewall-pocket-'));
  day = createFakeDay({ frames: 600, riders: 30 });
  await day.decide('019961f0-0000-7000-8000-000000000009' as GestureId, [
    { kind: 'stood-at', spot: SPOTS[2]!.id, from: atClock(14), to: atClock(15) },
    { kind: 'stood-at', spot: SPOTS[3]!.id, from: atClock(15, 4), to: atClock(16) },
  ]);
});
afterEach(async () => {
  await day.close();
  await rm(folder, { recursive: true, force: true });
});

function setUp() {
  const { app } = createDesk(day, {
    token: TOKEN,
    webFolder: '/nowhere',
    now: () => Date.parse('2026-09-19T12:12:00Z'),
    office: openOffice(join(folder, 'office.json')),
    folder,
  });
  const request = (path: string, body?: unknown) =>
    app.request(`http://${HOST}${path}`, {
      headers: { host: HOST, authorization: `Bearer ${TOKEN}`, 'content-type': 'application/json' },
      ...(body === undefined ? {} : { method: 'POST', body: JSON.stringify(body) }),
    });
  const ask = async <T>(path: string, body?: unknown) => (await (await request(path, body)).json()) as T;
  return { request, ask };
}

async function dayIn(text: string) {
  const read = await readCode(text, zlibSqueezer);
  if (read.kind !== 'day') throw new Error(`Expected a day but got ${JSON.stringify(read)}`);
  return read.day;
}

describe('the day into the pocket', () => {
  it('PL730: without an address it says what to do; with one the code on the screen is read as the plan and its riders', async () => {
    const { request, ask } = setUp();
    const refused = await request('/api/pocket/carry', { date: DAY });
    expect([refused.status, ((await refused.json()) as ProblemView).problem]).toEqual([
      409,
      expect.stringMatching(/^Expected where the pocket page is hosted/),
    ]);
    const wrong = await request('/api/pocket/address', { address: 'http://pictures.example/' });
    expect(wrong.status).toBe(400);
    await ask('/api/pocket/address', { address: ADDRESS });
    expect((await ask<PocketView>('/api/pocket')).address).toBe(ADDRESS);

    const { code } = await ask<CarriedView>('/api/pocket/carry', { date: DAY });
    if (code.kind !== 'code') throw new Error(code.sentence);
    expect(code.text.startsWith(`${ADDRESS}#`)).toBe(true);
    expect(code.text.length).toBeLessThanOrEqual(MOST_QR_LETTERS);
    const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="800" height="800" viewBox="0 0 ${code.qr.size} ${code.qr.size}"><rect width="100%" height="100%" fill="#fff"/><path d="${code.qr.path}"/></svg>`;
    const { data, info } = await sharp(Buffer.from(svg)).removeAlpha().raw().toBuffer({ resolveWithObject: true });
    const [seen] = await readQr({ data, width: info.width, height: info.height });
    expect(seen?.text).toBe(code.text);

    const carried = await dayIn(code.text);
    expect(carried.stays.map(({ spot, fromMin }) => [spot, fromMin])).toContainEqual([SPOTS[2]!.id, 14 * 60]);
    expect(carried.watch.length).toBe(code.watched);
    expect(code.watched).toBeGreaterThan(0);
    expect(code.leftOut.join()).not.toContain('settings');
  });

  it('PL730: whoever goes along on the watch has a name of their own, once', async () => {
    const { ask } = setUp();
    await ask('/api/pocket/address', { address: ADDRESS });
    await ask('/api/pocket/carry', { date: DAY });
    const minted = () => day.said().flatMap(({ decisions }) => decisions.filter((one) => one.kind === 'rider-minted'));
    const first = minted();
    expect(first.length).toBeGreaterThan(0);
    const { code } = await ask<CarriedView>('/api/pocket/carry', { date: DAY });
    expect(minted()).toEqual(first);
    if (code.kind !== 'code') throw new Error(code.sentence);
    const tags = (await dayIn(code.text)).watch.map(({ riderTag }) => riderTag);
    const ids = first.map((one) => (one.kind === 'rider-minted' ? one.rider.replaceAll('-', '').slice(-6) : ''));
    expect(tags.length).toBeGreaterThan(0);
    for (const tag of tags) expect(ids).toContain(tag);
  });

  it('PL730: the file holds the page and the day, with small pictures; the page’s own files go where the gallery goes', async () => {
    const { request, ask } = setUp();
    const page = await (await request(`/api/pocket/page?date=${DAY}`)).text();
    expect(Buffer.byteLength(page)).toBeLessThanOrEqual(MOST_FILE_BYTES);
    const inside = /id="day">([^<]+)</.exec(page)?.[1] ?? '';
    expect((await dayIn(inside)).watch.filter(({ crop }) => crop !== undefined).length).toBeGreaterThan(0);
    const alone = await (await request(`/api/pocket/code?date=${DAY}`)).text();
    expect((await dayIn(alone)).meeting).toBe('Ropewalk Track Days');
    const { sentence } = await ask<{ sentence: string }>('/api/pocket/folder', {});
    expect(sentence).toContain('over HTTPS');
    expect((await readdir(join(folder, 'made', 'pocket'))).sort()).toEqual([
      'icon.svg',
      'index.html',
      'manifest.webmanifest',
      'worker.js',
    ]);
  });

  it('PL730: another day, and a photographer too many, are refused in a sentence', async () => {
    const { request } = setUp();
    for (const query of ['date=2026-09-21', `date=${DAY}&photographer=2`, 'date=soon']) {
      const answer = await request(`/api/pocket/page?${query}`);
      expect([answer.status, ((await answer.json()) as ProblemView).problem]).toEqual([
        400,
        expect.stringMatching(/^Expected /),
      ]);
    }
  });
});

describe('back from the phone', () => {
  const tap = { isUndone: false } as const;
  const report = (...taps: Tap[]): PocketTaps => ({ dayCheck: '0badcafe', phone: '1234abcd', eastMin: 60, taps });
  const textOf = async (taps: PocketTaps) => `tyrewall#${(await codeOfTaps(taps, zlibSqueezer)).code}\n`;
  const LATE: Tap = { ...tap, seq: 1, at: atClock(13, 5), kind: 'late', slot: 'N5', byMin: 7, plannedAt: atClock(13) };
  const RED: Tap = { ...tap, seq: 2, at: atClock(13, 9), kind: 'red-flag' };

  it('PL731: taps are shown with what follows before they are said, and said twice they are said once', async () => {
    const { ask } = setUp();
    const text = await textOf(report(LATE, RED, { ...tap, seq: 3, at: atClock(13, 10), kind: 'got', number: '27' }));
    const shown = await ask<TapsView>('/api/taps', { text });
    expect(shown.taps.map(({ text: words, is }) => [words, is])).toEqual([
      ['N5 started 7 minutes late', 'new'],
      ['Red flag at 13:09', 'new'],
      ['Got number 27 at 13:10', 'new'],
    ]);
    expect(shown.taps[0]!.follows.join(' ')).toContain('N5');
    const before = day.said().length;
    const said = await ask<TapsView>('/api/taps/say', { text });
    expect(said.taps.map(({ is }) => is)).toEqual(['said', 'said', 'said']);
    await ask('/api/taps/say', { text });
    expect(day.said().length).toBe(before + 3);
    expect(day.said().at(-3)!.decisions).toEqual([
      { kind: 'slip', slip: { kind: 'late', slot: 'N5', on: DAY, byMs: 420_000 } },
    ]);
  });

  it('PL731: a rider on the watch is named by their own words; one tap is taken back by itself', async () => {
    const { ask } = setUp();
    await ask('/api/pocket/address', { address: ADDRESS });
    const { code } = await ask<CarriedView>('/api/pocket/carry', { date: DAY });
    if (code.kind !== 'code') throw new Error(code.sentence);
    const [first] = (await dayIn(code.text)).watch;
    const text = await textOf(
      report(LATE, {
        ...tap,
        seq: 4,
        at: atClock(14, 10),
        kind: 'got',
        riderTag: first!.riderTag!,
        spot: SPOTS[2]!.id,
      }),
    );
    const { taps } = await ask<TapsView>('/api/taps/say', { text });
    expect(taps[1]!.text).toBe(`Got ${first!.words}, ${first!.code} at 14:10 from ${SPOTS[2]!.name}`);
    await ask('/api/undo', { gesture: taps[1]!.gesture });
    expect(day.said().some(({ gesture }) => gesture === taps[1]!.gesture)).toBe(false);
    expect(day.said().some(({ gesture }) => gesture === taps[0]!.gesture)).toBe(true);
  });

  it('PL731: another meeting’s taps, a day, and damage are each refused in a sentence, and nothing is said', async () => {
    const { request } = setUp();
    const before = day.said().length;
    const good = await textOf(report(LATE));
    const other = await textOf(report({ ...LATE, at: (atClock(13, 5) + 86_400_000) as Tap['at'] }));
    const codeOfADay = await (await request(`/api/pocket/code?date=${DAY}`)).text();
    for (const [text, words] of [
      [other, /one is of 2026-09-20/],
      [codeOfADay, /this is a day for it/],
      [good.slice(0, -8), /^Expected .*what|all that was tapped/],
      ['no code at all', /^Expected what was tapped on a phone/],
    ] as const)
      for (const path of ['/api/taps', '/api/taps/say']) {
        const answer = await request(path, { text });
        expect([answer.status, ((await answer.json()) as ProblemView).problem]).toEqual([
          400,
          expect.stringMatching(words),
        ]);
      }
    expect(day.said().length).toBe(before);
  });
});
