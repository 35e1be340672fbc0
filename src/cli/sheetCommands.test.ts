import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import ICAL from 'ical.js';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { EBBSTONE } from '../../demo/circuit/ebbstone.js';
import type { Decision } from '../core/log/types.js';
import type { AskedDay } from '../core/plan/day/index.js';
import type { RunSheet } from '../core/plan/sheet/types.js';
import type { Timetable } from '../core/plan/types.js';
import { millisecondsOf, wallMsOf } from '../core/units.js';
import { newGestureId } from '../host/logbook/index.js';
import { createMeeting, openMeeting } from '../host/meeting/index.js';
import { planCommand } from './planCommand.js';
import { sheetCommand } from './sheetCommand.js';

let root: string;
let folder: string;
const DAY = '2031-05-17';
const at = (clock: string) => wallMsOf(Date.parse(`${DAY}T${clock}:00Z`));
const now = () => Date.parse('2031-05-16T19:00:00Z');

const GROUPS = [
  { key: 'N', name: 'Novice' },
  { key: 'I', name: 'Inters' },
  { key: 'F', name: 'Fast' },
];
const TIMETABLE: Timetable = {
  groups: GROUPS,
  slipRule: 'clock-fixed',
  fastestLapMs: millisecondsOf(95_000),
  slots: Array.from({ length: 12 }, (_, i) => {
    const start = wallMsOf(at('09:00') + (i + (i < 9 ? 0 : 3)) * 20 * 60_000);
    return {
      name: `${GROUPS[i % 3]!.key}${Math.floor(i / 3) + 1}`,
      group: GROUPS[i % 3]!.key,
      start,
      end: wallMsOf(start + 20 * 60_000),
    };
  }),
};
const [FIRST, SECOND] = EBBSTONE.spots as [(typeof EBBSTONE.spots)[number], (typeof EBBSTONE.spots)[number]];
const STANDS: readonly Decision[] = [
  { kind: 'stood-at', spot: FIRST.id, from: at('08:55'), to: at('10:00') },
  { kind: 'stood-at', spot: SECOND.id, from: at('10:40'), to: at('11:20') },
];

beforeEach(async () => {
  root = await mkdtemp(join(tmpdir(), 'tyrewall-sheet-'));
  folder = join(root, 'meeting');
  await createMeeting(folder, {
    name: 'Ebbstone',
    firstDay: DAY,
    lastDay: '2031-05-18',
    zone: 'Europe/London',
    spots: [],
  });
});
afterEach(() => rm(root, { recursive: true, force: true }));

async function say(...decisions: readonly Decision[]): Promise<void> {
  const meeting = await openMeeting(folder, { stateRoot: join(root, 'state'), readFills: async () => [] });
  await meeting.log.append(newGestureId(), decisions);
  await meeting.close();
}

async function lines(
  command: typeof planCommand | typeof sheetCommand,
  wish: Parameters<typeof sheetCommand>[1] & Parameters<typeof planCommand>[1] = {},
) {
  const said: string[] = [];
  await command(folder, { stateRoot: join(root, 'state'), now, ...wish }, (line: string) => said.push(line));
  return said;
}

