import { afterEach, describe, expect, it } from 'vitest';
import type { GestureId } from '../../core/ids.js';
import type { Decision } from '../../core/log/types.js';
import { createDesk } from '../desk.js';
import { createFakeDay, type FakeDay } from '../testing/fakeDay.js';
import type { ProblemView } from '../types.js';
import type { ChoosingView, MinutesView, RiderToChooseView, TheRestView, ToChooseFrameView } from './types.js';

const HOST = '127.0.0.1:4317';
const TOKEN = 'blue-kerb-seven';

const days: FakeDay[] = [];
afterEach(async () => {
  for (const day of days.splice(0)) await day.close();
});

function setUp(options: Parameters<typeof createFakeDay>[0] = {}) {
  const day = createFakeDay({ frames: 1200, riders: 12, untilHour: 18, ...options });
  days.push(day);
  const { app } = createDesk(day, {
    token: TOKEN,
    webFolder: '/nowhere',
    now: () => Date.parse('2026-09-19T17:00:00Z'),
  });
  const ask = (path: string) =>
    app.request(`http://${HOST}${path}`, { headers: { host: HOST, authorization: `Bearer ${TOKEN}` } });
  const view = async <T>(path: string): Promise<T> => (await ask(path)).json() as Promise<T>;
  let said = 0;
  const say = (...decisions: Decision[]) => {
    said += 1;
    return day.decide(`019961f0-aaaa-7000-8000-00000000000${said}` as GestureId, decisions);
  };
  return { day, ask, view, say };
}

const toChoose = (key: string) => `/api/choosing/riders/${encodeURIComponent(key)}`;
const framesOf = (view: RiderToChooseView): readonly ToChooseFrameView[] => view.passes.flatMap(({ frames }) => frames);
const isKept = ({ kept }: ToChooseFrameView) => kept === 'proposed' || kept === 'kept-by-person';

