/** Rules OG1–OG5, OG8–OG14 of docs/rules/organiser.md. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fileIdOf, frameIdOf, wallAt } from '../../../../test/builders/arrangement.js';
import { galleryDay } from '../../../../test/builders/galleryDay.js';
import type { Apart, Arrangement } from '../../arrange/types.js';
import { namesOf } from '../../finish/index.js';
import type { FrameId, RiderKey, SpotId } from '../../ids.js';
import type { Decision } from '../../log/types.js';
import type { Timetable } from '../../plan/types.js';
import { wallMsOf } from '../../units.js';
import { candidatesOf } from './candidates.js';
import { captionsOf } from './captions.js';
import { readChoice } from './choiceBack.js';
import { chooseForOrganiser, SET_WISH } from './chooseForOrganiser.js';
import { downSince, organiserView } from './deadline.js';
import { gridsOf, podiumRace, racesOf } from './races.js';
import { termsFor, termsText } from './terms.js';
import type { HandedSet, SetCandidate, SetShows } from './types.js';

const names = { groupName: (group: string) => `group ${group}`, spotName: (spot: string) => spot };
const boards = new Set<SpotId>();

function candidatesIn(
  { decisions = [], ...spec }: Parameters<typeof galleryDay>[0] = {},
  apart: Record<number, Apart> = {},
) {
  const day = galleryDay({ decisions, ...spec });
  const arrangement: Arrangement = {
    ...day.arrangement,
    exposures: day.arrangement.exposures.map((one, i) => (apart[i] ? { ...one, apart: apart[i] } : one)),
  };
  return { day: { ...day, arrangement }, candidates: candidatesOf({ ...day, arrangement, boards }) };
}

describe('OG1: what may go to the organiser', () => {
  it('is every rider’s keepers, each frame once', () => {
    const { day, candidates } = candidatesIn({ riders: 4 });
    const kept = new Set([...day.keepers.byRider.values()].flat().map(({ bike }) => bike.frameId));
    expect(new Set(candidates.map(({ frameId }) => frameId))).toEqual(kept);
    expect(candidates.length).toBe(kept.size);
  });

  it('is nothing that was taken down or left out', () => {
    const all = candidatesIn({ riders: 4 }).candidates;
    const [down, out] = [all[0]!.frameId, all[3]!.frameId];
    const fileOf = (frame: FrameId) => fileIdOf(Number.parseInt(frame.slice(-2).replace('f', ''), 16));
    const decisions: readonly Decision[] = [
      { kind: 'take-down', file: fileOf(down) },
      { kind: 'leave-out', file: fileOf(out) },
    ];
    const left = candidatesIn({ riders: 4, decisions }).candidates.map(({ frameId }) => frameId);
    expect(left).not.toContain(down);
    expect(left).not.toContain(out);
  });
});

describe('the set', () => {
  it('OG3: shows every class and as many riders as it has pictures, no two of one pass', () => {
    const { candidates } = candidatesIn({ riders: 8 });
    const { pictures, lacks } = chooseForOrganiser(candidates, { pictures: 8 }, names);
    expect(pictures.length).toBe(8);
    expect(new Set(pictures.map(({ shows }) => shows.group))).toEqual(new Set(['N', 'F']));
    expect(new Set(pictures.flatMap(({ shows }) => shows.riders)).size).toBe(8);
    const alike = pictures.map(({ frameId }) => candidates.find((one) => one.frameId === frameId)!.alike);
    expect(new Set(alike).size).toBe(8);
    expect(lacks).toEqual([]);
  });

  it('OG3: is of the groups that are asked for alone, and says what is missing', () => {
    const { candidates } = candidatesIn({ riders: 4 });
    const { pictures, lacks } = chooseForOrganiser(candidates, { groups: ['F', 'X'] }, names);
    expect(new Set(pictures.map(({ shows }) => shows.group))).toEqual(new Set(['F']));
    expect(lacks).toEqual([
      `${pictures.length} of 15 pictures: no more of the keepers differ enough.`,
      'None of group X.',
    ]);
  });

  it('OG4: a person’s word puts a picture in and another out', () => {
    const { candidates } = candidatesIn({ riders: 6 });
    const proposed = chooseForOrganiser(candidates, { pictures: 4 }, names).pictures.map(({ frameId }) => frameId);
    const other = candidates.find(({ frameId }) => !proposed.includes(frameId))!.frameId;
    const said = chooseForOrganiser(
      candidates,
      { pictures: 4, withFrames: [other], withoutFrames: [proposed[0]!] },
      names,
    );
    expect(said.pictures.map(({ frameId }) => frameId)).not.toContain(proposed[0]);
    expect(said.pictures.find(({ frameId }) => frameId === other)).toMatchObject({ source: 'said' });
    expect(said.pictures.find(({ frameId }) => frameId === other)!.reasons[0]).toBe('you said so');
    expect(said.pictures.length).toBe(4);
  });

  it('OG4: a frame that may not go is not let in by a word either, and that is said', () => {
    const { candidates } = candidatesIn({ riders: 2 });
    const { pictures, lacks } = chooseForOrganiser(candidates, { pictures: 1, withFrames: [frameIdOf(999)] }, names);
    expect(pictures.length).toBe(1);
    expect(lacks.join()).toContain(`Frame ${frameIdOf(999)} is no keeper, was taken down or is held back`);
  });

  it('OG2: a podium that is a guess is in it as a guess, one that was said as a word', () => {
    const guess: Apart = { is: 'podium', source: { kind: 'guessed', confidence: 0.8, reasons: ['three people'] } };
    const { candidates } = candidatesIn({ riders: 4 }, { 0: guess, 1: { is: 'podium', source: { kind: 'said' } } });
    const { pictures } = chooseForOrganiser(candidates, { only: 'podium', mostApart: 1 }, names);
    const reasons = pictures.flatMap((one) => one.reasons);
    expect(reasons.some((reason) => reason.endsWith('the podium (a guess, 80 of 100)'))).toBe(true);
    expect(reasons.some((reason) => reason.endsWith('the podium'))).toBe(true);
  });

  it('OG5: is worth at least 1 − 1/e of the best one, tried by all sets of a few pictures, and is the same every time', () => {
    const shows = fc.record({
      group: fc.constantFrom('N', 'F', null),
      spot: fc.constantFrom('a', 'b', null),
      rider: fc.integer({ min: 0, max: 5 }),
      view: fc.constantFrom('wide', 'narrow', null),
      hasBoards: fc.boolean(),
      quality: fc.double({ min: 0.05, max: 1, noNaN: true }),
    });
    fc.assert(
      fc.property(
        fc.array(shows, { minLength: 3, maxLength: 8 }),
        fc.integer({ min: 1, max: 4 }),
        (specs, pictures) => {
          const all = specs.map((spec, i) =>
            candidate(i, spec.quality, {
              ...spec,
              riders: [`r${spec.rider}` as RiderKey],
              spot: spec.spot as SpotId | null,
            }),
          );
          const wish = { pictures, mostPerRider: 99 };
          const chosen = chooseForOrganiser(all, wish, names).pictures;
          expect(chooseForOrganiser([...all], wish, names).pictures).toEqual(chosen);
          const best = Math.max(...subsets(all, pictures).map((one) => worthOf(one)));
          expect(
            worthOf(all.filter(({ frameId }) => chosen.some((one) => one.frameId === frameId))),
          ).toBeGreaterThanOrEqual((1 - 1 / Math.E) * best - 1e-9);
        },
      ),
      { numRuns: 60 },
    );
  });
});

const NOTHING: SetShows = {
  group: null,
  session: null,
  spot: null,
  riders: [],
  view: null,
  shutter: null,
  apart: null,
  grid: null,
  hasBoards: false,
};

const candidate = (n: number, quality: number, shows: Partial<SetShows>): SetCandidate => ({
  frameId: frameIdOf(n + 1),
  quality,
  qualityWords: ['sharp'],
  alike: `pass ${n}`,
  order: n,
  shows: { ...NOTHING, ...shows },
});

function subsets<T>(all: readonly T[], count: number): readonly (readonly T[])[] {
  if (count === 0 || all.length === 0) return [[]];
  const [first, ...rest] = all;
  return [...subsets(rest, count), ...subsets(rest, count - 1).map((one) => [first!, ...one])];
}

/** Gains of a set that is taken whole, whatever their order, add up to its worth. */
const worthOf = (set: readonly SetCandidate[]): number =>
  chooseForOrganiser(
    set,
    { pictures: set.length, mostPerRider: 99, mostApart: 1, withFrames: set.map(({ frameId }) => frameId) },
    names,
  ).pictures.reduce((sum, { gain }) => sum + gain, 0);

