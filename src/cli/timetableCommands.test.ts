import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { entriesOf, inForceOf, timetableOf } from '../host/day/derive.js';
import { createMeeting, openMeeting } from '../host/meeting/index.js';
import { lookAt } from './sayDecisions.js';
import { slipCommand } from './slipCommand.js';
import { entriesCommand, timetableCommand } from './timetableCommands.js';

const TIMETABLE = [
  'N1 Novice 09:00-09:20',
  'F1 Fast 09:20-09:40',
  'Lunch 12:00-13:00',
  'N2 Novice 13:00-13:20',
  'F2 Fast 13:20-13:40',
].join('\n');

let place: string;
let folder: string;
let wish: { stateRoot: string };
beforeEach(async () => {
  place = await mkdtemp(join(tmpdir(), 'tyrewall-timetable-'));
  folder = join(place, 'meeting');
  wish = { stateRoot: join(place, 'state') };
  await createMeeting(folder, {
    name: 'Round',
    firstDay: '2026-09-19',
    lastDay: '2026-09-20',
    zone: 'Europe/London',
    spots: [],
  });
});
afterEach(() => rm(place, { recursive: true }));

const fileWith = async (name: string, text: string): Promise<string> => {
  await writeFile(join(place, name), text);
  return join(place, name);
};
const known = async () => (await lookAt(folder, wish)).log;

