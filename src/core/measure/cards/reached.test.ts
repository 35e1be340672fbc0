import { readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { expect, it } from 'vitest';

const ROOT = resolve(import.meta.dirname, '../../../..');
/** What a person starts: terminal, desk and phone. */
const STARTS = ['src/cli/main.ts', 'src/host/measure/child.ts', 'src/web/main.tsx', 'src/pocket/main.ts'];
const PARTS = ['src/core/plan/pocket', 'src/core/measure/cards', 'src/host/pocket', 'src/host/cards'];

const IMPORTS =
  /(?:import|export)\s[^'"]*?from\s*'([^']+)'|import\(\s*(?:\/\*[^*]*\*\/\s*)?'([^']+)'\s*\)|import\s+'([^']+)'/g;

function fileOf(from: string, wanted: string): string | null {
  if (!wanted.startsWith('.')) return null;
  const path = resolve(dirname(from), wanted.replace(/\?.*$/, '')).replace(/\.js$/, '');
  for (const end of ['.ts', '.tsx']) {
    const name = `${path}${end}`;
    if (statSync(name, { throwIfNoEntry: false })?.isFile()) return name;
  }
  return null;
}

function reachedFiles(): ReadonlyMap<string, string> {
  const found = new Map<string, string>();
  const open = STARTS.map((start) => join(ROOT, start));
  for (let file = open.pop(); file !== undefined; file = open.pop()) {
    if (found.has(file)) continue;
    const text = readFileSync(file, 'utf8');
    found.set(file, text);
    for (const [, ...ways] of text.matchAll(IMPORTS)) {
      const next = fileOf(file, ways.find((way) => way !== undefined)!);
      if (next !== null) open.push(next);
    }
  }
  return found;
}

/** Functions and values that a file of these parts offers to others; types say nothing by themselves. */
function offeredBy(folder: string): readonly { readonly name: string; readonly file: string }[] {
  const files = readdirSync(join(ROOT, folder)).filter(
    (name) => /\.ts$/.test(name) && !/\.test\.ts$|^index\.ts$/.test(name),
  );
  return files.flatMap((name) => {
    const file = join(ROOT, folder, name);
    const text = readFileSync(file, 'utf8');
    return [...text.matchAll(/^export (?:async )?(?:function|const|class) (\w+)/gm)].map(([, what]) => ({
      name: what!,
      file,
    }));
  });
}

it('PL735: every rule of the pocket and the cards is used by what a person starts', () => {
  const reached = reachedFiles();
  expect(reached.size).toBeGreaterThan(100);
  const offered = PARTS.flatMap(offeredBy);
  expect(offered.length).toBeGreaterThan(40);
  const isUsed = ({ name, file }: (typeof offered)[number]): boolean => {
    const word = new RegExp(`\\b${name}\\b`);
    return [...reached].some(([user, text]) => {
      if (user === file) return (text.match(new RegExp(`\\b${name}\\b`, 'g'))?.length ?? 0) > 1;
      return !user.endsWith('/index.ts') && word.test(text);
    });
  };
  expect(offered.filter(({ file }) => !reached.has(file)).map(({ name }) => name)).toEqual([]);
  expect(offered.filter((one) => !isUsed(one)).map(({ name }) => name)).toEqual([]);
});
