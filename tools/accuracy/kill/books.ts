/**
 * What the riders, the provider and the photographer were told, held against what the service says it has. The prices and sums are this
 * side's own: nothing of the service's reckoning is used. A request that was cut off may stand or not, but not twice.
 */
import type { Paper, StoredFact } from '../../../src/core/handover/orders/index.js';

/** One order as its rider knows it. */
export interface Sold {
  readonly mail: string;
  readonly toPay: number;
  /** Paid with the order itself, by a code bought before. */
  readonly isPrepaid: boolean;
  /** Once it was acknowledged. */
  id: string | null;
  cancelling: 'no' | 'asked' | 'acknowledged';
}

/** Money in or back, with a reference of its own. */
export interface Moved {
  readonly reference: string;
  readonly mail: string;
  readonly kind: 'paid' | 'refunded';
  readonly amount: number;
  isAcknowledged: boolean;
}

export interface Told {
  readonly sold: readonly Sold[];
  readonly moved: readonly Moved[];
}

export interface Faults {
  /** Acknowledged, and not there. */
  readonly lost: readonly string[];
  /** There twice. */
  readonly doubled: readonly string[];
  /** A sum, a number or a paper that is not as it must be. */
  readonly wrong: readonly string[];
}

/** Prices have a fifth on top in them, so a sixth is tax; half a unit goes up. */
const TAX_SHARE = 6;

type Numbered = StoredFact & { readonly seq: number };

export function compareBooks(told: Told, facts: readonly Numbered[], papers: readonly Paper[]): Faults {
  const books = new Books(facts, papers);
  const bySold = told.sold.map((one) => books.faultsOfSold(one));
  const all = [...bySold, ...told.moved.map((one) => books.faultsOfMoved(one)), books.faultsOfPapers(told)];
  return {
    lost: all.flatMap(({ lost }) => lost),
    doubled: all.flatMap(({ doubled }) => doubled),
    wrong: all.flatMap(({ wrong }) => wrong),
  };
}

class Books {
  readonly #facts: readonly Numbered[];
  readonly #papers: readonly Paper[];
  readonly #byOrder: ReadonlyMap<string, readonly Numbered[]>;
  readonly #byMail: ReadonlyMap<string, readonly Numbered[]>;
  readonly #byReference: ReadonlyMap<string, readonly Numbered[]>;

  constructor(facts: readonly Numbered[], papers: readonly Paper[]) {
    this.#facts = facts;
    this.#papers = papers;
    this.#byOrder = grouped(facts, ({ order }) => order);
    this.#byMail = grouped(facts, ({ fact }) => (fact.kind === 'placed' ? fact.contact.mail : null));
    this.#byReference = grouped(facts, ({ fact }) => ('reference' in fact ? fact.reference : null));
  }

  faultsOfSold(sold: Sold): Faults {
    const { mail, id, toPay, isPrepaid, cancelling } = sold;
    const placed = this.#byMail.get(mail) ?? [];
    const [first] = placed;
    if (!first) return faults({ lost: id === null ? [] : [`the order of ${mail}`] });
    const own = this.#byOrder.get(first.order) ?? [];
    const count = (is: (fact: Numbered['fact']) => boolean) => own.filter(({ fact }) => is(fact)).length;
    const cancelled = count(({ kind }) => kind === 'cancelled');
    const prepaid = count((fact) => fact.kind === 'paid' && fact.way === 'prepaid');
    const links = count(({ kind }) => kind === 'link-made');
    const zips = count((fact) => fact.kind === 'handed-over' && fact.what === 'zip');
    const said = first.fact.kind === 'placed' ? first.fact.totals.toPay : Number.NaN;
    return faults({
      lost: [
        ...(id !== null && first.order !== id ? [`the order ${id}`] : []),
        ...(cancelling === 'acknowledged' && cancelled === 0 ? [`the cancelling of ${mail}`] : []),
      ],
      doubled: [
        ...(placed.length > 1 ? [`the order of ${mail}`] : []),
        ...([prepaid, cancelled, links, zips].some((times) => times > 1) ? [`something told of ${mail}`] : []),
      ],
      wrong: [
        ...(said === toPay ? [] : [`${mail} owes ${said} in place of ${toPay}`]),
        // One transaction: an order by a code that was paid for is never there without its money.
        ...(prepaid === (isPrepaid ? 1 : 0) ? [] : [`${mail} has ${prepaid} payments by a code`]),
        ...(cancelled > 0 && cancelling === 'no' ? [`${mail} is cancelled and nobody asked`] : []),
        ...this.#wrongPapers(first.order, toPay, own),
      ],
    });
  }