const race = (name: string, group: string, start: string, end: string) => ({
  name,
  group,
  start: wallAt(start),
  end: wallAt(end),
});
const weekend: Timetable = {
  groups: [
    { key: 'S', name: 'Superstock' },
    { key: 'T', name: 'Twins' },
  ],
  slots: [
    race('S Qualifying', 'S', '09:00:00', '09:20:00'),
    race('S Race 1', 'S', '11:00:00', '11:25:00'),
    race('T Race 1', 'T', '11:40:00', '12:05:00'),
  ],
  slipRule: 'sliding',
};

describe('grids and podiums', () => {
  const { arrangement, pixels } = galleryDay({ riders: 2 });
  const [exposure] = arrangement.exposures;
  const at = (time: string) => ({ exposures: [{ ...exposure!, wall: wallAt(time) }] });
  const measured = pixels.get(exposure!.frameId)!;
  const withBikes = (bikes: number) =>
    new Map([
      [
        exposure!.frameId,
        measured.kind === 'measured'
          ? { ...measured, subjects: Array.from({ length: bikes }, () => measured.subjects[0]!) }
          : measured,
      ],
    ]);
  const races = racesOf(weekend);

  it('OG8: races are told by the timetable’s words, and by a person’s', () => {
    expect(races.map(({ name }) => name)).toEqual(['S Race 1', 'T Race 1']);
    expect(racesOf(weekend, ['S Qualifying']).length).toBe(3);
  });

  it('OG8: many bikes in one picture shortly before a race are its grid, as a guess with reasons; a few, or earlier, are not', () => {
    expect(gridsOf(at('10:55:00'), withBikes(8), races).get(exposure!.frameId)).toEqual({
      slot: 'S Race 1',
      source: {
        kind: 'guessed',
        confidence: 0.8,
        reasons: ['8 bikes in one picture', '5 min before the start of S Race 1 by the timetable'],
      },
    });
    expect(gridsOf(at('10:55:00'), withBikes(3), races).size).toBe(0);
    expect(gridsOf(at('10:40:00'), withBikes(8), races).size).toBe(0);
    expect(gridsOf(at('11:05:00'), withBikes(8), races).size).toBe(0);
  });

  it('OG9: a podium is of the one race that ended before it; of two it is said of none', () => {
    const podium = (time: string) => ({
      wall: wallAt(time),
      apart: { is: 'podium', source: { kind: 'said' } } as const,
    });
    expect(podiumRace(podium('11:35:00'), races)).toMatchObject({ slot: 'S Race 1', source: { kind: 'guessed' } });
    expect(podiumRace(podium('12:10:00'), races)).toBeNull();
    expect(podiumRace({ ...podium('11:35:00'), apart: { is: 'paddock', source: { kind: 'said' } } }, races)).toBeNull();
  });
});

