import { describe, expect, it } from 'vitest';
import { hardDay, ORDINARY_DAY, syntheticDay } from '../../../demo/simulated-day/index.js';
import { arrange } from './index.js';

const groups = ORDINARY_DAY.groups.map((group) => ({ ...group, riders: 10 }));
const day = syntheticDay({ ...hardDay('s74', 8), groups, rounds: 3 });
const known = arrange(day.input);
const unknown = arrange({ ...day.input, timetable: null });
const placed = (arrangement: typeof known) => arrangement.passes.filter(({ why }) => why?.startsWith('Fits'));

describe('why passes are one rider’s', () => {
  it('AR40: no group is named where none is known, and where it is, only beside another pass with that group', () => {
    const withGroup = placed(known).filter(({ why }) => /in [^.]*\bgroup\b/.test(why!));
    expect(withGroup.length).toBeGreaterThan(50);
    for (const pass of withGroup) {
      const rider = known.riders.find(({ key }) => key === pass.rider)!;
      const groupOf = (p: number) => known.sessions[known.passes[p]!.session]?.group;
      const alike = rider.passes.filter((p) => p !== pass.index && groupOf(p) === groupOf(pass.index));
      expect(alike.length, pass.why).toBeGreaterThan(0);
    }
    const groupless = unknown.passes.filter(({ session }) => (unknown.sessions[session]?.group ?? null) === null);
    expect(groupless.length).toBeGreaterThan(50);
    expect(groupless.filter(({ why }) => /in [^.]*\bgroup\b/.test(why ?? ''))).toEqual([]);
  });

  it('AR40: laps are named only where the rider went by the same place in that session another time', () => {
    const withLaps = placed(known).filter(({ why }) => /in [^.]*\blaps\b/.test(why!));
    expect(withLaps.length).toBeGreaterThan(50);
    for (const { index, rider: key, session } of withLaps) {
      const rider = known.riders.find((one) => one.key === key)!;
      expect(rider.passes.filter((p) => p !== index && known.passes[p]!.session === session).length).toBeGreaterThan(0);
    }
    expect(placed(known).length).toBeGreaterThan(withLaps.length);
  });

  it('AR40: a rider’s reasons count what is so: sessions, laps, groups and the pass that holds most loosely', () => {
    const reasonsOf = ({ source }: (typeof known.riders)[number]) => (source.kind === 'guessed' ? source.reasons : []);
    const rider = known.riders.find((one) => one.passes.length > 8 && reasonsOf(one).join().includes('after a lap'))!;
    const own = rider.passes.map((p) => known.passes[p]!);
    const reasons = reasonsOf(rider);
    const sessions = new Set(own.map(({ session }) => session));
    expect(reasons[0]).toBe(`${own.length} passes in ${sessions.size} sessions`);
    expect(reasons.join('\n')).toMatch(/back at one spot after a lap (once|\d+ times): \d:\d\d/);
    expect(reasons.join('\n')).toMatch(new RegExp(`only while ${rider.group} was out`));
    const loosest = /the pass of (\S+) holds most loosely/.exec(reasons.join('\n'))?.[1];
    expect(own.map(({ start }) => new Date(start).toISOString().slice(11, 19))).toContain(loosest);
  });
});
