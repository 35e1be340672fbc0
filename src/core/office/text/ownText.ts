/** The photographer's own papers as lines (rule PL930). */
import type { ProtectorRating } from '../../numeric/noise.js';
import { moneyInWords } from '../money.js';
import type { LiabilityCertificate, OwnPapers } from '../types.js';
import { type LineRead, partsOf, type Read, readDay, readLines, readMoney } from './lines.js';

const CERTIFICATE = 'certificate INSURER; 5,000,000 GBP; trackside; until 2027-03-31';
const POCKET_PAGE = 'pocket page and its address, https://…';
const PROTECTOR = 'protector NAME; SNR 28 (or H 30 M 24 L 16)';

/** Shown where nothing is written yet. The figures are one country's and only an example. */
export const OWN_EXAMPLE = [
  'born 1984-05-02',
  'certificate Fennel Mutual; 5,000,000 GBP; trackside; until 2027-03-31',
  'kit insured 9,000 GBP',
  'protector Foam plugs; SNR 28',
].join('\n');

export function readOwn(text: string): Read<OwnPapers> {
  const read = readLines(text, readLine);
  return read.kind === 'wrong' ? read : { kind: 'read', value: Object.assign({}, ...read.value) as OwnPapers };
}

function readLine(line: string): LineRead<Partial<OwnPapers>> {
  const [, word = '', rest = ''] = /^(born|certificate|kit insured|protector|pocket page)\s+(.*)$/i.exec(line) ?? [];
  switch (word.toLowerCase()) {
    case 'born': {
      const born = readDay(rest);
      return born === null ? { expected: 'born and a day like 1984-05-02' } : { said: { born } };
    }
    case 'kit insured': {
      const kitInsured = readMoney(rest);
      return kitInsured === null ? { expected: 'kit insured and a sum like 9,000 GBP' } : { said: { kitInsured } };
    }
    case 'pocket page':
      return /^https:\/\/[^\s?#]+$/.test(rest) ? { said: { pocketPage: rest } } : { expected: POCKET_PAGE };
    case 'certificate': {
      const certificate = readCertificate(partsOf(rest));
      return certificate === null ? { expected: CERTIFICATE } : { said: { certificate } };
    }
    case 'protector': {
      const [name, figures = ''] = partsOf(rest);
      const rating = readRating(figures);
      return name === undefined || rating === null
        ? { expected: PROTECTOR }
        : { said: { protector: { name, rating } } };
    }
    default:
      return { expected: 'a line that begins with born, certificate, kit insured, protector or pocket page' };
  }
}

/** Trackside wording that is not named is not there. */
function readCertificate([insurer, ...rest]: readonly string[]): LiabilityCertificate | null {
  const sum = rest.map(readMoney).find((money) => money !== null);
  const expires = rest.map((part) => readDay(part.replace(/^until\s+/i, ''))).find((day) => day !== null);
  const isUnderstood = (part: string): boolean =>
    /^(no )?trackside$/i.test(part) || readMoney(part) !== null || readDay(part.replace(/^until\s+/i, '')) !== null;
  if (insurer === undefined || !sum || !expires || !rest.every(isUnderstood)) return null;
  return { insurer, sum, expires, coversTrackside: rest.some((part) => /^trackside$/i.test(part)) };
}

function readRating(text: string): ProtectorRating | null {
  const snr = /^SNR (\d{1,2}(?:\.\d)?)$/i.exec(text);
  if (snr) return { kind: 'snr', snrDb: Number(snr[1]) };
  const hml = /^H (\d{1,2}(?:\.\d)?) M (\d{1,2}(?:\.\d)?) L (\d{1,2}(?:\.\d)?)$/i.exec(text);
  if (!hml) return null;
  return { kind: 'hml', highDb: Number(hml[1]), mediumDb: Number(hml[2]), lowDb: Number(hml[3]) };
}

export function ownText({ born, certificate, kitInsured, protector, pocketPage }: OwnPapers): string {
  const lines = [
    born === undefined ? null : `born ${born}`,
    certificate === undefined
      ? null
      : `certificate ${certificate.insurer}; ${moneyInWords(certificate.sum)}; ${certificate.coversTrackside ? 'trackside' : 'no trackside'}; until ${certificate.expires}`,
    kitInsured === undefined ? null : `kit insured ${moneyInWords(kitInsured)}`,
    protector === undefined ? null : `protector ${protector.name}; ${ratingText(protector.rating)}`,
    pocketPage === undefined ? null : `pocket page ${pocketPage}`,
  ];
  return lines.filter((line) => line !== null).join('\n');
}

const ratingText = (rating: ProtectorRating): string =>
  rating.kind === 'snr' ? `SNR ${rating.snrDb}` : `H ${rating.highDb} M ${rating.mediumDb} L ${rating.lowDb}`;
