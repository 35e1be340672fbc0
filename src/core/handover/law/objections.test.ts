/** What was taken down does not come back: over random answers, another measuring, cards brought in later and new editions. */
import { describe, expect, it } from 'vitest';
import { foldedOf, hardDay, ORDINARY_DAY, syntheticDay } from '../../../../demo/simulated-day/index.js';
import { arrange } from '../../arrange/index.js';
import type { ArrangeInput, Arrangement, BikeRef, Pass, Rider } from '../../arrange/types.js';
import type { Keepers } from '../../choose/types.js';
import { takedownsOf } from '../../finish/index.js';
import type { FileId, FrameId, GestureId, PersonId, RiderId, WriterId } from '../../ids.js';
import { fold } from '../../log/index.js';
import type { BikePoint, Decision, LogLine } from '../../log/types.js';
import type { FrameMeasurement } from '../../measure/types.js';
import { type Random, seededRandom } from '../../numeric/random.js';
import { type GalleryInput, planGallery } from '../planGallery.js';
import { mayBeNamed } from './naming.js';
import { planTakeDown, type ToTakeDown } from './planTakeDown.js';

const DAY = syntheticDay({
  ...hardDay('s50', 5),
  groups: ORDINARY_DAY.groups.slice(0, 2).map((group) => ({ ...group, riders: 8 })),
  rounds: 3,
  lunchAfterRound: 2,
  instructors: 0,
});
const START = arrange(DAY.input);
const idOf = (kind: string, what: string): string => `${kind} ${what}`;

/** Every bike of every rider is a keeper: whatever could be shown is. */
function edition(name: string, arrangement: Arrangement, input: ArrangeInput) {
  const keepersOf = (rider: Rider) =>
    rider.passes.flatMap((pass) => arrangement.passes[pass]!.bikes).map((bike) => ({ rider: rider.key, bike }));
  const byRider = new Map(arrangement.riders.map((rider) => [rider.key, keepersOf(rider)]));
  const size = { widthPx: 1400, heightPx: 933 };
  return planGallery({
    edition: name,
    about: { name: 'Ebbstone', firstDay: '2026-09-19', lastDay: '2026-09-19', spots: [] },
    contact: null,
    timetable: null,
    arrangement,
    keepers: { byRider } as unknown as Keepers,
    pixels: input.pixels,
    log: input.log,
    proofs: new Map(arrangement.exposures.map(({ frameId }) => [frameId, size])),
    publicIdOf: idOf,
    mint: (face: string) => `minted ${face}` as RiderId,
  } as unknown as GalleryInput);
}
const shownIn = (plan: ReturnType<typeof edition>): ReadonlySet<FrameId> =>
  new Set(plan.gallery.riders.flatMap(({ pictures }) => pictures.map(({ frameId }) => frameId)));

const mainFile = new Map(START.exposures.map((exposure) => [exposure.frameId, exposure.mainFile]));
function pointAt({ frameId, subject }: BikeRef): BikePoint {
  const frame = DAY.input.pixels.get(frameId);
  if (frame?.kind !== 'measured') throw new Error('Expected a measured frame in a simulated day.');
  const [left, top, width, height] = frame.subjects[subject]!.box;
  return { file: mainFile.get(frameId)!, x: left + width / 2, y: top + height / 2, box: [left, top, width, height] };
}

/** Merges and splits of any riders, the one who asked more often than others. */
function anyAnswer(random: Random, passes: readonly Pass[], own: readonly BikeRef[]): Decision {
  const anyBike = (): BikeRef => random.oneOf(random.oneOf(passes).bikes);
  const first = pointAt(random.chance(0.6) ? random.oneOf(own) : anyBike());
  const others = Array.from({ length: 4 }, () => pointAt(random.chance(0.3) ? random.oneOf(own) : anyBike()));
  return random.oneOf<Decision>([
    { kind: 'same-rider', points: [first, others[0]!] },
    { kind: 'different-riders', points: [first, others[0]!] },
    { kind: 'line-up', of: first, shown: others, chosen: random.chance(0.5) ? [0, 1] : [], unsure: [] },
    { kind: 'rider-is', point: first, number: String(random.integer(1, 12)) },
  ]);
}

/** Boxes a little elsewhere, subjects in another order: as a newer measurer might find them. */
const measuredAgain = (pixels: ReadonlyMap<FrameId, FrameMeasurement>): ReadonlyMap<FrameId, FrameMeasurement> =>
  new Map(
    [...pixels].map(([frame, measured]) => [
      frame,
      measured.kind === 'measured'
        ? {
            ...measured,
            subjects: [...measured.subjects]
              .reverse()
              .map((one) => ({ ...one, box: [one.box[0], one.box[1], one.box[2] * 0.98, one.box[3]] as const })),
          }
        : measured,
    ]),
  ) as ReadonlyMap<FrameId, FrameMeasurement>;

