import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { EBBSTONE } from '../../demo/circuit/ebbstone.js';
import { type BuiltDay, buildDay } from '../../test/builders/arrangement.js';
import { cover } from '../core/cover/index.js';
import type { RiderKey, SpotId } from '../core/ids.js';
import type { Decision } from '../core/log/types.js';
import { greedyDay } from '../core/plan/day/index.js';
import type { Timetable } from '../core/plan/types.js';
import { millisecondsOf, wallMsOf } from '../core/units.js';
import { newGestureId } from '../host/logbook/index.js';
import { createMeeting, openMeeting } from '../host/meeting/index.js';
import { lunchOfDay } from '../host/plan/lunch/lunchOfDay.js';
import type { Solve } from '../host/plan/lunch/planAfternoon.js';
import { sheetDayOf } from '../host/plan/sheet/sheetOfDay.js';
import { type LunchCommandWish, lunchCommand } from './lunchCommand.js';
import { lunchLines } from './lunchLines.js';

const DAY = '2031-05-17';
const at = (clock: string) => wallMsOf(Date.parse(`${DAY}T${clock}:00Z`));
const now = () => Date.parse('2031-05-16T19:00:00Z');
const [FIRST, SECOND] = EBBSTONE.spots as [(typeof EBBSTONE.spots)[number], (typeof EBBSTONE.spots)[number]];
const TIMETABLE: Timetable = {
  groups: [
    { key: 'N', name: 'Novice' },
    { key: 'F', name: 'Fast' },
  ],
  slipRule: 'clock-fixed',
  fastestLapMs: millisecondsOf(95_000),
  slots: ['N1', 'F1', 'N2', 'F2', 'N3', 'F3'].map((name, i) => {
    const start = wallMsOf(at('11:00') + (i + (i < 4 ? 0 : 3)) * 20 * 60_000);
    return { name, group: name.slice(0, 1), start, end: wallMsOf(start + 20 * 60_000) };
  }),
};
const TAKEN: Decision = {
  kind: 'plan-taken',
  at: at('08:00'),
  stays: ['N1', 'N3'].map((stretch) => ({ photographer: 0, stretch, spot: SECOND.id })),
};
const solve: Solve = async (problem) => {
  const stays = problem.stretches.map(({ name }) => ({ photographer: 0, stretch: name, spot: FIRST.id }));
  const begun = greedyDay(problem) ?? { stays, worth: 0 };
  return { kind: 'plan', ...begun, bound: null, isProvenBest: false, from: 'greedy' };
};

let root: string;
let folder: string;
beforeEach(async () => {
  root = await mkdtemp(join(tmpdir(), 'tyrewall-lunch-'));
  folder = join(root, 'meeting');
  await createMeeting(folder, { name: 'Ebbstone', firstDay: DAY, lastDay: DAY, zone: 'Europe/London', spots: [] });
});
afterEach(() => rm(root, { recursive: true, force: true }));

async function say(...decisions: readonly Decision[]): Promise<void> {
  const meeting = await openMeeting(folder, { stateRoot: join(root, 'state'), readFills: async () => [] });
  await meeting.log.append(newGestureId(), decisions);
  await meeting.close();
}

async function taken(): Promise<readonly unknown[]> {
  const meeting = await openMeeting(folder, { stateRoot: join(root, 'state'), isForLooking: true });
  const all = meeting.log.folded().inForce.map(({ decision }) => decision);
  await meeting.close();
  return all.filter(({ kind }) => kind === 'plan-taken');
}

async function lines(wish: LunchCommandWish = {}): Promise<readonly string[]> {
  const said: string[] = [];
  await lunchCommand(folder, { stateRoot: join(root, 'state'), now, solve, permit: true, ...wish }, (line: string) =>
    said.push(line),
  );
  return said;
}

