import { describe, expect, it } from 'vitest';
import { keyOf, NEVER_TOGETHER, SHEET_WORDS, type Sheet } from './sheetKeys.js';

const FORBIDDEN = /^[pxut0-9]$/;
const sheets = Object.entries(SHEET_WORDS) as [Sheet, Readonly<Record<string, string>>][];

describe('keys', () => {
  it('DK50: on one sheet no letter says two things', () => {
    let looked = 0;
    for (const [sheet, words] of sheets) {
      const names = Object.keys(words);
      for (const [i, a] of names.entries())
        for (const b of names.slice(i + 1)) {
          looked++;
          const isOneMeaning = NEVER_TOGETHER[sheet]?.some(([one, other]) => one === a && other === b) ?? false;
          if (!isOneMeaning) expect(keyOf(words[a]!), `${sheet}: ${words[a]} / ${words[b]}`).not.toBe(keyOf(words[b]!));
        }
    }
    expect(looked).toBeGreaterThan(20);
  });

  it('DK51: every key is a letter that means nothing else elsewhere', () => {
    for (const [sheet, words] of sheets)
      for (const text of Object.values(words)) {
        expect(keyOf(text), `${sheet}: ${text}`).toMatch(/^[a-z]$/);
        expect(keyOf(text), `${sheet}: ${text}`).not.toMatch(FORBIDDEN);
      }
  });

  it('DK52: screens speak our own words', () => {
    const others =
      /offload|ingest|\bcull|\bpick|reject|\bflag|\brate\b|select|deliver|catalogue|library|collection|preset|recipe|develop/i;
    for (const [, words] of sheets) for (const text of Object.values(words)) expect(text).not.toMatch(others);
  });
});
