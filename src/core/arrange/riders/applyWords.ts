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
  // Lists with nothing said against another here go with the side they look like, as passes nobody spoke of do.
  const [opposed, others] = partition(groups, (a) => groups.some((b) => said.areDifferent(a, b)));
  const passesIn = (group: number): number[] => passes.filter((p) => said.groupOf.get(p) === group);
  const sides: { readonly groups: number[]; readonly passes: number[] }[] = [];
  for (const group of opposed) {
    const own = passesIn(group);
    const fitting = sides.filter((side) => side.groups.every((other) => !said.areDifferent(group, other)));
    const best = mostLike(own, fitting, input);
    if (best === null) sides.push({ groups: [group], passes: own });
    else {
      best.groups.push(group);
      best.passes.push(...own);
    }
  }
  const anchors = sides.map((side) => ({ side, passes: [...side.passes] }));
  const unspoken = passes.filter((p) => !said.groupOf.has(p)).map((p) => [p]);
  for (const own of [...others.map(passesIn), ...unspoken]) {
    const free = anchors.filter(({ passes: list }) => !own.some((p) => list.some((q) => input.cannotBeOne(p, q))));
    mostLike(own, free.length > 0 ? free : anchors, input)!.side.passes.push(...own);
  }
  const largest = sides.reduce((top, side) => (side.passes.length > top.passes.length ? side : top));
  for (const side of sides) {
    if (side === largest) continue;
    const own = fresh();
    for (const p of side.passes) labels[p] = own;
  }
}

/** Null where there is none to choose from; the first of equals. */
function mostLike<Side extends { readonly passes: readonly number[] }>(
  own: readonly number[],
  sides: readonly Side[],
  input: WordsInput,
): Side | null {
  const likenessTo = (side: Side): number => own.reduce((sum, p) => sum + input.likeness(p, side.passes), 0);
  return sides.length === 0 ? null : sides.reduce((best, side) => (likenessTo(side) > likenessTo(best) ? side : best));
}

function partition<Item>(list: readonly Item[], isFirst: (item: Item) => boolean): readonly [Item[], Item[]] {
  return [list.filter(isFirst), list.filter((item) => !isFirst(item))];
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
