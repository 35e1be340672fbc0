import { afterEach, describe, expect, it, vi } from 'vitest';
import type { FileId, GestureId, RiderId } from '../core/ids.js';
import { epochMsOf, wallMsOf } from '../core/units.js';
import { createDesk, type DeskOptions } from './desk.js';
import { cardUnderWay, createFakeDay, type FakeDay } from './testing/fakeDay.js';
import type {
  ActionsView,
  AgainAnswer,
  CardsView,
  DayView,
  ProblemView,
  QuestionsView,
  RiderView,
  SessionView,
  StretchView,
  UndoAnswer,
} from './types.js';
import { stretchesOf } from './views/dayLine.js';

const HOST = '127.0.0.1:4317';
const TOKEN = 'blue-kerb-seven';
const GESTURE = '019961f0-aaaa-7000-8000-000000000001' as GestureId;
/** 13:12 at the circuit, which is an hour ahead of UTC in September. */
const NOW = Date.parse('2026-09-19T12:12:00Z');

const days: FakeDay[] = [];
afterEach(async () => {
  for (const day of days.splice(0)) await day.close();
});

const setUp = (options: Parameters<typeof createFakeDay>[0] = {}, more: Partial<DeskOptions> = {}) => {
  const day = createFakeDay({ frames: 300, riders: 12, ...options });
  days.push(day);
  const { app } = createDesk(day, { token: TOKEN, webFolder: '/nowhere', now: () => NOW, ...more });
  const ask = (path: string, init: RequestInit = {}) =>
    app.request(`http://${HOST}${path}`, {
      ...init,
      headers: { host: HOST, authorization: `Bearer ${TOKEN}`, ...(init.headers as Record<string, string>) },
    });
  const view = async <T>(path: string): Promise<T> => (await ask(path)).json() as Promise<T>;
  const say = (body: unknown) =>
    ask('/api/gestures', {
      method: 'POST',
      body: JSON.stringify(body),
      headers: { 'content-type': 'application/json' },
    });
  return { day, app, ask, view, say };
};

const bodyOf = (body: unknown): RequestInit => ({
  method: 'POST',
  body: JSON.stringify(body),
  headers: { 'content-type': 'application/json' },
});

const problemOf = async (response: Response): Promise<string> => ((await response.json()) as ProblemView).problem;

describe('who may speak to the desk', () => {
  it('DK1: another name for this machine is refused with the address that is right', async () => {
    const { app } = setUp();
    const response = await app.request('http://desk.example/api/day', {
      headers: { host: 'desk.example', authorization: `Bearer ${TOKEN}` },
    });
    expect(response.status).toBe(403);
    expect(await problemOf(response)).toContain('but was asked as desk.example');
  });

  it('DK2: a page from elsewhere is refused, even with the right word', async () => {
    const { ask } = setUp();
    const response = await ask('/api/day', { headers: { origin: 'http://elsewhere.example' } });
    expect(response.status).toBe(403);
    expect(await problemOf(response)).toContain('http://elsewhere.example');
  });

  it('DK3: without the word nothing is told, and a near miss is no word', async () => {
    const { app } = setUp();
    for (const path of ['/api/day', '/api/riders/k-t1', '/api/events', '/pictures/00000000000000000000000000000000']) {
      const response = await app.request(`http://${HOST}${path}`, { headers: { host: HOST } });
      expect(response.status, path).toBe(401);
    }
    const near = await app.request(`http://${HOST}/api/day`, {
      headers: { host: HOST, authorization: `Bearer ${TOKEN}x` },
    });
    expect(near.status).toBe(401);
  });

  it('DK4: the word is exchanged once for a cookie that scripts and other sites cannot use', async () => {
    const { app } = setUp();
    const paired = await app.request(`http://${HOST}/api/pair`, {
      method: 'POST',
      headers: { host: HOST, origin: `http://${HOST}`, 'content-type': 'application/json' },
      body: JSON.stringify({ token: TOKEN }),
    });
    const cookie = paired.headers.get('set-cookie') ?? '';
    expect(cookie).toMatch(/HttpOnly/);
    expect(cookie).toMatch(/SameSite=Strict/);
    expect(cookie).not.toContain(TOKEN);
    const value = cookie.split(';')[0] ?? '';
    const day = await app.request(`http://${HOST}/api/day`, { headers: { host: HOST, cookie: value } });
    expect(day.status).toBe(200);
  });

  it('DK5: a paired browser must also say which page speaks before anything is written down', async () => {
    const { app, day } = setUp();
    const pairing = await app.request(`http://${HOST}/?token=${TOKEN}`, { headers: { host: HOST } });
    expect(pairing.status).toBe(303);
    const cookie = (pairing.headers.get('set-cookie') ?? '').split(';')[0] ?? '';
    const response = await app.request(`http://${HOST}/api/undo`, { method: 'POST', headers: { host: HOST, cookie } });
    expect(response.status).toBe(403);
    expect(day.said()).toHaveLength(1);
  });
});

