import { mkdir, mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { meetingOnDisks } from './meetingFolders.js';

let root = '';
let refused: string[] = [];
const at = (...parts: readonly string[]): string => join(root, ...parts);
let said: string[] = [];
const voice = {
  refuse: (sentence: string) => void refused.push(sentence),
  say: (sentence: string) => void said.push(sentence),
};
const on = (day: string) => ({ firstDay: day, lastDay: day });
const wish = { ...on('2031-05-17'), zone: 'Europe/Berlin', isDaySaid: false };

beforeEach(async () => {
  root = await mkdtemp(join(tmpdir(), 'tyrewall-folders-'));
  refused = [];
  said = [];
});
afterEach(() => rm(root, { recursive: true, force: true }));

describe('the folders of a meeting', () => {
  it('are made once under one name on every disk, and found again by the day', async () => {
    const made = await meetingOnDisks([at('a'), at('b')], { ...wish, name: 'Ebbstone' }, voice);
    expect(made).toEqual([at('a', '2031-05-17 Ebbstone'), at('b', '2031-05-17 Ebbstone')]);
    expect(await meetingOnDisks([at('a'), at('b')], wish, voice)).toEqual(made);
    expect(refused).toEqual([]);
  });

  it('keep names with slashes, quotes and line ends inside the disk', async () => {
    const [folder] = await meetingOnDisks([at('a')], { ...wish, name: '../"x"\n😀 O\'Dell.' }, voice);
    expect(await readdir(at('a'))).toHaveLength(1);
    expect(folder).toBe(at('a', "2031-05-17 ..__x__😀 O'Dell"));
  });

  it('do not count one place twice', async () => {
    const [folder = ''] = await meetingOnDisks([at('a')], wish, voice);
    expect(await meetingOnDisks([folder, at('a')], wish, voice)).toEqual([folder]);
    expect(await meetingOnDisks([at('a'), at('a')], wish, voice)).toEqual([folder]);
    expect(refused).toHaveLength(2);
    expect(refused[0]).toContain('is where the first one lies');
  });

  it('leave out a second disk on which nothing can be made, and say why', async () => {
    await writeFile(at('file'), 'not a folder');
    expect(await meetingOnDisks([at('a'), at('file')], wish, voice)).toHaveLength(1);
    await mkdir(at('c', '2031-05-17 Meeting of 2031-05-17'), { recursive: true });
    expect(await meetingOnDisks([at('a'), at('c')], wish, voice)).toHaveLength(1);
    expect(refused).toEqual([
      expect.stringContaining('look into'),
      expect.stringContaining('another folder of that name'),
    ]);
  });

  it('given themselves are meant, and a name or a day that was said otherwise is told of', async () => {
    const [folder = ''] = await meetingOnDisks([at('a')], { ...wish, name: 'Ebbstone', isDaySaid: true }, voice);
    for (const same of [wish, { ...wish, name: 'Ebbstone', isDaySaid: true }, { ...wish, ...on('2020-02-18') }])
      expect(await meetingOnDisks([folder], same, voice)).toEqual([folder]);
    expect(said).toEqual([]);
    const other = { ...wish, name: 'Halden', ...on('2020-02-18'), isDaySaid: true };
    expect(await meetingOnDisks([folder], other, voice)).toEqual([folder]);
    expect(said).toEqual([
      `${folder} is the meeting Ebbstone of 2031-05-17, and the cards go into it, though you said --name Halden and --day 2020-02-18. For another meeting give --to the folder that holds this one.`,
    ]);
  });

  it('of several days take what falls within them', async () => {
    const days = { ...wish, lastDay: '2031-05-18', isDaySaid: true };
    const made = await meetingOnDisks([at('a')], days, voice);
    expect(made).toEqual([at('a', '2031-05-17 Meeting of 2031-05-17 to 2031-05-18')]);
    expect(await meetingOnDisks([at('a')], { ...wish, ...on('2031-05-18') }, voice)).toEqual(made);
  });

  it('ask which one, when a day has two meetings', async () => {
    await meetingOnDisks([at('a')], { ...wish, name: 'One' }, voice);
    await meetingOnDisks([at('a')], { ...wish, name: 'Two' }, voice);
    await expect(meetingOnDisks([at('a')], wish, voice)).rejects.toThrow(
      /found 2: (One of 2031-05-17, Two|Two of 2031-05-17, One) of 2031-05-17/,
    );
  });

  it('of one name on two days are two meetings, when the day is said', async () => {
    const named = { ...wish, name: 'Ebbstone', isDaySaid: true };
    const first = await meetingOnDisks([at('a')], named, voice);
    const other = await meetingOnDisks([at('a')], { ...named, ...on('2020-02-18') }, voice);
    expect(other).toEqual([at('a', '2020-02-18 Ebbstone')]);
    expect(await meetingOnDisks([at('a')], named, voice)).toEqual(first);
    expect(await meetingOnDisks([at('a')], { ...named, ...on('2020-02-18'), isDaySaid: false }, voice)).toEqual(other);
    expect(said).toEqual([]);
    await expect(meetingOnDisks([at('a')], { ...named, ...on('2024-01-01'), isDaySaid: false }, voice)).rejects.toThrow(
      /called Ebbstone on 2024-01-01 .* found 2: .*Ebbstone of 2020-02-18.* or say its --name and --day/,
    );
  });

  it('are found by the name alone where the day is a guess, silently only when the day fits too', async () => {
    const named = { ...wish, name: 'Ebbstone' };
    const made = await meetingOnDisks([at('a')], named, voice);
    expect(await meetingOnDisks([at('a')], named, voice)).toEqual(made);
    expect(said).toEqual([]);
    expect(await meetingOnDisks([at('a')], { ...named, ...on('2020-02-18') }, voice)).toEqual(made);
    expect(said).toEqual([
      'The cards go into Ebbstone of 2031-05-17, which is there already, though their day was guessed to be 2020-02-18. Say --day 2020-02-18 for a meeting of its own.',
    ]);
  });
});
