import { beforeAll, describe, expect, it } from 'vitest';
import { foldedOf, ORDINARY_DAY, type SyntheticDay, syntheticDay } from '../../../../demo/simulated-day/index.js';
import type { FileId, FrameId } from '../../ids.js';
import type { BikePoint, Decision } from '../../log/types.js';
import { arrange } from '../arrange.js';
import type { Arrangement, Exposure, Rider } from '../types.js';
import { perhapsWalks } from './index.js';

// Seeds that no price was set by.
const SEEDS = [31, 32, 33];
const SMALL = {
  groups: ORDINARY_DAY.groups.map((group) => ({ ...group, riders: 8 })),
  rounds: 4,
  lunchAfterRound: 2,
  hasApartFrames: true,
};

const arrangedAfter = (day: SyntheticDay, ...decisions: readonly Decision[]): Arrangement =>
  arrange({ ...day.input, log: foldedOf(decisions) });
const framesOf = ({ passes }: Arrangement): ReadonlySet<FrameId> =>
  new Set(passes.flatMap(({ bikes }) => bikes.map(({ frameId }) => frameId)));
const sessionFramesOf = ({ sessions }: Arrangement): ReadonlySet<FrameId> =>
  new Set(sessions.flatMap(({ frames }) => frames));
const exposureOf = (arrangement: Arrangement, frame: FrameId): Exposure =>
  arrangement.exposures.find(({ frameId }) => frameId === frame)!;