describe('views', () => {
  it('DK6: the first screen counts what is there and sorts thin riders by need', async () => {
    const { view, day } = setUp({ frames: 900, riders: 40 });
    const got = await view<DayView>('/api/day');
    expect(got.asOf).toBe(day.state().asOf);
    expect(got.counts.riders).toBe(day.state().arrangement.riders.length);
    expect(got.groups.map((group) => group.group?.key)).toEqual(['N', 'I', 'F']);
    expect(got.groups.reduce((sum, group) => sum + group.thin.length, 0)).toBe(day.state().coverage.thin.length);
    for (const { thin } of got.groups)
      expect(thin.map((rider) => rider.goodFrames)).toEqual(
        [...thin.map((rider) => rider.goodFrames)].sort((a, b) => a - b),
      );
    expect(got.headline[0]?.text).toMatch(/^Lunch\. \d+ riders are in the pictures; \d+ (is|are) thin\.$/);
    expect(got.lead[0]?.text).toContain('goes out at 14:00, in 48 min');
  });

  it('DK7: every frame of the drawn day stands once in the skyline, measured or waiting', async () => {
    const { view, day } = setUp({ unmeasured: 40 });
    const { line } = await view<DayView>('/api/day');
    const sum = (counts: readonly number[]) => counts.reduce((total, count) => total + count, 0);
    expect(sum(line.waiting)).toBe(40);
    expect(sum(line.measured) + sum(line.waiting)).toBe(day.state().arrangement.exposures.length);
  });

  it('DK151: frames of no day of the meeting are told of, and neither they nor a later day move the day that is drawn', async () => {
    const { day, view } = setUp();
    const { arrangement, about } = day.state();
    const [early, late, broken, ...rest] = arrangement.exposures;
    const off = (exposure: typeof early, days: number) => ({
      ...exposure!,
      wall: wallMsOf(exposure!.wall! + days * 864e5),
    });
    const exposures = [off(early, -7), ...rest, { ...broken!, role: 'unmeasurable' as const }, off(late, 2)];
    const pixels = new Map(day.state().pixels).set(broken!.frameId, {
      kind: 'unmeasurable',
      v: 1,
      frameId: broken!.frameId,
      reason: 'Expected a whole picture but the decoder stopped.',
    });
    const state = { ...day.state(), arrangement: { ...arrangement, exposures }, pixels };
    vi.spyOn(day, 'state').mockReturnValue(state);
    const got = await view<DayView>('/api/day');
    expect(got.line.date).toBe(about.firstDay);
    expect(got.leftOut).toEqual([
      expect.stringContaining('1 frame of halden-b1 is of no day of this meeting (2026-09-19): taken on 2026-09-12'),
      expect.stringMatching(/^1 frame of halden-a1 is .* taken on 2026-09-21 .*--day 2026-09-21/),
      expect.stringMatching(/1 frame that could not be measured.*\.JPG\. Expected a whole picture/),
    ]);
    expect(got.counts).toMatchObject({ unmeasurable: 1, measured: exposures.length - 1 });
  });

  it('DK22: two bodies at two spots share a stretch of the line, and no box hides another', () => {
    const stand = (number: number, name: string, from: number, to: number) => ({
      number,
      name,
      from: wallMsOf(from),
      to: wallMsOf(to),
    });
    const stretches = stretchesOf([stand(1, 'Beacon', 0, 10), stand(2, 'Gannet', 4, 10), stand(3, 'Slipway', 12, 20)]);
    expect(stretches.map(({ spots, from, to }) => [spots.map((spot) => spot.name).join('+'), from, to])).toEqual([
      ['Beacon', 0, 4],
      ['Beacon+Gannet', 4, 10],
      ['Slipway', 12, 20],
    ]);
  });

  it('DK8: every bike of a rider stands once on the rider’s sheet', async () => {
    const { view, day } = setUp();
    const rider = day.state().arrangement.riders[3]!;
    const got = await view<RiderView>(`/api/riders/${rider.key}`);
    const frames = got.sessions.flatMap((session) =>
      session.passes.flatMap((pass) => pass.frames.map((frame) => frame.frameId)),
    );
    const truth = rider.passes.flatMap((index) =>
      day.state().arrangement.passes[index]!.bikes.map((bike) => bike.frameId),
    );
    expect([...frames].sort()).toEqual([...truth].sort());
    expect(new Set(frames).size).toBe(frames.length);
  });

  it('DK9: a rider whose key is gone is found by a frame, and otherwise the refusal says where to go', async () => {
    const { ask, day } = setUp();
    const rider = day.state().arrangement.riders[0]!;
    const found = await ask(`/api/riders/gone?frame=${rider.face.frameId}`);
    expect(((await found.json()) as RiderView).rider.key).toBe(rider.key);
    const lost = await ask('/api/riders/gone');
    expect(lost.status).toBe(404);
    expect(await problemOf(lost)).toContain('Go back to the day');
  });

  it('DK10: a session tells its passes in order of time, and what else lay between its edges', async () => {
    const { view, day } = setUp();
    const got = await view<SessionView>('/api/sessions/2');
    expect(got.name).toBe('F1');
    const starts = got.passes.map((pass) => pass.start);
    expect(starts).toEqual([...starts].sort((a, b) => a - b));
    const shown =
      got.passes.flatMap((pass) => pass.frames).length + got.others.reduce((sum, other) => sum + other.count, 0);
    expect(shown).toBe(day.state().arrangement.sessions[2]!.frames.length);
    expect(got.others).toEqual([{ role: 'divider', count: 1, why: [] }]);
  });

  it('DK11: pairs that share a rider are asked as one line-up, a lone pair as a pair', async () => {
    const { view } = setUp({ frames: 900, riders: 40 });
    const { questions } = await view<QuestionsView>('/api/questions');
    expect(questions.map((question) => question.kind).sort()).toEqual(['border', 'clock', 'line-up', 'pair']);
    const worths = questions.map((question) => question.worth);
    expect(worths).toEqual([...worths].sort((a, b) => b - a));
    const lineUp = questions.find((question) => question.kind === 'line-up')!;
    expect(lineUp.shown.length).toBeLessThanOrEqual(12);
    expect(questions.find((question) => question.kind === 'clock')!.sentence).toBe(
      'Was body H2 …\u20601245 fast by 61 min 04 s?',
    );
  });

  it('DK12: the first screen of 7,500 frames is under 200 KB on the wire', async () => {
    const { ask } = setUp({ frames: 7500, riders: 120, untilHour: 18 });
    const response = await ask('/api/day', { headers: { 'accept-encoding': 'gzip' } });
    expect(response.headers.get('content-encoding')).toBe('gzip');
    const bytes = (await response.arrayBuffer()).byteLength;
    expect(bytes).toBeGreaterThan(1000);
    expect(bytes).toBeLessThan(200_000);
  });

  it('DK13: a card’s verdict is the host’s, its copies never more read back than written', async () => {
    const { view, day } = setUp();
    day.setCards([
      cardUnderWay({ copies: [{ disk: 'first disk', bytesWritten: 10, bytesReadBack: 20 }], bytesTotal: 100 }),
      cardUnderWay({
        fill: 'b1f5c1de-0000-4000-8000-0000000000b2' as never,
        folder: 'halden-b2',
        state: 'finished',
        verdict: { kind: 'keep', sentence: 'One file is short.', missing: ['the second copy of H1_0007.JPG'] },
        troubles: ['H1_0007.JPG: expected 24,193,104 bytes, read 24,190,976.'],
      }),
    ]);
    const { cards, urgent } = await view<CardsView>('/api/cards');
    expect(cards[0]).toMatchObject({ name: 'halden-b2', verdict: 'keep', sentence: 'One file is short.' });
    expect(urgent).toEqual(['halden-b2: keep the card, and don’t format it.']);
    expect(cards[1]!.copies[0]).toEqual({ disk: 'first disk', written: 0.1, readBack: 0.1 });
    expect(cards.some((card) => card.verdict === 'format')).toBe(false);
  });
});

