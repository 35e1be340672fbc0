/** Small words shared by the sentences of the desk. */

/** `1 rider`, `3 riders`, `1,204 frames`. */
export const counted = (count: number, one: string, many = `${one}s`): string =>
  `${count.toLocaleString('en-GB')} ${count === 1 ? one : many}`;

/** `a`, `a and b`, `a, b and c`. */
export const listed = (parts: readonly string[]): string =>
  parts.length < 2 ? (parts[0] ?? '') : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`;

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
