/**
 * The order service among people who mean no good: `tyrewall orders` in a process of its own, holding orders of others, asked more than a
 * thousand hostile things. A leak is an answer with anything of theirs, a secret, a path, a trace, a tag that was typed, or a status that
 * was not meant; an order that is not as it was; a service that takes none afterwards. docs/security.md says which threats these are of.
 */
import { seededRandom } from '../../src/core/numeric/random.js';
import { MEETING } from '../../src/shop/testing/shopDay.js';
import type { Figures } from '../figures.js';
import { findingsOf, type Hostile } from './hostile/leaks.js';
import { type Attacker, hostileRequests } from './hostile/requests.js';
import { type HostileService, ONE_LINE, orderOf, startHostileService } from './hostile/service.js';
import { type Answer, send, visitorAt } from './hostile/wire.js';

const SEED = 710;
const AT_ONCE = 8;
/** The service ends a head after ten seconds and a body after twenty; the rest is for a busy machine. */
const SLOW_LIMIT_MS = 35_000;

export interface HostileOutcome {
  readonly requests: number;
  readonly findings: readonly string[];
  /** How many of each kind, and how they were answered. */
  readonly kinds: readonly string[];
}

export async function hostileAccuracy(): Promise<{ rows: readonly string[]; figures: Figures }> {
  const { requests, findings, kinds } = await askHostile(false);
  return {
    rows: [...kinds, ...findings],
    figures: {
      'hostile.leaks': { value: findings.length, unit: 'findings', better: 'lower' },
      'hostile.requests': { value: requests, unit: 'requests', better: 'higher', note: `seed ${SEED}` },
    },
  };
}

export async function askHostile(isShort: boolean): Promise<HostileOutcome> {
  const service = await startHostileService();
  try {
    return await among(service, isShort);
  } finally {
    await service.end();
  }
}

async function among(service: HostileService, isShort: boolean): Promise<HostileOutcome> {
  const { admin, known, ports } = service;
  const others = async () =>
    JSON.stringify((await admin.orders()).filter(({ state }) => known.orders.includes(state.id)));
  const before = await others();
  const requests = hostileRequests(seededRandom(SEED), await attackerOf(service));
  const quick = requests.all(isShort ? 5 : 85);
  // A body takes twice as long as the short form may.
  const slow = [...requests.slow('head', isShort ? 2 : 10), ...requests.slow('body', isShort ? 0 : 6)];
  const guesses = isShort ? [] : requests.guesses();
  const answers = await Promise.all([
    inTurn(quick, ({ side, bytes }) => send(ports[side], bytes)),
    Promise.all(slow.map(({ bytes }) => send(ports.public, bytes, { limitMs: SLOW_LIMIT_MS, slowlyLast: 1900 }))),
  ]);
  const guessed = await inTurn(guesses, ({ bytes }) => send(ports.public, bytes), 1);
  const asked = [...quick, ...slow, ...guesses];
  const answered = [...answers.flat(), ...guessed];
  const findings = asked.flatMap((one, n) => findingsOf(one, answered[n]!, known.secrets));
  const isAsBefore = (await others()) === before;
  const order = await orderOf(visitorAt(ports.public, '198.51.100.7'), ONE_LINE, { name: 'A rider' }).catch(() => null);
  const output = service.output();
  return {
    requests: asked.length,
    kinds: answeredHow(asked, answered),
    findings: [
      ...findings,
      ...(isAsBefore ? [] : ['the orders of others are not as they were']),
      ...(order === null ? ['after it the service took no order'] : []),
      ...(known.keysOfService.some((key) => output.includes(key)) ? ['its terminal shows a key'] : []),
    ],
  };
}

async function attackerOf({ known, ports }: HostileService): Promise<Attacker> {
  const [self, other] = [visitorAt(ports.public, '198.51.100.1'), visitorAt(ports.public, '198.51.100.2')];
  const ownOrder = await orderOf(self, ONE_LINE, { name: 'Somebody' });
  for (const one of [self, other]) {
    await one.get(`/${MEETING}/picture/${ONE_LINE.split(':')[2]}`);
    await one.post(`/${MEETING}/basket`, { do: 'put', line: ONE_LINE });
    await one.get(`/${MEETING}/basket`);
    if (one.token === '') throw new Error(`Expected a basket with its form, but the answer was ${one.status}.`);
  }
  return { known, ports, self, other, ownOrder };
}

async function inTurn<T, U>(all: readonly T[], ask: (one: T) => Promise<U>, atOnce = AT_ONCE): Promise<readonly U[]> {
  const answers: U[] = [];
  let next = 0;
  const worker = async () => {
    for (let n = next++; n < all.length; n = next++) answers[n] = await ask(all[n]!);
  };
  await Promise.all(Array.from({ length: atOnce }, worker));
  return answers;
}

function answeredHow(all: readonly Hostile[], answers: readonly Answer[]): readonly string[] {
  const statuses = new Map<string, number[]>();
  for (const [n, { kind }] of all.entries()) statuses.set(kind, [...(statuses.get(kind) ?? []), answers[n]!.status]);
  return [...statuses].map(([kind, of]) => {
    const each = [...new Set(of)].sort().map((one) => `${one || 'ended'} × ${of.filter((two) => two === one).length}`);
    return `${String(of.length).padStart(4)} ${kind}: ${each.join(', ')}`;
  });
}
