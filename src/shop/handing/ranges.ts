/**
 * What of a file is asked for, by RFC 9110: conditions (13.1), `Range` and `If-Range` (13.1.5, 14.2). One range is answered; several at
 * once, which a server may ignore, get the whole. Files have a strong tag and no date, so a condition by date never holds. Rule HD11.
 */

export type Asked =
  | { readonly kind: 'whole' }
  /** Both ends are in it. */
  | { readonly kind: 'part'; readonly first: number; readonly last: number }
  | { readonly kind: 'not-modified' }
  | { readonly kind: 'other-by-now' }
  | { readonly kind: 'not-there' };

/** Reads a header of the request by its name. */
type Headers = (name: string) => string | undefined;

export function askedOf(header: Headers, tag: string, bytes: number): Asked {
  const match = header('if-match');
  if (match !== undefined && !names(match, tag, 'strongly')) return { kind: 'other-by-now' };
  const none = header('if-none-match');
  if (none !== undefined && names(none, tag, 'weakly')) return { kind: 'not-modified' };
  const range = header('range');
  const ifRange = header('if-range');
  // Another tag, a weak one or a date: what was begun is of another file, so all of it comes.
  if (range === undefined || (ifRange !== undefined && ifRange.trim() !== tag)) return { kind: 'whole' };
  return rangeOf(range, bytes);
}

function names(list: string, tag: string, how: 'strongly' | 'weakly'): boolean {
  if (list.trim() === '*') return true;
  const tags = list.match(/(?:W\/)?"[^"]*"/g) ?? [];
  return tags.some((one) => one === tag || (how === 'weakly' && one === `W/${tag}`));
}

function rangeOf(range: string, bytes: number): Asked {
  const [, from = '', to = ''] = /^bytes=\s*(\d{0,15})-(\d{0,15})\s*$/i.exec(range) ?? [];
  if (from === '' && to === '') return { kind: 'whole' };
  if (from === '') {
    const length = Math.min(Number(to), bytes);
    return length === 0 ? { kind: 'not-there' } : { kind: 'part', first: bytes - length, last: bytes - 1 };
  }
  const first = Number(from);
  // A last byte before the first makes the whole header invalid, and an invalid one is ignored.
  if (to !== '' && Number(to) < first) return { kind: 'whole' };
  if (first >= bytes) return { kind: 'not-there' };
  return { kind: 'part', first, last: to === '' ? bytes - 1 : Math.min(Number(to), bytes - 1) };
}