describe('tyrewall lunch', () => {
  it('PL1212: says what is missing where no afternoon can be planned', async () => {
    expect((await lines()).join('\n')).toMatch(/The afternoon\n {2}A plan needs the circuit with its spots/);
    await expect(lines({ take: true })).rejects.toThrow(/^Expected an afternoon to take, but none could be planned/);
  });

  it('PL1212: prints both plans from lunch on, with what each may be expected to bring', async () => {
    await say({ kind: 'circuit', circuit: EBBSTONE }, { kind: 'timetable', timetable: TIMETABLE }, TAKEN);
    const said = (await lines()).join('\n');
    expect(said).toMatch(/^Ebbstone, Saturday 17 May 2031: as it stands at 12:20\./);
    expect(said).toMatch(/The afternoon, kept and found\n(?: {2}From .*\n)* {2}13:20 {2}N3/);
    expect(said).toMatch(/F3/);
    expect(said).not.toMatch(/ {2}11:00 {2}N1/);
    expect(said).toMatch(
      /Riders with enough \(guess\)\n {2}N: 0 of 0 now; at the end 0 by the plan kept, 0 by the plan found/,
    );
  });

  it('PL1211: what was found is taken with --take; the morning stays as it was planned; taken back, the plan before stands', async () => {
    await say({ kind: 'circuit', circuit: EBBSTONE }, { kind: 'timetable', timetable: TIMETABLE }, TAKEN);
    expect((await lines({ take: true })).at(-1)).toBe('Taken: it is the plan of the afternoon.');
    const all = await taken();
    expect(all).toHaveLength(2);
    const { stays } = all[1] as Extract<Decision, { kind: 'plan-taken' }>;
    expect(stays[0]).toEqual({ photographer: 0, stretch: 'N1', spot: SECOND.id });
    expect(stays.slice(1).every(({ stretch }) => /^[NF]3/.test(stretch))).toBe(true);
    const again = (await lines()).join('\n');
    expect(again).toMatch(/N3[^\n]*, as planned/);
    const meeting = await openMeeting(folder, { stateRoot: join(root, 'state'), readFills: async () => [] });
    const gesture = meeting.log.folded().gestures.at(-1)!;
    await meeting.log.append(newGestureId(), [{ kind: 'withdraw', gesture }]);
    await meeting.close();
    expect(await taken()).toEqual([TAKEN]);
  });

  it('PL1212: with --sheet the run sheet of the afternoon lies beside what else was made; --json tells the same', async () => {
    await say({ kind: 'circuit', circuit: EBBSTONE }, { kind: 'timetable', timetable: TIMETABLE });
    await lines({ take: true, sheet: true });
    const pdf = await readFile(join(folder, 'made', 'sheets', `run-sheet-${DAY}.pdf`));
    expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
    const data = JSON.parse((await lines({ json: true })).join('')) as {
      afternoon: { kind: string; afternoon: { rows: readonly unknown[] } };
      morning: { groups: readonly unknown[] };
    };
    expect(data.afternoon.kind).toBe('afternoon');
    expect(data.afternoon.afternoon.rows.length).toBeGreaterThan(0);
    expect(data.morning.groups).toHaveLength(2);
  });
});

describe('the morning in a terminal', () => {
  const built: BuiltDay = buildDay({
    sessions: [
      { name: 'N1', group: 'N', start: '11:00', end: '11:20' },
      { name: 'F1', group: 'F', start: '11:30', end: '11:50' },
    ],
    passes: ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h'].map((rider, i) => ({
      rider,
      session: rider === 'h' ? 1 : 0,
      spot: FIRST.id,
      at: `11:${rider === 'h' ? 35 : '05'}:${10 + i}`,
      frames: [{ sharp: rider === 'g' ? 0.01 : 1 }],
    })),
    riders: { g: { livery: 'white, red helmet', number: '94', numberConfidence: 0.7 } },
  });
  const log = {
    lines: [],
    gestures: [],
    inForce: [{ kind: 'circuit', circuit: EBBSTONE } as const, TAKEN].map((decision) => ({
      line: null as never,
      decision,
    })),
    nextLamport: 1,
  };
  const coverage = cover({
    ...built,
    stands: [],
    spots: EBBSTONE.spots,
    timetable: TIMETABLE,
    entries: [{ number: '12', words: '12, orange' }],
    now: null,
  });
  const about = { name: 'Ebbstone', firstDay: DAY, lastDay: DAY, zone: 'Europe/London', spots: [] } as never;
  const known = sheetDayOf(
    { about, timetable: TIMETABLE, log, coverage, arrangement: built.arrangement },
    { date: DAY, hasVehicle: false, hasPermit: true },
  );
  const lunch = lunchOfDay(known, { pixels: built.pixels, metadata: new Map() }, at('12:20'));

  it('PL1206: the next meeting is the first at a spot that still lacks', () => {
    expect(lunch.meetings.get('g' as RiderKey)).toEqual({
      stretch: 'N3 first half',
      from: at('13:20'),
      spot: SECOND.id,
      isNewSpot: true,
    });
  });

  it('PL1212: groups, never seen, and whom to look for are told; a guess is called one', () => {
    const said = lunchLines(known, lunch, null).join('\n');
    expect(said).toMatch(/N: 7 riders found\n {2}0 with enough, 7 short of it, 7 thin/);
    expect(said).toContain(`${FIRST.name}: good 6, unsure 1, missed 0`);
    expect(said).toMatch(/Never seen\n {2}12, orange/);
    const [first] = said.split('Look for\n')[1]!.split('\n');
    expect(first).toContain('white, red helmet [94?]: no good frame yet');
    expect(first).toContain(`next N3 first half, 13:20, ${SECOND.name}`);
  });

  it('PL1206: whose group goes out no more stands last, and is told so', () => {
    const first = ({ morning: { watch } }: typeof lunch) => watch[0]?.rider;
    expect([lunch.outNoMore, first(lunch)]).toEqual([[], 'g']);
    const late = lunchOfDay(known, { pixels: built.pixels, metadata: new Map() }, at('13:40'));
    expect([late.outNoMore, first(late)]).toEqual([['N'], 'h']);
    expect(late.morning.watch).toHaveLength(lunch.morning.watch.length);
    const told = lunchLines(known, late, null).filter((line) => line.includes('no session of theirs is to come'));
    expect(told).toHaveLength(7);
  });

  it('PL1212: whom the plan meets nowhere is told', () => {
    const none = {
      ...lunch,
      meetings: new Map<RiderKey, { stretch: string; from: never; spot: SpotId; isNewSpot: boolean }>(),
    };
    expect(lunchLines(known, none, null).join('\n')).toContain('the plan meets this rider nowhere');
  });
});
