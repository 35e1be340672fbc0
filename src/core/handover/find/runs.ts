/** Entries in rising order as runs side by side: "gap length" in base 36, the length left out where it is one. */
export type Run = readonly [from: number, length: number];

export function runsOf(entries: readonly number[]): readonly Run[] {
  const runs: [number, number][] = [];
  for (const entry of entries) {
    const last = runs.at(-1);
    if (last !== undefined && last[0] + last[1] === entry) last[1] += 1;
    else runs.push([entry, 1]);
  }
  return runs;
}

export function runsText(runs: readonly Run[]): string {
  let end = 0;
  const parts = runs.map(([from, length]) => {
    const gap = from - end;
    end = from + length;
    return length === 1 ? gap.toString(36) : `${gap.toString(36)}.${length.toString(36)}`;
  });
  return parts.join(' ');
}

export function readRuns(text: string): readonly Run[] {
  let end = 0;
  return text.split(' ').map((part) => {
    const [gap, length = '1'] = part.split('.');
    const from = end + Number.parseInt(gap!, 36);
    end = from + Number.parseInt(length, 36);
    return [from, end - from] as const;
  });
}
