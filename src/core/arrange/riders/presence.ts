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

/** In place of a group: none seen in that half-day, or several. */
const NONE = -1;
const SEVERAL = -2;

export class Presence {
  readonly #field: Field;
  readonly #attendance: Attendance | null;
  readonly #groupCount: number;
  /** Per half-day and group its sessions. */
  readonly #sessionsOf: readonly (readonly number[])[];
  /** Scratch: of the two that are compared. */
  readonly #joint: Int16Array;

  constructor(field: Field, attendance: Attendance | null) {
    this.#field = field;
    this.#attendance = attendance;
    this.#groupCount = Math.max(1, field.groups.length);
    this.#joint = new Int16Array(field.halves);
    this.#sessionsOf = Array.from({ length: field.halves * this.#groupCount }, (_, cell) =>
      Array.from({ length: field.sessionCount }, (__, s) => s).filter((s) => this.#cellOf(s) === cell),
    );
  }

  /** @param counts passes per session. */
  seen(counts: Uint16Array): Seen {
    const groups = new Int16Array(this.#field.halves).fill(NONE);
    counts.forEach((count, session) => {
      const group = this.#field.groupOf[session]!;
      const half = this.#field.halfOf[session]!;
      if (count > 0 && group >= 0) groups[half] = together(groups[half]!, group);
    });
    return { counts, groups, group: groups.reduce(together, NONE) };
  }

  /**
   * Before attendance is known, −∞ for whoever was seen with two groups: only plain cases are joined then.
   *
   * @param more of a second cluster, as if the two were one.
   */
  evidence(a: Seen, more: Seen | null): number {
    if (this.#attendance === null)
      return together(a.group, more?.group ?? NONE) === SEVERAL ? Number.NEGATIVE_INFINITY : 0;
    const joint = this.#joint;
    let isPlain = true;
    let changes = 0;
    let before = NONE;
    for (let half = 0; half < joint.length; half++) {
      const group = more === null ? a.groups[half]! : together(a.groups[half]!, more.groups[half]!);
      joint[half] = group;
      if (group === NONE) continue;
      if (group === SEVERAL) isPlain = false;
      else if (before !== NONE && group !== before) changes++;
      before = group;
    }
    if (this.#field.groups.length === 0) return 0;
    if (isPlain) return this.#asRider(joint, changes, a.counts, more?.counts ?? null);
    return this.#asInstructor(a.counts, more?.counts ?? null);
  }

  /** What speaks for so many passes of a session being one with the rest of their rider. */
  tie(all: Seen & { readonly presence: number }, session: number, passes: number): number {
    const rest = Uint16Array.from(all.counts);
    const part = new Uint16Array(rest.length);
    rest[session] = rest[session]! - passes;
    part[session] = passes;
    return all.presence - this.evidence(this.seen(rest), null) - this.evidence(this.seen(part), null);
  }

  #cellOf(session: number): number {
    const group = this.#field.groupOf[session]!;
    return group < 0 ? -1 : this.#field.halfOf[session]! * this.#groupCount + group;
  }

  /** In each half-day the group it was seen with; where it was seen with none, the one before or after. */
  #asRider(groups: Int16Array, changes: number, counts: Uint16Array, more: Uint16Array | null): number {
    let sum = -PRESENCE_PRICES.changedGroup * changes;
    const first = groups.find((group) => group >= 0) ?? NONE;
    for (let half = 0; half < groups.length; half++) {
      const group = groups[half]! >= 0 ? groups[half]! : first;
      if (group < 0) continue;
      for (const s of this.#sessionsOf[half * this.#groupCount + group]!)
        sum +=
          PRESENCE_PRICES.attendance *
          this.#attendance!.rider[s]![countIndex(counts[s]! + (more === null ? 0 : more[s]!))]!;
    }
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
  /** Per half-day the group it was seen with, or none, or several. */
  readonly groups: Int16Array;
  /** The same of the whole day. */
  readonly group: number;
}

function together(one: number, other: number): number {
  if (one === SEVERAL || other === SEVERAL) return SEVERAL;
  if (one === NONE) return other;
  return other === NONE || one === other ? one : SEVERAL;
}