describe('tyrewall plan', () => {
  it('PL630: says what a plan needs where there is nothing', async () => {
    const said = await lines(planCommand);
    expect(said[0]).toBe('Ebbstone, Saturday 17 May 2031: no plan yet.');
    expect(said).toContain(
      '! A plan needs the circuit with its spots and a timetable of this day: say so at the desk (tyrewall open). Or say where you stand and when.',
    );
    expect(said.join('\n')).toMatch(/Mind\n {2}The circuit’s, the marshals’ and local rules come first/);
  });

  it('PL630: prints the person’s stands without any solver', async () => {
    await say({ kind: 'circuit', circuit: EBBSTONE }, { kind: 'timetable', timetable: TIMETABLE }, ...STANDS);
    const said = await lines(planCommand);
    expect(said[0]).toBe('Ebbstone, Saturday 17 May 2031: what you said of where you stand.');
    expect(said.join('\n')).toMatch(
      new RegExp(`08:55–10:00 {2}${FIRST.number} ${FIRST.name} \\(said\\); N1, I1 and F1; .*sure 1/\\d+`),
    );
    expect(said.join('\n')).toMatch(/10:00 +(walk|drive) \d+ min/);
    expect(said.join('\n')).toMatch(
      new RegExp(`Light\\n {2}1 ${FIRST.name}: .*(front|side|back) \\d\\d:\\d\\d–\\d\\d:\\d\\d`),
    );
  });

  it('PL630: asks the solver where nothing was taken or said, and says how far from the best it may be', async () => {
    const timetable = { ...TIMETABLE, slots: TIMETABLE.slots.slice(0, 4) };
    await say({ kind: 'circuit', circuit: EBBSTONE }, { kind: 'timetable', timetable });
    const said = await lines(planCommand);
    const gap = /a plan that the solver found, not taken yet; (?:none is better|at most ([\d.]+) % from the best)\.$/;
    expect(said[0]).toMatch(gap);
    expect(Number(gap.exec(said[0]!)?.[1] ?? 0)).toBeLessThanOrEqual(1);
    expect(said.join('\n')).toMatch(/Why\n {2}\w\d(?: first half)?: \w, the [\w ]+ here/);
  });

  it('PL112: where a permit is wanted nobody is sent before somebody says that it is had', async () => {
    await say({ kind: 'circuit', circuit: EBBSTONE }, { kind: 'timetable', timetable: TIMETABLE });
    const barred = EBBSTONE.spots.filter(({ needsPermit }) => needsPermit === true);
    expect(barred.length).toBeGreaterThan(0);
    const askedOf = async (wish: { readonly permit?: boolean } = {}) => {
      const spots: string[] = [];
      const solve = async ({ problem }: AskedDay) => {
        spots.push(...problem.spots);
        return { kind: 'impossible', colliding: [], sentence: 'nothing is solved here' } as const;
      };
      const told = (await lines(planCommand, { ...wish, solve })).join('\n');
      return { isBarred: barred.every(({ id }) => !spots.includes(id)), told };
    };
    const unsaid = await askedOf();
    expect(unsaid.isBarred).toBe(true);
    expect(unsaid.told).toContain(
      `spot ${barred[0]!.number} ${barred[0]!.name} want a permit, and nobody said whether`,
    );
    expect(await askedOf({ permit: true })).toEqual({ isBarred: false, told: expect.not.stringContaining('permit') });
    await say({ kind: 'permit', has: true });
    expect((await askedOf()).isBarred).toBe(false);
    expect(await askedOf({ permit: false })).toEqual({ isBarred: true, told: expect.not.stringContaining('permit') });
    await say({ kind: 'permit', has: false });
    expect(await askedOf()).toEqual({ isBarred: true, told: expect.not.stringContaining('permit') });
  });

  it('PL630: the plan that was taken comes before all, and is told with --json too', async () => {
    const stays = ['N1', 'I1'].map((stretch) => ({ photographer: 0, stretch, spot: SECOND.id }));
    await say({ kind: 'circuit', circuit: EBBSTONE }, { kind: 'timetable', timetable: TIMETABLE }, ...STANDS, {
      kind: 'plan-taken',
      at: at('08:00'),
      stays,
    });
    const { from, date, sheet } = JSON.parse((await lines(planCommand, { json: true })).join('')) as {
      from: string;
      date: string;
      sheet: RunSheet;
    };
    expect([from, date]).toEqual(['taken', DAY]);
    expect(sheet.stands.map(({ spot }) => spot.name)).toEqual([SECOND.name]);
    expect((await lines(planCommand)).join('\n')).toMatch(/Why\n {2}N1: N, the only time here/);
  });

  it('PL630: the permit a plan was made with is said along when it is taken', async () => {
    await say({ kind: 'circuit', circuit: EBBSTONE }, { kind: 'timetable', timetable: TIMETABLE });
    const stays = [{ photographer: 0, stretch: 'N1 first half', spot: FIRST.id }];
    const solve = async () =>
      ({ kind: 'plan', stays, worth: 1, bound: 13, isProvenBest: false, from: 'solver' }) as const;
    const said = await lines(planCommand, { solve, take: true, permit: true });
    expect(said[0]).toMatch(/how far it is from the best is not known\.$/);
    const meeting = await openMeeting(folder, { stateRoot: join(root, 'state'), isForLooking: true });
    const kinds = meeting.log.folded().inForce.map(({ decision }) => decision);
    await meeting.close();
    expect(kinds).toContainEqual({ kind: 'permit', has: true });
  });

  it('PL630: nowhere to stand is no plan to take, and says why', async () => {
    await say({ kind: 'circuit', circuit: EBBSTONE }, { kind: 'timetable', timetable: TIMETABLE });
    const closed = EBBSTONE.spots.map(
      ({ id }) => ({ kind: 'closed', spot: id, from: at('08:00'), to: at('18:00') }) as const,
    );
    await say({ kind: 'wishes', wishes: closed });
    const solve = async () =>
      ({ kind: 'plan', stays: [], worth: 0, bound: 0, isProvenBest: true, from: 'solver' }) as const;
    const said = await lines(planCommand, { solve });
    expect(said[0]).toMatch(/: the solver found nowhere to stand; below stands why\.$/);
    expect(said.join('\n')).toContain('N1 to F4, 12 sessions, go by: every spot is closed then, or not wished.');
    await expect(lines(planCommand, { solve, take: true })).rejects.toThrow(/^Expected a plan from the solver to take/);
  });

  it('PL630: what was found is taken with --take, and is the plan from then on', async () => {
    await say({ kind: 'circuit', circuit: EBBSTONE }, { kind: 'timetable', timetable: TIMETABLE });
    const stays = [{ photographer: 0, stretch: 'N1 first half', spot: SECOND.id }];
    const solve = async () =>
      ({ kind: 'plan', stays, worth: 1, bound: 1.05, isProvenBest: false, from: 'solver' }) as const;
    const said = await lines(planCommand, { solve, take: true });
    expect(said[0]).toMatch(/at most 5\.0 % from the best\.$/);
    expect(said.at(-1)).toBe('Taken. tyrewall sheet makes the run sheet of it.');
    expect((await lines(planCommand))[0]).toMatch(/the plan that was taken\.$/);
    expect(said[0]).not.toContain('not taken yet');
    await expect(lines(planCommand, { take: true })).rejects.toThrow(/^Expected a plan from the solver to take/);
  });

  it('PL630: wishes that cannot all be had are told with what collides', async () => {
    await say({ kind: 'circuit', circuit: EBBSTONE }, { kind: 'timetable', timetable: TIMETABLE });
    const sentence = 'N1 is pinned to Beacon and kept from it: take one of the two back.';
    const solve = async () => ({ kind: 'impossible', colliding: [], sentence }) as const;
    const said = await lines(planCommand, { solve });
    expect(said[0]).toMatch(/no plan yet/);
    expect(said).toContain(`! ${sentence}`);
  });

  it.each([
    [
      { day: '2031-05-20' },
      /^Expected a day of the meeting, 2031-05-17 to 2031-05-18, after --day but got 2031-05-20\./,
    ],
    [{ day: 'tomorrow' }, /but got tomorrow\. Write it as YYYY-MM-DD\.$/],
    [{ from: '25:00' }, /^Expected a time of the day after --from, for instance 13:20, but got 25:00\.$/],
    [{ photographer: '2' }, /^Expected a photographer from 1 to 1 after --photographer but got 2\./],
  ])('PL632: wrong input gets a sentence: %o', async (wish, sentence) => {
    await expect(lines(planCommand, wish)).rejects.toThrow(sentence);
  });
});

