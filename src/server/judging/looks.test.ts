import { afterEach, describe, expect, it } from 'vitest';
import type { BikeRef } from '../../core/arrange/types.js';
import { createDesk } from '../desk.js';
import { createFakeDay, type FakeDay } from '../testing/fakeDay.js';
import type { DayView, ProblemView } from '../types.js';
import type { CloseLooksView, JudgingView } from './types.js';

const HOST = '127.0.0.1:4317';
const TOKEN = 'blue-kerb-seven';

const days: FakeDay[] = [];
afterEach(async () => {
  for (const day of days.splice(0)) await day.close();
});

const setUp = (change: (day: FakeDay) => Partial<FakeDay> = () => ({})) => {
  const made = createFakeDay({ frames: 300, riders: 12 });
  const day: FakeDay = { ...made, ...change(made) };
  days.push(day);
  const { app } = createDesk(day, { token: TOKEN, webFolder: '/nowhere' });
  const ask = (path: string, init: RequestInit = {}) =>
    app.request(`http://${HOST}${path}`, {
      headers: { host: HOST, authorization: `Bearer ${TOKEN}`, ...(init.headers as Record<string, string>) },
    });
  const looksAt = async (...bikes: readonly BikeRef[]): Promise<CloseLooksView> => {
    const names = bikes.map(({ frameId, subject }) => `${frameId}:${subject}`).join();
    return (await ask(`/api/looks?bikes=${names}`)).json() as Promise<CloseLooksView>;
  };
  return { day, ask, looksAt };
};
const problemOf = async (response: Response): Promise<string> => ((await response.json()) as ProblemView).problem;
const firstBike = (day: FakeDay): BikeRef => day.state().arrangement.passes[0]!.bikes[0]!;

describe('a close look', () => {
  it('JU17: a bike comes with its crop, its parts at one scale, and what was judged with where it can be seen', async () => {
    const { day, looksAt } = setUp();
    const bike = day.state().arrangement.passes.flatMap(({ bikes }) => bikes);
    const { looks } = await looksAt(...bike.slice(0, 20));
    expect(looks).toHaveLength(20);
    for (const { whole, parts, judgement } of looks) {
      expect(whole?.src).toMatch(/^\/pictures\/[0-9a-f]{32}\/\d+-\d+-\d+-\d+\.jpg$/);
      expect(parts.map(({ what }) => what)).toEqual(expect.arrayContaining(['helmet', 'tail']));
      expect(new Set(parts.map(({ widthPx }) => widthPx)).size).toBe(1);
      expect(judgement.kind).toBe('judged');
      if (judgement.kind !== 'judged') continue;
      expect(judgement.evidence.length).toBeGreaterThan(0);
      for (const { box } of judgement.evidence) expect(Math.min(box[2], box[3])).toBeGreaterThan(0);
    }
  });

  it('JU12: who asks has the bikes on a screen: they are judged before all others', async () => {
    const asked: BikeRef[] = [];
    const { day, looksAt } = setUp(() => ({ lookAt: (bikes) => void asked.push(...bikes) }));
    await looksAt(firstBike(day));
    expect(asked).toEqual([firstBike(day)].map(({ frameId, subject }) => ({ frameId, subject })));
  });

  it('JU14: before it is judged it waits; without its original that is said with what to do', async () => {
    const unjudged = (day: FakeDay) => {
      const state = () => ({ ...day.state(), judged: new Map(), judgements: new Map() });
      return { state, allJudged: async () => state() };
    };
    const waiting = setUp(unjudged);
    expect((await waiting.looksAt(firstBike(waiting.day))).looks[0]).toMatchObject({
      parts: [],
      judgement: { kind: 'waiting' },
    });
    const away = setUp((day) => ({ ...unjudged(day), hasCrop: async () => false }));
    const [look] = (await away.looksAt(firstBike(away.day))).looks;
    expect(look).toMatchObject({ whole: null, judgement: { kind: 'absent' } });
    expect(JSON.stringify(look)).toContain('Plug in the disk that has it');
  });

  it('JU16: what is no bike, and too many of them, are refused in a sentence', async () => {
    const { ask } = setUp();
    for (const [asked, sentence] of [
      ['../../etc/passwd:0', /Expected bikes as the 32 hex digits of a frame, a colon and a number/],
      [Array.from({ length: 61 }, () => `${'a'.repeat(32)}:0`).join(), /at most 60 bikes at once but got 61/],
    ] as const) {
      const answer = await ask(`/api/looks?bikes=${encodeURIComponent(asked)}`);
      expect(answer.status).toBe(400);
      expect(await problemOf(answer)).toMatch(sentence);
    }
    expect(await (await ask(`/api/looks?bikes=${'f'.repeat(32)}:3`)).json()).toMatchObject({
      looks: [{ whole: null, parts: [], judgement: { kind: 'absent' } }],
    });
  });
});

describe('crops over the desk', () => {
  it('JU16: a crop is a JPEG that a browser keeps for ever', async () => {
    const { day, ask, looksAt } = setUp();
    const [look] = (await looksAt(firstBike(day))).looks;
    const first = await ask(look!.whole!.src);
    expect(first.status).toBe(200);
    expect(first.headers.get('content-type')).toBe('image/jpeg');
    expect(first.headers.get('cache-control')).toContain('immutable');
    expect(new Uint8Array(await first.arrayBuffer()).subarray(0, 2)).toEqual(new Uint8Array([0xff, 0xd8]));
    const again = await ask(look!.whole!.src, { headers: { 'if-none-match': first.headers.get('etag') ?? '' } });
    expect(again.status).toBe(304);
  });

  it('JU16: nothing but a frame and a rectangle is understood, and nothing else is read', async () => {
    const { ask } = setUp();
    const frame = 'a'.repeat(32);
    for (const path of [
      `/pictures/${frame}/0-0-0-10.jpg`,
      `/pictures/${frame}/1-2-3.jpg`,
      `/pictures/${frame}/..%2F..%2Fsecret.jpg`,
      `/pictures/..%2F..%2Fmeeting/0-0-10-10.jpg`,
    ]) {
      const answer = await ask(path);
      expect([path, answer.status]).toEqual([path, 400]);
      expect(await problemOf(answer)).toMatch(/Expected the 32 hex digits of a frame and left-top-right-bottom/);
    }
    const missing = await ask(`/pictures/${frame}/0-0-10-10.jpg`);
    expect(missing.status).toBe(404);
  });

  it('JU16: who is not paired sees none', async () => {
    const { day } = setUp();
    const { app } = createDesk(day, { token: TOKEN, webFolder: '/nowhere' });
    const path = `/pictures/${firstBike(day).frameId}/0-0-100-100.jpg`;
    expect((await app.request(`http://${HOST}${path}`, { headers: { host: HOST } })).status).toBe(401);
  });
});

it('JU13: how far judging is, with what stands against it', async () => {
  const judging = { left: 12, done: 30, secondsLeft: 6, withoutOriginal: 2, heldUpBy: null };
  const { ask } = setUp((day) => ({ state: () => ({ ...day.state(), judging }) }));
  const view = (await (await ask('/api/judging')).json()) as JudgingView;
  expect(view).toMatchObject({ left: 12, done: 30, secondsLeft: 6 });
  const { lead } = (await (await ask('/api/day')).json()) as DayView;
  expect(lead[0]?.text).toMatch(/^Looked at 30 of 42 bikes in full; .*Choosing need not wait for it\./);
  expect(view.sentence).toMatch(/^2 bikes were not looked at in full, for the originals are not on this machine\./);
});
