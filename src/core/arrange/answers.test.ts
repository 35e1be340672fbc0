/** One answer changes what it touches and nothing else; what a person settled stays. */
import { describe, expect, it } from 'vitest';
import { foldedOf, hardDay, ORDINARY_DAY, syntheticDay } from '../../../demo/simulated-day/index.js';
import type { FileId, RiderId } from '../ids.js';
import type { BikePoint, Decision } from '../log/types.js';
import { type Random, seededRandom } from '../numeric/random.js';
import { type ArrangeMemory, arrange, arrangeAgain } from './index.js';
import type { Arrangement, BikeRef, Rider } from './types.js';

const day = syntheticDay({
  ...hardDay('s50', 9),
  groups: ORDINARY_DAY.groups.map((group) => ({ ...group, riders: 10 })),
  rounds: 4,
  lunchAfterRound: 2,
  instructors: 1,
});
const start = arrangeAgain(day.input, null);
const mainFile = new Map(start.arrangement.exposures.map((exposure) => [exposure.frameId, exposure.mainFile]));

function pointAt({ frameId, subject }: BikeRef): BikePoint {
  const frame = day.input.pixels.get(frameId);
  if (frame?.kind !== 'measured') throw new Error('Expected a measured frame in a simulated day.');
  const [left, top, width, height] = frame.subjects[subject]!.box;
  return { file: mainFile.get(frameId)!, x: left + width / 2, y: top + height / 2, box: [left, top, width, height] };
}

const textOf = ({ frameId, subject }: BikeRef): string => `${frameId}:${subject}`;

const foundSets = new Map(
  start.arrangement.riders.flatMap(({ passes }) => {
    const bikes = passes.flatMap((p) => start.arrangement.passes[p]!.bikes.map(textOf));
    return bikes.map((bike) => [bike, bikes] as const);
  }),
);

/** The bike, and all bikes of the rider that it was found to be before any word. */
const foundWith = (ref: BikeRef): readonly string[] => foundSets.get(textOf(ref)) ?? [textOf(ref)];

/** Per rider all its bikes, the unsure ones marked. */
function riderSets({ passes, unsure }: Arrangement): readonly ReadonlySet<string>[] {
  const sets = new Map<string, Set<string>>();
  for (const { rider, bikes, index } of passes) {
    const set = sets.get(rider) ?? new Set();
    sets.set(rider, set);
    for (const bike of bikes) set.add(`${textOf(bike)}${unsure!.includes(index) ? ' unsure' : ''}`);
  }
  return [...sets.values()];
}

/** Code of each rider, by all its bikes. */
const codesBySet = ({ passes, riders }: Arrangement): ReadonlyMap<string, string> =>
  new Map(
    riders.map(({ passes: own, code }) => [keyOfSet(new Set(own.flatMap((p) => passes[p]!.bikes.map(textOf)))), code]),
  );

const keyOfSet = (set: ReadonlySet<string>): string => [...set].sort().join(' ');

function randomAnswer(random: Random, { passes, riders }: Arrangement): { decision: Decision; refs: BikeRef[] } {
  const anyBike = (): BikeRef => random.oneOf(random.oneOf(passes).bikes);
  const bikeOf = (rider: Rider): BikeRef =>
    random.oneOf(random.oneOf(passes.filter((pass) => pass.rider === rider.key)).bikes);
  const rider = random.oneOf(riders);
  const refs = random.oneOf([
    () => [anyBike(), anyBike()],
    () => [bikeOf(rider), bikeOf(rider)],
    () => [bikeOf(rider), ...Array.from({ length: 6 }, anyBike)],
  ])();
  const [first, ...others] = refs.map(pointAt) as [BikePoint, ...BikePoint[]];
  const decision = random.oneOf<() => Decision>([
    () => ({ kind: 'same-rider', points: [first, others[0]!] }),
    () => ({ kind: 'different-riders', points: [first, others[0]!] }),
    () => ({
      kind: 'line-up',
      of: first,
      shown: others,
      chosen: others.flatMap((_, i) => (random.chance(0.3) ? [i] : [])),
      unsure: [],
    }),
    () => ({ kind: 'rider-is', point: first, number: String(random.integer(1, 12)) }),
  ])();
  return {
    decision,
    refs: decision.kind === 'rider-is' ? refs.slice(0, 1) : decision.kind === 'line-up' ? refs : refs.slice(0, 2),
  };
}