describe('in a terminal', () => {
  it('PL290: a timetable is shown line by line and taken only when that is said', async () => {
    const file = await fileWith('list.txt', TIMETABLE);
    const said: string[] = [];
    await timetableCommand(folder, file, wish, (line) => said.push(line));
    expect(said).toEqual([
      '  1  N1, Novice, 2026-09-19 09:00 to 09:20',
      '  2  F1, Fast, 2026-09-19 09:20 to 09:40',
      '  3  Lunch, 12:00 to 13:00',
      '  4  N2, Novice, 2026-09-19 13:00 to 13:20',
      '  5  F2, Fast, 2026-09-19 13:20 to 13:40',
      '4 sessions; Novice, Fast.',
      'Nothing is taken yet; say it again with --take.',
    ]);
    expect(timetableOf(await known())).toBeNull();
    await timetableCommand(folder, file, { ...wish, take: true, sliding: true }, () => undefined);
    expect(timetableOf(await known())).toMatchObject({ slipRule: 'sliding', slots: { length: 4 } });
    const sunday = await fileWith('sunday.csv', 'Group,Start,End\nNovice,9:00,9:20');
    await timetableCommand(folder, sunday, { ...wish, take: true, day: '2026-09-20' }, () => undefined);
    expect(timetableOf(await known())?.slots).toHaveLength(5);
    const wrong = await fileWith('wrong.txt', 'N1 Novice 09:00-09:20\n1 10:00-10:20');
    await expect(timetableCommand(folder, wrong, { ...wish, take: true }, () => undefined)).rejects.toThrow(
      'Nothing is taken: 1 line',
    );
  });

  it('PL291: a slip says what follows; what it does not know is answered with examples', async () => {
    const file = await fileWith('list.txt', TIMETABLE);
    await expect(slipCommand(folder, ['late', 'N2', '7'], wish)).rejects.toThrow('none is said');
    await timetableCommand(folder, file, { ...wish, take: true, sliding: true }, () => undefined);
    const said: string[] = [];
    const slip = (...words: string[]) => slipCommand(folder, words, wish, (line: string) => said.push(line));
    await slip('late', 'f1', '7');
    await slip('lunch', '20');
    await slip('red', '12:50', '13:00');
    await slip('group', 'Guests', '12:00');
    expect(said).toEqual([
      'F1 starts 7 min later, at 09:27.',
      'Lunch is 7 min shorter: 09:47 to 13:00, 193 min.',
      'The pause from 09:47 is 20 min shorter: 173 min.',
      'N2 to F2 start 20 min earlier: N2 at 12:40.',
      'Lunch is 20 min shorter: 09:47 to 12:40, 173 min.',
      'Red flag at 12:50 in N2. It goes on at 13:00.',
      'N2 ends 10 min later, at 13:10.',
      'F2 starts 10 min later, at 13:10.',
      'Guests joined the timetable.',
      'G1 starts at 13:30.',
    ]);
    expect(inForceOf(await known())?.effects).toHaveLength(4);
    await expect(slip('hail')).rejects.toThrow('late N3 7');
    await expect(slip('late', 'N1', '7', '--dya')).rejects.toThrow('late N3 7');
    await expect(slip('late', 'Z9', '7')).rejects.toThrow('N1, F1, N2, F2, G1');
    await expect(slip('red', '25:00')).rejects.toThrow('as 10:42');
  });

  it('PL293: a slip that does much, or was said a moment ago, is shown and wants --yes', async () => {
    const file = await fileWith('list.txt', TIMETABLE);
    await timetableCommand(folder, file, { ...wish, take: true, sliding: true }, () => undefined);
    const said: string[] = [];
    const slip = (words: string, more: { yes?: boolean; now?: () => number } = {}) =>
      slipCommand(folder, words.split(' '), { ...wish, ...more }, (line: string) => said.push(line));
    const count = async () => inForceOf(await known())?.effects.length;
    await expect(slip('late F1 700')).rejects.toThrow(/^Nothing is said yet, for it drops 3 sessions\. .*--yes\.$/);
    expect(said).toContain('F1, N2 and F2 will not run.');
    await expect(slip('lunch 195')).rejects.toThrow('leaves 5 min of lunch and moves sessions by 195 min');
    await expect(slip('lunch -70')).rejects.toThrow('it drops 2 sessions');
    expect(await count()).toBe(0);
    await slip('late F1 7');
    await expect(slip('late F1 7')).rejects.toThrow('“F1 started 7 minutes late” was said just now');
    await expect(slip('late F1 7', { now: () => Date.now() + 5 * 60_000 })).rejects.toThrow(/said [45] min ago/);
    expect(await count()).toBe(1);
    await slip('late F1 7', { now: () => Date.now() + 11 * 60_000 });
    await slip('late F1 7', { yes: true });
    await slip('drop F2');
    expect(await count()).toBe(4);
  });

  it('PL294: the last slip is taken back by a line of the log; what a slip dropped is told with that slip', async () => {
    const file = await fileWith('list.txt', TIMETABLE);
    await timetableCommand(folder, file, { ...wish, take: true, sliding: true }, () => undefined);
    const before = timetableOf(await known());
    const said: string[] = [];
    const slip = (words: string, yes = false) =>
      slipCommand(folder, words.split(' '), { ...wish, yes }, (line: string) => said.push(line));
    await slip('late N2 5');
    await slip('late F1 700', true);
    await expect(slip('late N2 7')).rejects.toThrow(
      'but got N2. “F1 started 700 minutes late” dropped F1, N2, F2. tyrewall slip <meeting> undo takes',
    );
    await expect(slip('group Guests 13:00')).rejects.toThrow(/there is none\. “F1 started 700 minutes late” dropped/);
    await slip('undo');
    expect(said.at(-1)).toBe('Taken back: F1 started 700 minutes late. 1 slip said before stays.');
    await slip('undo');
    expect(said.at(-1)).toBe('Taken back: N2 started 5 minutes late. No slip is left.');
    expect(timetableOf(await known())).toEqual(before);
    await expect(slip('undo')).rejects.toThrow('none was said since the timetable was taken');
    await timetableCommand(folder, file, { ...wish, take: true, clockFixed: true }, () => undefined);
    await slip('group Guests 13:00');
    await slip('undo');
    expect(said.at(-1)).toBe('Taken back: Guests joined the timetable. No slip is left.');
    expect(timetableOf(await known())?.groups.map(({ name }) => name)).toEqual(['Novice', 'Fast']);
  });

  it('PL290: where a desk has the meeting open, it is told there', async () => {
    const file = await fileWith('list.txt', TIMETABLE);
    const heard: { readonly path: string; readonly body: string }[] = [];
    const server = createServer((request, response) => {
      let body = '';
      request.on('data', (chunk: Buffer) => {
        body += chunk.toString();
      });
      request.on('end', () => {
        heard.push({ path: request.url ?? '', body });
        response.end('{}');
      });
    });
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    const desk = await openMeeting(folder, wish);
    try {
      await desk.announce(`http://127.0.0.1:${(server.address() as AddressInfo).port}/#token=invented`);
      await timetableCommand(folder, file, { ...wish, take: true }, () => undefined);
    } finally {
      await desk.close();
      server.close();
    }
    expect(heard.map(({ path }) => path)).toEqual(['/api/gestures']);
    expect(JSON.parse(heard[0]!.body)).toMatchObject({ decisions: [{ kind: 'timetable' }] });
    expect(timetableOf(await known())).toBeNull();
  });

  it('PL292: an entry list is taken with its names in people/ alone', async () => {
    const file = await fileWith(
      'entries.csv',
      'Class,Number,Name,Wants\nTwins,27,Ada Example,head-on\nTwins,27,Ada Example,head-on',
    );
    const said: string[] = [];
    await entriesCommand(folder, file, { ...wish, take: true }, (line) => said.push(line));
    expect(said).toContain('Lines 2 and 3 are the same: number 27 in Twins is taken once.');
    expect(entriesOf(await known())).toMatchObject([{ event: 'Round', class: 'Twins', number: '27' }]);
    const logs = await Promise.all(
      (await readdir(join(folder, 'log'))).map((name) => readFile(join(folder, 'log', name), 'utf8')),
    );
    expect(logs.join('')).not.toMatch(/Ada|head-on/);
    const people = await readdir(join(folder, 'people'));
    expect(await readFile(join(folder, 'people', people[0]!), 'utf8')).toMatch(/Ada Example[\s\S]*head-on/);
  });
});
