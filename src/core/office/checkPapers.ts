/** Which papers of a meeting are in order, each with its sentence (rules PL920 to PL926). */
import { ageOn, dayInWords, daysBetween } from './days.js';
import { moneyInWords } from './money.js';
import type {
  Check,
  CheckState,
  Deadline,
  IsoDay,
  LiabilityCertificate,
  MeetingPapers,
  Money,
  OwnPapers,
} from './types.js';

export interface PapersInput {
  readonly own: OwnPapers;
  readonly papers: MeetingPapers;
  readonly firstDay: IsoDay;
  readonly lastDay: IsoDay;
  readonly today: IsoDay;
}

const WARN_DAYS = 30;

export function checkPapers(input: PapersInput): readonly Check[] {
  const { papers } = input;
  return [
    ...certificateChecks(input),
    ageCheck(input),
    accreditationCheck(papers),
    rightToSellCheck(papers),
    signOnCheck(input),
    briefingCheck(papers),
    ...papers.deadlines.map((deadline) => deadlineCheck(deadline, input.today)),
  ];
}

const check = (id: string, is: CheckState, sentence: string): Check => ({ id, is, sentence });

function certificateChecks(input: PapersInput): readonly Check[] {
  const { certificate } = input.own;
  if (certificate === undefined)
    return [
      check(
        'certificate',
        'missing',
        'No liability certificate is written down: its insurer, sum, trackside wording and expiry.',
      ),
    ];
  return [
    expiryCheck(certificate, input),
    sumCheck(certificate, input.papers.asksLiability),
    certificate.coversTrackside
      ? check('trackside', 'settled', 'The certificate’s wording covers work at the side of a live track.')
      : check(
          'trackside',
          'missing',
          'The certificate’s wording does not name work at the side of a live track. Tell the insurer and have it put in.',
        ),
  ];
}

/** Expired, or expiring before the last day, is missing; within 30 days of today is soon. */
function expiryCheck({ insurer, expires }: LiabilityCertificate, { lastDay, today }: PapersInput): Check {
  const words = dayInWords(expires);
  if (daysBetween(expires, today) > 0)
    return check('certificate', 'missing', `The certificate of ${insurer} expired on ${words}. Renew it.`);
  if (expires < lastDay)
    return check(
      'certificate',
      'missing',
      `The certificate of ${insurer} expires on ${words}, before the meeting ends on ${dayInWords(lastDay)}. Renew it before you go.`,
    );
  const days = daysBetween(today, expires);
  if (days <= WARN_DAYS)
    return check(
      'certificate',
      'mind',
      `The certificate of ${insurer} expires ${inDays(days)}, on ${words}. Renew it.`,
    );
  return check('certificate', 'settled', `The certificate of ${insurer} holds until ${words}.`);
}

const inDays = (days: number): string => (days === 0 ? 'today' : days === 1 ? 'tomorrow' : `in ${days} days`);

function sumCheck({ sum }: LiabilityCertificate, asked: Money | undefined): Check {
  const has = moneyInWords(sum);
  if (asked === undefined)
    return check(
      'sum',
      'mind',
      `The certificate is for ${has}. What this circuit asks is not said: read its media page and write it down.`,
    );
  const asks = moneyInWords(asked);
  if (asked.currency !== sum.currency)
    return check(
      'sum',
      'mind',
      `The certificate is for ${has}, the circuit asks for ${asks}: ask whether that is enough in its currency.`,
    );
  if (sum.amount < asked.amount)
    return check(
      'sum',
      'missing',
      `The certificate is for ${has} but the circuit asks for ${asks}. Have it raised, or ask the circuit.`,
    );
  return check('sum', 'settled', `The certificate is for ${has}; the circuit asks for ${asks}.`);
}

function ageCheck({ own: { born }, papers: { asksAge }, firstDay }: PapersInput): Check {
  if (asksAge === undefined)
    return check('age', 'mind', 'The least age for trackside here is not said: ask, and write it down.');
  if (born === undefined)
    return check('age', 'missing', `The circuit asks for ${asksAge} years; your date of birth is not written down.`);
  const age = ageOn(born, firstDay);
  return age >= asksAge
    ? check('age', 'settled', `You are ${age} on the day; the circuit asks for ${asksAge}.`)
    : check('age', 'missing', `You are ${age} on the day but the circuit asks for ${asksAge}.`);
}

function accreditationCheck({ accreditation }: MeetingPapers): Check {
  const id = 'accreditation';
  if (accreditation === undefined)
    return check(id, 'missing', 'Accreditation is not said. Ask the circuit or the organiser for it.');
  const by = accreditation.by === undefined ? '' : ` by ${accreditation.by}`;
  switch (accreditation.is) {
    case 'granted':
      return check(id, 'settled', `Accreditation is granted${by}.`);
    case 'asked':
      return check(id, 'missing', `Accreditation is asked for and not granted yet${by}.`);
    case 'refused':
      return check(id, 'missing', `Accreditation was refused${by}. Without it there is no place at the track.`);
  }
}

function rightToSellCheck({ rightToSell: right }: MeetingPapers): Check {
  const id = 'right-to-sell';
  if (right === undefined)
    return check(
      id,
      'missing',
      'The right to sell is not said. Accreditation does not include it: ask for it by itself, in writing.',
    );
  const by = right.by === undefined ? '' : ` by ${right.by}`;
  const commission = right.commissionPercent === undefined ? '' : `; ${right.commissionPercent} % commission`;
  switch (right.is) {
    case 'granted':
      return check(id, 'settled', `The right to sell is granted${by}${commission}.`);
    case 'asked':
      return check(
        id,
        'missing',
        `The right to sell is asked for and not granted yet${by}. Until it is, nothing may be sold.`,
      );
    case 'refused':
      return check(id, 'missing', `The right to sell was refused${by}: nothing of this meeting may be sold.`);
    case 'not-wanted':
      return check(id, 'settled', 'Nothing of this meeting is to be sold.');
  }
}

function signOnCheck({ papers: { signOn }, firstDay, lastDay }: PapersInput): Check {
  if (signOn === undefined) return check('sign-on', 'missing', 'When you sign on is not said.');
  const each = firstDay === lastDay ? '' : ', on every day of the meeting';
  return check('sign-on', 'settled', `Sign on at ${signOn}${each}.`);
}

function briefingCheck({ briefing }: MeetingPapers): Check {
  if (briefing === undefined)
    return check('briefing', 'missing', 'When the media are briefed is not said; say none where there is none.');
  if (briefing === 'none') return check('briefing', 'settled', 'No briefing of the media here.');
  return check('briefing', 'settled', `Media briefing at ${briefing}, on every day you work.`);
}

const NEAR_DAYS = 7;

function deadlineCheck({ what, by, isDone }: Deadline, today: IsoDay): Check {
  const id = `deadline ${by} ${what}`;
  const task = what.charAt(0).toUpperCase() + what.slice(1);
  if (isDone) return check(id, 'settled', `${task}: done.`);
  const days = daysBetween(today, by);
  if (days < 0) return check(id, 'missing', `${task} was due on ${dayInWords(by)} and is not done.`);
  return check(id, days <= NEAR_DAYS ? 'mind' : 'open', `${task} is due ${inDays(days)}, on ${dayInWords(by)}.`);
}
