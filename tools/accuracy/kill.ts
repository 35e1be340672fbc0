/**
 * `npm run accuracy kill`: the order service killed two hundred times over its own file and twenty times over PostgreSQL. About a second
 * a kill on a quiet machine.
 */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { hasPostgres, startPostgres } from '../../src/shop/testing/postgres.js';
import type { Figures } from '../figures.js';
import { type KillReport, killOrders } from './kill/runs.js';
import { builtProgram } from './kill/service.js';

const RUNS = 200;
const POSTGRES_RUNS = 20;
const SAY_EVERY = 10;

export async function killAccuracy(): Promise<{ rows: readonly string[]; figures: Figures }> {
  const folder = await mkdtemp(join(tmpdir(), 'tyrewall-built-'));
  try {
    const program = await builtProgram(folder);
    const own = await killOrders({ program, runs: RUNS, database: null, seed: 1, onRun: sayOn(RUNS) });
    const reports = [own, ...(await overPostgres(program))];
    return { rows: reports.flatMap(rowsOf), figures: figuresOf(reports) };
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

async function overPostgres(program: string): Promise<readonly KillReport[]> {
  if (!hasPostgres()) return [];
  const server = await startPostgres();
  try {
    const database = await server.freshAddress();
    return [await killOrders({ program, runs: POSTGRES_RUNS, database, seed: 2, onRun: sayOn(POSTGRES_RUNS) })];
  } finally {
    await server.stop();
  }
}

function sayOn(runs: number): (done: number) => void {
  const started = performance.now();
  return (done) => {
    const leftS = (((performance.now() - started) / 1000) * (runs - done)) / done;
    if (done % SAY_EVERY === 0) console.log(`  ${done} of ${runs} kills, about ${Math.ceil(leftS / 60)} min left`);
  };
}

const rowsOf = (report: KillReport): readonly string[] => [
  `${report.engine}: ${report.runs} kills, ${report.hits} of them amid ${report.cutOff} requests; ${report.orders} orders, ${report.moved} payments and refunds, ${report.papers} papers, ${report.zips} zips, cut off and gone on with ${report.resumedZips} times`,
  ...report.lost.map((what) => `lost: ${what}`),
  ...report.doubled.map((what) => `twice: ${what}`),
  ...report.wrong.map((what) => `wrong: ${what}`),
];

function figuresOf(reports: readonly KillReport[]): Figures {
  const sum = (of: (report: KillReport) => number) => reports.reduce((all, report) => all + of(report), 0);
  const figure = (value: number, unit: string) => ({ value, unit, better: 'lower' }) as const;
  return {
    'kill.lost': figure(
      sum(({ lost }) => lost.length),
      'acknowledged things',
    ),
    'kill.doubled': figure(
      sum(({ doubled }) => doubled.length),
      'things',
    ),
    'kill.wrong': {
      ...figure(
        sum(({ wrong }) => wrong.length),
        'sums, numbers and zips',
      ),
      note: `of ${sum(({ papers }) => papers)} papers; zips gone on with ${sum(({ resumedZips }) => resumedZips)} times`,
    },
    'kill.runs': {
      value: sum(({ runs }) => runs),
      unit: 'kills',
      better: 'higher',
      note: reports.map(({ runs, engine, hits }) => `${runs} over ${engine}, ${hits} amid requests`).join('; '),
    },
  };
}
