/** What the organiser may do with the pictures and what not: a template, to be checked with local law. Rule OG12. */
import type { LawLanguage } from '../law/index.js';
import { termsWords } from './termsWords.js';
import type { OrganiserAgreed } from './types.js';

export interface TermsInput {
  readonly agreed: OrganiserAgreed;
  readonly meeting: string;
  readonly credit: string;
  readonly contact: string | null;
  readonly pictures: number;
}

/** What may be done and what not, in one language. */
export interface TermsLines {
  readonly may: readonly string[];
  readonly mayNot: readonly string[];
  readonly duties: readonly string[];
  readonly note: string;
}

export interface OrganiserTerms extends TermsLines {
  /** For a picture's own words, in one line. */
  readonly short: string;
}

export function termsFor(input: TermsInput): OrganiserTerms {
  const { agreed, meeting, credit } = input;
  const name = agreed.name ?? 'the organiser';
  const until = agreed.mayUseUntil === undefined ? '' : ` until ${agreed.mayUseUntil}`;
  const sponsors = agreed.mayPassToSponsors === true;
  return {
    short: `For ${name}, to show and tell of ${meeting}${until}, with the credit “${credit}”. ${sponsors ? 'May go to its sponsors of that meeting.' : 'Not to be passed on.'} Not to be sold.`,
    ...termsIn('en', input),
  };
}

export function termsIn(language: LawLanguage, { agreed, meeting, credit, contact }: TermsInput): TermsLines {
  const sponsors = agreed.mayPassToSponsors === true;
  const until = agreed.mayUseUntil ?? null;
  const words = termsWords[language]({ name: agreed.name ?? null, meeting, until, credit, contact });
  return {
    may: [words.show, words.press, ...(sponsors ? [words.sponsors] : []), words.crop],
    mayNot: [words.sell, ...(sponsors ? [] : [words.pass]), words.advertise, words.change],
    duties: [words.credit, words.down, words.rights],
    note: words.note,
  };
}

export function termsText(input: TermsInput): string {
  const { may, mayNot, duties, note } = termsFor(input);
  const { agreed, meeting, credit, pictures } = input;
  const listed = (lines: readonly string[]) => lines.map((line) => `- ${line}`).join('\n');
  const head = `${pictures} ${pictures === 1 ? 'picture' : 'pictures'} of ${meeting} for ${agreed.name ?? 'the organiser'}, by ${credit}`;
  return `${[head, `What you may do\n${listed(may)}`, `What you may not do\n${listed(mayNot)}`, `What is asked of you\n${listed(duties)}`, note].join('\n\n')}\n`;
}
