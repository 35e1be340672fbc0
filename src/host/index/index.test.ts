import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { IndexError, type IndexStore, openLibsqlStore, openMemoryStore, openNodeSqliteStore } from './index.js';

const folder = mkdtempSync(join(tmpdir(), 'tyrewall-index-'));
afterAll(() => rmSync(folder, { recursive: true }));

type Open = (name: string) => IndexStore;
const engines: [string, Open][] = [
  ['libsql on disk', (name) => openLibsqlStore(join(folder, `${name}.libsql`))],
  ['libsql in memory', () => openMemoryStore()],
];
if (openNodeSqliteStore(':memory:') === null) {
  console.warn(`skipped: the contract of the index over node:sqlite (11 checks; Node ${process.version} has none)`);
} else {
  engines.push(['node:sqlite', (name) => openNodeSqliteStore(join(folder, `${name}.node`)) as IndexStore]);
}

describe.each(engines)('the index over %s', (_, open) => {
  const fresh = (name: string): IndexStore => {
    const store = open(name);
    store.exec('create table thing (id integer primary key, what, note text)');
    return store;
  };
  const insert = 'insert into thing (what, note) values (?, ?)';

  it('LB30: gives back what was put in, integers unrounded', () => {
    const store = fresh('values');
    const values = [null, 'Grüße 😀', 0.1, -5, 2 ** 53 - 1, 2n ** 53n + 1n, new Uint8Array([0, 255, 7])];
    for (const value of values) store.run(insert, [value, null]);
    expect(store.all('select what from thing order by id').map((row) => row.what)).toEqual(values);
    store.close();
  });

  it('LB30: rows hold the columns asked for and nothing else', () => {
    const store = fresh('rows');
    expect(store.run(insert, ['x', 'y'])).toBe(1);
    expect(store.all('select what, note from thing where note = ?', ['y'])).toEqual([{ what: 'x', note: 'y' }]);
    expect(store.all('select * from thing where note = ?', ['z'])).toEqual([]);
    store.close();
  });

  it.each([[undefined], [true], [Number.NaN], [Number.POSITIVE_INFINITY], [{}], [new Date(0)]])(
    'LB31: refuses %s, which an engine would swallow or die of',
    (value) => {
      const store = fresh(`refused-${String(value).replace(/\W/g, '')}`);
      expect(() => store.run(insert, [value as never, null])).toThrow(IndexError);
      expect(() => store.run(insert, [value as never, null])).toThrow(/value 1 of “insert into thing/);
      expect(store.all('select * from thing')).toEqual([]);
      store.close();
    },
  );

  it('LB32: a transaction that fails leaves nothing behind, and the next one works', () => {
    const store = fresh('transaction');
    const failing = () =>
      store.transaction(() => {
        store.run(insert, ['half', null]);
        throw new Error('stopped half-way');
      });
    expect(failing).toThrow('stopped half-way');
    expect(store.transaction(() => store.run(insert, ['whole', null]))).toBe(1);
    expect(store.all('select what from thing')).toEqual([{ what: 'whole' }]);
    expect(() => store.transaction(() => store.transaction(() => 0))).toThrow(/one is open already/);
    store.close();
  });

  it('says which statement it could not run', () => {
    const store = fresh('wrong');
    expect(() => store.exec('make me a table')).toThrow(/could not run “make me a table”/);
    expect(() => store.all('select nothing from nowhere')).toThrow(IndexError);
    store.close();
  });
});

describe.each(engines.filter(([name]) => !name.includes('memory')))('the index file of %s', (_, open) => {
  it('LB33: is there again after closing, and a second reader sees what was committed', () => {
    const store = open('again');
    store.exec('create table thing (id integer primary key, what)');
    store.run('insert into thing (what) values (?)', ['kept']);
    const second = open('again');
    expect(second.all('select what from thing')).toEqual([{ what: 'kept' }]);
    store.close();
    second.close();
    const later = open('again');
    expect(later.all('select what from thing')).toEqual([{ what: 'kept' }]);
    later.close();
  });
});