const withLog = (decisions: readonly Decision[], input: ArrangeInput = DAY.input): ArrangeInput => ({
  ...input,
  log: foldedOf(decisions),
});
const mint = () => 'asked' as RiderId;
const planFor = (what: ToTakeDown, decisions: readonly Decision[], arrangement: Arrangement, input = DAY.input) =>
  planTakeDown(what, { arrangement, pixels: input.pixels, log: foldedOf(decisions), mint });

describe('LW9: what was taken down', () => {
  it('stays away whatever is said, measured and published after, while others are shown', () => {
    let looked = 0;
    for (let seed = 1; seed <= 4; seed++) {
      const random = seededRandom(seed);
      const isPublishedBefore = seed % 2 === 0;
      const before: Decision[] = isPublishedBefore ? [...edition('first', START, DAY.input).decisions] : [];
      const arranged = arrange(withLog(before));
      const rider = random.oneOf(arranged.riders.filter(({ passes }) => passes.length >= 3));
      const own = rider.passes.flatMap((pass) => arranged.passes[pass]!.bikes);
      const plan = planFor({ kind: 'rider', rider: rider.key }, before, arranged);
      const down = new Set(plan.frames);
      expect(own.every(({ frameId }) => down.has(frameId))).toBe(true);
      const decisions: Decision[] = [...before, ...plan.decisions];
      let pixels = DAY.input.pixels;
      for (let round = 0; round < 4; round++) {
        for (let i = 0; i < 3; i++) decisions.push(anyAnswer(random, arranged.passes, own));
        if (round === 2) pixels = measuredAgain(pixels);
        const input = withLog(decisions, { ...DAY.input, pixels });
        const next = edition(`edition-${round}`, arrange(input), input);
        const shown = shownIn(next);
        expect([...down].filter((frame) => shown.has(frame))).toEqual([]);
        expect(next.gallery.riders.map(({ id }) => id)).not.toContain(rider.id ?? 'asked');
        expect(shown.size).toBeGreaterThan(0);
        looked += shown.size;
        decisions.push(...next.decisions);
      }
    }
    expect(looked).toBeGreaterThan(300);
  }, 120_000);

  it('follows the rider to cards brought in later', () => {
    const half = Math.floor(DAY.input.files.length / 2);
    const morning = { ...DAY.input, files: DAY.input.files.slice(0, half) };
    const arranged = arrange(morning);
    const rider = arranged.riders.reduce((most, one) => (one.passes.length > most.passes.length ? one : most));
    const plan = planFor({ kind: 'rider', rider: rider.key }, [], arranged, morning);
    const input = withLog(plan.decisions);
    const whole = arrange(input);
    const again = whole.riders.find(({ id }) => id === 'asked');
    const frames = again!.passes.flatMap((pass) => whole.passes[pass]!.bikes.map(({ frameId }) => frameId));
    const later = frames.filter((frame) => !plan.frames.includes(frame));
    expect(later.length).toBeGreaterThan(0);
    const shown = shownIn(edition('evening', whole, input));
    expect(later.filter((frame) => shown.has(frame))).toEqual([]);
  });

  it('is taken down by every id the rider goes by', () => {
    const [first, ...others] = START.riders;
    const merged = { ...first!, id: 'id-0' as RiderId, aliases: ['id-1' as RiderId] };
    const arranged = { ...START, riders: [merged, ...others] };
    const plan = planFor({ kind: 'rider', rider: merged.key }, [], arranged);
    const ids = plan.decisions.flatMap((said) => (said.kind === 'take-down' && said.rider ? [said.rider] : []));
    expect(ids).toEqual(['id-0', 'id-1']);
  });

  it('by person: bikes named later are down at once, and the number of their entry is theirs', () => {
    const person = 'person-1' as PersonId;
    const plan = planFor({ kind: 'person', person }, [], START);
    expect(plan.decisions).toEqual([{ kind: 'take-down', person }]);
    const rider = START.riders.find(({ passes }) => passes.length >= 3)!;
    const alone = rider.passes.flatMap((pass) => START.passes[pass]!.bikes);
    const named = alone.slice(0, 2).map((bike): Decision => ({ kind: 'rider-is', point: pointAt(bike), person }));
    const input = withLog([...plan.decisions, ...named]);
    const arranged = arrange(input);
    const shown = shownIn(edition('named', arranged, input));
    const theirs = arranged.riders.filter(({ key }) => takedownsOf(arranged, input.log).riders.has(key));
    expect(theirs.length).toBeGreaterThan(0);
    expect(alone.slice(0, 2).filter(({ frameId }) => shown.has(frameId))).toEqual([]);

    const entries: Decision = { kind: 'entries', entries: [{ event: '', class: 'N', number: '412', person }] };
    const numbered: Decision = { kind: 'rider-is', point: pointAt(alone[0]!), number: '412' };
    const byNumber = withLog([entries, numbered, ...plan.decisions]);
    const takedowns = takedownsOf(arrange(byNumber), byNumber.log);
    expect(takedowns.frames.has(alone[0]!.frameId)).toBe(true);
  });

  it('says which of the frames show another rider too', () => {
    const counts = new Map<FrameId, Set<string>>();
    for (const pass of START.passes)
      for (const { frameId } of pass.bikes) counts.set(frameId, (counts.get(frameId) ?? new Set()).add(pass.rider));
    const shared = [...counts].find(([, riders]) => riders.size > 1);
    if (!shared) throw new Error('Expected a frame with two riders in the simulated day.');
    const [frame, riders] = shared;
    const plan = planFor({ kind: 'rider', rider: [...riders][0] as Rider['key'] }, [], START);
    expect(plan.shared).toContain(frame);
    expect(plan.shared.every((one) => (counts.get(one)?.size ?? 0) > 1)).toBe(true);
  });

  it('and nothing is said where nothing is known', () => {
    expect(planFor({ kind: 'frames', frames: ['gone' as FrameId] }, [], START).decisions).toEqual([]);
    expect(planFor({ kind: 'rider', rider: 'nobody' as Rider['key'] }, [], START).decisions).toEqual([]);
  });
});