describe('a card in words', () => {
  it('DK152: the desk opened anew keeps what was said of a card, with when, and asks for the card where it was used since', async () => {
    const { view, day } = setUp();
    const [one, other, third] = day.state().fills.map(({ id }) => id);
    const at = epochMsOf(NOW);
    const disks = ['/m/one/Day', '/m/two/Day'];
    const lacking = '/m/one/Day and /m/two/Day are on one physical disk.';
    day.remember(one!, {
      at,
      verdict: {
        kind: 'keep',
        sentence: `Keep this card as it is. ${lacking}`,
        missing: [lacking, 'A file is short.'],
      },
      troubles: [],
      disks,
    });
    day.remember(other!, {
      at,
      verdict: { kind: 'may-be-formatted', sentence: 'All is on two disks.' },
      troubles: [],
      disks,
    });
    const { cards } = await view<CardsView>('/api/cards');
    expect(third).toBeUndefined();
    expect(cards).toMatchObject([
      {
        state: 'earlier',
        verdict: 'keep',
        sentence:
          'Said at 13:12 on 2026-09-19: one and two are on one physical disk. If the card was used since, put it in again first.',
        missing: ['A file is short.'],
      },
      { verdict: 'format', sentence: expect.stringMatching(/^Said at 13:12 on 2026-09-19: All is on two disks\./) },
    ]);
  });

  it('DK13: a card that was here already counts its files, and no bar stands empty for what was not to be copied', async () => {
    const { view, day } = setUp();
    const copies = [{ disk: '/m/one/Day', bytesWritten: 0, bytesReadBack: 0 }];
    const none = { filesTotal: 0, bytesTotal: 0, filesRead: 0, bytesRead: 0 };
    day.setCards([cardUnderWay({ ...none, copies, alreadyHere: 87, state: 'finished' })]);
    const [card] = (await view<CardsView>('/api/cards')).cards;
    expect(card).toMatchObject({ files: 87, copies: [], notes: ['All of it was here already; nothing was copied.'] });
  });

  it('DK13: disks are told apart by the shortest name that does it, and nothing is said twice', async () => {
    const { view, day } = setUp();
    const lacking = '/m/one/Day and /m/two/Day are on one physical disk.';
    day.setCards([
      cardUnderWay({
        folder: 'A1-0a1b2c3d',
        copies: ['/m/one/Day', '/m/two/Day'].map((disk) => ({ disk, bytesWritten: 1, bytesReadBack: 1 })),
        verdict: { kind: 'keep', sentence: `Keep this card as it is. ${lacking}`, missing: [lacking] },
      }),
    ]);
    const { cards } = await view<CardsView>('/api/cards');
    expect(cards[0]).toMatchObject({ name: 'A1', sentence: 'one and two are on one physical disk.', missing: [] });
    expect(cards[0]!.copies.map((copy) => copy.disk)).toEqual(['one', 'two']);
  });
});

