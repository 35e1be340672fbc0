import { describe, expect, it } from 'vitest';
import { buildDay, logOf, type PassSpec, wallAt } from '../../../test/builders/arrangement.js';
import { betaBinomial, logGamma, negativeBinomial } from './countChances.js';
import { cover, headCountsOf, unseenRiders } from './index.js';

const SESSIONS = [
  { name: 'N1', group: 'N', start: '09:00', end: '09:20' },
  { name: 'N2', group: 'N', start: '10:00', end: '10:20' },
  { name: 'N3', group: 'N', start: '11:00', end: '11:20' },
];

/** Riders `from`–`to` by number, each so often in a session. */
const passes = (session: number, from: number, to: number, times: number): PassSpec[] =>
  Array.from({ length: (to - from + 1) * times }, (_, i) => ({
    rider: `r${from + (i % (to - from + 1))}`,
    session,
    at: `${9 + session}:0${1 + Math.floor(i / 40)}:${String(10 + (i % 40)).padStart(2, '0')}`,
    frames: [{}],
  }));

const dayOf = (...specs: readonly PassSpec[][]) => buildDay({ sessions: SESSIONS, passes: specs.flat() }).arrangement;

describe('riders still unseen', () => {
  it('CV15: are a range from how often those seen were seen, in a first session', () => {
    const [well] = unseenRiders(dayOf(passes(0, 1, 20, 3)), []);
    const [badly] = unseenRiders(dayOf(passes(0, 1, 16, 1), passes(0, 17, 20, 2)), []);
    expect(well).toMatchObject({ session: 0, group: 'N', seen: 20, fromRiders: 0, source: 'capture-recapture' });
    expect(well!.toRiders).toBeLessThan(4);
    expect(badly!.toRiders).toBeGreaterThan(10);
    expect(badly!.reason).toContain('16 of 20 riders went by in pictures once');
  });

  it('CV16: are no more than the group has besides, where its other sessions are known', () => {
    const arrangement = dayOf(passes(0, 1, 20, 3), passes(1, 1, 16, 1), passes(2, 1, 20, 3));
    const second = unseenRiders(arrangement, [])[1]!;
    expect(second.seen).toBe(16);
    expect(second.toRiders).toBeLessThanOrEqual(6);
    expect(second.reason).toContain('4 of the group were seen in its other sessions only');
  });

  it('CV17: a rider found in one session of several hardly counts: pieces of riders look so', () => {
    const whole = dayOf(passes(0, 1, 20, 3), passes(1, 1, 20, 3), passes(2, 1, 20, 3));
    const broken = dayOf(passes(0, 1, 20, 3), passes(0, 31, 36, 1), passes(1, 1, 20, 3), passes(2, 1, 20, 3));
    const [before, after] = [whole, broken].map((day) => unseenRiders(day, [])[1]!);
    expect(after!.toRiders - before!.toRiders).toBeLessThanOrEqual(2);
  });

  it('CV18: are what the organiser counted less those seen, from that moment on', () => {
    const counts = headCountsOf(logOf([{ kind: 'head-count', at: wallAt('09:50'), group: 'N', riders: 22 }]));
    const arrangement = dayOf(passes(0, 1, 20, 3), passes(1, 1, 19, 3), passes(2, 1, 20, 3));
    const [first, second] = unseenRiders(arrangement, counts);
    expect(first!.source).toBe('capture-recapture');
    expect(second).toMatchObject({ source: 'head-count', seen: 19, reason: '22 riders were counted, 19 are seen.' });
    expect(second!.fromRiders).toBeLessThanOrEqual(3);
    expect(second!.toRiders).toBeGreaterThanOrEqual(3);
  });

  it('CV18: are never less than none, however few were counted', () => {
    const counts = headCountsOf(logOf([{ kind: 'head-count', at: wallAt('08:00'), group: 'N', riders: 5 }]));
    expect(unseenRiders(dayOf(passes(0, 1, 20, 3)), counts)[0]).toMatchObject({
      fromRiders: 0,
      toRiders: 0,
      contradicts:
        '5 riders of N were counted, but 20 are seen in N1: the count holds for another moment or group, or riders are shown in two. Say the count again, or join them.',
    });
    const enough = headCountsOf(logOf([{ kind: 'head-count', at: wallAt('08:00'), group: 'N', riders: 20 }]));
    expect(unseenRiders(dayOf(passes(0, 1, 20, 3)), enough)[0]).not.toHaveProperty('contradicts');
  });

  it('CV19: instructors and passes that are nobody’s are left out; where hardly anybody is seen nothing is said', () => {
    const arrangement = dayOf(passes(0, 1, 5, 3));
    const taught = arrangement.riders.map((rider, i) => (i === 0 ? { ...rider, isInstructor: true } : rider));
    expect(unseenRiders({ ...arrangement, riders: taught }, [])[0]!.seen).toBe(4);
    const unsure = arrangement.passes.filter(({ rider }) => rider === 'r2').map(({ index }) => index);
    expect(unseenRiders({ ...arrangement, unsure }, [])[0]!.seen).toBe(4);
    expect(unseenRiders(dayOf(passes(0, 1, 2, 3)), [])).toEqual([]);
  });

  it('CV19: are part of the coverage', () => {
    const day = buildDay({ sessions: SESSIONS, passes: passes(0, 1, 5, 2) });
    const coverage = cover({ ...day, stands: [], spots: [], timetable: null, entries: null, now: null });
    expect(coverage.unseen).toHaveLength(1);
  });
});

describe('chances of counts', () => {
  // Γ(5) = 24, Γ(1/2) = √π; the beta-binomial with a = b = 1 is uniform; a negative binomial of size 1 is geometric.
  it('agree with values known by name', () => {
    expect(logGamma(5)).toBeCloseTo(Math.log(24), 12);
    expect(logGamma(0.5)).toBeCloseTo(Math.log(Math.sqrt(Math.PI)), 12);
    expect(betaBinomial(3, 9, 0.5, 2)).toBeCloseTo(0.1, 12);
    expect(negativeBinomial(3, 1, 2)).toBeCloseTo(1 / 16, 12);
    expect(negativeBinomial(2, 1.5, 1.5)).toBeCloseTo((1.5 ** 2 * Math.exp(-1.5)) / 2, 12);
  });
});