describe('frames held back, and minors', () => {
  const rider = START.riders.find(({ passes }) => passes.length >= 3)!;
  const own = rider.passes.flatMap((pass) => START.passes[pass]!.bikes.map(({ frameId }) => frameId));
  const file = mainFile.get(own[0]!) as FileId;
  const shownWith = (...decisions: Decision[]) => {
    const input = withLog(decisions);
    return shownIn(edition('one', arrange(input), input));
  };

  it('LW17: a held frame is shown nowhere until a person releases it', () => {
    const held: Decision = { kind: 'held', file };
    expect(shownWith(held).has(own[0]!)).toBe(false);
    expect(takedownsOf(START, foldedOf([held])).held).toEqual(new Set([own[0]!]));
    expect(shownWith(held, { kind: 'released', file }).has(own[0]!)).toBe(true);
    expect(shownWith(held, { kind: 'released', file }, held).has(own[0]!)).toBe(false);
  });

  it('LW17: of held and released said at once on two laptops held stands, until one has seen the other', () => {
    const lineOf = (writer: string, seq: number, lamport: number, decision: Decision): LogLine => ({
      writer: writer as WriterId,
      seq,
      v: 1,
      lamport,
      gesture: `${writer}-${seq}` as GestureId,
      at: 0 as LogLine['at'],
      decision,
    });
    const held = lineOf('a', 1, 1, { kind: 'held', file });
    const released = lineOf('b', 1, 2, { kind: 'released', file });
    const seen = lineOf('b', 2, 3, { kind: 'seen', writers: { a: 1 } });
    const after = lineOf('b', 3, 4, { kind: 'released', file });
    const isHeldIn = (...lines: LogLine[]) => takedownsOf(START, fold(lines)).held.has(own[0]!);
    expect(isHeldIn(held, released)).toBe(true);
    expect(isHeldIn(held, released, seen, after)).toBe(false);
  });

  const points = rider.passes.map((pass) => pointAt(START.passes[pass]!.bikes[0]!));
  const minted: Decision = { kind: 'rider-minted', rider: 'young' as RiderId, points };
  const minor = (is: 'without-consent' | 'with-consent' | 'of-age'): Decision => ({
    kind: 'minor',
    rider: 'young' as RiderId,
    is,
  });

  it('LW15: a minor without a parent’s consent is shown nowhere; with it, or of age after all, they are', () => {
    const shownOf = (...said: Decision[]) => {
      const shown = shownWith(minted, ...said);
      return own.filter((frame) => shown.has(frame)).length;
    };
    const all = shownOf();
    expect(all).toBeGreaterThan(0);
    expect(shownOf(minor('without-consent'))).toBe(0);
    expect(shownOf(minor('without-consent'), minor('with-consent'))).toBe(all);
    expect(shownOf(minor('without-consent'), minor('of-age'))).toBe(all);
  });

  it('LW16: no minor is named, consent or not; of others the organiser decides', () => {
    const person = 'person-7' as PersonId;
    const log = foldedOf([minted, minor('with-consent'), { kind: 'minor', person, is: 'with-consent' }]);
    const arranged = arrange({ ...DAY.input, log });
    const young = arranged.riders.find(({ id }) => id === 'young')!;
    const other = arranged.riders.find(({ id }) => id === null)!;
    const allowed = mayBeNamed(arranged, log, true);
    expect([allowed.rider(young.key), allowed.person(person)]).toEqual([false, false]);
    expect([allowed.rider(other.key), allowed.person('person-8' as PersonId)]).toEqual([true, true]);
    expect(mayBeNamed(arranged, log, false).rider(other.key)).toBe(false);
  });
});