describe('OG10: captions', () => {
  it('say class, spot and numbers a person said; what was read is a guess beside it; names only of whom the caller names', () => {
    const about = { r0: { number: '46' }, r1: { number: '12', numberConfidence: 0.9 } };
    const { day, candidates } = candidatesIn({ riders: 2, about });
    const { pictures } = chooseForOrganiser(candidates, { mostPerRider: 1 }, names);
    const asked: string[] = [];
    const lines = captionsOf({
      pictures,
      arrangement: day.arrangement,
      meeting: 'Ebbstone',
      fileOf: (frame) => `${frame}.jpg`,
      ...names,
      nameOf: (group, number) => {
        asked.push(`${group} ${number}`);
        return 'Ada Quill';
      },
    });
    const [said, read] = [
      lines.find(({ class: of }) => of === 'group N')!,
      lines.find(({ class: of }) => of === 'group F')!,
    ];
    expect(said).toMatchObject({ numbers: '46', names: 'Ada Quill', guesses: '' });
    expect(said.caption).toMatch(/^Ada Quill, No\. 46, group N, (beacon|gannet), Ebbstone, 2026-09-19$/);
    expect(read).toMatchObject({ numbers: '', names: '', guesses: 'number 12, 90 of 100' });
    expect(read.caption).not.toContain('12,');
    expect(asked).toEqual(['N 46']);
  });
});