describe('after one answer', () => {
  /**
   * Riders before that hold no named bike, and how many of them lost a picture or took one from another such rider. Words
   * unite and divide riders as found: where earlier words have divided one, a word about either piece touches both.
   */
  function count(before: Arrangement, after: Arrangement, refs: readonly BikeRef[]) {
    const named = refs.flatMap((ref) => foundWith(ref));
    const unrelated = riderSets(before).filter((set) => !named.some((b) => set.has(b) || set.has(`${b} unsure`)));
    const theirs = new Set(unrelated.flatMap((set) => [...set]));
    const left = new Set(riderSets(after).map((set) => keyOfSet(new Set([...set].filter((bike) => theirs.has(bike))))));
    return { unrelated: unrelated.length, changed: unrelated.filter((set) => !left.has(keyOfSet(set))).length };
  }

  it('AR29: of riders that it does not name none changes, in 150 random answers', () => {
    const random = seededRandom(77);
    let [unrelated, changed] = [0, 0];
    for (let i = 0; i < 150; i++) {
      const { decision, refs } = randomAnswer(random, start.arrangement);
      const { arrangement } = arrangeAgain({ ...day.input, log: foldedOf([decision]) }, start.memory);
      const counted = count(start.arrangement, arrangement, refs);
      unrelated += counted.unrelated;
      changed += counted.changed;
    }
    expect(unrelated).toBeGreaterThan(3000);
    expect(changed).toBe(0);
  });

  it('AR12: no rider that keeps its pictures gets another code, in 60 random answers', () => {
    const random = seededRandom(76);
    const before = codesBySet(start.arrangement);
    let same = 0;
    for (let i = 0; i < 60; i++) {
      const { decision } = randomAnswer(random, start.arrangement);
      const { arrangement } = arrangeAgain({ ...day.input, log: foldedOf([decision]) }, start.memory);
      expect(new Set(arrangement.riders.map(({ code }) => code)).size).toBe(arrangement.riders.length);
      for (const [set, code] of codesBySet(arrangement)) {
        if (!before.has(set)) continue;
        same++;
        expect(code).toBe(before.get(set));
      }
    }
    expect(same).toBeGreaterThan(1500);
  });

  it('AR12: with its first pass taken off a rider keeps its code, and the pass gets another', () => {
    for (const { passes: own, code } of start.arrangement.riders
      .filter(({ passes }) => passes.length > 5)
      .slice(0, 8)) {
      const [first, second, ...others] = own.map((p) => start.arrangement.passes[p]!.bikes[0]!);
      const points = [second!, ...others].map(pointAt);
      const off = points.map((point): Decision => ({ kind: 'different-riders', points: [pointAt(first!), point] }));
      const decisions: Decision[] = [{ kind: 'same-rider', points }, ...off];
      const { arrangement } = arrangeAgain({ ...day.input, log: foldedOf(decisions) }, start.memory);
      const codeAt = (bike: BikeRef): string => {
        const { rider } = arrangement.passes.find(({ bikes }) => bikes.some((one) => textOf(one) === textOf(bike)))!;
        return arrangement.riders.find(({ key }) => key === rider)!.code;
      };
      expect(codeAt(second!)).toBe(code);
      expect(codeAt(first!)).not.toBe(code);
    }
  });

  it('AR29: nor in 80 answers one upon the other by somebody who errs in one of twenty', () => {
    const random = seededRandom(79);
    const truth = new Map(
      day.truth.exposures.flatMap(({ frameId, bikes }) =>
        bikes.map(({ box, rider }) => [`${frameId} ${box[0]}`, rider]),
      ),
    );
    const trueRider = ({ frameId, subject }: BikeRef): string | undefined => {
      const frame = day.input.pixels.get(frameId);
      return frame?.kind === 'measured' ? truth.get(`${frameId} ${frame.subjects[subject]?.box[0]}`) : undefined;
    };
    const decisions: Decision[] = [];
    let before = start;
    let [unrelated, changed] = [0, 0];
    for (let i = 0; i < 80; i++) {
      const refs = random.shuffled(before.arrangement.riders.map(({ face }) => face)).slice(0, 7);
      const [of, ...shown] = refs as [BikeRef, ...BikeRef[]];
      const isSame = (ref: BikeRef) => (trueRider(ref) === trueRider(of)) !== random.chance(0.05 / 6);
      const last = {
        kind: 'line-up',
        of: pointAt(of),
        shown: shown.map(pointAt),
        chosen: shown.flatMap((ref, k) => (isSame(ref) ? [k] : [])),
        unsure: [],
      } as const;
      decisions.push(last);
      const after = arrangeAgain({ ...day.input, log: foldedOf(decisions) }, before.memory);
      const counted = count(before.arrangement, after.arrangement, refs);
      unrelated += counted.unrelated;
      changed += counted.changed;
      before = after;
    }
    expect(unrelated).toBeGreaterThan(1500);
    expect(changed).toBe(0);
  });

  it('AR18: what is remembered gives the answer that comes from nothing, for random answers', () => {
    const random = seededRandom(78);
    const decisions: Decision[] = [];
    let memory: ArrangeMemory = start.memory;
    for (let i = 0; i < 24; i++) {
      decisions.push(randomAnswer(random, start.arrangement).decision);
      const log = foldedOf(decisions);
      const again = arrangeAgain({ ...day.input, log }, memory);
      memory = again.memory;
      if (i % 8 === 7) expect(again.arrangement).toEqual(arrange({ ...day.input, log }));
    }
  });
});

