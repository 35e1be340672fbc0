/** Rules HD9, HD10, HD12 of docs/rules/handing.md; read by Info-ZIP's unzip and by Python's zipfile where they are. */
import { execFileSync } from 'node:child_process';
import { createHash, randomBytes } from 'node:crypto';
import { mkdtemp, open, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { crc32 } from 'node:zlib';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Sent, sendParts } from '../sendParts.js';
import { type ZipEntry, type ZipLayout, zipLayout } from './layout.js';
import { safeName } from './names.js';

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tyrewall-zip-'));
});
afterAll(() => rm(folder, { recursive: true }));

const inMemory = (name: string, content: Buffer): ZipEntry => ({
  name,
  bytes: content.length,
  crc32: crc32(content),
  sha256: createHash('sha256').update(content).digest('hex'),
  from: { content },
});
const requestOf = (headers: Record<string, string> = {}) => new Request('http://test/', { headers });
const sentOf = (layout: ZipLayout): Sent => ({
  ...layout,
  tag: layout.digest,
  type: 'application/zip',
  name: 'a.zip',
  onTaken: () => Promise.resolve(),
});
const bytesOf = async (layout: ZipLayout): Promise<Buffer> =>
  Buffer.from(await sendParts(requestOf(), sentOf(layout)).arrayBuffer());

/** What a program says; null where it is not there. REQUIRE_ORACLES=1 forbids that. */
function said(program: string, ...words: readonly string[]): string | null {
  try {
    return execFileSync(program, words, { encoding: 'utf8', maxBuffer: 1e9, stdio: ['ignore', 'pipe', 'pipe'] });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT' || process.env.REQUIRE_ORACLES === '1') throw error;
    console.warn(`SKIPPED: no ${program}, so a zip was not read by it.`);
    return null;
  }
}
const PYTHON = `
import hashlib, json, sys, zipfile
with zipfile.ZipFile(sys.argv[1]) as z:
    print(json.dumps([z.testzip() if len(sys.argv) < 3 else None,
        [[i.filename, i.file_size, i.CRC, i.compress_type, i.date_time, i.header_offset] for i in z.infolist()],
        hashlib.sha256(z.read(sys.argv[2] if len(sys.argv) > 2 else z.infolist()[0])).hexdigest()]))
`;

