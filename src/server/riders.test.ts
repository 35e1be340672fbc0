/** The sheet of all riders, who one bike may be, and the questions about passes. */
import { afterEach, describe, expect, it, vi } from 'vitest';
import type { Pass } from '../core/arrange/types.js';
import type { FrameId, GestureId, RiderId, RiderKey } from '../core/ids.js';
import type { Decision } from '../core/log/types.js';
import type { Subject } from '../core/measure/types.js';
import { createDesk } from './desk.js';
import { createFakeDay, type FakeDay } from './testing/fakeDay.js';
import type { LikeliestView, QuestionsView, QuestionView, RidersView, RiderView, SessionView } from './types.js';

const HOST = '127.0.0.1:4317';
const TOKEN = 'blue-kerb-seven';
const GESTURE = '019961f0-aaaa-7000-8000-000000000001' as GestureId;

const days: FakeDay[] = [];
afterEach(async () => {
  for (const day of days.splice(0)) await day.close();
});

const setUp = (options: Parameters<typeof createFakeDay>[0] = {}, as = (day: FakeDay): FakeDay => day) => {
  const made = createFakeDay({ frames: 600, riders: 24, hasDoubts: true, ...options });
  days.push(made);
  const day = as(made);
  const { app } = createDesk(day, { token: TOKEN, webFolder: '/nowhere', now: () => 0 });
  const ask = (path: string) =>
    app.request(`http://${HOST}${path}`, { headers: { host: HOST, authorization: `Bearer ${TOKEN}` } });
  const view = async <T>(path: string): Promise<T> => (await ask(path)).json() as Promise<T>;
  return { day, ask, view };
};

/** As if nobody were guessed for what is not placed. */
const withoutGuesses = (day: FakeDay): FakeDay => {
  const state = day.state();
  const unsure = new Set(state.arrangement.unsure);
  const passes = state.arrangement.passes.map(({ rival, ...pass }) =>
    unsure.has(pass.index) ? { ...pass, rider: 'nobody' as RiderKey } : { ...pass, ...(rival && { rival }) },
  );
  return { ...day, state: () => ({ ...state, arrangement: { ...state.arrangement, passes } }) };
};

const middleFrame = ({ bikes }: Pass): string => bikes[Math.floor(bikes.length / 2)]!.frameId;

type Of<K extends QuestionView['kind']> = Extract<QuestionView, { kind: K }>;
const questionsOf = async <K extends QuestionView['kind']>(
  view: <T>(path: string) => Promise<T>,
  kind: K,
): Promise<readonly Of<K>[]> => {
  const { questions } = await view<QuestionsView>('/api/questions');
  return questions.filter((one): one is Of<K> => one.kind === kind);
};