describe('a settled rider', () => {
  const rider = [...start.arrangement.riders].sort((a, b) => b.passes.length - a.passes.length)[0]!;
  const own = rider.passes.flatMap((p) => start.arrangement.passes[p]!.bikes);
  const id = 'rider-1' as RiderId;
  const files: readonly FileId[] = [...new Set(own.map(({ frameId }) => mainFile.get(frameId)!))];
  const minted: Decision[] = [
    { kind: 'rider-minted', rider: id, points: own.map(pointAt) },
    { kind: 'settled', rider: id, files },
  ];
  const say = (...more: Decision[]) => arrange({ ...day.input, log: foldedOf([...minted, ...more]) });
  const bikesOf = ({ passes, riders }: Arrangement) => {
    const settled = riders.find((one) => one.id === id)!;
    return new Set(settled.passes.flatMap((p) => passes[p]!.bikes.map(textOf)));
  };
  const [first, last] = [own[0]!, own.at(-1)!];

  it('AR30: says so of each of its passes, and asks nothing as long as all stay', () => {
    const arrangement = say();
    expect(arrangement.questions.filter((question) => question.id.startsWith('settled'))).toEqual([]);
    for (const pass of arrangement.passes.filter((one) => one.rider === rider.key))
      expect(pass).toMatchObject({ confidence: 1, why: 'A person settled this rider with it.' });
  });

  it('AR30: loses no frame by a word that divides it, but the one that was spoken of, and asks', () => {
    const arrangement = say({ kind: 'different-riders', points: [pointAt(first), pointAt(last)] });
    const left = bikesOf(arrangement);
    const gone = own.filter((bike) => !left.has(textOf(bike)));
    const spoken = start.arrangement.passes.filter(({ bikes }) =>
      bikes.some((bike) => textOf(bike) === textOf(first) || textOf(bike) === textOf(last)),
    );
    const spokenBikes = new Set(spoken.flatMap(({ bikes }) => bikes.map(textOf)));
    expect(gone.length).toBeGreaterThan(0);
    expect(gone.every((bike) => spokenBikes.has(textOf(bike)))).toBe(true);
    const question = arrangement.questions.find((one) => one.id.startsWith(`settled ${id}`));
    expect(question).toMatchObject({ kind: 'contradiction' });
  });

  it('AR30: what it holds is taken out by an answer, or settled once more and asked about no more', () => {
    const divided: Decision = { kind: 'different-riders', points: [pointAt(first), pointAt(last)] };
    const asked = (arrangement: Arrangement) => arrangement.questions.filter(({ id: of }) => of.startsWith('settled'));
    const [question] = asked(say(divided));
    if (question?.kind !== 'contradiction' || question.between?.heldBy === undefined)
      throw new Error('Expected a question about what a settled rider holds.');
    const { pairs, heldBy } = question.between;
    expect(heldBy).toEqual({ rider: id, files });
    const before = bikesOf(say(divided));
    const kept = say(divided, { kind: 'settled', ...heldBy });
    expect(bikesOf(kept)).toEqual(before);
    expect(asked(kept)).toEqual([]);
    const [held, other] = pairs[0]!;
    expect(before).toContain(textOf(held));
    const taken = say(divided, { kind: 'different-riders', points: [pointAt(held), pointAt(other)] });
    const still = asked(taken).flatMap((one) => (one.kind === 'contradiction' ? (one.between?.pairs ?? []) : []));
    expect(still.map(([bike]) => textOf(bike))).not.toContain(textOf(held));
    expect(bikesOf(taken)).not.toContain(textOf(held));
  });

  it('AR30: without having been settled it would lose them', () => {
    const divided: Decision = { kind: 'different-riders', points: [pointAt(first), pointAt(last)] };
    const arrangement = arrange({ ...day.input, log: foldedOf([minted[0]!, divided]) });
    expect(bikesOf(arrangement).size).toBeLessThan(own.length - 4);
  });
});
