/**
 * What the page knows: the day, what was tapped, and whether it can be kept. Taps are kept by day, so that neither a new plan at
 * lunch nor another meeting loses one; each is written before the screen shows it.
 */
import { type PocketDay, type PocketTaps, readCode, type Squeezer, type Tap } from '../core/plan/pocket/index.js';
import { type WallMs, wallMsOf } from '../core/units.js';

export type View = 'now' | 'clock-card' | 'hand-back';

export interface PocketState {
  readonly day: PocketDay | null;
  readonly check: string;
  readonly taps: readonly Tap[];
  /** Taps that came before this plan was made are in it already. */
  readonly tapsFrom: number;
  /** The rest: what this plan knows nothing of. */
  readonly fresh: readonly Tap[];
  readonly view: View;
  readonly body: number;
  /** What went wrong, for the person. */
  readonly trouble: string | null;
  readonly isKept: boolean;
}

/** As much of a browser's storage as is used; it may throw when it is full or forbidden. */
export interface Keeping {
  getItem(key: string): string | null;
  setItem(key: string, value: string): void;
}

/** What a tap says, before it has a count and a time. */
export type NewTap = Tap extends infer One ? (One extends Tap ? Omit<One, 'seq' | 'at' | 'isUndone'> : never) : never;

interface KeptTaps {
  readonly phone: string;
  readonly check: string;
  readonly tapsFrom: number;
  readonly taps: readonly Tap[];
}

export interface Surroundings {
  readonly keeping: Keeping | null;
  readonly squeezer: Squeezer;
  readonly now: () => number;
  /** Eight random hex digits. */
  readonly random: () => string;
}

const DAY_KEY = 'tyrewall.day';
const tapsKey = ({ day, meeting }: PocketDay): string => `tyrewall.taps.${day}.${meeting}`;
const MINUTE_MS = 60_000;

export class PocketStore {
  #state: PocketState = {
    day: null,
    check: '',
    taps: [],
    tapsFrom: 0,
    fresh: [],
    view: 'now',
    body: 1,
    trouble: null,
    isKept: true,
  };
  #phone = '';
  readonly #heard = new Set<() => void>();
  readonly #around: Surroundings;

  constructor(around: Surroundings) {
    this.#around = around;
  }

  get state(): PocketState {
    return this.#state;
  }

  subscribe(listener: () => void): void {
    this.#heard.add(listener);
  }

  /** The first of these that can be read: an address's code, one inside the file, the one kept from before. */
  async start(...codes: readonly string[]): Promise<void> {
    let refused: string | null = null;
    for (const code of [...codes, this.#read(DAY_KEY) ?? ''].filter((one) => one !== '')) {
      if (await this.open(code)) break;
      refused ??= this.#state.trouble;
    }
    this.#change({ trouble: refused });
  }

  /** A refused code changes nothing but says why. */
  async open(text: string): Promise<boolean> {
    const read = await readCode(text, this.#around.squeezer);
    if (read.kind !== 'day') {
      const trouble =
        read.kind === 'refused'
          ? read.sentence
          : 'Expected a day but got what was tapped on a phone. Give that to the laptop.';
      this.#change({ trouble });
      return false;
    }
    this.#keep(DAY_KEY, text);
    const kept = this.#keptTaps(read.day);
    const isSamePlan = kept?.check === read.check;
    this.#phone = kept?.phone ?? this.#around.random();
    const taps = kept?.taps ?? [];
    const last = taps.at(-1)?.seq ?? 0;
    const tapsFrom = kept === null || isSamePlan ? (kept?.tapsFrom ?? 0) : last;
    this.#change({ day: read.day, check: read.check, taps, tapsFrom, trouble: null, view: 'now' });
    if (kept !== null && !isSamePlan) this.#keepTaps();
    return true;
  }

  tap(what: NewTap): void {
    const seq = (this.#state.taps.at(-1)?.seq ?? 0) + 1;
    const tap = { ...what, seq, at: this.wallNow(), isUndone: false } as Tap;
    this.#change({ taps: [...this.#state.taps, tap] }, () => this.#keepTaps());
  }

  takeBack(seq: number): void {
    const taps = this.#state.taps.map((tap) => (tap.seq === seq ? { ...tap, isUndone: true } : tap));
    this.#change({ taps }, () => this.#keepTaps());
  }

  show(view: View): void {
    this.#change({ view });
  }

  useBody(body: number): void {
    this.#change({ body });
  }

  /** The circuit's wall time to the second. */
  wallNow(): WallMs {
    const wall = this.#around.now() + (this.#state.day?.eastMin ?? 0) * MINUTE_MS;
    return wallMsOf(Math.floor(wall / 1000) * 1000);
  }

  report(): PocketTaps {
    const { check, day, taps } = this.#state;
    return { dayCheck: check, phone: this.#phone, eastMin: day?.eastMin ?? 0, taps };
  }

  /** Kept before it is shown. */
  #change(part: Partial<PocketState>, keep?: () => void): void {
    const { taps, tapsFrom } = { ...this.#state, ...part };
    const isSame = taps === this.#state.taps && tapsFrom === this.#state.tapsFrom;
    const fresh = isSame ? this.#state.fresh : taps.filter(({ seq }) => seq > tapsFrom);
    this.#state = { ...this.#state, ...part, fresh };
    keep?.();
    for (const listener of this.#heard) listener();
  }

  #keepTaps(): void {
    const { day, check, taps, tapsFrom } = this.#state;
    if (day === null) return;
    const kept: KeptTaps = { phone: this.#phone, check, tapsFrom, taps };
    this.#keep(tapsKey(day), JSON.stringify(kept));
  }

  #keptTaps(day: PocketDay): KeptTaps | null {
    const text = this.#read(tapsKey(day));
    if (text === null) return null;
    try {
      return JSON.parse(text) as KeptTaps;
    } catch {
      return null;
    }
  }

  #keep(key: string, value: string): void {
    try {
      if (this.#around.keeping === null) throw new Error('no storage');
      this.#around.keeping.setItem(key, value);
    } catch {
      this.#state = { ...this.#state, isKept: false };
    }
  }

  #read(key: string): string | null {
    try {
      return this.#around.keeping?.getItem(key) ?? null;
    } catch {
      return null;
    }
  }
}
