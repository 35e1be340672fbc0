import { mkdtemp, readdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { NOTHING_SAID } from '../../core/office/index.js';
import { officePathOf, openOffice } from './officeFile.js';

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tyrewall-office-'));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

const at = () => officePathOf(join(folder, 'state'));

describe('the file of papers and kit', () => {
  it('PL931: nothing is said where there is no file, and reading makes none', async () => {
    expect(await openOffice(at()).read()).toEqual({ own: {}, kit: [], meetings: {} });
    expect(await readdir(folder)).toEqual([]);
  });

  it('PL931: what was written is there for the next start, and only its owner may read it', async () => {
    const kit = [{ kind: 'body', name: 'Body A', count: 1, serial: '4711' }] as const;
    await openOffice(at()).change((before) => ({ ...before, kit, meetings: { m: { ...NOTHING_SAID, asksAge: 18 } } }));
    expect(await openOffice(at()).read()).toEqual({ own: {}, kit, meetings: { m: { ...NOTHING_SAID, asksAge: 18 } } });
    expect((await stat(at())).mode & 0o777).toBe(0o600);
    expect(await readdir(join(folder, 'state'))).toEqual(['office.json']);
  });

  it('PL931: changes said at once are made one after the other, and two desks keep what is not theirs', async () => {
    const [one, other] = [openOffice(at()), openOffice(at())];
    const tick = (id: string) =>
      one.change((before) => {
        const papers = before.meetings.m ?? NOTHING_SAID;
        return { ...before, meetings: { m: { ...papers, packed: [...papers.packed, id] } } };
      });
    await Promise.all(['a', 'b', 'c', 'd'].map(tick));
    await other.change((before) => ({ ...before, own: { born: '1984-05-02' } }));
    expect(await one.read()).toMatchObject({
      own: { born: '1984-05-02' },
      meetings: { m: { packed: ['a', 'b', 'c', 'd'] } },
    });
  });

  it('PL931: a change that fails leaves the file as it was and stops none after it', async () => {
    const office = openOffice(at());
    await office.change((before) => ({ ...before, own: { born: '1984-05-02' } }));
    const failing = office.change(() => {
      throw new Error('refused');
    });
    await expect(failing).rejects.toThrow('refused');
    expect(await office.change((before) => before)).toMatchObject({ own: { born: '1984-05-02' } });
  });

  it.each([
    ['{"v": 1, "own": {', /not JSON.*left as it is/],
    ['{"v":1,"own":{"born":"yesterday"},"kit":[],"meetings":{}}', /at own\.born: .*left as it is/],
    ['{"v":1,"own":{},"kit":[{"kind":"hat","name":"Brim","count":1}],"meetings":{}}', /at kit\.0\.kind/],
    ['{"v":2,"own":{},"kit":[],"meetings":{}}', /newer Tyrewall \(format 2, this one knows 1\)/],
  ])('PL931: %s is refused with a sentence and never written over', async (written, words) => {
    const path = join(folder, 'office.json');
    await writeFile(path, written);
    const office = openOffice(path);
    await expect(office.read()).rejects.toThrow(words);
    await expect(office.change((before) => before)).rejects.toThrow(words);
    expect(await readFile(path, 'utf8')).toBe(written);
  });

  it('PL931: what a later version added is kept', async () => {
    const path = join(folder, 'office.json');
    await writeFile(path, '{"v":1,"own":{"passport":"x"},"kit":[],"meetings":{},"mileage":[3]}');
    await openOffice(path).change((before) => ({ ...before, own: { ...before.own, born: '1984-05-02' } }));
    expect(JSON.parse(await readFile(path, 'utf8'))).toMatchObject({
      mileage: [3],
      own: { passport: 'x', born: '1984-05-02' },
    });
  });

  it('PL931: where it cannot be written, a sentence says so', async () => {
    await writeFile(join(folder, 'state'), 'a file where the folder should be');
    await expect(openOffice(at()).change((before) => before)).rejects.toThrow(/Expected to (read|write) your papers/);
  });
});
