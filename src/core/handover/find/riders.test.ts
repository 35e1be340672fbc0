import { describe, expect, it } from 'vitest';
import { logOf } from '../../../../test/builders/arrangement.js';
import { galleryDay } from '../../../../test/builders/galleryDay.js';
import type { PersonId, RiderId, RiderKey } from '../../ids.js';
import type { Decision } from '../../log/types.js';
import { planGallery } from '../planGallery.js';
import type { PublicIdOf } from '../types.js';
import { findRidersOf, knownOfRiders, ownLinksOf, ownSetsOf } from './index.js';

const publicIdOf: PublicIdOf = (kind, what) => `${kind} of ${what}`;
const galleryOf = (day: ReturnType<typeof galleryDay>) =>
  planGallery({
    ...day,
    edition: 'first',
    contact: null,
    proofs: new Map(
      [...day.keepers.byRider.values()].flat().map(({ bike }) => [bike.frameId, { widthPx: 1400, heightPx: 933 }]),
    ),
    publicIdOf,
    mint: (face) => `minted ${face}` as RiderId,
  }).gallery;
const person = (name: string) => name as PersonId;
const entry = (number: string, ofClass: string, who?: string) => ({
  event: '',
  class: ofClass,
  number,
  ...(who === undefined ? {} : { person: who }),
});

describe('riders to be found', () => {
  it('FN2: each picture counts with its session, group, spot and quarter of an hour, each rider with its colours', () => {
    const riders = findRidersOf(galleryOf(galleryDay()));
    expect(riders).toHaveLength(6);
    const first = riders[0]!;
    expect(first.bike).toEqual(['orange']);
    expect(first.number).toEqual({ text: '7', isGuess: false });
    // 09:03 and 10:03: quarters 36 and 40 of the day.
    expect(new Set(first.entries.map((one) => JSON.stringify(one)))).toEqual(
      new Set([
        JSON.stringify({ session: 0, group: 'N', spot: 1, quarter: 36 }),
        JSON.stringify({ session: 2, group: 'N', spot: 2, quarter: 40 }),
      ]),
    );
  });

  it('FN6: names only where the organiser allows them, and never of a minor', () => {
    const decisions: Decision[] = [
      { kind: 'entries', entries: [entry('7', 'N', 'p7'), entry('10', 'F', 'p10')] },
      { kind: 'minor', person: person('p10'), is: 'with-consent' },
    ];
    const day = galleryDay({ decisions });
    const persons = [
      { id: person('p7'), name: 'Ada Example' },
      { id: person('p10'), name: 'Bo Sample', cardToken: 'CARD' },
    ];
    const wordsOf = (mayBeNamed: boolean, log = day.log) => {
      const known = knownOfRiders(day.arrangement, log, { persons, mayBeNamed });
      const riders = findRidersOf(galleryOf(day), known);
      return riders.flatMap(({ number, words }) => (words.length > 0 ? [[number?.text, ...words]] : []));
    };
    expect(wordsOf(true)).toEqual([['7', 'ada', 'example']]);
    expect(wordsOf(false)).toEqual([]);
    expect(wordsOf(true, logOf(decisions.slice(0, 1)))).toHaveLength(2);
    const bySaidRider = logOf([
      { kind: 'rider-minted', rider: 'seven' as RiderId, points: [] },
      decisions[0]!,
      { kind: 'minor', rider: 'seven' as RiderId, is: 'with-consent' },
    ]);
    const named = galleryDay({ about: { r0: { id: 'seven', number: '7' } } });
    const known = knownOfRiders(named.arrangement, bySaidRider, { persons, mayBeNamed: true });
    expect(known({ key: 'r0' as RiderKey }).name).toBeNull();
    const card = knownOfRiders(day.arrangement, day.log, { persons, mayBeNamed: true });
    expect(card({ key: 'r3' as RiderKey })).toEqual({ class: 'F', name: null, card: 'CARD' });
  });

  it('FN6: the class is that of the entry, and none where the number is entered in two', () => {
    const classOf = (entries: readonly ReturnType<typeof entry>[]) => {
      const day = galleryDay({ decisions: [{ kind: 'entries', entries }] });
      const known = knownOfRiders(day.arrangement, day.log, { persons: [], mayBeNamed: false });
      return known({ key: 'r0' as RiderKey }).class;
    };
    expect(classOf([entry('7', 'Twins'), entry('8', 'Singles')])).toBe('Twins');
    expect(classOf([entry('7', 'Twins'), entry('7', 'Singles')])).toBeNull();
    expect(classOf([entry('7', 'N'), entry('7', 'F')])).toBe('N');
    expect(classOf([])).toBeNull();
  });
});

describe('private links', () => {
  const r = (name: string) => name as RiderId;
  const link = (rider: string, salt: string | null): Decision => ({ kind: 'own-link', rider: r(rider), salt });

  it('FN10: the later word stands, and each rider’s stands by itself', () => {
    const log = logOf([link('a', 's1'), link('b', 's2'), link('a', 's3'), link('c', 's4'), link('c', null)]);
    expect([...ownLinksOf(log)]).toEqual([
      ['a', 's3'],
      ['b', 's2'],
    ]);
  });

  it('FN11: a link outlives that two riders became one, and ends when its rider was taken down', () => {
    const about = { r0: { id: 'a', aliases: ['old'] }, r1: { id: 'b' } };
    const decisions = [link('old', 's1'), link('a', 's2'), link('b', 's3')];
    const setsOf = (more: readonly Decision[]) => {
      const day = galleryDay({ about, decisions: [...decisions, ...more] });
      return ownSetsOf(galleryOf(day), day.arrangement.riders, day.log, publicIdOf).map(({ id, rider }) => [
        id,
        rider.id,
      ]);
    };
    expect(setsOf([])).toEqual([
      ['set of ["a","s2"]', 'a'],
      ['set of ["old","s1"]', 'a'],
      ['set of ["b","s3"]', 'b'],
    ]);
    expect(setsOf([{ kind: 'take-down', rider: r('old') }])).toEqual([['set of ["b","s3"]', 'b']]);
  });
});
