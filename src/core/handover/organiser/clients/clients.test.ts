/** Rules OG15–OG17, OG19 of docs/rules/organiser.md. */
import { describe, expect, it } from 'vitest';
import { buildDay, type DaySpec, logOf, wallAt } from '../../../../../test/builders/arrangement.js';
import { cover } from '../../../cover/index.js';
import type { RiderId, SpotId } from '../../../ids.js';
import type { Decision } from '../../../log/types.js';
import type { EntryLine } from '../../../plan/timetable/types.js';
import type { Timetable } from '../../../plan/types.js';
import { bookedIn } from './booked.js';
import { clientsView } from './clientsView.js';

const slot = (name: string, group: string, start: string, end: string) => ({
  name,
  group,
  start: wallAt(start),
  end: wallAt(end),
});
const timetable: Timetable = {
  groups: [
    { key: 'S', name: 'Superstock' },
    { key: 'T', name: 'Twins' },
  ],
  slots: [
    slot('S1', 'S', '09:00', '09:20'),
    slot('T1', 'T', '09:25', '09:45'),
    slot('S2', 'S', '10:00', '10:20'),
    slot('S3', 'S', '11:00', '11:20'),
  ],
  slipRule: 'sliding',
};
const SESSIONS: DaySpec['sessions'] = [
  { name: 'S1', group: 'S', start: '09:00', end: '09:20' },
  { name: 'T1', group: 'T', start: '09:25', end: '09:45' },
];
/** With so few riders nothing but its own pass can be compared with: the sharpest is good, the other is not sure. */
const two = [{ sharp: 1 }, { sharp: 0.95 }];
const passes: DaySpec['passes'] = [
  { rider: 'a', session: 0, spot: 'beacon', at: '09:05:00', frames: two },
  { rider: 'b', session: 0, spot: 'beacon', at: '09:06:00', frames: two },
  { rider: 'c', session: 0, spot: 'beacon', at: '09:07:00', frames: two },
  { rider: 'd', session: 1, spot: 'gannet', at: '09:30:00', frames: two },
];
const entry = (of: string, number: string, wants = '12 pictures from 3 spots', person?: string): EntryLine => ({
  event: '',
  class: of,
  number,
  wants,
  ...(person === undefined ? {} : { person }),
});

interface Spec {
  readonly riders?: DaySpec['riders'];
  readonly entries?: readonly EntryLine[];
  readonly decisions?: readonly Decision[];
  readonly asOf?: string;
}

function view({
  riders = { a: { number: '46', id: 'id-a' } },
  entries = [entry('Superstock', '46')],
  decisions = [],
  asOf = '10:10',
}: Spec) {
  const day = buildDay({ sessions: SESSIONS, passes, riders: { ...riders } });
  const coverage = cover({ ...day, stands: [], spots: [], timetable: null, entries: null, now: null });
  return clientsView({
    ...day,
    coverage,
    meeting: 'Ebbstone',
    timetable,
    log: logOf(decisions),
    entries,
    spots: [],
    asOf: wallAt(asOf),
    photographer: 'R. Quill',
    nameOf: (person) => (person === 'p1' ? 'Ada Sand' : null),
  });
}

describe('OG15: what the cards brought in prove', () => {
  it('is said by session and spot, with how the number is known', () => {
    const [client] = view({}).clients;
    expect(client!.sessions.map(({ name, when, cards }) => [name, when, cards.kind])).toEqual([
      ['S1', 'over', 'seen'],
      ['S2', 'now', 'not-seen'],
      ['S3', 'to-come', 'not-seen'],
    ]);
    expect(client!.sessions[0]!.cards).toEqual({
      kind: 'seen',
      by: { kind: 'said' },
      good: 1,
      frames: 2,
      from: [{ spot: 'beacon', good: 1, frames: 2 }],
    });
    const [read] = view({ riders: { a: { number: '46', numberConfidence: 0.93 } } }).clients;
    expect(read!.sessions[0]!.cards).toMatchObject({ kind: 'seen', by: { kind: 'read', confidence: 0.93 } });
  });

  it('tells a session without a card yet from one whose card does not show them', () => {
    const [client] = view({ entries: [entry('Superstock', '7')] }).clients;
    expect(client!.sessions.map(({ cards }) => (cards.kind === 'not-seen' ? cards.why : cards.kind))).toEqual([
      'not-in-the-cards',
      'no-card-yet',
      'to-come',
    ]);
  });

  it('does not take another class’s rider with the same number', () => {
    const riders = { a: { number: '46' }, d: { number: '46' } };
    const { clients } = view({ riders, entries: [entry('Superstock', '46'), entry('Twins', '46')] });
    expect(clients.map(({ class: of, spots }) => [of, spots])).toEqual([
      ['Superstock', ['beacon']],
      ['Twins', ['gannet']],
    ]);
  });

  it('counts no number that was read too unsurely, and says it', () => {
    const [client] = view({ riders: { a: { number: '46', numberConfidence: 0.6 } } }).clients;
    expect(client!.frames).toBe(0);
    expect(client!.doubts).toEqual(['Number 46 may also be S-a, 60 of 100: not counted until somebody says so.']);
  });

  it('OG19: counts all riders who carry the number, and asks whether they are one', () => {
    const [client] = view({ riders: { a: { number: '46' }, b: { number: '46' } } }).clients;
    expect(client!.frames).toBe(4);
    expect(client!.doubts).toEqual([
      'Number 46 is carried by 2 riders (S-a, S-b): all are counted. Say at the desk whether they are one.',
    ]);
  });
});

