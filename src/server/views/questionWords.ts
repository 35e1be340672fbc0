/** Questions in one sentence each. */
import type { Question } from '../../core/arrange/types.js';
import type { FrameId } from '../../core/ids.js';
import { wallMsOf } from '../../core/units.js';
import type { Known } from './known.js';
import { clockWithSecondsOf, spanWords } from './wallTime.js';

/** `body 3001`: the model and the end of its serial, without the maker. */
export function bodyWords(body: string): string {
  const [, model, serial] = body.split('|');
  if (!serial || serial.startsWith('fill:')) return model ? `body ${model}` : 'a body without a serial';
  // Joined, so that a line never ends between the dots and the figures.
  return `body ${model ? `${model} ` : ''}…\u2060${serial.slice(-4)}`;
}

/** A clock that was mended half-way: from or until which picture, by the time it would then have. */
function stretchSentence(known: Known, question: Extract<Question, { kind: 'body-clock' }>): string {
  const { body, offsetMs, fromFrame, toFrame } = question;
  const at = (frame: FrameId | undefined): string | null => {
    const recorded = frame === undefined ? undefined : known.exposureById.get(frame)?.recorded;
    return typeof recorded === 'number' ? clockWithSecondsOf(wallMsOf(recorded + offsetMs)) : null;
  };
  const [from, to] = [at(fromFrame), at(toFrame)];
  const when = [from === null ? '' : ` from ${from}${to === null ? ' on' : ''}`, to === null ? '' : ` until ${to}`];
  const what = offsetMs === 0 ? 'right' : `${offsetMs < 0 ? 'fast' : 'slow'} by ${spanWords(offsetMs)}`;
  return `Was ${bodyWords(body)} ${what}${when.join('')}?`;
}

export function questionSentence(known: Known, question: Question): string {
  switch (question.kind) {
    case 'body-clock':
      if (question.fromFrame !== undefined || question.toFrame !== undefined) return stretchSentence(known, question);
      return `Was ${bodyWords(question.body)} ${question.offsetMs < 0 ? 'fast' : 'slow'} by ${spanWords(question.offsetMs)}?`;
    case 'same-rider': {
      const riders = [question.a, question.b].map((key) => known.riderByKey.get(key));
      const [first, second] = riders.map((rider) => rider?.number ?? null);
      if (first && first === second) return `Number ${first} twice: one rider on another bike, or two?`;
      const liveries = riders.map((rider) => rider?.livery ?? 'a rider');
      return liveries[0] === liveries[1]
        ? `Two riders in ${liveries[0]}, or one?`
        : `${liveries[0]} and ${liveries[1]}: one rider?`.replace(/^./, (letter) => letter.toUpperCase());
    }
    case 'boundary':
      return `Does a new session begin at ${clockWithSecondsOf(question.at)}?`;
    case 'contradiction':
      return question.sentence;
  }
}
