import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { openMeeting } from '../host/meeting/index.js';
import { beginCommand } from './beginCommand.js';

let root = '';
let said: string[] = [];
beforeEach(async () => {
  root = await mkdtemp(join(tmpdir(), 'tyrewall-begin-'));
  said = [];
  vi.spyOn(console, 'log').mockImplementation((line: string) => void said.push(line));
});
afterEach(async () => {
  vi.restoreAllMocks();
  await rm(root, { recursive: true, force: true });
});

it('PL121: a meeting is made on two disks before there is a card, opens, and is not made twice', async () => {
  const wish = {
    name: 'Ebbstone',
    day: '2031-05-17..18',
    zone: 'Europe/London',
    to: [join(root, 'a'), join(root, 'b')],
  };
  await beginCommand(wish);
  const folder = join(root, 'a', '2031-05-17 Ebbstone');
  expect(said[0]).toBe(`Meeting folder: ${folder}`);
  const about = await readFile(join(folder, 'meeting.json'), 'utf8');
  expect(await readFile(join(root, 'b', '2031-05-17 Ebbstone', 'meeting.json'), 'utf8')).toBe(about);
  const meeting = await openMeeting(folder, { stateRoot: join(root, 'state') });
  expect(meeting.about).toMatchObject({ firstDay: '2031-05-17', lastDay: '2031-05-18', zone: 'Europe/London' });
  await meeting.close();
  await beginCommand(wish);
  expect(await readdir(join(root, 'a'))).toEqual(['2031-05-17 Ebbstone']);
  expect(await readFile(join(folder, 'meeting.json'), 'utf8')).toBe(about);
});

it('PL121: what was not said is asked for', async () => {
  await expect(beginCommand({ name: 'Ebbstone' })).rejects.toThrow(/--day.*; --to/);
  await expect(beginCommand({ name: 'Ebbstone', day: 'soon', to: [root] })).rejects.toThrow('Expected a day like');
  expect(await readdir(root)).toEqual([]);
});
