import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { GestureId } from '../../core/ids.js';
import { readCircuit } from '../../core/plan/circuit/file/readCircuit.js';
import { createDesk, type Desk } from '../desk.js';
import { createFakeDay, type FakeDay } from '../testing/fakeDay.js';
import { atClock } from '../testing/madeUpDay.js';
import type { ProblemView } from '../types.js';
import type { KitView, LunchSheetView, PlanningView } from './types.js';

const HOST = '127.0.0.1:4317';
const TOKEN = 'blue-kerb-seven';
/** 13:12 at the made-up circuit. */
const LUNCH = Date.parse('2026-09-19T12:12:00Z');
const CIRCUIT = fileURLToPath(new URL('../../../demo/circuit/ebbstone.geojson', import.meta.url));

let day: FakeDay;
let desk: Desk;
beforeEach(() => {
  day = createFakeDay({ frames: 300, riders: 40 });
  desk = createDesk(day, { token: TOKEN, webFolder: '/nowhere', now: () => LUNCH });
});
afterEach(async () => {
  await desk.close();
  await day.close();
});

const ask = (path: string, body?: unknown, from = desk) =>
  from.app.request(`http://${HOST}${path}`, {
    headers: { host: HOST, authorization: `Bearer ${TOKEN}`, 'content-type': 'application/json' },
    ...(body === undefined ? {} : { method: 'POST', body: JSON.stringify(body) }),
  });
const lunch = async (): Promise<LunchSheetView> => (await (await ask('/api/lunch')).json()) as LunchSheetView;
const problem = async (response: Response) => ((await response.json()) as ProblemView).problem;
const sayCircuit = async () => {
  const { circuit } = readCircuit(await readFile(CIRCUIT, 'utf8'));
  await day.decide('circuit said' as GestureId, [{ kind: 'circuit', circuit: circuit! }]);
};
const found = async (): Promise<Extract<PlanningView, { kind: 'found' }>> => {
  await expect.poll(async () => (await lunch()).planning.kind, { timeout: 40_000 }).not.toBe('running');
  const { planning } = await lunch();
  if (planning.kind !== 'found') throw new Error(`Expected a plan but got ${JSON.stringify(planning)}`);
  return planning;
};

describe('the day at lunch, at the desk', () => {
  it('PL1230: it opens with how many are in the pictures and thin, and a range of those in none; every group has its spots', async () => {
    const view = await lunch();
    const riders = view.groups.reduce((sum, group) => sum + group.riders, 0);
    const thin = view.groups.reduce((sum, group) => sum + group.thin.length, 0);
    expect(view.headline[0]!.text).toContain(`Lunch. ${riders} riders are in the pictures; ${thin} are thin`);
    const short = view.groups.reduce((sum, { riders: all, enough }) => sum + all - enough, 0);
    expect(short).toBeGreaterThan(thin);
    expect(view.headline[0]!.text).toContain(`, ${short} have not 3 spots and 8 good frames yet`);
    expect(view.headline[1]).toMatchObject({ voice: 'pencilled', confidence: 0.95 });
    expect(view.lead.map(({ text }) => text).join(' ')).toContain('N5 goes out at 14:00, in 48 min.');
    expect(view.spots.length).toBeGreaterThan(3);
    let told = 0;
    for (const { riders: all, spots } of view.groups)
      for (const { good, unsure, missed, toCome } of spots) {
        expect(good + unsure + missed + toCome).toBe(all);
        told += good + missed;
      }
    expect(told).toBeGreaterThan(0);
  });

  it('PL1236: whom to look for carries picture, colours and why; without a plan nobody is met anywhere', async () => {
    const view = await lunch();
    expect(view.watch.length).toBeGreaterThan(3);
    for (const { rider, why, next } of view.watch) {
      expect(rider.face.frameId).toMatch(/^[0-9a-f]{32}$/);
      expect(rider.livery.words).not.toBe('');
      expect(why).toMatch(/good frame/);
      expect(next).toBeNull();
    }
    expect(view.hasPlan).toBe(false);
  });

  it('PL1232: what is missing for a plan is said before, and refused in the same words', async () => {
    const view = await lunch();
    expect(view.cannotPlan.join(' ')).toContain('circuit');
    const response = await ask('/api/lunch/plan', { date: view.date });
    expect(response.status).toBe(409);
    expect(await problem(response)).toBe(view.cannotPlan.join(' '));
  });

  it('PL1232, PL1233, PL1236: both afternoons stand side by side; taken it is the plan, taken back it is not; what was said since makes it old', async () => {
    await sayCircuit();
    const stays = ['N5', 'I5', 'F5', 'N6', 'I6', 'F6', 'N7', 'I7', 'F7'].map((stretch) => ({
      photographer: 0,
      stretch,
      spot: 'beacon',
    }));
    await ask('/api/gestures', {
      gesture: '019961f0-0000-7000-8000-0000000000a1',
      decisions: [{ kind: 'plan-taken', at: atClock(9), stays }],
    });
    const { date, watch } = await lunch();
    expect(watch.some(({ next }) => next?.spot.name === 'Beacon')).toBe(true);
    expect((await ask('/api/lunch/plan', { date })).status).toBe(202);
    const { compare, take, isTaken, isStale } = await found();
    expect([isTaken, isStale]).toEqual([false, false]);
    expect(compare.rows.map(({ kept }) => kept?.name)).toContain('Beacon');
    expect(compare.rows.some(({ kind }) => kind === 'changed')).toBe(true);
    for (const { kind, kept, found: to } of compare.rows) expect(kind === 'same').toBe(kept?.id === to?.id);
    expect(compare.gains.map(({ group }) => group?.key)).toEqual(['N', 'I', 'F']);
    expect((await lunch()).watch.some(({ nextFound }) => nextFound !== null)).toBe(true);

    await ask('/api/gestures', { gesture: '019961f0-0000-7000-8000-0000000000a2', decisions: [take] });
    expect(await found()).toMatchObject({ isTaken: true, isStale: false });
    const undone = (await (await ask('/api/undo', {})).json()) as { withdrawn: string };
    expect(undone.withdrawn).toBe('019961f0-0000-7000-8000-0000000000a2');
    expect(await found()).toMatchObject({ isTaken: false, isStale: false });

    await ask('/api/gestures', {
      gesture: '019961f0-0000-7000-8000-0000000000a3',
      decisions: [{ kind: 'slip', slip: { kind: 'late', slot: 'N5', byMs: 600_000 } }],
    });
    expect(await found()).toMatchObject({ isTaken: false, isStale: true });
    expect((await ask('/api/lunch/keep', {})).status).toBe(200);
    expect((await lunch()).planning).toEqual({ kind: 'idle' });
  }, 90_000);
});

