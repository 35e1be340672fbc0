import { mkdir, mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { meetingOnDisks } from './meetingFolders.js';

let root = '';
let refused: string[] = [];
const at = (...parts: readonly string[]): string => join(root, ...parts);
const refuse = (sentence: string) => void refused.push(sentence);
const wish = { day: '2031-05-17', zone: 'Europe/Berlin' };

beforeEach(async () => {
  root = await mkdtemp(join(tmpdir(), 'tyrewall-folders-'));
  refused = [];
});
afterEach(() => rm(root, { recursive: true, force: true }));

describe('the folders of a meeting', () => {
  it('are made once under one name on every disk, and found again by the day', async () => {
    const made = await meetingOnDisks([at('a'), at('b')], { ...wish, name: 'Ebbstone' }, refuse);
    expect(made).toEqual([at('a', '2031-05-17 Ebbstone'), at('b', '2031-05-17 Ebbstone')]);
    expect(await meetingOnDisks([at('a'), at('b')], wish, refuse)).toEqual(made);
    expect(refused).toEqual([]);
  });

  it('keep names with slashes, quotes and line ends inside the disk', async () => {
    const [folder] = await meetingOnDisks([at('a')], { ...wish, name: '../"x"\n😀 O\'Dell.' }, refuse);
    expect(await readdir(at('a'))).toHaveLength(1);
    expect(folder).toBe(at('a', "2031-05-17 ..__x__😀 O'Dell"));
  });

  it('do not count one place twice', async () => {
    const [folder = ''] = await meetingOnDisks([at('a')], wish, refuse);
    expect(await meetingOnDisks([folder, at('a')], wish, refuse)).toEqual([folder]);
    expect(await meetingOnDisks([at('a'), at('a')], wish, refuse)).toEqual([folder]);
    expect(refused).toHaveLength(2);
    expect(refused[0]).toContain('is where the first one lies');
  });

  it('leave out a second disk on which nothing can be made, and say why', async () => {
    await writeFile(at('file'), 'not a folder');
    expect(await meetingOnDisks([at('a'), at('file')], wish, refuse)).toHaveLength(1);
    await mkdir(at('c', '2031-05-17 Meeting of 2031-05-17'), { recursive: true });
    expect(await meetingOnDisks([at('a'), at('c')], wish, refuse)).toHaveLength(1);
    expect(refused).toEqual([
      expect.stringContaining('look into'),
      expect.stringContaining('another folder of that name'),
    ]);
  });

  it('ask which one, when a day has two meetings', async () => {
    await meetingOnDisks([at('a')], { ...wish, name: 'One' }, refuse);
    await meetingOnDisks([at('a')], { ...wish, name: 'Two' }, refuse);
    await expect(meetingOnDisks([at('a')], wish, refuse)).rejects.toThrow(/found 2: (One, Two|Two, One)/);
  });
});
