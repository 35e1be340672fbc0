/**
 * Short codes for screens and the phone: the group's letter and a syllable, `N-ka`. The syllable comes from the rider's
 * anchor, its first bike, not from its place in a list, so that a correction elsewhere, or another card, leaves codes as
 * they were. A minted rider keeps the bike it was known by then: minting changes no code, and nor does an earlier bike.
 */
const CONSONANTS = 'bdfghjklmnprstvwz';
const VOWELS = 'aeiou';

/**
 * @param anchors per rider its group (or null) and a text that stays the same; in order of first appearance.
 * @param given codes of others.
 */
export function codesFor(
  anchors: readonly { readonly group: string | null; readonly anchor: string }[],
  given: readonly string[] = [],
): string[] {
  const taken = new Set(given);
  return anchors.map(({ group, anchor }) => {
    const prefix = group === null ? '' : `${group}-`;
    for (let attempt = 0; ; attempt++) {
      const code = `${prefix}${syllables(hashOf(`${anchor} ${attempt}`), attempt < 3 ? 1 : 2)}`;
      if (taken.has(code)) continue;
      taken.add(code);
      return code;
    }
  });
}

function syllables(hash: number, count: number): string {
  let rest = hash;
  let text = '';
  for (let i = 0; i < count; i++) {
    text += CONSONANTS[rest % CONSONANTS.length]! + VOWELS[Math.floor(rest / CONSONANTS.length) % VOWELS.length]!;
    rest = Math.floor(rest / (CONSONANTS.length * VOWELS.length));
  }
  return text;
}

/** FNV-1a, 32 bits (Fowler, Noll, Vo; draft-eastlake-fnv). */
export function hashOf(text: string): number {
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
  return hash >>> 0;
}
