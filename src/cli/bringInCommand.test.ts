import { mkdir, mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { bringInCommand } from './bringInCommand.js';

let root = '';
let said: string[] = [];
const card = (): string => join(root, 'card');
const everything = (folder: string) => readdir(folder, { recursive: true }).then((names) => names.sort());

beforeEach(async () => {
  root = await mkdtemp(join(tmpdir(), 'tyrewall-cli-'));
  said = [];
  vi.stubEnv('TYREWALL_STATE', join(root, 'state'));
  for (const level of ['log', 'error'] as const) vi.spyOn(console, level).mockImplementation((line) => said.push(line));
  await mkdir(join(card(), 'DCIM/100TESTA'), { recursive: true });
  await writeFile(join(card(), 'DCIM/100TESTA/MVI_0001.MP4'), 'an invented clip');
});

afterEach(async () => {
  vi.restoreAllMocks();
  vi.unstubAllEnvs();
  process.exitCode = undefined;
  await rm(root, { recursive: true, force: true });
});

describe('bring-in at the terminal', () => {
  it('makes no meeting on the card itself, wherever on it that would be', async () => {
    const before = await everything(card());
    for (const place of [card(), join(card(), 'copies')])
      await expect(bringInCommand([card()], { to: [place] })).rejects.toThrow('nothing was brought in');
    expect(await everything(card())).toEqual(before);
    expect(said.join('\n')).toContain('Nothing is ever written to a card');
    expect(process.exitCode).toBe(1);
  });

  it('leaves out a second disk that is the card, brings the rest in, and ends with 1', {
    timeout: 60_000,
  }, async () => {
    const before = await everything(card());
    await bringInCommand([card()], { to: [join(root, 'one'), join(card(), 'copies')] });
    expect(await everything(card())).toEqual(before);
    expect(await everything(join(root, 'one'))).toEqual(
      expect.arrayContaining([expect.stringMatching(/MVI_0001\.MP4$/)]),
    );
    expect(said).toContainEqual(expect.stringContaining('There are clips but no pictures'));
    expect(said).toContainEqual(expect.stringContaining('There is one copy only'));
    expect(process.exitCode).toBe(1);
  });

  it('does not speak of one copy when the second disk is remembered', { timeout: 60_000 }, async () => {
    await bringInCommand([card()], { to: [join(root, 'one'), join(root, 'two')] });
    await bringInCommand([card()], { to: [join(root, 'one')] });
    expect(said.filter((line) => line.startsWith('One copy only'))).toEqual([]);
  });

  it('names a card that is not there and stops when no other is', async () => {
    await expect(bringInCommand([join(root, 'nothing')], { to: [join(root, 'one')] })).rejects.toThrow('No card');
    expect(said.join('\n')).toMatch(/Expected a card or a folder at .*nothing but nothing is there/);
  });

  it('makes nothing for a blank name, and says what was expected', async () => {
    for (const name of ['', ' '])
      await expect(bringInCommand([card()], { to: [join(root, 'one')], name })).rejects.toThrow(
        /Expected what the meeting is called after --name but got " ?"/,
      );
    expect(await readdir(root)).toEqual(['card']);
  });

  it('makes nothing for a card with no file on it', async () => {
    await mkdir(join(root, 'empty/DCIM'), { recursive: true });
    const bringing = bringInCommand([join(root, 'empty')], { to: [join(root, 'one')] });
    await expect(bringing).rejects.toThrow(/Expected pictures on .*empty but there is no file on it/);
    expect(await everything(root)).not.toContain('one');
  });

  it('keeps a said day apart from a meeting of the same name on another', { timeout: 60_000 }, async () => {
    const wish = { to: [join(root, 'one')], name: 'Ebbstone', zone: 'Europe/Berlin' };
    for (const day of ['2031-05-17', '2020-02-18']) await bringInCommand([card()], { ...wish, day });
    expect(await readdir(join(root, 'one'))).toEqual(['2020-02-18 Ebbstone', '2031-05-17 Ebbstone']);
  });
});
