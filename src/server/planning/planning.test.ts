import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Hono } from 'hono';
import ICAL from 'ical.js';
import { afterEach, describe, expect, it } from 'vitest';
import { EBBSTONE } from '../../../demo/circuit/ebbstone.js';
import type { GestureId, SpotId } from '../../core/ids.js';
import type { Decision } from '../../core/log/types.js';
import type { DayPlan, DayProblem, FoundPlan, Wish } from '../../core/plan/day/index.js';
import { millisecondsOf, type WallMs } from '../../core/units.js';
import type { AskOptions, DaySolver } from '../../host/plan/solver/index.js';
import { DeskError } from '../DeskError.js';
import { gatherChanges } from '../events.js';
import type { LadderView, NextBestView, PlanView } from '../planTypes.js';
import { createFakeDay } from '../testing/fakeDay.js';
import { atClock, DAY, TIMETABLE } from '../testing/madeUpDay.js';
import { wallIn } from '../views/wallTime.js';
import { addPlan } from './addPlan.js';

const BEFORE: readonly Decision[] = [
  { kind: 'timetable', timetable: TIMETABLE },
  { kind: 'circuit', circuit: EBBSTONE },
];
const EVENING = Date.parse('2026-09-18T19:00:00Z');
/** 10:41 at the circuit. */
const LATE = Date.parse('2026-09-19T09:41:00Z');

/** All the day at the first spot: whether it can be walked is the solver's to know, not this test's. */
const standStill = ({ stretches, spots }: DayProblem): FoundPlan => ({
  kind: 'plan',
  stays: stretches.map(({ name }) => ({ photographer: 0, stretch: name, spot: spots[0]! })),
  worth: 9.5,
  bound: 10,
  isProvenBest: false,
  from: 'solver',
});

const open: { end(): Promise<void> }[] = [];
afterEach(async () => {
  for (const one of open.splice(0)) await one.end();
});

function sit(now = EVENING, folder?: string) {
  const day = createFakeDay({ frames: 0, riders: 0, hasTimetable: false, hasStands: false });
  const app = new Hono();
  app.onError((error, context) =>
    context.json({ problem: error.message }, error instanceof DeskError ? error.status : 500),
  );
  const changes = gatherChanges(day);
  const asked: DayProblem[] = [];
  const told: AskOptions[] = [];
  const answers: ((plan: DayPlan) => void)[] = [];
  const solver: DaySolver = {
    solve: (problem, options = {}) => {
      asked.push(problem);
      told.push(options);
      return new Promise((resolve) => answers.push(resolve));
    },
    close: async () => undefined,
  };
  const clock = { now };
  const end = addPlan(app, {
    day,
    changes,
    wallNow: (): WallMs => wallIn('Europe/London', clock.now),
    now: () => clock.now,
    office: null,
    folder,
    beginSolver: () => solver,
  });
  open.push({
    end: async () => {
      changes.close();
      await end();
      await day.close();
    },
  });
  let said = 0;
  const say = (...decisions: readonly Decision[]) => day.decide(`gesture-${++said}` as GestureId, decisions);
  const get = async <T>(path: string): Promise<T> => (await app.request(path)).json() as Promise<T>;
  const post = (path: string, body: unknown) =>
    app.request(path, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) });
  const view = () => get<PlanView>(`/api/plan?date=${DAY}`);
  const answer = async (plan: DayPlan) => {
    answers.shift()!(plan);
    await new Promise((resolve) => setTimeout(resolve));
  };
  const search = async () => {
    await post('/api/plan/search', { date: DAY });
    await answer(standStill(asked.at(-1)!));
    return view();
  };
  const text = async (path: string) => (await app.request(path)).text();
  return { day, say, get, text, post, view, answer, search, asked, told, clock };
}

const wishes = (...all: readonly Wish[]): Decision => ({ kind: 'wishes', wishes: all });

