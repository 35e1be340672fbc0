import { mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { mirrorLogs } from './index.js';

describe('keeping two disks alike', () => {
  let root: string;
  const put = async (path: string, text: string) => {
    await mkdir(join(root, path, '..'), { recursive: true });
    await writeFile(join(root, path), text);
  };
  const read = (path: string) => readFile(join(root, path), 'utf8');
  beforeEach(async () => {
    root = await mkdtemp(join(tmpdir(), 'mirror-'));
  });
  afterEach(() => rm(root, { recursive: true, force: true }));

  it('brings each writer’s file to both disks, whichever has it', async () => {
    await put('one/log/a.jsonl', 'a1\n');
    await put('two/log/b.jsonl', 'b1\n');
    await put('one/measured/a.jsonl', 'm\n');
    expect(await mirrorLogs(join(root, 'one'), join(root, 'two'))).toEqual({ copied: 3, troubles: [] });
    expect(await read('two/log/a.jsonl')).toBe('a1\n');
    expect(await read('one/log/b.jsonl')).toBe('b1\n');
    expect(await mirrorLogs(join(root, 'one'), join(root, 'two'))).toEqual({ copied: 0, troubles: [] });
  });

  it('lets the longer version win, also over a torn last line', async () => {
    await put('one/log/a.jsonl', 'a1\na2\n');
    await put('two/log/a.jsonl', 'a1\na');
    await mirrorLogs(join(root, 'one'), join(root, 'two'));
    expect(await read('two/log/a.jsonl')).toBe('a1\na2\n');
  });

  it('overwrites nothing where two versions of one writer differ, and says so', async () => {
    await put('one/log/a.jsonl', 'a1\na2\n');
    await put('two/log/a.jsonl', 'other\n');
    const report = await mirrorLogs(join(root, 'one'), join(root, 'two'));
    expect(report.troubles[0]).toMatch(/only ever grows, but they differ/);
    expect(await read('two/log/a.jsonl')).toBe('other\n');
  });
});