describe('OG12: terms', () => {
  const input = {
    agreed: { name: 'Ebbstone Riders' },
    meeting: 'Ebbstone',
    credit: 'R. Quill',
    contact: 'pictures@example.org',
    pictures: 15,
  };
  it('say what they may and may not do, and that local law has the last word', () => {
    const text = termsText(input);
    for (const words of [
      'What you may do',
      'What you may not do',
      'credit “R. Quill”',
      'tell pictures@example.org',
      'check it with local law',
    ])
      expect(text).toContain(words);
    expect(text).toContain('Pass them on to sponsors');
  });
  it('let them give pictures to sponsors only where that was agreed', () => {
    const { may, mayNot, short } = termsFor({
      ...input,
      agreed: { ...input.agreed, mayPassToSponsors: true, mayUseUntil: '2027-12-31' },
    });
    expect(may.join()).toContain('sponsors of that meeting');
    expect(mayNot.join()).not.toContain('Pass them on');
    expect(short).toBe(
      'For Ebbstone Riders, to show and tell of Ebbstone until 2027-12-31, with the credit “R. Quill”. May go to its sponsors of that meeting. Not to be sold.',
    );
  });
});

describe('OG13: their choice as it comes back', () => {
  const { arrangement } = galleryDay({ riders: 3 });
  const names = namesOf(arrangement.exposures);
  const frames = arrangement.exposures.map(({ frameId }) => frameId);
  const sheet: HandedSet = {
    at: 0 as never,
    wall: 0 as never,
    is: 'set',
    pictures: [{ number: 1, file: '01-x.jpg', frameId: frames[5]! }],
  };
  const known = { exposures: arrangement.exposures, names, sheet };

  it('is found by our names, the camera’s names in any case, paths, quotes and numbers of the sheet, each once', () => {
    const cells = [
      `${names.get(frames[0]!)}.jpg`,
      'we like “inv_0002.jpg”.',
      'C:\\pictures\\INV_0003.JPG',
      '01',
      'INV_0002',
      'thank you 2 all',
    ];
    expect(readChoice(cells, known)).toEqual({ frames: [frames[0], frames[1], frames[2], frames[5]], left: [] });
  });

  it('says what names no picture, and takes the others', () => {
    const { frames: found, left } = readChoice(['INV_0001', 'INV_9999.jpg', '17'], known);
    expect(found).toEqual([frames[0]]);
    expect(left).toEqual([
      'Expected the name of a picture of this meeting or a number from 1 to 1 but got “INV_9999.jpg”. Ask which one is meant; the others are taken.',
      'Expected the name of a picture of this meeting or a number from 1 to 1 but got “17”. Ask which one is meant; the others are taken.',
    ]);
  });

  it('says a file without a digit in its name, and a digit that stands alone', () => {
    const { left } = readChoice(['podium.jpg', '7', 'thank you 2 all'], known);
    expect(left.map((line) => /“(.+)”/.exec(line)![1])).toEqual(['podium.jpg', '7']);
  });

  it('takes no picture where two cards have the name', () => {
    const twice = [...arrangement.exposures, { frameId: frameIdOf(500), path: 'DCIM/101INVEN/INV_0001.JPG' }];
    expect(readChoice(['INV_0001.JPG'], { ...known, exposures: twice })).toEqual({
      frames: [],
      left: ['Expected one picture named “INV_0001.JPG” but 2 are. Ask for the longer name, with date and time in it.'],
    });
  });
});

