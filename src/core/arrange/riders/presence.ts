/**
 * Who is out in which session, in nats: a rider in the sessions of one group, changed at lunch or overnight at the most;
 * or an instructor, who goes out with every group, but not every time. Whichever of the two explains a rider better
 * counts.
 */
import { type Attendance, countIndex } from './attendance.js';
import type { Field } from './field.js';

/** Prices in nats; common practice (four instructors beside 120 riders, one rider in twenty moves), no source. */
export const PRESENCE_PRICES = {
  /** A change of group at lunch or overnight. */
  changedGroup: 3,
  /** Being an instructor. */
  instructor: 3.5,
  /** Of what is said by how often somebody is seen in a session: all of it. */
  attendance: 1,
} as const;

/** Of instructors, those who lead a group of a half-day at all. */
const LEADS = 0.7;
const LOG_LEADS = Math.log(LEADS);
const LOG_DOES_NOT_LEAD = Math.log(1 - LEADS);

export class Presence {
  readonly #field: Field;
  readonly #attendance: Attendance | null;
  readonly #groupCount: number;
  /** Per half-day and group its sessions. */
  readonly #sessionsOf: readonly (readonly number[])[];

  constructor(field: Field, attendance: Attendance | null) {
    this.#field = field;
    this.#attendance = attendance;
    this.#groupCount = Math.max(1, field.groups.length);
    this.#sessionsOf = Array.from({ length: field.halves * this.#groupCount }, (_, cell) =>
      Array.from({ length: field.sessionCount }, (__, s) => s).filter((s) => this.#cellOf(s) === cell),
    );
  }

  /** Passes per half-day and group, `halves × groups`. */
  groupsOf(counts: Uint16Array): Float64Array {
    const groups = new Float64Array(this.#sessionsOf.length);
    counts.forEach((count, session) => {
      const cell = this.#cellOf(session);
      if (cell >= 0) groups[cell] = groups[cell]! + count;
    });
    return groups;
  }

  /**
   * Before attendance is known, −∞ for whoever was seen with two groups: only plain cases are joined then.
   *
   * @param more of a second cluster, as if the two were one.
   */
  evidence(a: Seen, more: Seen | null): number {
    const groups = more === null ? a.groups : a.groups.map((count, cell) => count + more.groups[cell]!);
    const tops = this.#groupsByHalf(groups);
    const isPlain = tops.every(({ different }) => different <= 1);
    const changes = changesOf(tops);
    if (this.#attendance === null) return isPlain && changes === 0 ? 0 : Number.NEGATIVE_INFINITY;
    if (this.#field.groups.length === 0) return 0;
    if (isPlain) return this.#asRider(tops, changes, a.counts, more?.counts ?? null);
    return this.#asInstructor(a.counts, more?.counts ?? null);
  }

  /** What speaks for so many passes of a session being one with the rest of their rider. */
  tie(all: Seen & { readonly presence: number }, session: number, passes: number): number {
    const rest = Uint16Array.from(all.counts);
    const part = new Uint16Array(rest.length);
    rest[session] = rest[session]! - passes;
    part[session] = passes;
    const evidenceOf = (counts: Uint16Array) => this.evidence({ counts, groups: this.groupsOf(counts) }, null);
    return all.presence - evidenceOf(rest) - evidenceOf(part);
  }

  #cellOf(session: number): number {
    const group = this.#field.groupOf[session]!;
    return group < 0 ? -1 : this.#field.halfOf[session]! * this.#groupCount + group;
  }

  #groupsByHalf(groups: Float64Array): readonly HalfDay[] {
    const halves: HalfDay[] = [];
    for (let half = 0; half < this.#field.halves; half++) {
      let top = -1;
      let different = 0;
      for (let g = 0; g < this.#groupCount; g++) {
        if (groups[half * this.#groupCount + g] === 0) continue;
        different++;
        top = g;
      }
      halves.push({ top, different });
    }
    return halves;
  }

  /** In each half-day the group it was seen with; where it was seen with none, the one before or after. */
  #asRider(tops: readonly HalfDay[], changes: number, counts: Uint16Array, more: Uint16Array | null): number {
    let sum = -PRESENCE_PRICES.changedGroup * changes;
    const first = tops.find(({ top }) => top >= 0)?.top ?? -1;
    tops.forEach(({ top }, half) => {
      const group = top >= 0 ? top : first;
      if (group < 0) return;
      for (const s of this.#sessionsOf[half * this.#groupCount + group]!)
        sum +=
          PRESENCE_PRICES.attendance *
          this.#attendance!.rider[s]![countIndex(counts[s]! + (more === null ? 0 : more[s]!))]!;
    });
    return sum;
  }

  /** With a group not seen in a half-day an instructor may not have been out at all. */
  #asInstructor(counts: Uint16Array, more: Uint16Array | null): number {
    let sum = -PRESENCE_PRICES.instructor;
    for (const sessions of this.#sessionsOf) {
      let evidence = LOG_LEADS;
      let seen = 0;
      for (const s of sessions) {
        const count = counts[s]! + (more === null ? 0 : more[s]!);
        seen += count;
        evidence += PRESENCE_PRICES.attendance * this.#attendance!.instructor[s]![countIndex(count)]!;
      }
      sum += seen > 0 ? evidence : Math.max(evidence, LOG_DOES_NOT_LEAD);
    }
    return sum;
  }
}

/** What of a cluster says where it was. */
export interface Seen {
  /** Passes per session. */
  readonly counts: Uint16Array;
  /** As {@link Presence.groupsOf} has them. */
  readonly groups: Float64Array;
}

interface HalfDay {
  /** Its group, −1 for none. */
  readonly top: number;
  readonly different: number;
}

function changesOf(tops: readonly HalfDay[]): number {
  let changes = 0;
  let before = -1;
  for (const { top } of tops) {
    if (top === -1) continue;
    if (before !== -1 && top !== before) changes++;
    before = top;
  }
  return changes;
}
