/**
 * The state of an order from its facts. The same whatever order they came in and however often each was told: amounts are added up over
 * distinct keys, of links the newest generation counts, and what was withdrawn stays withdrawn. Rules OR6–OR9.
 */
import { partOf } from './partOf.js';
import type { Fact, FactKey, Minor, OrderId, OrderState, StoredFact } from './types.js';

type Of<K extends Fact['kind']> = Extract<Fact, { kind: K }>;
type Told<K extends Fact['kind']> = Omit<StoredFact, 'fact'> & { readonly fact: Of<K> };

export function stateOf(id: OrderId, told: readonly StoredFact[]): OrderState {
  const facts = distinct(told);
  const of = <K extends Fact['kind']>(kind: K) => facts.filter((one): one is Told<K> => one.fact.kind === kind);
  const [first] = of('placed');
  const placed = first ? { ...first.fact, at: first.at } : null;
  const paid = sum(of('paid'));
  const refunded = sum(of('refunded'));
  const isCancelled = of('cancelled').length > 0;
  const gone = new Set(of('withdrawn').flatMap(({ fact }) => fact.pictures));
  const withdrawn = contractOf(of('contract-withdrawn'));
  const due = Math.max(0, (placed?.totals.toPay ?? 0) - withdrawn.worth);
  const lines = (placed?.lines ?? []).filter((line) => !withdrawn.said?.parts.includes(partOf(line)));
  const given = new Set(lines.flatMap((line) => line.pictures));
  const since = of('refunded').filter(({ at }) => withdrawn.said !== null && at >= withdrawn.said.at);
  const over = isCancelled ? paid - refunded : withdrawn.said === null ? 0 : paid - due - sum(since);
  return {
    id,
    placed: placed && of('contact-removed').length > 0 ? { ...placed, contact: NOBODY } : placed,
    paid,
    refunded,
    owed: (placed === null || isCancelled ? 0 : Math.max(0, due - paid)) as Minor,
    standing: standingOf(placed, due, paid, refunded, isCancelled),
    contractWithdrawn: withdrawn.said,
    toGiveBack: Math.max(0, Math.min(over, paid - refunded)) as Minor,
    pictures: [...given].filter((picture) => !gone.has(picture)),
    signs: signsOf(of('signed')),
    link: linkOf(of('link-made'), of('link-revoked')),
    handedOver: of('handed-over').map(({ at, fact }) => ({ at, what: fact.what, picture: fact.picture })),
  };
}

const NOBODY = { name: '', mail: '', address: null } as const;

/** By key, the earliest telling of each; then by time, so that lists read alike on every machine. */
function distinct(told: readonly StoredFact[]): readonly StoredFact[] {
  const byKey = new Map<FactKey, StoredFact>();
  for (const one of [...told].sort(byTime)) if (!byKey.has(one.key)) byKey.set(one.key, one);
  return [...byKey.values()];
}

const byTime = (a: StoredFact, b: StoredFact): number => a.at - b.at || (a.key < b.key ? -1 : a.key > b.key ? 1 : 0);

const sum = (facts: readonly { readonly fact: { readonly amount: Minor } }[]): Minor =>
  facts.reduce((all, { fact }) => all + fact.amount, 0) as Minor;

function standingOf(
  placed: OrderState['placed'],
  due: number,
  paid: Minor,
  refunded: Minor,
  isCancelled: boolean,
): OrderState['standing'] {
  if (placed === null) return 'unknown';
  if (refunded > 0 && refunded >= paid) return 'refunded';
  if (isCancelled) return 'cancelled';
  return paid >= due ? 'paid' : 'waiting-for-money';
}

function contractOf(told: readonly Told<'contract-withdrawn'>[]) {
  const [first] = told;
  const parts = [...new Set(told.flatMap(({ fact }) => fact.parts))].sort();
  const worth = told.reduce((all, { fact }) => all + fact.worth, 0);
  return { said: first === undefined ? null : { at: first.at, parts }, worth };
}

/** One sign a person and set: who signs twice has signed once, unless the second was said to be a second look. */
function signsOf(facts: readonly Told<'signed'>[]): OrderState['signs'] {
  const signs = new Map<string, OrderState['signs'][number]>();
  for (const { fact } of facts) {
    const pictures = [...fact.pictures].sort();
    const isSecondLook = fact.isSecondLook ?? false;
    signs.set(JSON.stringify([fact.by, isSecondLook, pictures]), { by: fact.by, pictures, isSecondLook });
  }
  return [...signs.values()];
}

function linkOf(made: readonly Told<'link-made'>[], revoked: readonly Told<'link-revoked'>[]): OrderState['link'] {
  const newest = made.reduce<Of<'link-made'> | null>(
    (best, { fact }) => (best === null || fact.generation > best.generation ? fact : best),
    null,
  );
  if (newest === null) return null;
  const { generation, expiresAt } = newest;
  return { generation, expiresAt, isRevoked: revoked.some(({ fact }) => fact.generation >= generation) };
}
