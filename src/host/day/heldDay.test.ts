import { describe, expect, it } from 'vitest';
import { foldedOf, ORDINARY_DAY, type SyntheticDay, syntheticDay } from '../../../demo/simulated-day/index.js';
import type { KnownFile } from '../../core/arrange/types.js';
import type { SpotId } from '../../core/ids.js';
import type { BikePoint, Decision, LogLine } from '../../core/log/types.js';
import { seededRandom } from '../../core/numeric/random.js';
import { wallMsOf } from '../../core/units.js';
import { type ArrangeSettings, type News, placeOf } from './arrangeMessages.js';
import { type Derive, type Derived, derive, type KnownDay, rememberingDerive } from './derive.js';
import { heldDay } from './heldDay.js';

const SETTINGS: ArrangeSettings = { zone: 'Europe/London', spots: [{ id: 'hairpin' }, { id: 'crest' }] };

const smallDay = (seed: number): SyntheticDay =>
  syntheticDay({
    seed,
    rounds: 2,
    lunchAfterRound: 1,
    groups: ORDINARY_DAY.groups.map((group) => ({ ...group, riders: 6 })),
  });

/** As the logbook writes them: each a gesture of its own, numbered on. */
const linesOf = (decisions: readonly Decision[], from: number): readonly LogLine[] =>
  foldedOf(decisions).lines.map((line, i) => ({
    ...line,
    seq: from + i,
    lamport: from + i,
    gesture: `gesture-${from + i}` as LogLine['gesture'],
  }));

/** One day held twice: once with memory, once worked out from nothing each time. */
function heldTwice(day: SyntheticDay) {
  const seen: KnownDay[] = [];
  const remember = rememberingDerive();
  const watched: Derive = (known, now) => {
    seen.push(known);
    return remember(known, now);
  };
  const both = [heldDay(SETTINGS, watched), heldDay(SETTINGS, derive)] as const;
  let said = 0;
  const tell = (news: News): void => {
    for (const held of both) held.take(news);
  };
  const say = (...decisions: readonly Decision[]): void => {
    tell({ lines: linesOf(decisions, said + 1) });
    said += decisions.length;
  };
  tell({ files: day.input.files, pixels: [...day.input.pixels.values()] });
  say({ kind: 'timetable', timetable: day.timetable });
  return {
    seen,
    tell,
    say,
    derived: (): readonly [Derived, Derived] => [both[0].arrange(null).derived, both[1].arrange(null).derived],
  };
}

describe('the resident day', () => {
  it.each([1, 2, 3])('AR18: remembers what it may and gives what arranging from nothing gives (seed %i)', (seed) => {
    const day = smallDay(seed);
    const random = seededRandom(seed);
    const held = heldTwice(day);
    const pick = <T>(list: readonly T[]): T => random.oneOf(list);
    const time = (): number => pick(day.truth.exposures).wall;
    const point = (): BikePoint => ({
      file: pick(day.input.files).fileId,
      x: random.next(),
      y: 0.3 + 0.4 * random.next(),
    });
    const anyDecision = (): Decision =>
      pick<() => Decision>([
        () => ({ kind: 'same-rider', points: [point(), point()] }),
        () => ({ kind: 'different-riders', points: [point(), point()] }),
        () => ({ kind: 'rider-is', point: point(), number: `${Math.ceil(9 * random.next())}` }),
        () => ({ kind: 'keep', file: point().file }),
        () => ({ kind: 'leave-out', file: point().file }),
        () => ({ kind: 'choose-rules', mostPerRider: pick([1, 5]), ...(random.next() < 0.3 ? { mostInAll: 20 } : {}) }),
        () => ({ kind: 'gone-through', of: point(), files: [point().file, point().file] }),
        () => ({ kind: 'stood-at', spot: 'crest' as SpotId, from: wallMsOf(time()), to: wallMsOf(time() + 3e6) }),
        () => ({ kind: 'boundary', at: wallMsOf(time()), is: random.next() < 0.5 ? 'here' : 'not-here' }),
        () => ({ kind: 'session-is', at: wallMsOf(time()), group: pick(['N', 'I', 'F']) }),
      ])();
    let gone: readonly KnownFile[] = [];
    for (let step = 0; step < 12; step++) {
      const kind = random.next();
      if (kind < 0.7) held.say(anyDecision());
      else if (kind < 0.8)
        held.tell({
          pixels: [{ kind: 'unmeasurable', v: 1, frameId: pick(day.truth.exposures).frameId, reason: 'damaged' }],
        });
      else if (kind < 0.9) {
        gone = [pick(day.input.files)];
        held.tell({ goneFiles: gone.map(placeOf) });
      } else held.tell({ files: gone });
      const [remembered, fromNothing] = held.derived();
      expect(remembered).toEqual(fromNothing);
    }
  });

  it('AR18: a word about frames alone leaves arrangement and coverage the very same objects, and other riders their sets', () => {
    const held = heldTwice(smallDay(5));
    const [before] = held.derived();
    const [chosen, other] = [...before.keepers.byRider.values()].filter((keepers) => keepers.length > 1);
    const { mainFile } = before.arrangement.exposures.find(({ frameId }) => frameId === chosen![0]!.bike.frameId)!;
    held.say({ kind: 'leave-out', file: mainFile });
    const [after] = held.derived();
    expect(after.arrangement).toBe(before.arrangement);
    expect(after.coverage).toBe(before.coverage);
    expect(after.keepers.byRider.get(chosen![0]!.rider)).not.toEqual(chosen);
    expect(after.keepers.byRider.get(other![0]!.rider)![0]).toBe(other![0]);
  });

  it('hands on the same files and measurements while only decisions come, and others as soon as they change', () => {
    const day = smallDay(4);
    const held = heldTwice(day);
    held.derived();
    held.say({ kind: 'keep', file: day.input.files[0]!.fileId });
    held.derived();
    held.tell({ pixels: [day.input.pixels.values().next().value!] });
    held.derived();
    held.tell({ goneFiles: [placeOf(day.input.files[0]!)] });
    held.derived();
    const [first, afterWord, afterPixels, afterFile] = held.seen as [KnownDay, KnownDay, KnownDay, KnownDay];
    expect(afterWord.files).toBe(first.files);
    expect(afterWord.pixels).toBe(first.pixels);
    expect(afterPixels.files).toBe(first.files);
    expect(afterPixels.pixels).not.toBe(first.pixels);
    expect(afterFile.files).not.toBe(first.files);
    expect(afterFile.files).toHaveLength(first.files.length - 1);
  });
});