describe('what a person says', () => {
  it('DK14: a gesture sent twice is one gesture', async () => {
    const { say, day } = setUp();
    const body = { gesture: GESTURE, decisions: [{ kind: 'boundary', at: 1, is: 'here' }] };
    expect((await say(body)).status).toBe(200);
    expect((await say(body)).status).toBe(200);
    expect(day.said().filter((one) => one.gesture === GESTURE)).toHaveLength(1);
  });

  it('DK15: nonsense is refused with the place where it stands, and nothing is written down', async () => {
    const { say, day } = setUp();
    const wrong: readonly [unknown, string][] = [
      [{ gesture: GESTURE, decisions: [{ kind: 'same-rider', points: [] }] }, 'decisions[0].points'],
      [{ gesture: 'abc', decisions: [{ kind: 'boundary', at: 1, is: 'here' }] }, 'expected a UUID of version 7'],
      [{ gesture: GESTURE, decisions: [{ kind: 'withdraw', gesture: GESTURE }] }, 'decisions[0].kind'],
      [
        {
          gesture: GESTURE,
          decisions: [
            {
              kind: 'line-up',
              of: { file: '0'.repeat(32), x: 0.5, y: 0.5 },
              shown: [{ file: '1'.repeat(32), x: 0.5, y: 0.5 }],
              chosen: [3],
              unsure: [],
            },
          ],
        },
        'chose number 3, which was not shown',
      ],
      ['not even an object', 'Nothing was written down'],
    ];
    for (const [body, words] of wrong) {
      const response = await say(body);
      expect(response.status).toBe(400);
      expect(await problemOf(response)).toContain(words);
    }
    expect(day.said()).toHaveLength(1);
  });

  it('DK16: taking back says what was taken back, and says so when nothing is left', async () => {
    const { say, ask, day } = setUp();
    await say({ gesture: GESTURE, decisions: [{ kind: 'session-is', at: 1_789_812_000_000, group: 'N' }] });
    const undo = () => ask('/api/undo', { method: 'POST' });
    expect(await (await undo()).json()).toMatchObject({
      withdrawn: GESTURE,
      sentence: expect.stringContaining('is Novice'),
    });
    for (const { gesture } of [...day.said()]) await ask('/api/undo', bodyOf({ gesture }));
    expect(await (await undo()).json()).toEqual({ withdrawn: null, sentence: 'Nothing is left to take back.' });
  });

  it('DK155: a key takes back nothing that was said before this desk was opened; named, it is taken back', async () => {
    const { ask, day } = setUp();
    await day.decide(GESTURE, [{ kind: 'session-is', at: wallMsOf(1_789_812_000_000), group: 'N' }]);
    const stands = [...day.said()];
    const answer = (await (await ask('/api/undo', { method: 'POST' })).json()) as UndoAnswer;
    expect(answer).toMatchObject({ withdrawn: null, asks: GESTURE, sentence: expect.stringContaining('is Novice') });
    expect(day.said()).toEqual(stands);
    await ask('/api/undo', bodyOf({ gesture: answer.asks }));
    expect(day.said()).toHaveLength(stands.length - 1);
    expect((await ask('/api/undo', bodyOf({ gesture: answer.asks }))).status).toBe(409);
  });

  it('DK155: what sets the day up is asked about first, also when it was said here and last', async () => {
    const { ask, say, day } = setUp({ hasStands: false });
    const timetable = { groups: [{ key: 'N', name: 'Novice' }], slots: [], slipRule: 'sliding' };
    await say({ gesture: GESTURE, decisions: [{ kind: 'timetable', timetable }] });
    expect(await (await ask('/api/undo', { method: 'POST' })).json()).toMatchObject({ withdrawn: null, asks: GESTURE });
    expect(day.said()).toHaveLength(1);
  });

  it('DK156: what was taken back stands again, the last first, until something new is said', async () => {
    const { ask, say, day } = setUp({ hasStands: false });
    const gestures = [GESTURE, GESTURE.replace(/1$/, '2') as GestureId];
    for (const gesture of gestures) await say({ gesture, decisions: [{ kind: 'boundary', at: 1, is: 'here' }] });
    const undo = () => ask('/api/undo', { method: 'POST' });
    const again = async () => (await (await ask('/api/again', { method: 'POST' })).json()) as AgainAnswer;
    await undo();
    await undo();
    expect(day.said()).toHaveLength(0);
    expect((await again()).again).toBe(gestures[0]);
    expect((await again()).again).toBe(gestures[1]);
    expect(day.said().map(({ gesture }) => gesture)).toEqual(gestures);
    await undo();
    await say({ gesture: GESTURE.replace(/1$/, '3'), decisions: [{ kind: 'boundary', at: 2, is: 'here' }] });
    expect((await again()).again).toBeNull();
    expect(day.said()).toHaveLength(2);
  });

  it('DK98: handing over is nobody’s slip of the key: it is told on the gallery’s sheet and not taken back', async () => {
    const { ask, day, view } = setUp();
    expect(await view<ActionsView>('/api/actions')).toMatchObject({ handedOver: null });
    const files = ['a1', 'a2', 'a3'].map((end) => end.padStart(32, '0') as FileId);
    await day.decide(GESTURE, [
      { kind: 'rider-minted', rider: 'r' as RiderId, points: [] },
      { kind: 'published', edition: '2026-09-19', riders: { r: files, s: files.slice(0, 1) } },
    ]);
    const refused = await ask('/api/undo', { method: 'POST' });
    expect(refused.status).toBe(409);
    expect(await problemOf(refused)).toContain('handing over came last');
    expect(await view<ActionsView>('/api/actions')).toMatchObject({
      handedOver: { edition: '2026-09-19', riders: 2, pictures: 3 },
    });
  });

  it('DK98: a frame that is kept for two riders is two keepers and one picture', async () => {
    const { day, view } = setUp();
    const state = day.state();
    const [one, other, ...rest] = [...state.keepers.byRider].filter(([, kept]) => kept.length > 0);
    const byRider = new Map([one!, [other![0], one![1]], ...rest] as typeof rest);
    vi.spyOn(day, 'state').mockReturnValue({ ...state, keepers: { ...state.keepers, byRider } });
    const { keepers, frames } = await view<ActionsView>('/api/actions');
    expect(frames).toBeGreaterThan(0);
    expect(keepers - frames).toBe(one![1].length);
  });

  it('DK94: a stretch tells who went by in it, each group’s least covered first, and its end is not in it', async () => {
    const { ask, day, view } = setUp();
    const passes = [...day.state().arrangement.passes].sort((a, b) => a.start - b.start);
    const [from, to] = [passes[3]!.start, passes[20]!.start];
    const within = passes.filter((pass) => pass.start >= from && pass.start < to);
    const stretch = await view<StretchView>(`/api/stretch?from=${from}&to=${to}`);
    expect(stretch.passes).toBe(within.length);
    const riders = stretch.groups.flatMap((group) => group.riders);
    expect(new Set(riders.map(({ rider }) => rider.key))).toEqual(new Set(within.map((pass) => pass.rider)));
    expect(riders.reduce((sum, one) => sum + one.passes, 0)).toBe(within.length);
    for (const { riders: own } of stretch.groups) {
      const good = own.map(({ rider }) => rider.goodFrames);
      expect(good).toEqual([...good].sort((a, b) => a - b));
    }
    for (const wrong of ['', '?from=5&to=5', '?from=x&to=9'])
      expect((await ask(`/api/stretch${wrong}`)).status).toBe(400);
  });

  it('DK17: a folder that is no card is refused in the host’s words', async () => {
    const { ask } = setUp();
    const response = await ask('/api/bring-in', { method: 'POST', body: JSON.stringify({ cards: ['/nothing'] }) });
    expect(response.status).toBe(409);
    expect(await problemOf(response)).toContain('“/nothing” is no folder here');
  });

  it('DK17: a card’s name is no path: the refusal says where the card of that name was', async () => {
    const { ask, day } = setUp();
    day.setCards([cardUnderWay({ card: '/m/cards/halden-a1', folder: 'halden-a1-0a1b2c3d' })]);
    const bringIn = (card: string) => ask('/api/bring-in', { method: 'POST', body: JSON.stringify({ cards: [card] }) });
    expect(await problemOf(await bringIn('halden-a1'))).toBe(
      'Expected the whole path of a card’s folder but got “halden-a1”. The card of that name came in from /m/cards/halden-a1: give that.',
    );
    const unknown = await bringIn('holiday');
    expect(unknown.status).toBe(400);
    expect(await problemOf(unknown)).toMatch(/but got “holiday”\. Give it as the computer names it/);
  });
});

