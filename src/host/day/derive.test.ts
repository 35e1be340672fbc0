import { describe, expect, it } from 'vitest';
import { EBBSTONE } from '../../../demo/circuit/ebbstone.js';
import { foldedOf, ORDINARY_DAY, syntheticDay } from '../../../demo/simulated-day/index.js';
import type { Decision } from '../../core/log/types.js';
import { millisecondsOf, wallMsOf } from '../../core/units.js';
import { derive, inForceOf, spotsOf, timetableOf } from './derive.js';

it('follows the organiser’s head count from the log into the coverage', () => {
  const day = syntheticDay({ groups: ORDINARY_DAY.groups.map((group) => ({ ...group, riders: 6 })), rounds: 2 });
  const count = { kind: 'head-count', at: wallMsOf(day.sessions[0]!.start), group: 'N', riders: 31 } as const;
  const known = { ...day.input, spots: [], log: foldedOf([{ kind: 'timetable', timetable: day.timetable }, count]) };
  const unseen = derive(known, null).coverage.unseen ?? [];
  const ofNovices = unseen.filter(({ group }) => group === 'N');
  expect(ofNovices.length).toBeGreaterThan(0);
  expect(ofNovices.every(({ source }) => source === 'head-count')).toBe(true);
  expect(ofNovices[0]!.fromRiders).toBeGreaterThan(15);
  expect(unseen.some(({ group, source }) => group !== 'N' && source === 'capture-recapture')).toBe(true);
});

it('PL113: the spots of the circuit are the meeting’s, until others are said', () => {
  const spot = { id: EBBSTONE.spots[1]!.id, number: 4, name: 'Pier' };
  const spots = { kind: 'spots', spots: [spot] } as const;
  const circuit = { kind: 'circuit', circuit: EBBSTONE } as const;
  const ofMeeting = [{ id: 'old', number: 1, name: 'Old' }];
  expect(spotsOf(foldedOf([]), ofMeeting)).toEqual(ofMeeting);
  const drawn = EBBSTONE.spots.map(({ id, number, name }) => ({ id, number, name }));
  expect(drawn.length).toBeGreaterThan(5);
  expect(spotsOf(foldedOf([spots, circuit]), ofMeeting)).toEqual(drawn);
  expect(spotsOf(foldedOf([circuit, spots]), ofMeeting)).toEqual([spot]);
});

describe('a slip is told', () => {
  const day = syntheticDay({ groups: ORDINARY_DAY.groups.map((group) => ({ ...group, riders: 6 })), rounds: 2 });
  const said = { kind: 'timetable', timetable: day.timetable } as const;
  const knownWith = (...decisions: readonly Decision[]) => ({
    ...day.input,
    spots: [],
    log: foldedOf([said, ...decisions]),
  });
  const late = (minutes: number): Decision => ({
    kind: 'slip',
    slip: { kind: 'late', slot: day.timetable.slots[2]!.name, byMs: millisecondsOf(minutes * 60_000) },
  });

  it('PL260: the timetable that arranging is given is the one as it runs', () => {
    const [first, third] = [timetableOf(knownWith().log)!.slots[2]!, timetableOf(knownWith(late(7)).log)!.slots[2]!];
    expect(third.start - first.start).toBe(7 * 60_000);
    expect(inForceOf(knownWith(late(7)).log)?.said).toEqual(day.timetable);
  });

  it('PL261: it is a prior and no more: where frames say when a session was, a slip told wrongly moves none of it', () => {
    const sessionsWith = (...decisions: readonly Decision[]) =>
      derive(knownWith(...decisions), null).arrangement.sessions.map(({ start, end, group, slot, frames }) => ({
        start,
        end,
        group,
        slot,
        frames: frames.length,
      }));
    const told = sessionsWith();
    expect(told.length).toBeGreaterThan(3);
    expect(sessionsWith(late(7))).toEqual(told);
    expect(sessionsWith(late(-5))).toEqual(told);
  });

  it('PL262: numbers of an entry list reach the reading of plates, and who of it no picture shows is told', () => {
    const entries = [
      { event: '', class: '', number: '941' },
      { event: '', class: 'N', number: '942', wants: 'head-on' },
    ];
    const { coverage } = derive(knownWith({ kind: 'entries', entries }), null);
    expect(coverage.neverSeen).toEqual([
      { number: '941', words: '941' },
      { number: '942', words: '942, N' },
    ]);
    expect(derive(knownWith(), null).coverage.neverSeen).toBeNull();
  });
});
