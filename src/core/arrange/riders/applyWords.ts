/**
 * A person's word on top of what was found: only riders that it names are changed. `same` unites two whole riders;
 * `different` splits one, and its other passes go with the side they look like. Passes that then cannot be one bike
 * with the rest step aside as a rider of their own, never out of the day.
 */

export interface WordsInput {
  /** Per pass its rider as found. */
  readonly labels: Int32Array;
  /** Lists of passes that are one rider. */
  readonly together: readonly (readonly number[])[];
  readonly different: readonly (readonly [number, number])[];
  cannotBeOne(a: number, b: number): boolean;
  /** How much a pass belongs to these, higher is more. */
  likeness(pass: number, passes: readonly number[]): number;
}

/** @returns per pass a rider number; equal numbers are one rider, numbers mean nothing else. */
export function applyWords(input: WordsInput): Int32Array {
  const labels = Int32Array.from(input.labels);
  if (input.together.length === 0) return labels;
  const said = saidGroups(input);
  let next = labels.reduce((most, label) => Math.max(most, label + 1), 0);
  const fresh = (): number => next++;
  const touched = new Set(input.together.flat().map((p) => labels[p]!));
  for (const label of [...touched].sort((a, b) => a - b)) splitRider(label, labels, input, said, fresh);
  for (const passes of input.together) if (passes.length > 1) unite(passes, labels, input, said, fresh);
  return labels;
}

interface Said {
  /** Per pass the number of its list in `together`. */
  readonly groupOf: ReadonlyMap<number, number>;
  areDifferent(a: number, b: number): boolean;
}

function saidGroups({ together, different }: WordsInput): Said {
  const groupOf = new Map<number, number>();
  for (const [group, passes] of together.entries()) for (const p of passes) groupOf.set(p, group);
  const apart = new Set<string>();
  for (const [a, b] of different) {
    const first = groupOf.get(a)!;
    const second = groupOf.get(b)!;
    apart.add(`${first} ${second}`);
    apart.add(`${second} ${first}`);
  }
  return { groupOf, areDifferent: (a, b) => apart.has(`${a} ${b}`) };
}

const passesOf = (label: number, labels: Int32Array): number[] => {
  const list: number[] = [];
  labels.forEach((other, p) => {
    if (other === label) list.push(p);
  });
  return list;
};

/** Where one found rider holds two that were said to be different. */
function splitRider(label: number, labels: Int32Array, input: WordsInput, said: Said, fresh: () => number): void {
  const passes = passesOf(label, labels);
  const groups = [...new Set(passes.map((p) => said.groupOf.get(p)).filter((g) => g !== undefined))];
  const isSplit = groups.some((a) => groups.some((b) => said.areDifferent(a, b)));
  if (!isSplit) return;
  const sides: { readonly groups: number[]; readonly passes: number[] }[] = [];
  for (const group of groups) {
    const own = passes.filter((p) => said.groupOf.get(p) === group);
    const side = sides.find((s) => s.groups.every((other) => !said.areDifferent(group, other)));
    if (side === undefined) sides.push({ groups: [group], passes: own });
    else {
      side.groups.push(group);
      side.passes.push(...own);
    }
  }
  const anchors = sides.map((side) => [...side.passes]);
  for (const p of passes) {
    if (said.groupOf.has(p)) continue;
    const free = sides.map((_, s) => s).filter((s) => !anchors[s]!.some((q) => input.cannotBeOne(p, q)));
    const choices = free.length > 0 ? free : sides.map((_, s) => s);
    const best = choices.reduce((top, s) =>
      input.likeness(p, anchors[s]!) > input.likeness(p, anchors[top]!) ? s : top,
    );
    sides[best]!.passes.push(p);
  }
  const largest = sides.reduce((top, side) => (side.passes.length > top.passes.length ? side : top));
  for (const side of sides) {
    if (side === largest) continue;
    const own = fresh();
    for (const p of side.passes) labels[p] = own;
  }
}

function unite(list: readonly number[], labels: Int32Array, input: WordsInput, said: Said, fresh: () => number): void {
  const parts = [...new Set(list.map((p) => labels[p]!))].map((label) => ({ label, passes: passesOf(label, labels) }));
  if (parts.length < 2) return;
  const main = parts.reduce((top, part) => (part.passes.length > top.passes.length ? part : top));
  const inMain = [...main.passes];
  for (const part of parts) {
    if (part === main) continue;
    const own = new Set(list);
    const mustStay = (p: number): boolean => {
      const group = said.groupOf.get(p);
      return group !== undefined && inMain.some((q) => said.areDifferent(group, said.groupOf.get(q) ?? -1));
    };
    const aside = part.passes.filter(
      (p) => !own.has(p) && (mustStay(p) || inMain.some((q) => input.cannotBeOne(p, q))),
    );
    const rest = aside.length > 0 ? fresh() : -1;
    for (const p of part.passes) {
      labels[p] = aside.includes(p) ? rest : main.label;
      if (!aside.includes(p)) inMain.push(p);
    }
  }
}