describe('pictures', () => {
  it('DK18: a picture is kept by the browser under its frame’s id, and asked for again costs nothing', async () => {
    const { ask, day } = setUp();
    const frame = day.state().arrangement.riders[0]!.face.frameId;
    const first = await ask(`/pictures/${frame}`);
    expect(first.headers.get('content-type')).toBe('image/jpeg');
    expect(first.headers.get('cache-control')).toContain('immutable');
    const again = await ask(`/pictures/${frame}`, { headers: { 'if-none-match': first.headers.get('etag') ?? '' } });
    expect(again.status).toBe(304);
  });

  it('DK19: only ids of frames are looked up, so no path can be asked for', async () => {
    const { ask } = setUp();
    expect((await ask('/pictures/..%2F..%2Fetc%2Fpasswd')).status).toBe(400);
    const missing = await ask('/pictures/ffffffffffffffffffffffffffffffff');
    expect(missing.status).toBe(404);
    expect(await problemOf(missing)).toContain('No picture can be made');
  });
});

describe('long work', () => {
  it('DK20: proofs report progress and end with a sentence; a second start while they run is refused', async () => {
    let finish: (sentence: string) => void = () => undefined;
    const { ask, view } = setUp(
      {},
      {
        actions: {
          makeProofs: (report) => {
            report({ done: 3, total: 12 });
            return new Promise((resolve) => {
              finish = resolve;
            });
          },
        },
      },
    );
    expect((await ask('/api/actions/proofs', { method: 'POST' })).status).toBe(202);
    const running = await view<{ actions: { state: string; done: number; total: number }[] }>('/api/actions');
    expect(running.actions).toMatchObject([{ name: 'proofs', state: 'running', done: 3, total: 12 }]);
    expect((await ask('/api/actions/proofs', { method: 'POST' })).status).toBe(409);
    expect((await ask('/api/actions/gallery', { method: 'POST' })).status).toBe(404);
    finish('12 proofs are in made/proofs.');
    await new Promise((resolve) => setTimeout(resolve, 0));
    const done = await view<{ actions: { state: string; sentence: string }[] }>('/api/actions');
    expect(done.actions).toMatchObject([{ state: 'finished', sentence: '12 proofs are in made/proofs.' }]);
  });
});
