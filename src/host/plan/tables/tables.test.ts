import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import type { PersonId } from '../../../core/ids.js';
import type { FoldedLog } from '../../../core/log/types.js';
import { readEntries, readTimetable, rowsOfText } from '../../../core/plan/timetable/index.js';
import { openPeople } from '../../meeting/people.js';
import { createBookings } from './bookings.js';
import { readTable, takeEntries } from './index.js';

const OPTIONS = { date: '2026-09-19', days: ['2026-09-19'], slipRule: 'sliding', zone: 'Europe/London' } as const;
const bytesOf = (text: string) => new TextEncoder().encode(text);
const starts = async (name: string, bytes: Uint8Array) =>
  readTimetable((await readTable(name, bytes)).rows, OPTIONS).timetable?.slots.map(
    ({ name: slot, start, end }) => `${slot} ${new Date(start).toISOString().slice(11, 16)} ${(end - start) / 60_000}`,
  );

describe('table files', () => {
  it('PL250: an XLSX file written by another program: times of day, fractions, dates with times, lengths, text', async () => {
    const bytes = await readFile('test/fixtures/tables/timetable.xlsx');
    expect(await starts('timetable.xlsx', bytes)).toEqual(['N1 09:00 20', 'I1 09:20 20', 'F1 09:40 20']);
    const table = await readTable('timetable.xlsx', bytes);
    expect(table.sheet).toBe('Saturday');
    expect(table.otherSheets).toEqual(['Sunday']);
    const { lines, timetable } = readTimetable(table.rows, OPTIONS);
    expect(lines.map(({ at }) => at)).toEqual([1, 2, 3, 5, 6]);
    expect(timetable?.slots[0]?.isSighting).toBe(true);
    expect(timetable?.pauses).toHaveLength(1);
  });

  it('PL250: dates in their own cells, as dates or as bare days and fractions of them, part the days of a meeting', async () => {
    const table = await readTable('two-days.xlsx', await readFile('test/fixtures/tables/two-days.xlsx'));
    const { timetable, troubles } = readTimetable(table.rows, { ...OPTIONS, days: ['2026-09-19', '2026-09-20'] });
    expect(troubles).toEqual([]);
    expect(
      timetable?.slots.map(({ name, start, end }) => [name, ...[start, end].map((at) => new Date(at).toISOString())]),
    ).toEqual([
      ['N1', '2026-09-19T09:00:00.000Z', '2026-09-19T09:20:00.000Z'],
      ['I1', '2026-09-19T09:20:00.000Z', '2026-09-19T09:40:00.000Z'],
      ['F1', '2026-09-19T09:40:00.000Z', '2026-09-19T10:00:00.000Z'],
      ['N1', '2026-09-20T09:00:00.000Z', '2026-09-20T09:20:00.000Z'],
      ['I1', '2026-09-20T09:20:00.000Z', '2026-09-20T09:40:00.000Z'],
    ]);
    expect(timetable?.slots[0]?.isSighting).toBe(true);
  });

  it('PL251: CSV with quotes, semicolons, a mark of its encoding or of an older one', async () => {
    const expected = ['N1 09:00 20'];
    expect(await starts('a.csv', bytesOf('Group,Start,End,Notes\r\nNovice,9:00,9:20,"wet, or\nlate"\r\n'))).toEqual(
      expected,
    );
    expect(await starts('a.csv', bytesOf('\uFEFFGruppe;Beginn;Ende\nNovice;9.00;9.20\n'))).toEqual(expected);
    const old = Uint8Array.from([...'Groupe;D\u00e9but;Fin\nNovice;9h00;9h20\n'].map((sign) => sign.charCodeAt(0)));
    expect(await starts('a.csv', old)).toEqual(expected);
  });

  it('PL252: what is no table is refused with what to do', async () => {
    const zip = Uint8Array.from([0x50, 0x4b, 3, 4, 0, 0, 0, 0]);
    await expect(readTable('list.xlsx', zip)).rejects.toThrow(/Expected an XLSX file but list\.xlsx could not be read/);
    const old = Uint8Array.from([0xd0, 0xcf, 0x11, 0xe0, 0, 0]);
    await expect(readTable('list.xls', old)).rejects.toThrow(/older XLS kind\. Save it as XLSX or CSV/);
    await expect(readTable('list.pdf', bytesOf('%PDF\u0000'))).rejects.toThrow(/list\.pdf is none of these/);
    await expect(readTable('list.csv', new Uint8Array(9_000_000))).rejects.toThrow(/at most 8 MB/);
  });
});

describe('taking an entry list', () => {
  const folders: string[] = [];
  afterEach(async () => {
    for (const folder of folders.splice(0)) await rm(folder, { recursive: true });
  });

  it('PL253: names go to people and never into the decision; a rider in two classes, or taken again, is one person', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'tyrewall-people-'));
    folders.push(folder);
    const people = await openPeople(folder);
    let ids = 0;
    const take = () => {
      const list =
        'Class,Number,Name,Mail,Wants\nTwins,7,Ada Example,ada@example.org,\nSingles,70,Ada Example,ada@example.org,head-on\nTwins,9,,,';
      return takeEntries(readEntries(rowsOfText(list), { event: 'Round' }).entries, people, () => `p${++ids}`);
    };
    const decision = await take();
    expect(JSON.stringify(decision)).not.toMatch(/ada/i);
    expect(decision.entries).toEqual([
      { event: 'Round', class: 'Twins', number: '7', person: 'p1' },
      { event: 'Round', class: 'Singles', number: '70', person: 'p1' },
      { event: 'Round', class: 'Twins', number: '9' },
    ]);
    expect(await take()).toEqual(decision);
    expect(await readdir(folder)).toEqual(['p1.json']);
    expect(people.all()[0]).toMatchObject({ name: 'Ada Example', contact: 'ada@example.org' });
    expect(JSON.stringify(decision)).not.toContain('head-on');
  });

  it('PL254: what was booked is joined to its entry for whoever looks, by class, and gone with whom it is of', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'tyrewall-people-'));
    folders.push(folder);
    const people = await openPeople(folder);
    let ids = 0;
    const list =
      'Class,Number,Name,Wants\nTwins,7,Ada Example,tail\nSingles,70,Ada Example,head-on\nTwins,9,,both sides\nTwins,10,,';
    const take = () =>
      takeEntries(readEntries(rowsOfText(list), { event: 'Round' }).entries, people, () => `p${++ids}`);
    const decision = await take();
    expect(await take()).toEqual(decision);
    expect(people.all().length).toBe(2);
    const log = { inForce: [{ decision, line: {} }] } as unknown as FoldedLog;
    const joined = createBookings((person) => people.get(person));
    const wants = () => {
      const [said] = joined(log).inForce;
      return said?.decision.kind === 'entries' ? said.decision.entries.map((entry) => entry.wants) : [];
    };
    expect(wants()).toEqual(['tail', 'head-on', 'both sides', undefined]);
    expect(joined(log).inForce[0]!.decision).toBe(joined(log).inForce[0]!.decision);
    const again = readEntries(rowsOfText(list.replace('tail', '')), { event: 'Round' }).entries;
    await takeEntries(again, people, () => `p${++ids}`);
    expect(wants()).toEqual([undefined, 'head-on', 'both sides', undefined]);
    await people.erase('p1' as PersonId);
    expect(wants()).toEqual([undefined, undefined, 'both sides', undefined]);
  });
});