describe('all riders', () => {
  it('DK130: every rider stands once on the sheet, and no pass that is not placed makes one', async () => {
    const { view, day } = setUp();
    const { arrangement } = day.state();
    const got = await view<RidersView>('/api/riders');
    const keys = got.riders.map(({ rider }) => rider.key);
    expect([...keys].sort()).toEqual(arrangement.riders.map((rider) => rider.key).sort());
    expect(got.unplaced).toHaveLength(arrangement.unsure!.length);
    expect(got.unplaced.length).toBeGreaterThan(3);
    const placed = new Set(
      arrangement.riders.flatMap((rider) =>
        rider.passes.flatMap((index) => arrangement.passes[index]!.bikes.map((bike) => bike.frameId)),
      ),
    );
    for (const pass of got.unplaced) expect(placed.has(pass.frameId)).toBe(false);
  });

  it('DK131: colours stand with at most two neighbours, black and white never with each other', async () => {
    const { view } = setUp();
    const { colours, riders } = await view<RidersView>('/api/riders');
    expect(colours.length).toBeGreaterThan(5);
    for (const colour of colours) {
      expect(colour.neighbours.length).toBeLessThanOrEqual(2);
      expect(colour.onBikes).toBe(riders.filter((rider) => rider.bikeColours.includes(colour.name)).length);
    }
    expect(colours.find(({ name }) => name === 'black')?.neighbours).not.toContain('white');
  });

  it('DK131: a colour of the helmet is found among what is worn, beside the leathers', async () => {
    const { view } = setUp({}, (made) => {
      const state = made.state();
      const [first, ...others] = state.arrangement.riders;
      const helmetColours = [{ name: 'pink', share: 1, lab: [60, 60, 0] }] as const;
      const riders = [{ ...first!, helmetColours }, ...others];
      return { ...made, state: () => ({ ...state, arrangement: { ...state.arrangement, riders } }) };
    });
    const { colours, riders } = await view<RidersView>('/api/riders');
    const found = riders.filter(({ riderColours }) => riderColours.includes('pink'));
    expect(found).toHaveLength(1);
    expect(found[0]!.riderColours.length).toBeGreaterThan(1);
    expect(colours.find(({ name }) => name === 'pink')).toMatchObject({ onRiders: 1 });
  });

  it('DK131: a fluorescent bike is found under its own name and under the ordinary one', async () => {
    const { view } = setUp({}, (made) => {
      const state = made.state();
      const [first, ...others] = state.arrangement.riders;
      const bikeColours = [{ name: 'fluorescent orange', share: 1, lab: [66, 42, 72] }] as const;
      const riders = [{ ...first!, bikeColours }, ...others];
      return { ...made, state: () => ({ ...state, arrangement: { ...state.arrangement, riders } }) };
    });
    const { colours, riders } = await view<RidersView>('/api/riders');
    expect(riders.filter(({ bikeColours }) => bikeColours.includes('fluorescent orange'))).toEqual(
      riders.filter(({ bikeColours }) => bikeColours[0] === 'fluorescent orange' && bikeColours[1] === 'orange'),
    );
    expect(colours.find(({ name }) => name === 'fluorescent orange')).toMatchObject({
      onBikes: 1,
      neighbours: ['orange', 'red'],
    });
  });

  it('DK154: a picture that shows another bike too says so; a person beside the bike is none', async () => {
    const { ask, day } = setUp({}, (made) => {
      const state = made.state();
      const [first, second] = state.arrangement.riders.map(({ face }) => face.frameId);
      const withOne = (frameId: FrameId, what: Subject['what']) => {
        const pixels = state.pixels.get(frameId)!;
        return pixels.kind === 'measured'
          ? { ...pixels, subjects: [...pixels.subjects, { ...pixels.subjects[0]!, what }] }
          : pixels;
      };
      const pixels = new Map(state.pixels)
        .set(first!, withOne(first!, 'motorcycle'))
        .set(second!, withOne(second!, 'person'));
      return { ...made, state: () => ({ ...state, pixels }) };
    });
    const [first, second] = day.state().arrangement.riders;
    const faceOf = async (rider: typeof first) =>
      ((await (await ask(`/api/riders/${rider!.key}`)).json()) as RiderView).rider.face;
    expect((await faceOf(first)).isShared).toBe(true);
    expect((await faceOf(second)).isShared).toBeUndefined();
  });

  it('DK132: who has a pass now stands first, then every other rider once, most alike first', async () => {
    const { view, day } = setUp();
    const { arrangement } = day.state();
    const rider = arrangement.riders.find((one) => one.passes.length > 2)!;
    const frame = arrangement.passes[rider.passes[0]!]!.bikes[0]!.frameId;
    const got = await view<LikeliestView>(`/api/likeliest/${frame}`);
    expect(got.riders[0]).toMatchObject({ key: rider.key, standing: { kind: 'placed' } });
    expect(got.riders.slice(1).every((one) => one.standing.kind === 'other')).toBe(true);
    const alike = got.riders.slice(1).map((one) => one.alike);
    expect(alike).toEqual([...alike].sort((a, b) => b - a));
    expect(got.riders).toHaveLength(arrangement.riders.length);
  });

  it('DK132: of a pass that is not placed the one it is guessed to be of stands first, then who comes near', async () => {
    const { view, day } = setUp();
    const { arrangement } = day.state();
    const named = arrangement.unsure!.map((index) => arrangement.passes[index]!).filter((pass) => pass.rival);
    expect(named.length).toBeGreaterThan(3);
    for (const pass of named) {
      const { riders } = await view<LikeliestView>(`/api/likeliest/${pass.bikes[0]!.frameId}`);
      expect(riders[0]).toMatchObject({ key: pass.rider, standing: { kind: 'guessed', chance: 0.55 } });
      expect(riders[1]).toMatchObject({ key: pass.rival, standing: { kind: 'near' } });
      expect(riders.slice(2).every((one) => one.standing.kind === 'other')).toBe(true);
    }
  });

  it('DK143: a rider’s sheet shows what is not placed and may be theirs, and no other sheet does', async () => {
    const { view, day } = setUp();
    const { arrangement } = day.state();
    let shown = 0;
    for (const rider of arrangement.riders) {
      const { perhaps } = await view<RiderView>(`/api/riders/${rider.key}`);
      const wanted = arrangement.unsure!.filter((index) => {
        const pass = arrangement.passes[index]!;
        return pass.rider === rider.key || pass.rival === rider.key;
      });
      expect(perhaps.map((pass) => pass.frameId).sort()).toEqual(
        wanted.map((index) => middleFrame(arrangement.passes[index]!)).sort(),
      );
      const kinds = perhaps.map((pass) => pass.standing.kind);
      expect(kinds).toEqual([...kinds].sort());
      shown += perhaps.length;
    }
    expect(shown).toBeGreaterThan(6);
  });

  it('DK132: by looks alone the true rider is among the first three in more than three of four passes', async () => {
    const { view, day } = setUp({ frames: 1200 }, withoutGuesses);
    const { arrangement, pixels } = day.state();
    const paintOf = (frame: string) => {
      const pixel = pixels.get(frame as never);
      return pixel?.kind === 'measured' ? pixel.subjects[0]!.bikeColours.map(({ name }) => name).join(' ') : '';
    };
    let found = 0;
    for (const index of arrangement.unsure!) {
      const frame = arrangement.passes[index]!.bikes[0]!.frameId;
      const { riders, isUnplaced } = await view<LikeliestView>(`/api/likeliest/${frame}`);
      expect(isUnplaced).toBe(true);
      const first = riders.slice(0, 3).map(({ key }) => arrangement.riders.find((rider) => rider.key === key)!);
      if (first.some((rider) => paintOf(rider.face.frameId) === paintOf(frame))) found++;
    }
    expect(arrangement.unsure!.length).toBeGreaterThan(8);
    expect(found / arrangement.unsure!.length).toBeGreaterThan(0.75);
  });

  it('DK132: a frame that is not of this meeting is refused with where to go', async () => {
    const { ask } = setUp();
    const response = await ask('/api/likeliest/nowhere');
    expect(response.status).toBe(404);
    expect(((await response.json()) as { problem: string }).problem).toContain('Go back to the riders');
  });
});