describe('the plan at the desk', () => {
  it('PL1301: says what is missing before there can be a plan, and refuses to look for one', async () => {
    const { say, view, post } = sit();
    expect((await view()).headline).toBe('A plan needs the circuit with its spots and a timetable of this day.');
    const refused = await post('/api/plan/search', { date: DAY });
    expect(refused.status).toBe(409);
    expect(((await refused.json()) as { problem: string }).problem).toMatch(/^Expected a circuit with spots/);
    await say(...BEFORE);
    const { headline, missing, sun, circuit } = await view();
    expect([headline, missing]).toEqual(['No plan yet.', []]);
    expect(sun).toHaveLength(EBBSTONE.spots.length);
    expect(circuit?.name).toBe(EBBSTONE.name);
  });

  it('PL122, PL1301: spots that no way reaches are told above the plan, and no more once a way is drawn', async () => {
    const { say, view } = sit();
    await say(BEFORE[0]!, { kind: 'circuit', circuit: { ...EBBSTONE, ways: [] } });
    expect((await view()).cutOff).toMatch(/^No way is drawn from the paddock to any of the 8 spots/);
    await say({ kind: 'circuit', circuit: EBBSTONE });
    expect((await view()).cutOff).toBeNull();
  });

  it('PL1303: a plan found is drawn, with how far it is from the best, and is nobody’s until it is taken', async () => {
    const { day, say, view, post, search } = sit();
    await say(...BEFORE);
    const found = await search();
    expect(found.shown).toBe('found');
    expect(found.headline).toBe('A plan is found: 2 stays at 1 spot.');
    expect(found.lead.join(' ')).toContain('At most 5.3 % from the best');
    expect(day.state().log.inForce.some(({ decision }) => decision.kind === 'plan-taken')).toBe(false);
    await post('/api/plan/let-go', {});
    expect((await view()).shown).toBe('none');
    const stays = found.stays.map(({ photographer, stretch, spot }) => ({ photographer, stretch, spot }));
    await say({ kind: 'plan-taken', at: found.now, stays });
    const taken = await view();
    expect(taken.shown).toBe('taken');
    expect(taken.sheets[0]!.stands).toEqual(found.sheets[0]!.stands);
  });

  it('PL1304: the search tells how far it is, and told to end it answers with the best until then', async () => {
    const { say, view, post, told, asked, answer, clock } = sit();
    await say(...BEFORE);
    await post('/api/plan/search', { date: DAY });
    clock.now += 3000;
    told[0]!.onFirst?.(standStill(asked[0]!));
    expect((await view()).solving).toEqual({ kind: 'running', seconds: 3, limitS: 10, worth: 9.5 });
    expect((await post('/api/plan/search', { date: DAY })).status).toBe(409);
    await post('/api/plan/stop', {});
    expect(told[0]!.signal?.aborted).toBe(true);
    await answer(standStill(asked[0]!));
    expect((await view()).solving).toMatchObject({ kind: 'found', seconds: 3, isOld: false });
  });

  it('PL1305: what is wished after a plan was asked for makes it old', async () => {
    const { say, view, search } = sit();
    await say(...BEFORE);
    await search();
    await say(wishes({ kind: 'pin', stretch: 'N3', spot: EBBSTONE.spots[2]!.id }));
    const { solving, lead, wishes: said } = await view();
    expect(solving).toMatchObject({ kind: 'found', isOld: true });
    expect(lead.at(-1)).toMatch(/have it made again/);
    expect(said.map(({ text }) => text)).toEqual(['3 Slipway in N3']);
  });

  it('PL1305: a plan found or taken outlives the spots, sessions and photographers it stands on', async () => {
    const { say, view, search, post } = sit();
    await say(...BEFORE, { kind: 'wishes', wishes: [], photographers: 2 });
    const { stays, now } = await search();
    const both = stays.flatMap(({ stretch, spot }) => [0, 1].map((photographer) => ({ photographer, stretch, spot })));
    await say({ kind: 'plan-taken', at: now, stays: both });
    await say(
      { kind: 'circuit', circuit: { ...EBBSTONE, spots: EBBSTONE.spots.slice(2) } },
      { kind: 'timetable', timetable: { ...TIMETABLE, slots: TIMETABLE.slots.slice(3) } },
      wishes(),
    );
    const found = await view();
    expect(found.solving).toMatchObject({ kind: 'found', isOld: true, standsWorth: null });
    await post('/api/plan/let-go', {});
    const taken = await view();
    expect(taken.sheets[0]!.warnings.join(' ')).toContain('The circuit has no spot beacon');
    expect(taken.headline).toBe('No plan yet.');
  });

  it('PL1307: wishes that cannot all be had are named', async () => {
    const { say, view, post, answer } = sit();
    await say(...BEFORE);
    await post('/api/plan/search', { date: DAY });
    const sentence =
      'These cannot all be had: Beacon in N3; and Beacon closed from 11:00 to 12:00. Take one of them back.';
    await answer({ kind: 'impossible', colliding: [], sentence });
    expect((await view()).solving).toEqual({ kind: 'impossible', sentence, isOld: false });
  });

  it('PL1306: every kind of wish stands in words, and one that names what is not there is told', async () => {
    const { say, view } = sit();
    const { id } = EBBSTONE.spots[0]!;
    const span = { from: atClock(11), to: atClock(12) };
    await say(
      ...BEFORE,
      wishes(
        { kind: 'forbid', stretch: 'N3', spot: id },
        { kind: 'closed', spot: id, ...span },
        { kind: 'rest', ...span },
        { kind: 'rain', ...span },
        { kind: 'weigh-spot', spot: id, times: 2 },
        { kind: 'weigh-group', group: 'N', times: 0.5 },
        { kind: 'pin', stretch: 'N3', spot: 'nowhere' as SpotId },
      ),
    );
    const { wishes: said, unheard } = await view();
    expect(said.map(({ text }) => text)).toEqual([
      'Not 1 Beacon in N3',
      '1 Beacon closed, 11:00 to 12:00',
      'A rest, 11:00 to 12:00',
      'Rain, 11:00 to 12:00',
      '1 Beacon counts twice',
      'Novice counts half',
      'nowhere in N3',
    ]);
    expect(unheard).toEqual([expect.stringContaining('"nowhere"')]);
  });

  it('PL1308: each stay says why, and what the next best would cost is asked of the solver without it', async () => {
    const { say, post, search, asked, answer } = sit();
    await say(...BEFORE);
    const { stays } = await search();
    expect(stays.filter(({ spot, why }) => spot !== null && why === null)).toEqual([]);
    const question = post('/api/plan/next-best', { date: DAY, photographer: 0, stretch: 'N2 first half' });
    await expect.poll(() => asked.length).toBe(2);
    expect(asked[1]!.wishes).toContainEqual({ kind: 'forbid', stretch: 'N2 first half', spot: stays[0]!.spot });
    const other = standStill(asked[1]!);
    const elsewhere = other.stays.map((stay) =>
      stay.stretch === 'N2 first half' ? { ...stay, spot: EBBSTONE.spots[3]!.id } : stay,
    );
    await answer({ ...other, stays: elsewhere, worth: 9, bound: 9 });
    expect(((await (await question).json()) as NextBestView).sentence).toBe(
      'Without Beacon in N2 first half the best is Lantern then; over the day it costs 0.50 of 9.50 (5.3 %).',
    );
    const none = await post('/api/plan/next-best', { date: DAY, photographer: 0, stretch: 'N99' });
    expect(none.status).toBe(404);
  });

  it('PL1309: after a late start the plan follows, and which stays moved is told', async () => {
    const { say, view, search, post } = sit();
    await say({ kind: 'timetable', timetable: { ...TIMETABLE, slipRule: 'sliding' } }, BEFORE[1]!);
    const { stays, now } = await search();
    const slot = (name: string) => TIMETABLE.slots.find((one) => one.name === name)!;
    const kept = stays
      .filter(({ from }) => from >= slot('F2').start && from < slot('F3').start)
      .map(({ photographer, stretch, spot }) => ({ photographer, stretch, spot }));
    await say({ kind: 'plan-taken', at: now, stays: kept });
    await post('/api/plan/let-go', {});
    expect((await view()).followed).toEqual([]);
    await say({ kind: 'slip', slip: { kind: 'late', slot: 'F2', on: DAY, byMs: millisecondsOf(10 * 60_000) } });
    expect((await view()).followed).toEqual(['1 Beacon: 10:50 to 11:50, no longer 10:40 to 11:40.']);
    await say({ kind: 'slip', slip: { kind: 'dropped', slot: 'I3', on: DAY } });
    expect((await view()).followed[0]).toBe('1 Beacon: I3 does not run any more.');
  });

  it('PL1310: while the day runs only what begins later is asked for; what was planned until then stays and counts as seen', async () => {
    const { say, view, search, asked, clock } = sit();
    await say(...BEFORE);
    const whole = await search();
    const stays = whole.stays.map(({ photographer, stretch, spot }) => ({ photographer, stretch, spot }));
    await say({ kind: 'plan-taken', at: whole.now, stays });
    clock.now = LATE;
    expect((await view()).isUnderWay).toBe(true);
    const rest = await search();
    const problem = asked.at(-1)!;
    expect(problem.stretches[0]!.name).toBe('N3 first half');
    expect(problem.start).toEqual({ at: atClock(11), places: [EBBSTONE.spots[0]!.id] });
    // N1 to F2 in halves: F2 is out, and who stands there stays to its end.
    expect(problem.had.map(({ group }) => group).join('')).toBe('NNIIFFNNIIFF');
    expect(rest.stays.map(({ stretch }) => stretch)).toEqual(whole.stays.map(({ stretch }) => stretch));
  });

  it('PL534: of sessions that are past nothing is reckoned of why they went by', async () => {
    const { say, view, clock } = sit();
    await say(...BEFORE);
    const stays = [{ photographer: 0, stretch: 'F5', spot: EBBSTONE.spots[0]!.id }];
    const goingBy = async () =>
      (await view()).sheets[0]!.rows.flatMap((row) =>
        row.kind === 'line' && row.is === 'going-by' ? [row.words] : [],
      );
    await say({ kind: 'plan-taken', at: atClock(8), stays });
    expect((await goingBy())[0]).not.toContain('nobody stands there');
    clock.now = LATE;
    expect((await goingBy())[0]).toBe('N1 to F2, 6 sessions, go by: nobody stands there.');
  });

  it('PL520, PL1306: an open pit lane is offered in half hours, and a wish of one of them binds that one alone', async () => {
    const { say, view, search, asked } = sit();
    const open = { ...TIMETABLE.slots[0]!, name: 'O1', start: atClock(9), end: atClock(11), isOpenPitLane: true };
    await say({ kind: 'timetable', timetable: { ...TIMETABLE, slots: [open] } }, BEFORE[1]!);
    const parts = ['O1 part 1', 'O1 part 2', 'O1 part 3', 'O1 part 4'];
    expect((await view()).sessions.map(({ name }) => name)).toEqual(parts);
    const pin = { kind: 'pin', stretch: 'O1 part 3', spot: EBBSTONE.spots[1]!.id } as const;
    await say(wishes(pin));
    expect((await view()).unheard).toEqual([]);
    await search();
    expect(asked.at(-1)!.stretches.map(({ name }) => name)).toEqual(parts);
    expect(asked.at(-1)!.wishes).toEqual([pin]);
  });

  it('PL112: what is not said of the permit is told without options that only a terminal has', async () => {
    const { say, view } = sit();
    await say(...BEFORE);
    const told = (await view()).sheets[0]!.warnings.join(' ');
    expect(told).toContain('Say it on the circuit’s sheet.');
    expect(told).not.toContain('--');
  });

  it('PL1311: the ladder stands group beside group, and speeds nobody said or measured are guesses with reasons', async () => {
    const { say, get } = sit();
    await say(...BEFORE);
    const spot = EBBSTONE.spots[1]!;
    const ladder = await get<LadderView>(`/api/plan/ladder?date=${DAY}&spot=${spot.id}&at=${atClock(10)}`);
    expect(ladder.columns.map(({ group }) => group.key)).toEqual(['N', 'I', 'F']);
    for (const { speed } of ladder.columns)
      expect(speed).toMatchObject({ kind: 'guessed', reasons: [expect.any(String), expect.any(String)] });
    expect(ladder.rows.length).toBeGreaterThan(2);
    for (const { cells } of ladder.rows) expect(cells.map(({ group }) => group)).toEqual(['N', 'I', 'F']);
    const unknown = await get<{ problem: string }>(`/api/plan/ladder?date=${DAY}&spot=nowhere`);
    expect(unknown.problem).toMatch(/^Expected a spot of the drawn circuit/);
  });

  it('PL622: the calendar fetched again cancels what fell out since; each photographer has their own, and a file that is none is left alone', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'tyrewall-calendar-'));
    open.push({ end: () => rm(folder, { recursive: true }) });
    const { say, text, clock } = sit(EVENING, folder);
    const taken = (...stretches: readonly string[]): Decision => ({
      kind: 'plan-taken',
      at: atClock(0),
      stays: stretches.map((stretch, i) => ({ photographer: 0, stretch, spot: EBBSTONE.spots[i]!.id })),
    });
    const statuses = async (photographer: number) => {
      clock.now += 60_000;
      const ics = await text(`/api/plan/run-sheet.ics?date=${DAY}&photographer=${photographer}`);
      const events = new ICAL.Component(ICAL.parse(ics)).getAllSubcomponents('vevent');
      return events
        .filter((event) => new ICAL.Event(event).uid.includes(EBBSTONE.spots[1]!.id))
        .map((event) => event.getFirstPropertyValue('status'));
    };
    await say(...BEFORE, { kind: 'wishes', wishes: [], photographers: 2 }, taken('N1', 'F2'));
    expect(await statuses(0)).toEqual(['CONFIRMED']);
    await say(taken('N1'));
    expect(await statuses(1)).toEqual([]);
    expect(await statuses(0)).toEqual(['CANCELLED']);
    const place = join(folder, 'made', 'sheets', `run-sheet-${DAY}.ics`);
    await writeFile(place, 'mine');
    expect(await statuses(0)).toEqual([]);
    expect(await readFile(place, 'utf8')).toBe('mine');
  });

  it('PL1314: what rests on the same words is not reckoned twice', async () => {
    const { say, view } = sit();
    await say(...BEFORE);
    const first = await view();
    await say({ kind: 'boundary', at: atClock(9), is: 'here' });
    const again = await view();
    expect(again.asOf).toBeGreaterThan(first.asOf);
    expect({ ...again, asOf: 0 }).toEqual({ ...first, asOf: 0 });
  });
});
