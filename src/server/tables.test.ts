import { readFile } from 'node:fs/promises';
import { describe, expect, it } from 'vitest';
import type { PersonId } from '../core/ids.js';
import { epochMsOf } from '../core/units.js';
import type { Person } from '../host/meeting/people.js';
import { createBookings } from '../host/plan/tables/bookings.js';
import { createDesk } from './index.js';
import { createFakeDay } from './testing/fakeDay.js';
import type { BeforeView } from './types.js';

const TOKEN = 'blue-kerb-seven';
const GESTURE = '01920000-0000-7000-8000-000000000001';

function openTables() {
  const day = createFakeDay({ frames: 60, riders: 6 });
  const written: Person[] = [];
  const people = {
    all: () => written,
    isErased: () => false,
    write: (person: Omit<Person, 'changedAt'>) => {
      written.push({ ...person, changedAt: epochMsOf(0) });
      return Promise.resolve(written.at(-1)!);
    },
  };
  // As an open day does it: what was booked comes from the people.
  const bookings = createBookings((id) => written.find((person) => person.id === id));
  const joined = { ...day, state: () => ({ ...day.state(), log: bookings(day.state().log) }) };
  const desk = createDesk(joined, {
    token: TOKEN,
    webFolder: 'dist/web',
    people,
    now: () => Date.parse('2026-09-19T12:12:00Z'),
  });
  const ask = (path: string, init: RequestInit = {}) =>
    desk.app.request(path, {
      ...init,
      headers: { host: '127.0.0.1:1', authorization: `Bearer ${TOKEN}`, ...init.headers },
    });
  return { day, written, ask };
}

describe('tables at the desk', () => {
  it('PL280: a dropped file becomes lines at the places they had, to be read and mended', async () => {
    const { ask } = openTables();
    const body = new Uint8Array(await readFile('test/fixtures/tables/timetable.xlsx'));
    const answer = await ask('/api/table', { method: 'POST', body, headers: { 'x-file-name': 'timetable.xlsx' } });
    const table = (await answer.json()) as { text: string; note: string };
    expect(table.text.split('\n')[1]).toBe('N1\tNovice\t09:00\t09:20\t\tsighting laps');
    expect(table.text.split('\n')[3]).toBe('');
    expect(table.note).toBe('The sheet Saturday was read; Sunday was not.');
    const wrong = await ask('/api/table', {
      method: 'POST',
      body: new Uint8Array([0xd0, 0xcf, 0x11]),
      headers: { 'x-file-name': 'old.xls' },
    });
    expect(wrong.status).toBe(400);
    expect(await wrong.text()).toContain('older XLS kind');
  });

  it('PL281: names of an entry list are in no view and no decision, and it is said what is booked', async () => {
    const { ask, day, written } = openTables();
    const text = 'Class,Number,Name,Wants\nTwins,27,Ada Example,head-on\nTwins,8,Bo Sample,';
    const answer = await ask('/api/entries', { method: 'POST', body: JSON.stringify({ gesture: GESTURE, text }) });
    expect(answer.status).toBe(200);
    expect(written.map(({ name }) => name)).toEqual(['Ada Example', 'Bo Sample']);
    expect(JSON.stringify(day.said())).not.toMatch(/Ada|Bo Sample|head-on/);
    const before = await (await ask('/api/before')).text();
    expect(before).not.toMatch(/Ada|Bo Sample/);
    expect((JSON.parse(before) as BeforeView).entries).toEqual({
      count: 2,
      classes: [{ name: 'Twins', count: 2 }],
      booked: [{ number: '27', class: 'Twins', wants: 'head-on' }],
    });
    expect(written[0]!.id satisfies PersonId).toMatch(/^[0-9a-f-]{36}$/);
    const empty = await ask('/api/entries', {
      method: 'POST',
      body: JSON.stringify({ gesture: GESTURE, text: 'nothing' }),
    });
    expect(empty.status).toBe(400);
  });

  it('PL254: entries said as a plain gesture keep what was booked out of the log too', async () => {
    const { ask, day, written } = openTables();
    const entries = [
      { event: 'Round', class: 'Twins', number: '27', wants: 'head-on' },
      { event: 'Round', class: 'Twins', number: '8' },
    ];
    const body = JSON.stringify({ gesture: GESTURE, decisions: [{ kind: 'entries', entries }] });
    expect((await ask('/api/gestures', { method: 'POST', body })).status).toBe(200);
    expect(JSON.stringify(day.said())).not.toContain('head-on');
    expect(written.map(({ wants }) => wants)).toEqual([{ 'Round / Twins / 27': 'head-on' }]);
    const before = JSON.parse(await (await ask('/api/before')).text()) as BeforeView;
    expect(before.entries?.booked).toEqual([{ number: '27', class: 'Twins', wants: 'head-on' }]);
    const bare = createDesk(day, { token: TOKEN, webFolder: 'dist/web' });
    const headers = { host: '127.0.0.1:1', authorization: `Bearer ${TOKEN}` };
    const refused = await bare.app.request('/api/gestures', { method: 'POST', body, headers });
    expect([refused.status, await refused.text()]).toEqual([400, expect.stringContaining('leave “wants” out')]);
  });

  it('PL282: a slip is shown with what it did; the lines stay as they were said; taken back it is gone', async () => {
    const { ask } = openTables();
    const view = async () => (await (await ask('/api/before')).json()) as BeforeView;
    const first = await view();
    const slip = { kind: 'late', slot: 'I2', on: '2026-09-19', byMs: 420_000 };
    const said = await ask('/api/gestures', {
      method: 'POST',
      body: JSON.stringify({
        gesture: GESTURE,
        decisions: [
          { kind: 'timetable', timetable: first.runs },
          { kind: 'slip', slip },
        ],
      }),
    });
    expect(await said.text()).toContain(GESTURE);
    const then = await view();
    expect(then.timetableText).toBe(first.timetableText);
    expect(then.slips.map(({ text, sentences }) => [text, sentences])).toEqual([
      ['I2 started 7 minutes late', ['I2 is 7 min shorter: 10:27 to 10:40.']],
    ]);
    expect(then.runs?.slots.find(({ name }) => name === 'I2')?.start).toBe(
      first.runs!.slots.find(({ name }) => name === 'I2')!.start + 420_000,
    );
    await ask('/api/undo', { method: 'POST', body: JSON.stringify({ gesture: GESTURE }) });
    expect((await view()).slips).toEqual([]);
  });
});