  /** An invoice as soon as all is paid, a credit note for each refund then, and neither before. */
  #wrongPapers(order: string, toPay: number, own: readonly Numbered[]): readonly string[] {
    const sums = (kind: 'paid' | 'refunded') => own.flatMap(({ fact }) => (fact.kind === kind ? [fact.amount] : []));
    const paid = sums('paid').reduce((all, amount) => all + amount, 0);
    const due = paid < toPay ? [] : [`invoice ${toPay}`, ...sums('refunded').map((amount) => `credit-note ${amount}`)];
    const papers = this.#papers.filter((paper) => paper.order === order);
    const there = papers.map(({ kind, body }) => `${kind} ${body.totals.toPay}`);
    return [
      ...(due.sort().join() === there.sort().join() ? [] : [`${order} has ${there} in place of ${due}`]),
      ...papers
        .filter(({ kind, body }) => kind === 'invoice' && taxOf(body.totals) !== Math.floor(toPay / TAX_SHARE + 0.5))
        .map(({ body }) => `the tax of ${order} is ${taxOf(body.totals)}`),
    ];
  }

  faultsOfMoved({ reference, mail, kind, amount, isAcknowledged }: Moved): Faults {
    const there = this.#byReference.get(reference) ?? [];
    const order = this.#byMail.get(mail)?.[0]?.order;
    const isRight = there.every((one) => one.order === order && one.fact.kind === kind && one.fact.amount === amount);
    return faults({
      lost: isAcknowledged && there.length === 0 ? [`${kind} ${reference}`] : [],
      doubled: there.length > 1 ? [`${kind} ${reference}`] : [],
      wrong: isRight ? [] : [`${reference} is not the ${amount} of ${mail} it was`],
    });
  }

  /** Numbers without a gap, and all money there ever was, by this side's own books. */
  faultsOfPapers({ sold, moved }: Told): Faults {
    const series = grouped(this.#papers, (paper) => paper.series);
    const gaps = [...series].flatMap(([name, of]) => (isCounted(of.map(({ number }) => number)) ? [] : [name]));
    const known = new Set(sold.map(({ mail }) => mail));
    const strangers = [...this.#byMail.keys()].filter((mail) => !known.has(mail));
    const references = new Set(moved.map(({ reference }) => reference));
    const unknown = [...this.#byReference]
      .filter(([reference, [one]]) => !references.has(reference) && !isByCode(one))
      .map(([reference]) => reference);
    return faults({
      wrong: [
        ...gaps.map((name) => `the numbers of ${name} have a gap`),
        ...(isCounted(this.#facts.map(({ seq }) => seq)) ? [] : ['the sequence of facts has a gap']),
        ...[...strangers, ...unknown].map((what) => `nobody told of ${what}`),
      ],
    });
  }
}

const isByCode = (one: Numbered | undefined): boolean => one?.fact.kind === 'paid' && one.fact.way === 'prepaid';

const taxOf = ({ taxes }: Paper['body']['totals']): number => taxes.reduce((all, { tax }) => all + tax, 0);

const faults = (some: Partial<Faults>): Faults => ({ lost: [], doubled: [], wrong: [], ...some });

/** One, two, three, each once. */
const isCounted = (numbers: readonly number[]): boolean =>
  [...numbers].sort((a, b) => a - b).every((number, i) => number === i + 1);

function grouped<One, Key>(all: readonly One[], keyOf: (one: One) => Key | null): ReadonlyMap<Key, readonly One[]> {
  const groups = new Map<Key, One[]>();
  for (const one of all) {
    const key = keyOf(one);
    const group = key === null ? null : (groups.get(key) ?? []);
    group?.push(one);
    if (key !== null && group !== null) groups.set(key, group);
  }
  return groups;
}
