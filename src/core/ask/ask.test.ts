import { describe, expect, it } from 'vitest';
import { foldedOf, hardDay, ORDINARY_DAY, syntheticDay } from '../../../demo/simulated-day/index.js';
import { answerScreens } from '../../../tools/accuracy/person.js';
import { arrange } from '../arrange/index.js';
import type { ArrangeInput, Arrangement, Pass } from '../arrange/types.js';
import type { FrameId, RiderKey } from '../ids.js';
import type { Decision } from '../log/types.js';
import { priceOf, worthShowing } from './price.js';
import { screensOf } from './screens.js';
import type { Screen } from './types.js';

const day = syntheticDay({ ...hardDay('s50', 3), groups: ORDINARY_DAY.groups, rounds: 5, noise: 4.5 });
const screensAt = (arrangement: Arrangement, decisions: readonly Decision[] = []): readonly Screen[] =>
  screensOf({ arrangement, pixels: day.input.pixels, log: foldedOf(decisions) });

const arrangement = arrange(day.input);
const screens = screensAt(arrangement);

describe('screens', () => {
  it('AS1: stand by frames that are expected to come right per second of a person’s time', () => {
    const worths = screens.map(({ worth }) => worth);
    expect(screens.length).toBeGreaterThan(10);
    expect(worths).toEqual([...worths].sort((a, b) => b - a));
    for (const { worth, gainFrames, seconds } of screens) expect(worth).toBeCloseTo(gainFrames / seconds, 9);
    expect(new Set(screens.map(({ kind }) => kind)).size).toBeGreaterThanOrEqual(3);
  });

  it('AS2: a yes or no is held to take two seconds, a line-up of twelve six, and none shows more', () => {
    expect(priceOf(4, 1)).toEqual({ gainFrames: 4, seconds: 2, worth: 2 });
    expect(priceOf(12, 12)).toEqual({ gainFrames: 12, seconds: 6, worth: 2 });
    for (const screen of screens) expect(shownOf(screen)).toBeLessThanOrEqual(12);
  });

  it('AS2: a line-up shows whoever is worth the look, twelve at most', () => {
    const likely = { chance: 0.9, frames: 10 };
    // A fifth of a frame by its chance alone, but a slip would spoil two sets of a hundred.
    expect(worthShowing([{ chance: 0.002, frames: 100 }, likely])).toEqual([likely]);
    expect(worthShowing([{ chance: 0.01, frames: 1 }, likely])).toEqual([likely]);
    expect(worthShowing(Array.from({ length: 20 }, () => likely))).toHaveLength(12);
  });

  it('AS3: nothing is asked that brings less than a frame in twenty seconds', () => {
    for (const { kind, worth } of screens) if (kind !== 'plain') expect(worth).toBeGreaterThanOrEqual(1 / 20);
  });

  it('AS3: a piece that nobody alone is likely for comes in a line-up of several', () => {
    const lineUps = screens.flatMap((screen) => (screen.kind === 'line-up' ? [screen.shown] : []));
    const unlikely = lineUps.filter((shown) => shown.every(({ chance }) => chance < 0.3));
    expect(unlikely.length).toBeGreaterThan(0);
    expect(Math.max(...unlikely.map(({ length }) => length))).toBeGreaterThan(2);
  });

  it('AS3: a pass in nobody’s set and a pair of riders stand on one screen at most', () => {
    const passes = screens.flatMap(passesOn);
    expect(passes.length).toBeGreaterThan(3);
    expect(new Set(passes).size).toBe(passes.length);
    const pairs = screens.flatMap(pairsOn).map((pair) => [...pair].sort().join(' '));
    expect(new Set(pairs).size).toBe(pairs.length);
  });
});

describe('after answers', () => {
  const half = answerScreens(day.input, { riderOf: () => undefined }, 3, 12);
  const passesOf = passesByFile(half.arrangement, day.input);
  const strays = new Set(half.arrangement.unsure);
  /** A pass in nobody's set is itself alone: the rider it was guessed to be was not before the person with it. */
  const isOf = (item: Item, pass: Pass | null): boolean =>
    pass !== null && (typeof item === 'number' ? pass.index === item : pass.rider === item && !strays.has(pass.index));

  it('AS4: nothing that was before a person together is asked again, though nobody could tell', () => {
    const told = [...half.decisions].flatMap(shownTogether).map((pair) => pair.map((file) => passesOf.get(file)!));
    expect(told.length).toBeGreaterThan(12);
    for (const screen of screensAt(half.arrangement, half.decisions)) {
      if (screen.kind === 'plain' || screen.kind === 'odd-one-out') continue;
      for (const [one, other] of itemsTogether(screen))
        for (const [a, b] of told)
          expect((isOf(one, a!) && isOf(other, b!)) || (isOf(one, b!) && isOf(other, a!))).toBe(false);
    }
  });
});

const shownOf = (screen: Screen): number => {
  switch (screen.kind) {
    case 'line-up':
      return screen.shown.length;
    case 'whose-pass':
      return screen.riders.length;
    case 'odd-one-out':
      return screen.passes.length;
    case 'plain':
      return 1;
  }
};

const passesOn = (screen: Screen): readonly number[] => (screen.kind === 'whose-pass' ? [screen.pass] : []);

const pairsOn = (screen: Screen): readonly (readonly [RiderKey, RiderKey])[] =>
  screen.kind === 'line-up' ? screen.shown.map(({ rider }) => [screen.of, rider] as const) : [];

/** A rider, or a pass in nobody's set. */
type Item = RiderKey | number;

function itemsTogether(screen: Screen): readonly (readonly [Item, Item])[] {
  if (screen.kind === 'line-up') return pairsOn(screen);
  return screen.kind === 'whose-pass' ? screen.riders.map((rider) => [screen.pass, rider]) : [];
}

const shownTogether = (decision: Decision): readonly (readonly string[])[] =>
  decision.kind === 'line-up' ? decision.shown.map(({ file }) => [decision.of.file, file]) : [];

/** Passes of files with one bike only: of those there is no doubt which bike was meant. */
function passesByFile({ passes, exposures }: Arrangement, input: ArrangeInput): ReadonlyMap<string, Pass | null> {
  const inFrame = new Map<FrameId, Pass[]>();
  for (const pass of passes)
    for (const { frameId } of pass.bikes) inFrame.set(frameId, [...(inFrame.get(frameId) ?? []), pass]);
  expect(input.files).toHaveLength(exposures.length);
  return new Map(
    exposures.map(({ mainFile, frameId }) => {
      const own = inFrame.get(frameId) ?? [];
      return [mainFile, own.length === 1 ? own[0]! : null];
    }),
  );
}