describe('OG14: when they are due', () => {
  const agreed = { name: 'Ebbstone Riders', pictures: 15, dueMinutesAfterFlag: 60 };
  const view = (clock: string, handed: readonly HandedSet[] = [], more = {}) =>
    organiserView({ agreed: { ...agreed, ...more }, timetable: weekend, handed, clock: wallAt(clock) });
  const handedAt = (time: string): HandedSet => ({
    at: 0 as never,
    wall: wallAt(time),
    is: 'set',
    pictures: Array.from({ length: 15 }, (_, i) => ({ number: i + 1, file: '', frameId: frameIdOf(i) })),
  });

  it('is reckoned from the last flag as the timetable runs now', () => {
    expect(view('12:35:00')).toMatchObject({ is: 'to-do', minutesLeft: 30 });
    expect(view('12:35:00')!.sentence).toBe(
      '15 pictures for Ebbstone Riders due at 13:05, by the flag of T Race 1 at 12:05, in 30 min.',
    );
  });
  it('a time that was agreed goes before; it is late after it, and in time when they went before it', () => {
    const due = { due: '2026-09-19T13:00' };
    expect(view('13:10:00', [], due)!.sentence).toBe('15 pictures for Ebbstone Riders were due at 13:00, 10 min ago.');
    expect(view('14:00:00', [handedAt('12:58:00')], due)).toMatchObject({ is: 'in-time', minutesLeft: null });
    expect(view('14:00:00', [handedAt('13:20:00')], due)!.sentence).toBe(
      '15 pictures for Ebbstone Riders handed over at 13:20, 20 min after they were due (at 13:00).',
    );
    const before = { ...handedAt('23:13:00'), wall: wallMsOf(wallAt('23:13:00') - 86_400_000) };
    expect(
      organiserView({ agreed: { ...agreed, ...due }, timetable: weekend, handed: [before], clock: before.wall })!
        .sentence,
    ).toBe('15 pictures for Ebbstone Riders handed over at 2026-09-18 23:13, in time: due at 2026-09-19 13:00.');
  });
  it('nobody said a time: that is said; nothing agreed: nothing is said', () => {
    expect(
      organiserView({ agreed: { name: 'Ebbstone Riders' }, timetable: weekend, handed: [], clock: wallAt('12:00:00') }),
    ).toMatchObject({
      is: 'not-asked',
      pictures: SET_WISH.pictures,
      sentence: '15 pictures for Ebbstone Riders; when they are due nobody said.',
    });
    expect(organiserView({ agreed: undefined, timetable: weekend, handed: [], clock: wallAt('12:00:00') })).toBeNull();
  });
});

it('OG32: what went and was taken down since is said by name', () => {
  const handed: HandedSet = {
    at: 0 as never,
    wall: wallAt('12:00:00'),
    is: 'set',
    pictures: [1, 2, 3].map((number) => ({ number, file: `0${number}-x.jpg`, frameId: frameIdOf(number) })),
  };
  expect(downSince([handed], new Set([frameIdOf(9)]))).toEqual([]);
  expect(downSince([handed, handed], new Set([frameIdOf(1), frameIdOf(3)]))).toEqual([
    '01-x.jpg, 03-x.jpg went to the organiser and were taken down or held back since: ask them to remove them, and hand the set over again.',
  ]);
});