describe('frames kept apart from the sessions', () => {
  let days: readonly (readonly [SyntheticDay, Arrangement])[];
  beforeAll(() => {
    days = SEEDS.map((seed) => {
      const day = syntheticDay({ ...SMALL, seed });
      return [day, arrange(day.input)] as const;
    });
  }, 120_000);

  it('AR41: of simulated days no frame of the track is kept apart, and of the others most are', () => {
    const all = days.flatMap(([day, { exposures }]) =>
      exposures.map((exposure) => ({ ...exposure, is: day.apart.get(exposure.frameId) })),
    );
    const track = all.filter(({ is }) => is === undefined);
    const others = all.filter(({ is }) => is !== undefined);
    expect(track.length).toBeGreaterThan(2500);
    expect(others.length).toBe(180);
    expect(track.filter(({ apart }) => apart !== undefined)).toEqual([]);
    expect(others.filter(({ apart }) => apart !== undefined).length / others.length).toBeGreaterThan(0.75);
    expect(others.filter(({ apart, is }) => apart !== undefined && apart.is !== is)).toEqual([]);
  });

  it('AR41: a guess says how sure it is and why', () => {
    const briefing = days[0]![1].exposures.find(({ apart }) => apart?.is === 'briefing')!.apart!;
    expect(briefing.source).toMatchObject({ kind: 'guessed' });
    if (briefing.source.kind !== 'guessed') return;
    expect(briefing.source.confidence).toBeGreaterThanOrEqual(0.9);
    expect(briefing.source.reasons.join('; ')).toMatch(/people, no bike.*nobody was riding then/);
  });

  it('AR42: what is apart is in no session, at no spot and in no pass, and the day’s sessions are those it has without', () => {
    for (const [day, arrangement] of days) {
      const apart = arrangement.exposures.filter((one) => one.apart !== undefined);
      const [inPasses, inSessions] = [framesOf(arrangement), sessionFramesOf(arrangement)];
      expect(apart.length).toBeGreaterThan(30);
      expect(apart.filter(({ session, spot }) => session !== null || spot !== null)).toEqual([]);
      expect(apart.filter(({ frameId }) => inPasses.has(frameId) || inSessions.has(frameId))).toEqual([]);
      expect(arrangement.sessions.map(({ name }) => name)).toEqual(day.sessions.map(({ name }) => name));
    }
  });

  it('AR43: a person’s word stands above the guess, either way, the later above the earlier; taken back, the guess stands', () => {
    const [day, guessed] = days[0]!;
    const onTrack = guessed.exposures.find(({ role, session }) => role === 'bike' && session !== null)!;
    const apart = guessed.exposures.find((one) => one.apart?.is === 'paddock')!;
    const say = (file: FileId, is: Extract<Decision, { kind: 'apart' }>['is']): Decision => ({
      kind: 'apart',
      file,
      is,
    });
    const said = arrangedAfter(
      day,
      say(onTrack.mainFile, 'paddock'),
      say(onTrack.mainFile, 'portrait'),
      say(apart.mainFile, 'session'),
    );
    expect(exposureOf(said, onTrack.frameId)).toMatchObject({
      apart: { is: 'portrait', source: { kind: 'said' } },
      session: null,
    });
    expect(framesOf(said).has(onTrack.frameId)).toBe(false);
    expect(exposureOf(said, apart.frameId).apart).toBeUndefined();
    expect(arrangedAfter(day)).toEqual(guessed);
  });

  it('AR45: what is open is asked a walk at a time, hardly ever of the track, of no rider who was seen riding, and never again once it is said', () => {
    // Seed 52 has some of it, seed 54 a frame of the track.
    const open = [52, 54].map((seed) => {
      const day = syntheticDay({ ...SMALL, seed });
      return { day, arrangement: arrange(day.input) };
    });
    for (const { day, arrangement } of open) {
      const walks = perhapsWalks(arrangement);
      const frames = walks.flat();
      expect(frames.length).toBeGreaterThan(0);
      expect(frames.filter(({ frameId }) => day.apart.get(frameId) === undefined).length).toBeLessThanOrEqual(1);
      expect(frames.filter(({ apart }) => apart !== undefined)).toEqual([]);
      const asked = new Set(frames.map(({ frameId }) => frameId));
      const ofAsked = arrangement.passes.filter(({ bikes }) => bikes.some(({ frameId }) => asked.has(frameId)));
      const others = new Set(ofAsked.map(({ rider }) => rider));
      for (const { rider, bikes } of arrangement.passes)
        if (others.has(rider)) expect(bikes.filter(({ frameId }) => !asked.has(frameId))).toEqual([]);
    }
    const { day, arrangement } = open[0]!;
    const walks = perhapsWalks(arrangement);
    const [walk, ...rest] = walks;
    for (const is of ['portrait', 'session'] as const) {
      const after = arrangedAfter(day, ...walk!.map(({ mainFile: file }): Decision => ({ kind: 'apart', file, is })));
      expect(perhapsWalks(after).map((one) => one.map(({ frameId }) => frameId))).toEqual(
        rest.map((one) => one.map(({ frameId }) => frameId)),
      );
      const { apart } = exposureOf(after, walk![0]!.frameId);
      expect(apart?.is).toBe(is === 'session' ? undefined : is);
    }
    expect(perhapsWalks(arrangedAfter(day))).toEqual(walks);
  }, 60_000);

  it('AR44: who is in it is for a person to say; then it is in that rider’s set, and no other rider changes', () => {
    const [day, before] = days[0]!;
    const rider = before.riders.reduce((most, one) => (one.passes.length > most.passes.length ? one : most));
    const anchor = pointAt(before, day, before.passes[rider.passes[0]!]!.bikes[0]!);
    const portraits = before.exposures.filter((one) => one.apart?.is === 'portrait').slice(0, 2);
    expect(portraits).toHaveLength(2);
    const said = arrangedAfter(
      day,
      ...portraits.map(
        ({ mainFile }): Decision => ({ kind: 'same-rider', points: [anchor, { file: mainFile, x: 0.5, y: 0.45 }] }),
      ),
    );
    const after = said.riders.find(({ key }) => key === rider.key)!;
    expect(looksOf(after)).toEqual(looksOf(rider));
    const inSet = after.passes.flatMap((p) => said.passes[p]!.bikes.map(({ frameId }) => frameId));
    expect(inSet).toEqual(expect.arrayContaining(portraits.map(({ frameId }) => frameId)));
    expect(portraits.map(({ frameId }) => exposureOf(said, frameId).apart?.is)).toEqual(['portrait', 'portrait']);
    expect(after.passes).toHaveLength(rider.passes.length + 2);
    expect(said.riders).toHaveLength(before.riders.length);
    expect(setsWithout(said, after.key)).toEqual(setsWithout(before, rider.key));
  });
});

const pointAt = (
  arrangement: Arrangement,
  day: SyntheticDay,
  bike: { frameId: FrameId; subject: number },
): BikePoint => {
  const pixels = day.input.pixels.get(bike.frameId)!;
  const [left, top, width, height] = pixels.kind === 'measured' ? pixels.subjects[bike.subject]!.box : [0, 0, 1, 1];
  return { file: exposureOf(arrangement, bike.frameId).mainFile, x: left + width / 2, y: top + height / 2 };
};

const looksOf = ({ key, code, face, livery, group }: Rider) => ({ key, code, face, livery, group });

const setsWithout = ({ riders, passes }: Arrangement, key: string): readonly string[] =>
  riders
    .filter((rider) => rider.key !== key)
    .map((rider) => rider.passes.flatMap((p) => passes[p]!.bikes.map(({ frameId }) => frameId)).join(' '))
    .sort();