describe('passes that are not sure', () => {
  it('DK133: a pass that is not placed is asked about with the likeliest riders, and never twice', async () => {
    const { view, day } = setUp();
    const before = await questionsOf(view, 'whose-pass');
    expect(before).toHaveLength(day.state().arrangement.unsure!.length);
    const asked = before[0]!;
    expect(asked.shown.length).toBeGreaterThan(3);
    await day.decide(GESTURE, [
      { kind: 'line-up', of: asked.ofPoint, shown: asked.shown.map((one) => one.point), chosen: [], unsure: [0] },
    ]);
    const after = await questionsOf(view, 'whose-pass');
    expect(after.map((one) => one.id)).not.toContain(asked.id);
    expect(after).toHaveLength(before.length - 1);
    await day.withdraw(day.said().at(-1)!.gesture);
    expect((await questionsOf(view, 'whose-pass')).map((one) => one.id)).toContain(asked.id);
  });

  it('DK134: the doubtful passes of a set are asked about together, beside one that is surer, and once', async () => {
    const { view, day } = setUp({ frames: 1500 });
    const [asked] = await questionsOf(view, 'odd-one-out');
    expect(asked).toBeDefined();
    const { shown, ofPoint, others } = asked!;
    expect(shown.every((one) => one.confidence < 1)).toBe(true);
    const files = [ofPoint, ...others, ...shown.map((one) => one.point)].map((point) => point.file);
    expect(new Set(files).size).toBe(files.length);
    await day.decide(GESTURE, [
      {
        kind: 'line-up',
        of: ofPoint,
        shown: shown.map((one) => one.point),
        chosen: shown.map((_, i) => i),
        unsure: [],
      },
    ]);
    const later = await questionsOf(view, 'odd-one-out');
    expect(later.map((one) => one.id)).not.toContain(asked!.id);
    const again = new Set(later.flatMap((one) => one.shown.map(({ point }) => point.file)));
    expect(shown.some(({ point }) => again.has(point.file))).toBe(false);
  });

  it('DK135: in a session a pass that is not placed is shown as nobody’s, and no frame is lost', async () => {
    const { view, day } = setUp();
    const { arrangement } = day.state();
    const session = arrangement.passes[arrangement.unsure![0]!]!.session;
    const got = await view<SessionView>(`/api/sessions/${session}`);
    const nobodys = got.passes.filter((pass) => pass.rider === null);
    expect(nobodys.length).toBe(arrangement.unsure!.filter((i) => arrangement.passes[i]!.session === session).length);
    const shown =
      got.passes.flatMap((pass) => pass.frames).length + got.others.reduce((sum, one) => sum + one.count, 0);
    expect(shown).toBe(arrangement.sessions[session]!.frames.length);
    expect(got.unseen).toMatchObject([{ voice: 'pencilled', text: expect.stringMatching(/^1 to 4 of /) }]);
  });

  it('DK136: a pass carries how sure it is and why, as a guess', async () => {
    const { view, day } = setUp();
    const rider = day.state().arrangement.riders.find((one) => one.passes.length > 2)!;
    const passes = async () =>
      (await view<RiderView>(`/api/riders/${rider.key}`)).sessions.flatMap((session) => session.passes);
    for (const pass of await passes()) {
      expect(pass.guess!.confidence).toBeLessThan(1);
      expect(pass.guess!.reasons).toHaveLength(1);
    }
  });

  it('DK137: who instructs is a guess with its figure until a person says so', async () => {
    const { view, day } = setUp();
    const rider = day.state().arrangement.riders.find((one) => one.isInstructor)!;
    const instructs = async () => {
      const { instructs: got, anchors } = await view<RiderView>(`/api/riders/${rider.key}`);
      return { got, point: anchors[0]! };
    };
    const { got, point } = await instructs();
    expect(got).toEqual({ kind: 'guessed', words: 'seen with 3 groups: Novice, Inters and Fast' });
    await day.decide(GESTURE, [{ kind: 'instructor', point, is: false }]);
    expect((await instructs()).got).toBeNull();
  });

  it('DK149: a picture that was barred is shown as barred wherever it stands, and no other', async () => {
    const { view, day } = setUp();
    const rider = day.state().arrangement.riders.find((one) => one.passes.length > 2)!;
    const frames = async () => {
      const { sessions } = await view<RiderView>(`/api/riders/${rider.key}`);
      return sessions.flatMap((session) => session.passes).flatMap((pass) => pass.frames);
    };
    const [, second] = await frames();
    await day.decide(GESTURE, [{ kind: 'take-down', file: second!.file }]);
    expect((await frames()).filter((frame) => frame.isBarred).map((frame) => frame.frameId)).toEqual([second!.frameId]);
  });

  it('DK159: who was settled says with how many frames, and how many have joined since', async () => {
    const { view, day } = setUp();
    const rider = day.state().arrangement.riders.find((one) => one.passes.length > 3)!;
    const sheet = () => view<RiderView>(`/api/riders/${rider.key}`);
    const before = await sheet();
    expect(before.settled).toBeNull();
    const files = before.sessions.flatMap(({ passes }) =>
      passes.flatMap(({ frames }) => frames.map(({ file }) => file)),
    );
    const id = '019961f0-bbbb-7000-8000-000000000001' as RiderId;
    await day.decide(GESTURE, [
      { kind: 'rider-minted', rider: id, points: before.anchors },
      { kind: 'settled', rider: id, files: files.slice(1) },
    ]);
    expect((await sheet()).settled).toEqual({ frames: files.length - 1, joined: 1 });
    const { said } = await view<QuestionsView>('/api/questions');
    expect(said[0]?.text).toBe(`A sheet of ${files.length - 1} frames is right`);
  });

  it('DK158: a contradiction about two riders stands with both pictures and every pair that an answer is said of', async () => {
    const { view, day } = setUp();
    const state = day.state();
    const [a, b] = state.arrangement.riders;
    const bikesOf = (rider: typeof a) => rider!.passes.map((p) => state.arrangement.passes[p]!.bikes[0]!);
    const pairs = [0, 1].map((i) => [bikesOf(a)[i]!, bikesOf(b)[i]!] as const);
    const between = { pairs, canBeOne: true };
    const contradiction = { kind: 'contradiction', id: 'c', sentence: 'Both.', worth: 60, between } as const;
    const arrangement = { ...state.arrangement, questions: [contradiction] };
    vi.spyOn(day, 'state').mockReturnValue({ ...state, arrangement });
    const { questions } = await view<QuestionsView>('/api/questions');
    const asked = questions.find((one) => one.kind === 'contradiction')!;
    expect(asked.between?.sides.map(({ code }) => code)).toEqual([a!.code, b!.code]);
    expect(asked.between?.sides.map(({ picture }) => picture.frameId)).toEqual(pairs[0]!.map(({ frameId }) => frameId));
    const fileOf = (frame: string) => state.arrangement.exposures.find((one) => one.frameId === frame)!.mainFile;
    expect(asked.between?.pairs.map((pair) => pair.map(({ file }) => file))).toEqual(
      pairs.map((pair) => pair.map(({ frameId }) => fileOf(frameId))),
    );
  });

  it('DK16: a gesture of many lines is told in one sentence', async () => {
    const { view, day } = setUp();
    const rider = day.state().arrangement.riders.find((one) => one.passes.length > 3)!;
    const { anchors } = await view<RiderView>(`/api/riders/${rider.key}`);
    const [a, b, c] = anchors;
    const same: Decision = { kind: 'same-rider', points: [a!, b!] };
    const apart: Decision = { kind: 'different-riders', points: [a!, c!] };
    const told = [
      [[same, apart], 'Pictures are another rider’s'],
      [[apart, same], 'Pictures went to another rider'],
      [[same], '2 pictures are one rider'],
      [[apart], 'These are different riders'],
      [[same, same, same], '2 pictures are one rider, and 2 more'],
    ] as const;
    for (const [i, [decisions, text]] of told.entries()) {
      await day.decide(`019961f0-aaaa-7000-8000-00000000010${i}` as GestureId, decisions);
      const [newest] = (await view<QuestionsView>('/api/questions')).said;
      expect(newest).toMatchObject({ text, canBeTakenBack: true });
    }
  });

  it('DK107: to be joined with stand first those that look the same, and nobody stands twice', async () => {
    const { view, day } = setUp();
    const [rider] = day.state().arrangement.riders.filter((one) => one.alike?.length);
    const { nearest } = await view<RiderView>(`/api/riders/${rider!.key}`);
    const keys = nearest.map((one) => one.rider.key);
    expect(keys[0]).toBe(rider!.alike![0]);
    expect(keys).not.toContain(rider!.key);
    expect(new Set(keys).size).toBe(Math.min(24, day.state().arrangement.riders.length - 1));
  });
});
