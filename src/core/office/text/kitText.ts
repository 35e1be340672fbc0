/** The kit as lines, one thing a line (rule PL930): `2 card Fast card; 64 GB; 60 GBP; insured; 10 g`. */
import { moneyInWords } from '../money.js';
import { KIT_KINDS, type KitItem, type KitKind } from '../types.js';
import { type LineRead, partsOf, type Read, readLines, readMoney, readNumber } from './lines.js';

export const KIT_EXAMPLE = [
  'body Body A; serial 4711; 2,400 GBP; insured; 900 g; 1200 frames a charge',
  'lens Long zoom; 100-400 mm; serial 4712; 1,900 GBP; insured; 1.4 kg',
  '3 battery Battery; 80 GBP; 80 g',
  '2 card Fast card; 64 GB; 60 GBP; 10 g',
  'cover Rain cover; 200 g',
  'ears Foam plugs',
  '2 disk Small disk; 90 GBP',
].join('\n');

const LINE = new RegExp(`^(?:(\\d{1,3}) ?(?:×|x)? )?(${KIT_KINDS.join('|')})\\s+(.+)$`, 'i');

export const readKit = (text: string): Read<readonly KitItem[]> => readLines(text, readLine);

function readLine(line: string): LineRead<KitItem> {
  const [, count, kind, rest = ''] = LINE.exec(line) ?? [];
  const [name, ...parts] = partsOf(rest);
  if (kind === undefined || name === undefined)
    return {
      expected: `what it is (${KIT_KINDS.join(', ')}) and its name, then what is known of it between semicolons`,
    };
  const facts = parts.map(readFact);
  const strange = parts.find((_, i) => facts[i] === null);
  if (strange !== undefined)
    return {
      expected: `serial 4711, 2,400 GBP, insured, not insured, 900 g, 1.4 kg, 100-400 mm, 64 GB or 1200 frames a charge, not “${strange}”,`,
    };
  const item: KitItem = { kind: kind.toLowerCase() as KitKind, name, count: Number(count ?? 1) };
  return { said: Object.assign({}, item, ...facts) as KitItem };
}

type Fact = Partial<KitItem>;
const NUMBER = '(\\d+(?:\\.\\d+)?)';

const FACTS: readonly (readonly [pattern: RegExp, fact: (found: readonly string[]) => Fact | null])[] = [
  [/^serial (\S.*)$/i, ([, serial]) => ({ serial: serial! })],
  [/^insured$/i, () => ({ isInsured: true })],
  [/^not insured$/i, () => ({ isInsured: false })],
  [new RegExp(`^${NUMBER} ?g$`), ([, grams]) => ({ weightG: Number(grams) })],
  [new RegExp(`^${NUMBER} ?kg$`), ([, kilos]) => ({ weightG: Math.round(Number(kilos) * 1000) })],
  [new RegExp(`^${NUMBER}(?: ?[-–] ?${NUMBER})? ?mm$`), ([, from, to]) => focalOf(Number(from), Number(to ?? from))],
  [new RegExp(`^${NUMBER} ?GB$`), ([, size]) => ({ capacityGb: Number(size) })],
  [new RegExp(`^${NUMBER} ?TB$`), ([, size]) => ({ capacityGb: Number(size) * 1000 })],
  [/^(\d[\d,]*) frames(?: a charge)?$/, ([, frames]) => framesOf(frames!.replace(/,/g, ''))],
];

const focalOf = (from: number, to: number): Fact | null => (from > 0 && from <= to ? { focalMm: [from, to] } : null);

function framesOf(text: string): Fact | null {
  const framesACharge = readNumber(text, 1, 100_000);
  return framesACharge === null ? null : { framesACharge };
}

function readFact(part: string): Fact | null {
  for (const [pattern, fact] of FACTS) {
    const found = pattern.exec(part);
    if (found) return fact(found);
  }
  const value = readMoney(part);
  return value === null ? null : { value };
}

export const kitText = (kit: readonly KitItem[]): string => kit.map(lineOf).join('\n');

function lineOf(item: KitItem): string {
  const { serial, value, isInsured, weightG, focalMm, capacityGb, framesACharge } = item;
  const [from, to] = focalMm ?? [];
  const facts = [
    from === undefined ? null : `${from === to ? from : `${from}-${to}`} mm`,
    capacityGb === undefined ? null : `${capacityGb} GB`,
    serial === undefined ? null : `serial ${serial}`,
    value === undefined ? null : moneyInWords(value),
    isInsured === undefined ? null : isInsured ? 'insured' : 'not insured',
    weightG === undefined ? null : `${weightG} g`,
    framesACharge === undefined ? null : `${framesACharge} frames a charge`,
  ].filter((fact) => fact !== null);
  return [`${item.count === 1 ? '' : `${item.count} `}${item.kind} ${item.name}`, ...facts].join('; ');
}