describe('what the kit did, at the desk', () => {
  it('PL810: shutters stand with group, spot and range; each kind of record has its title; soft frames are the evidence', async () => {
    const kit = (await (await ask('/api/kit')).json()) as KitView;
    expect(kit.sharpness.length).toBeGreaterThan(3);
    for (const { shutter, sharp, frames, from, share, to, evidence } of kit.sharpness) {
      expect(shutter).toMatch(/^1\/\d+$/);
      expect(from).toBeLessThanOrEqual(share);
      expect(share).toBeLessThanOrEqual(to);
      expect(evidence.length).toBe(Math.min(6, frames - sharp));
    }
    expect(kit.others.map(({ title }) => title)).toContain('Clipped highlights');
  });

  it('PL809: a piece of a frame is served once paired, is a picture, and may be kept for ever; a wrong place is named', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'tyrewall-piece-'));
    const path = join(folder, 'sky.jpg');
    await sharp({ create: { width: 300, height: 200, channels: 3, background: '#9ab' } })
      .jpeg()
      .toFile(path);
    const here = createDesk(
      { ...day, original: () => path },
      { token: TOKEN, webFolder: '/nowhere', now: () => LUNCH },
    );
    const frame = day.state().arrangement.exposures[0]!.frameId;
    try {
      const piece = await ask(`/pictures/${frame}/spot?x=0.5&y=0.5&across=20`, undefined, here);
      expect([piece.status, piece.headers.get('content-type')]).toEqual([200, 'image/jpeg']);
      expect(piece.headers.get('cache-control')).toContain('immutable');
      const { width, height } = await sharp(Buffer.from(await piece.arrayBuffer())).metadata();
      expect([width, height]).toEqual([320, 320]);
      const wrong = await ask(`/pictures/${frame}/spot?x=1.5&y=0.5&across=20`, undefined, here);
      expect([wrong.status, await problem(wrong)]).toEqual([400, 'Expected x from 0 to 1 but got 1.5.']);
      const unpaired = await here.app.request(`http://${HOST}/pictures/${frame}/spot?x=0.5&y=0.5&across=20`, {
        headers: { host: HOST },
      });
      expect(unpaired.status).toBe(401);
    } finally {
      await here.close();
      await rm(folder, { recursive: true, force: true });
    }
  });
});
