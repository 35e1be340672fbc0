/** What the organiser may do with the pictures and what not: a template, to be checked with local law. Rule OG12. */
import type { OrganiserAgreed } from './types.js';

export interface TermsInput {
  readonly agreed: OrganiserAgreed;
  readonly meeting: string;
  readonly credit: string;
  readonly contact: string | null;
  readonly pictures: number;
}

export interface OrganiserTerms {
  /** For a picture's own words, in one line. */
  readonly short: string;
  readonly may: readonly string[];
  readonly mayNot: readonly string[];
  readonly duties: readonly string[];
  readonly note: string;
}

export function termsFor({ agreed, meeting, credit, contact }: TermsInput): OrganiserTerms {
  const name = agreed.name ?? 'the organiser';
  const until = agreed.mayUseUntil === undefined ? '' : ` until ${agreed.mayUseUntil}`;
  const sponsors = agreed.mayPassToSponsors === true;
  return {
    short: `For ${name}, to show and tell of ${meeting}${until}, with the credit “${credit}”. ${sponsors ? 'May go to its sponsors of that meeting.' : 'Not to be passed on.'} Not to be sold.`,
    may: [
      `Show them on the pages, posters and social media of ${name}, to tell of ${meeting} and of later meetings like it${until}.`,
      'Give them to the press for reports about that meeting, free of charge.',
      ...(sponsors
        ? ['Give them to sponsors of that meeting, for reports about it and not for their advertising.']
        : []),
      'Crop them, and make them lighter or smaller.',
    ],
    mayNot: [
      'Sell them, or give them to riders in place of what riders can buy.',
      ...(sponsors ? [] : ['Pass them on to sponsors: ask for a licence of their own.']),
      'Use a rider who can be told apart to advertise anything: that is for the rider to allow.',
      'Change what they show, or use them to train programs that make pictures.',
    ],
    duties: [
      `Set the credit “${credit}” beside each.`,
      `Take down at once what you are asked to take down${contact === null ? '' : `, and tell ${contact}`}.`,
      'Whom a picture shows has rights of their own. Of a rider under age show no full name without written consent.',
    ],
    note: 'A template, not legal advice: check it with local law before you rely on it.',
  };
}

export function termsText(input: TermsInput): string {
  const { may, mayNot, duties, note } = termsFor(input);
  const { agreed, meeting, credit, pictures } = input;
  const listed = (lines: readonly string[]) => lines.map((line) => `- ${line}`).join('\n');
  const head = `${pictures} ${pictures === 1 ? 'picture' : 'pictures'} of ${meeting} for ${agreed.name ?? 'the organiser'}, by ${credit}`;
  return `${[head, `What you may do\n${listed(may)}`, `What you may not do\n${listed(mayNot)}`, `What is asked of you\n${listed(duties)}`, note].join('\n\n')}\n`;
}