describe('OG16: a tap is a person’s word', () => {
  const got = (at: string, more: Partial<Extract<Decision, { kind: 'got' }>> = {}): Decision => ({
    kind: 'got',
    at: wallAt(at),
    spot: 'gannet' as SpotId,
    number: '46',
    ...more,
  });

  it('stands beside what the cards say and is never counted as a picture', () => {
    const [client] = view({ decisions: [got('10:04')] }).clients;
    const now = client!.sessions[1]!;
    expect(now.cards).toEqual({ kind: 'not-seen', why: 'no-card-yet' });
    expect(now.got).toEqual([{ at: wallAt('10:04'), spot: 'gannet', cards: 'no-card-yet' }]);
    expect([client!.good, client!.isWanted]).toEqual([1, false]);
    expect(view({}).clients[0]!.isWanted).toBe(true);
  });

  it('says whether the card shows it, once it is in', () => {
    const [client] = view({ decisions: [got('09:05:30'), got('09:15:00')] }).clients;
    expect(client!.sessions[0]!.got.map(({ cards }) => cards)).toEqual(['shown', 'not-shown']);
    expect(client!.doubts).toEqual(['1 of the taps is shown by no picture, though the card is in.']);
  });

  it('by rider, by number of the class that is out, or by a class that was said', () => {
    const tapped = (decision: Decision, of = 'Superstock') =>
      view({ decisions: [decision], entries: [entry(of, '46')] }).clients[0]!.sessions.flatMap((one) => one.got).length;
    expect(tapped({ kind: 'got', at: wallAt('10:04'), rider: 'id-a' as RiderId })).toBe(1);
    expect(tapped({ kind: 'got', at: wallAt('10:04'), rider: 'id-z' as RiderId })).toBe(0);
    expect(tapped(got('09:30'))).toBe(0);
    expect(tapped(got('09:30'), 'Twins')).toBe(1);
    expect(tapped(got('10:04', { class: 'Superstock' }))).toBe(1);
    expect(tapped(got('10:04', { class: 'Twins' }))).toBe(0);
  });

  it('carries the initials of whoever takes the pictures', () => {
    expect(view({}).initials).toBe('RQ');
  });
});

describe('OG17: what is still owed', () => {
  it('comes from the booking’s figures, in the languages of entry lists; what it does not say is not guessed', () => {
    expect(bookedIn('12 pictures from 3 spots')).toEqual({ pictures: 12, spots: 3 });
    expect(bookedIn('Paket L: 10 Bilder, 2 Stellen')).toEqual({ pictures: 10, spots: 2 });
    expect(bookedIn('20 photos')).toEqual({ pictures: 20, spots: null });
    expect(bookedIn('15 good photos of the race')).toEqual({ pictures: 15, spots: null });
    expect(bookedIn('head-on, number 46')).toEqual({ pictures: null, spots: null });
    expect(bookedIn('weekend package')).toEqual({ pictures: null, spots: null });
  });

  it('is of good frames and of spots with one; never less than nothing', () => {
    expect(view({}).clients[0]!.owed).toEqual({ pictures: 11, spots: 2 });
    expect(view({ entries: [entry('Superstock', '46', '1 picture')] }).clients[0]!.owed).toEqual({
      pictures: 0,
      spots: null,
    });
  });
});

it('OG15: who is on track and not seen stands first; those who booked nothing are not in it; names as they may be said', () => {
  const entries = [
    entry('Twins', '9'),
    { event: '', class: 'Superstock', number: '5' },
    entry('Superstock', '46', '5 pictures', 'p1'),
    entry('Superstock', '12'),
  ];
  const { clients } = view({ entries, decisions: [{ kind: 'got', at: wallAt('10:01'), number: '46' }] });
  expect(clients.map(({ number, isWanted, name }) => [number, isWanted, name])).toEqual([
    ['12', true, null],
    ['46', false, 'Ada Sand'],
    ['9', false, null],
  ]);
});

it('OG15: cards that are later than the clock are believed: what they show is over', () => {
  const [client] = view({ asOf: '08:00' }).clients;
  expect(client!.sessions.map(({ name, when }) => [name, when])).toEqual([
    ['S1', 'over'],
    ['S2', 'to-come'],
    ['S3', 'to-come'],
  ]);
});