describe('tyrewall sheet', () => {
  it('PL631: lays PDF and calendar beside what else was made of the meeting', async () => {
    await say({ kind: 'circuit', circuit: EBBSTONE }, { kind: 'timetable', timetable: TIMETABLE }, ...STANDS);
    const said = await lines(sheetCommand);
    const place = join(folder, 'made', 'sheets', `run-sheet-${DAY}`);
    expect(said.at(-2)).toMatch(/run-sheet-2031-05-17\.pdf: the run sheet, \d pages? A4, \d+ kB\.$/);
    expect((await readFile(`${place}.pdf`)).subarray(0, 5).toString()).toBe('%PDF-');
    const calendar = new ICAL.Component(ICAL.parse(await readFile(`${place}.ics`, 'utf8')));
    expect(calendar.getAllSubcomponents('vevent').map((event) => event.getFirstPropertyValue('summary'))).toEqual([
      `${FIRST.number} ${FIRST.name}: N1, I1 and F1`,
      `${SECOND.number} ${SECOND.name}: F2 and N3`,
    ]);
  });

  it('PL622: made again over the old calendar, what fell out is cancelled', async () => {
    const ics = join(root, 'day.ics');
    await say({ kind: 'circuit', circuit: EBBSTONE }, { kind: 'timetable', timetable: TIMETABLE }, ...STANDS);
    await lines(sheetCommand, { ics });
    const stays = [{ photographer: 0, stretch: 'N1', spot: FIRST.id }];
    await say({ kind: 'plan-taken', at: at('08:00'), stays });
    await lines(sheetCommand, { ics, now: () => now() + 60_000 });
    const events = new ICAL.Component(ICAL.parse(await readFile(ics, 'utf8'))).getAllSubcomponents('vevent');
    expect(events.map((event) => event.getFirstPropertyValue('status'))).toEqual(['CONFIRMED', 'CANCELLED']);
  });

  it('PL631: without circuit and timetable it says so and makes the sheet all the same', async () => {
    const said = await lines(sheetCommand, { pdf: join(root, 'new folder', 'sheet.pdf') });
    expect(said[0]).toBe('! Nothing is planned for this day yet: take a plan, or say where you stand and when.');
    expect(said[1]).toMatch(/sheet\.pdf: the run sheet, 1 page A4/);
  });

  it('PL632: writes over no file that is something else', async () => {
    const notes = join(root, 'notes.txt');
    await writeFile(notes, 'mine');
    await expect(lines(sheetCommand, { pdf: notes })).rejects.toThrow(
      /^Expected to write a PDF to .*notes\.txt but another file lies there\. Give --pdf another name\.$/,
    );
    await expect(lines(sheetCommand, { ics: notes })).rejects.toThrow(/^Expected to write a calendar to /);
    await expect(lines(sheetCommand, { pdf: join(notes, 'sheet.pdf') })).rejects.toThrow(/^Expected to write /);
    expect(await readFile(notes, 'utf8')).toBe('mine');
  });
});
