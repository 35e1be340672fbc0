/** Rules OR15–OR18, OR22, HD10, HD16 and HD19 under SIGKILL: six kills here, two hundred by `npm run accuracy kill`. */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import type { Paper } from '../../../src/core/handover/orders/index.js';
import type { NumberedFact } from '../../../src/shop/db/index.js';
import { compareBooks, type Told } from './books.js';
import { killOrders } from './runs.js';
import { builtProgram } from './service.js';

it('OR15–OR18, OR22, HD10, HD16, HD19: killed amid orders, webhooks, finals and zips, nothing is lost, twice or wrong', {
  timeout: 300_000,
}, async () => {
  const folder = await mkdtemp(join(tmpdir(), 'tyrewall-built-'));
  try {
    const program = await builtProgram(folder);
    const report = await killOrders({ program, runs: 6, database: null, seed: 3 });
    expect(report).toMatchObject({ lost: [], doubled: [], wrong: [], runs: 6 });
    // That the kills hit something, and that there was something to lose.
    expect(report.hits).toBeGreaterThanOrEqual(4);
    expect(report.orders).toBeGreaterThanOrEqual(8);
    expect(report.papers).toBeGreaterThanOrEqual(4);
    expect(report.zips).toBeGreaterThanOrEqual(1);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
});

const one = { mail: 'rider-1@example.org', toPay: 4500, isPrepaid: false, id: 'a', cancelling: 'no' } as const;
const money = { reference: 'r1', mail: one.mail, kind: 'paid', amount: 4500, isAcknowledged: true } as const;
const told: Told = { sold: [{ ...one }], moved: [{ ...money }] };
const placed = { kind: 'placed', contact: { mail: one.mail }, totals: { toPay: 4500 } };
const paid = { kind: 'paid', amount: 4500, way: 'provider', reference: 'r1' };
const factsOf = (...facts: readonly object[]) =>
  facts.map((fact, i) => ({ seq: i + 1, order: 'a', fact })) as unknown as readonly NumberedFact[];
const paper = (number: number, toPay = 4500, tax = 750) =>
  ({
    series: 'K',
    number,
    kind: 'invoice',
    order: 'a',
    body: { totals: { toPay, taxes: [{ tax }] } },
  }) as unknown as Paper;
const counts = (said: Told, facts: readonly NumberedFact[], ...papers: readonly Paper[]) => {
  const { lost, doubled, wrong } = compareBooks(said, facts, papers);
  return [lost.length, doubled.length, wrong.length];
};

it('finds nothing in books that are right, and each kind of fault in those that are not', () => {
  const right = factsOf(placed, paid);
  expect(counts(told, right, paper(1))).toEqual([0, 0, 0]);
  expect(counts({ sold: [{ ...one, id: null }], moved: [] }, [])).toEqual([0, 0, 0]);
  expect(counts({ sold: [one], moved: [] }, [])).toEqual([1, 0, 0]);
  expect(counts(told, factsOf(placed))).toEqual([1, 0, 0]);
  expect(counts({ ...told, sold: [{ ...one, cancelling: 'acknowledged' }] }, right, paper(1))).toEqual([1, 0, 0]);
  expect(counts(told, factsOf(placed, paid, placed), paper(1))).toEqual([0, 1, 0]);
  expect(counts({ ...told, moved: [{ ...money, amount: 9000 }] }, factsOf(placed, paid), paper(1))).toEqual([0, 0, 1]);
  expect(counts(told, factsOf(placed, paid, paid), paper(1))).toEqual([0, 1, 0]);
  const link = { kind: 'link-made' };
  expect(counts(told, factsOf(placed, paid, link, link), paper(1))).toEqual([0, 1, 0]);
  expect(counts(told, right)).toEqual([0, 0, 1]);
  expect(counts(told, right, paper(2))).toEqual([0, 0, 1]);
  expect(counts(told, right, paper(1), paper(2))).toEqual([0, 0, 1]);
  expect(counts(told, right, paper(1, 4500, 751))).toEqual([0, 0, 1]);
  expect(counts({ ...told, sold: [{ ...one, isPrepaid: true }] }, right, paper(1))).toEqual([0, 0, 1]);
  expect(counts(told, factsOf(placed, paid, { ...paid, reference: 'r2' }), paper(1))).toEqual([0, 0, 1]);
  expect(counts({ sold: [], moved: [] }, factsOf(placed))).toEqual([0, 0, 1]);
});