describe('what the desk tells of choosing', () => {
  it('CS2: every rider once, those below the least first', async () => {
    const { day, view, say } = setUp({ riders: 36 });
    await say({ kind: 'choose-rules', leastPerRider: 6 });
    const { riders, rules, keepers } = await view<ChoosingView>('/api/choosing');
    expect(rules.leastPerRider).toBe(6);
    expect(new Set(riders.map(({ key }) => key))).toEqual(
      new Set(day.state().arrangement.riders.map(({ key }) => key)),
    );
    const below = riders.map(({ isBelowLeast }) => isBelowLeast);
    expect(below).toContain(true);
    expect(below).toContain(false);
    expect(below.lastIndexOf(true)).toBeLessThan(below.indexOf(false));
    const sets = await Promise.all(riders.map(({ key }) => view<RiderToChooseView>(toChoose(key))));
    expect(sets.map(({ isBelowLeast }) => isBelowLeast)).toEqual(below);
    expect(sets.reduce((sum, set) => sum + framesOf(set).filter(isKept).length, 0)).toBe(keepers);
  });

  it('CS1: of one rider every frame once; each proposed one says why, and what was second is one of them', async () => {
    const { day, view } = setUp();
    const { riders } = await view<ChoosingView>('/api/choosing');
    let proposed = 0;
    for (const { key } of riders) {
      const set = await view<RiderToChooseView>(toChoose(key));
      const frames = framesOf(set);
      const own = day.state().arrangement.riders.find((rider) => rider.key === key)!;
      const bikes = own.passes.flatMap((index) => day.state().arrangement.passes[index]!.bikes);
      expect(frames.map(({ frameId }) => frameId).sort()).toEqual(bikes.map(({ frameId }) => frameId).sort());
      for (const pass of set.passes)
        expect([...pass.bestFirst].sort((a, b) => a - b)).toEqual(pass.frames.map((_, i) => i));
      for (const frame of frames.filter(isKept)) {
        proposed += 1;
        expect(frame.keptWhy.length).toBeGreaterThan(0);
        if (frame.second === null) continue;
        const second = frames.find(({ frameId }) => frameId === frame.second!.frameId)!;
        expect(isKept(second)).toBe(false);
        expect(frame.second.words).toMatch(
          /^Second was H\d_\d{4}\.JPG at \d\d:\d\d(, worth \d+ to the set where this is worth 100)?: .+\.$/,
        );
      }
    }
    expect(proposed).toBeGreaterThan(30);
  });

  it('CS4: keep and leave out stand in the set as a person’s word, and the word back again', async () => {
    const { day, view, say } = setUp();
    const { riders } = await view<ChoosingView>('/api/choosing');
    const path = toChoose(riders.at(-1)!.key);
    const before = framesOf(await view<RiderToChooseView>(path));
    const [gone, taken] = [before.find(isKept)!, before.find(({ kept }) => kept === null)!];
    await say(
      { kind: 'leave-out', file: gone.file, point: gone.point },
      { kind: 'keep', file: taken.file, point: taken.point },
    );
    const after = framesOf(await view<RiderToChooseView>(path));
    const keptNow = (frame: ToChooseFrameView) => after.find(({ frameId }) => frameId === frame.frameId)!.kept;
    expect([keptNow(gone), keptNow(taken)]).toEqual(['left-out', 'kept-by-person']);
    await day.withdraw('019961f0-aaaa-7000-8000-000000000001' as GestureId);
    expect(framesOf(await view<RiderToChooseView>(path)).map(({ kept }) => kept)).toEqual(
      before.map(({ kept }) => kept),
    );
  });

  it('CS3: a set that was gone through is not left, and nothing of it is anybody’s word', async () => {
    const { view, say } = setUp();
    const first = (await view<ChoosingView>('/api/choosing')).riders[0]!;
    const set = await view<RiderToChooseView>(toChoose(first.key));
    const files = framesOf(set)
      .filter(isKept)
      .map(({ file }) => file);
    await say({ kind: 'gone-through', of: set.point!, files });
    const { riders } = await view<ChoosingView>('/api/choosing');
    expect(riders.filter(({ isGone }) => isGone).map(({ key }) => key)).toEqual([first.key]);
    expect(
      framesOf(await view<RiderToChooseView>(toChoose(first.key))).some(({ kept }) => kept === 'kept-by-person'),
    ).toBe(false);
  });

  it('CS11: how long it takes is not told before it was seen', async () => {
    const { view } = setUp();
    const { time } = await view<ChoosingView>('/api/choosing');
    expect(time).toEqual({ kind: 'not-known-yet', answers: 0, wanted: expect.any(Number) });
  });

  it('CS12: so many minutes part the riders in those looked at and those as proposed', async () => {
    const { view, ask } = setUp();
    const { riders } = await view<ChoosingView>('/api/choosing');
    const { look, asProposed, seconds } = await view<MinutesView>('/api/choosing/minutes?are=1');
    expect(look.length).toBeGreaterThan(0);
    expect(asProposed.length).toBeGreaterThan(0);
    expect(seconds).toBeLessThanOrEqual(60);
    expect([...look, ...asProposed].sort()).toEqual(riders.map(({ key }) => key).sort());
    for (const are of ['', '0', '-4', 'soon', '601']) {
      const refused = await ask(`/api/choosing/minutes?are=${are}`);
      expect(refused.status).toBe(400);
      expect(((await refused.json()) as ProblemView).problem).toContain('Expected minutes from 1 to 600');
    }
  });

  it('CS12: the rest as proposed is one line for everybody who is left, with what stands in each set', async () => {
    const { view, say } = setUp();
    const { decisions, riders } = await view<TheRestView>('/api/choosing/rest');
    expect(decisions).toHaveLength(riders.length);
    await say(...decisions);
    expect((await view<ChoosingView>('/api/choosing')).riders.every(({ isGone }) => isGone)).toBe(true);
    expect((await view<TheRestView>('/api/choosing/rest')).decisions).toEqual([]);
  });

  it('CS14: a day with nobody in it has nobody to choose for, and a rider who is gone is said to be', async () => {
    const { view, ask } = setUp({ frames: 0, riders: 0 });
    expect((await view<ChoosingView>('/api/choosing')).riders).toEqual([]);
    const refused = await ask(toChoose('k-t77'));
    expect(refused.status).toBe(404);
    expect(((await refused.json()) as ProblemView).problem).toContain('No rider stands under this address any more');
  });
});