describe('a zip', () => {
  const names = ['Fällow Ring/2026-09-19-001.jpg', 'Fällow Ring/صورة ١.jpg', 'Fällow Ring/empty.txt'];
  const contents = [randomBytes(70_000), randomBytes(1), Buffer.alloc(0)];
  const entries = names.map((name, i) => inMemory(name, contents[i]!));

  it('HD9: is read by unzip and by Python, names, sums and all', async () => {
    const path = join(folder, 'small.zip');
    await writeFile(path, await bytesOf(zipLayout(entries)));
    const tested = said('unzip', '-t', path);
    if (tested !== null) expect(tested).toMatch(/No errors detected/);
    const read = said('python3', '-c', PYTHON, path);
    if (read === null) return;
    const [bad, infos, hash] = JSON.parse(read);
    expect(bad).toBeNull();
    expect(infos.map((info: readonly unknown[]) => info.slice(0, 5))).toEqual(
      entries.map(({ name, bytes, crc32: sum }) => [name, bytes, sum, 0, [1980, 1, 1, 0, 0, 0]]),
    );
    expect(hash).toBe(createHash('sha256').update(contents[0]!).digest('hex'));
  });

  it('HD10: has the length that was said, and the same bytes each time', async () => {
    const layout = zipLayout(entries);
    const [first, again] = [await bytesOf(layout), await bytesOf(zipLayout(entries))];
    expect(first.length).toBe(layout.bytes);
    expect(first.equals(again)).toBe(true);
    expect(zipLayout(entries.slice(1)).digest).not.toBe(layout.digest);
    const renamed = entries.map((entry) => ({ ...entry, name: `${entry.name}x` }));
    expect(zipLayout(renamed).digest).not.toBe(layout.digest);
  });

  it('HD10: any part of it is that part of the whole', async () => {
    const path = join(folder, 'of-file.bin');
    await writeFile(path, contents[0]!);
    const mixed = [...entries, { ...inMemory('f/file.bin', contents[0]!), from: { path } }];
    const layout = zipLayout(mixed);
    const whole = await bytesOf(layout);
    await fc.assert(
      fc.asyncProperty(fc.nat(layout.bytes - 1), fc.nat(layout.bytes - 1), async (a, b) => {
        const [first, last] = [Math.min(a, b), Math.max(a, b)];
        const answer = sendParts(requestOf({ range: `bytes=${first}-${last}` }), sentOf(layout));
        expect(answer.status).toBe(206);
        expect(answer.headers.get('content-range')).toBe(`bytes ${first}-${last}/${layout.bytes}`);
        const got = Buffer.from(await answer.arrayBuffer());
        expect(got.equals(whole.subarray(first, last + 1))).toBe(true);
      }),
      { numRuns: 200 },
    );
  });

  it('HD12: of a picture that is not as it was ends short, and never goes on with something else', async () => {
    const path = join(folder, 'changed.bin');
    await writeFile(path, contents[0]!);
    const layout = zipLayout([{ ...inMemory('a', contents[0]!), from: { path } }]);
    await writeFile(path, contents[0]!.subarray(1));
    await expect(sendParts(requestOf(), sentOf(layout)).arrayBuffer()).rejects.toThrow(
      'The answer was cut off. Try again.',
    );
  });

  it('HD10: nothing is opened for an answer that nobody reads', () => {
    const layout = zipLayout([
      { name: 'a', bytes: 1, crc32: 0, sha256: '', from: { path: join(folder, 'is-not-there') } },
    ]);
    const answer = sendParts(new Request('http://test/', { method: 'HEAD' }), sentOf(layout));
    expect([answer.status, answer.headers.get('content-length'), answer.body]).toEqual([200, `${layout.bytes}`, null]);
    expect(sendParts(requestOf({ range: `bytes=${layout.bytes}-` }), sentOf(layout)).status).toBe(416);
  });

  it('HD9: of more than 65,535 files is read whole', { timeout: 120_000 }, async () => {
    const path = join(folder, 'many.zip');
    const many = Array.from({ length: 65_600 }, (_, i) => inMemory(`f/${i}`, Buffer.from(`${i}`)));
    await writeFile(path, await bytesOf(zipLayout(many)));
    const read = said('python3', '-c', PYTHON, path, 'f/65599');
    if (read === null) return;
    const [, infos, hash] = JSON.parse(read);
    expect(infos).toHaveLength(many.length);
    expect(hash).toBe(createHash('sha256').update('65599').digest('hex'));
    const tested = said('unzip', '-tqq', path);
    if (tested !== null) expect(tested).not.toMatch(/error|bad/i);
  });

  it('HD9: of more than four gigabytes: a file as large, and one behind it, are found', async () => {
    const large = 4_400_000_000;
    const behind = randomBytes(50_000);
    // Its checksum is never asked for: reading it takes a minute.
    const hole = { name: 'f/large.bin', bytes: large, crc32: 0, sha256: '', from: { path: 'a hole' } };
    const layout = zipLayout([inMemory('f/first', behind), hole, inMemory('f/behind', behind)]);
    const path = join(folder, 'large.zip');
    // It is a hole in the file, too, so that the disk holds a few kilobytes of it.
    const file = await open(path, 'w');
    for (const part of layout.parts) if ('content' in part) await file.write(part.content, 0, part.bytes, part.at);
    expect((await file.stat()).size).toBe(layout.bytes);
    await file.close();
    const read = said('python3', '-c', PYTHON, path, 'f/behind');
    if (read !== null) {
      const [, infos, hash] = JSON.parse(read);
      expect(infos.map((info: readonly unknown[]) => info[1])).toEqual([50_000, large, 50_000]);
      expect(infos[2][5]).toBeGreaterThan(large);
      expect(hash).toBe(createHash('sha256').update(behind).digest('hex'));
    }
    const tested = said('unzip', '-t', path, 'f/first', 'f/behind');
    if (tested !== null) expect(tested).toMatch(/No errors detected/);
    await rm(path);
  });
});

describe('names in a zip', () => {
  it('HD12: are taken by every system and say nothing unseen', () => {
    expect(safeName('Open day <b>at</b> Fallow/Ring', 'x')).toBe('Open day b at b Fallow Ring');
    expect(safeName('../../etc/passwd', 'x')).toBe('etc passwd');
    expect(safeName('gpj\u202Eexe', 'x')).toBe('gpj exe');
    expect(safeName('...', 'pictures')).toBe('pictures');
    expect(safeName('CON', 'pictures')).toBe('pictures');
    expect(safeName('Fällow Ring', 'x')).toBe('Fällow Ring');
    expect(safeName('يوم', 'x')).toBe('يوم');
  });

  it('HD12: whatever comes in, a part of a path comes out', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        const name = safeName(text, 'x');
        expect(name).not.toMatch(/[<>:"/\\|?*\p{Cc}\p{Cf}]|^[.\s]|[.\s]$|^$/u);
        expect(Buffer.byteLength(name)).toBeLessThanOrEqual(120);
        // Throws where half a letter is left.
        expect(decodeURIComponent(encodeURIComponent(name))).toBe(name);
      }),
      { numRuns: 1000 },
    );
  });
});
