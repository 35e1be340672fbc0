import { expect, it } from 'vitest';
import { foldedOf, ORDINARY_DAY, syntheticDay } from '../../../demo/simulated-day/index.js';
import { wallMsOf } from '../../core/units.js';
import { derive } from './derive.js';

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
