/** One answer on a small day, when many passes wait and some riders are known by one pass alone. */
import { describe, expect, it } from 'vitest';
import { foldedOf, hardDay, ORDINARY_DAY, syntheticDay } from '../../../demo/simulated-day/index.js';
import type { BikePoint, Decision } from '../log/types.js';
import { seededRandom } from '../numeric/random.js';
import { arrangeAgain } from './index.js';
import type { Arrangement, BikeRef, Rider } from './types.js';

const groups = ORDINARY_DAY.groups.map((group) => ({ ...group, riders: 12 }));
const small = { rounds: 2, groups, noise: 10, instructors: 1, burstFrames: [1, 2] } as const;
const day = syntheticDay({ ...hardDay('s50', 6), ...small });
const start = arrangeAgain(day.input, null);
const { riders, passes, unsure } = start.arrangement;
const waiting = new Set(unsure);

function pointAt({ frameId, subject }: BikeRef): BikePoint {
  const frame = day.input.pixels.get(frameId);
  if (frame?.kind !== 'measured') throw new Error('Expected a measured frame in a simulated day.');
  const [left, top, width, height] = frame.subjects[subject]!.box;
  const { mainFile } = start.arrangement.exposures.find((exposure) => exposure.frameId === frameId)!;
  return { file: mainFile, x: left + width / 2, y: top + height / 2 };
}

/** Per pass whose it is and whether it waits, by its first bike; riders by their first pass. */
const whose = (arrangement: Arrangement, leftOut: ReadonlySet<string> = new Set()): ReadonlyMap<string, string> => {
  const open = new Set(arrangement.unsure);
  const textOf = ({ frameId, subject }: BikeRef): string => `${frameId}:${subject}`;
  const first = new Map<string, string>();
  const said = new Map<string, string>();
  for (const { rider, bikes, index } of arrangement.passes) {
    const text = textOf(bikes[0]!);
    if (leftOut.has(text)) continue;
    if (!first.has(rider)) first.set(rider, text);
    said.set(text, `${first.get(rider)}${open.has(index) ? ' waits' : ''}`);
  }
  return said;
};

/** Whose each pass is, by any name. */
const riderOfEach = ({ passes: all }: Arrangement): readonly string[] => all.map(({ rider }) => rider);

const hearing = (...decisions: Decision[]): Arrangement =>
  arrangeAgain({ ...day.input, log: foldedOf(decisions) }, start.memory).arrangement;
const noneOf = (of: BikeRef, shown: readonly BikeRef[]): Decision => ({
  kind: 'line-up',
  of: pointAt(of),
  shown: shown.map(pointAt),
  chosen: [],
  unsure: [],
});

describe('one answer on a small day', () => {
  const knownByOne = riders.filter((rider) => {
    const own = passes.filter((pass) => pass.rider === rider.key);
    const kept = own.filter(({ index }) => !waiting.has(index));
    return own.length > 1 && kept.length === 1 && kept[0]!.confidence === undefined;
  });

  it('AR29: none of them, said of riders, changes nobody, also one that is known by one pass', () => {
    const random = seededRandom(31);
    expect(knownByOne.length).toBeGreaterThan(0);
    const before = whose(start.arrangement);
    for (const { key, face } of [...knownByOne, ...random.shuffled(riders).slice(0, 25)]) {
      const others = random.shuffled(riders.filter((other) => other.key !== key)).slice(0, 4);
      const faces = others.map((other) => other.face);
      expect(whose(hearing(noneOf(face, faces)))).toEqual(before);
    }
  });

  it('AR29: none of them, said of a pass that waits, makes it a rider, and all others wait on', () => {
    const random = seededRandom(32);
    expect(waiting.size).toBeGreaterThan(3);
    for (const index of waiting) {
      const [bike] = passes[index]!.bikes;
      const faces = random
        .shuffled(riders)
        .slice(0, 4)
        .map((rider) => rider.face);
      const leftOut = new Set([`${bike!.frameId}:${bike!.subject}`]);
      const answered = hearing(noneOf(bike!, faces));
      expect(whose(answered, leftOut)).toEqual(whose(start.arrangement, leftOut));
      expect(answered.unsure).toHaveLength(waiting.size - 1);
    }
  });
});

describe('a number that a person says', () => {
  const one = riders.find(({ group }) => group === 'N')!;
  const other = riders.find(({ group, key }) => group === 'N' && key !== one.key)!;
  const numbered = ({ face }: Rider, number: string, more: { readonly class?: string } = {}): Decision => ({
    kind: 'rider-is',
    point: pointAt(face),
    number,
    ...more,
  });
  const ridersAt = (arrangement: Arrangement) =>
    [one, other].map(({ face }) => {
      const holds = ({ bikes }: Arrangement['passes'][number]) =>
        bikes.some(({ frameId, subject }) => frameId === face.frameId && subject === face.subject);
      const { rider } = arrangement.passes.find(holds)!;
      return arrangement.riders.find(({ key }) => key === rider)!;
    });
  const asksBoth = (arrangement: Arrangement): boolean =>
    arrangement.questions.some(
      (question) =>
        question.kind === 'same-rider' &&
        ridersAt(arrangement).every(({ key }) => question.a === key || question.b === key) &&
        // By their looks alone they may be one with a small chance besides.
        question.confidence >= 0.5 &&
        question.reasons.includes('both show 444: the same number, different bike?'),
    );

  it('AR27: joins nobody: one number said of two riders is asked, unless it is of two classes', () => {
    const twice = hearing(numbered(one, '444'), numbered(other, '444'));
    expect(riderOfEach(twice)).toEqual(riderOfEach(start.arrangement));
    expect(ridersAt(twice).map(({ number }) => number)).toEqual(['444', '444']);
    expect(asksBoth(twice)).toBe(true);
    const classes = hearing(numbered(one, '444', { class: 'a' }), numbered(other, '444', { class: 'b' }));
    expect(asksBoth(classes)).toBe(false);
  });

  it('AR27: parts nobody: of two numbers of one rider the later is shown and asked, until it is said again', () => {
    const joined: Decision = { kind: 'same-rider', points: [pointAt(one.face), pointAt(other.face)] };
    const words = [numbered(one, '8'), numbered(other, '9'), joined];
    const doubtful = hearing(...words);
    const [first, second] = ridersAt(doubtful);
    expect(first).toBe(second);
    expect(first!.number).toBe('9');
    const asked = ({ questions }: Arrangement) => questions.filter(({ id }) => id.startsWith('number '));
    expect(asked(doubtful)).toMatchObject([
      { kind: 'contradiction', sentence: expect.stringMatching(/was said to be 8, and then 9; 9 is shown\./) },
    ]);
    const settled = hearing(...words, numbered(one, '8'), numbered(other, '8'));
    expect(ridersAt(settled)[0]!.number).toBe('8');
    expect(asked(settled)).toEqual([]);
  });
});
